/** The name a person knows a thing by: its own, else its id. */
export function nameOf(thing: { readonly id: string; readonly name: string }): string {
  return thing.name.trim() || thing.id;
}
