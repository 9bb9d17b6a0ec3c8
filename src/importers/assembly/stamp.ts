/** A short mark of what a thing was when it was imported: whoever changed it since has changed the mark. */

/** Values that no importer writes and that people set: changing them is no correction of what was read. */
export const OWN_KEYS: readonly string[] = ['tiles', 'state', 'group', 'watts', 'emergency', 'raised', 'movable'];

/** Everything of a thing but its id, its notes and what people set, as a mark of 11 letters and digits. Not made to withstand forgery. */
export function stampOf(thing: object): string {
  const isRead = ([key]: readonly [string, unknown]): boolean =>
    key !== 'id' && key !== 'notes' && !OWN_KEYS.includes(key);
  return hash(JSON.stringify(sorted(Object.fromEntries(Object.entries(thing).filter(isRead)))));
}

/** The same value with the keys of its objects in order, so that the order in a file does not count. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, member]) => member !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, member]) => [key, sorted(member)]),
  );
}

/** Two FNV-1a hashes of 32 bits with different beginnings (Fowler, Noll and Vo), in base 36. */
function hash(text: string): string {
  const run = (start: number): string => {
    let value = start;
    for (let i = 0; i < text.length; i++) value = Math.imul(value ^ text.charCodeAt(i), 0x01000193);
    return (value >>> 0).toString(36).padStart(7, '0');
  };
  return run(0x811c9dc5) + run(0x2f0b4c27).slice(0, 4);
}
