/** Where a condition that holds at `low` and no longer at `high` turns, to 1e-10. */
export function bisect(holds: (value: number) => boolean, low: number, high: number): number {
  if (!holds(low) || holds(high)) throw new Error(`bisect: the condition does not turn between ${low} and ${high}`);
  let [yes, no] = [low, high];
  while (Math.abs(no - yes) > 1e-10) {
    const middle = (yes + no) / 2;
    if (holds(middle)) yes = middle;
    else no = middle;
  }
  return (yes + no) / 2;
}
