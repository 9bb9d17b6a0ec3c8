/**
 * `when(condition)` for a shader: what follows is done only where the condition holds. A renderer in software runs both
 * sides of an `if`, masked, but leaves a loop of no turns out; on a card the two are the same.
 */
export function when(condition: string): string {
  return `for (int when_ = (${condition}) ? 0 : 1; when_ < 1; when_++)`;
}
