/** Words for findings: plain, thing first, number with unit, then the cure. */

/** Metres with two decimals. */
export function metres(value: number): string {
  return `${value.toFixed(2)} m`;
}

/** Square metres: one decimal, from 100 none. */
export function squareMetres(value: number): string {
  return `${value >= 100 ? Math.round(value) : value.toFixed(1)} m²`;
}

/** A share in whole per cent, never rounded up to the need it misses. */
export function percent(share: number): string {
  return `${Math.floor(share * 100 + 1e-6)} %`;
}

export function degrees(value: number): string {
  return `${value}°`;
}

/** "A", "A and B", "A, B and C"; more than `most` are counted: "A, B and 7 more". */
export function listWords(words: readonly string[], most = 8): string {
  const shown = words.length > most ? words.slice(0, most - 1) : words;
  const rest = words.length - shown.length;
  const all = rest > 0 ? [...shown, `${rest} more`] : [...shown];
  const last = all.pop();
  if (last === undefined) return 'none';
  return all.length === 0 ? last : `${all.join(', ')} and ${last}`;
}

/** "1 workplace", "3 workplaces". */
export function countWords(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
