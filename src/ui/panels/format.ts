/** Numbers as they are written on screen: with their unit, a true minus, and a space that does not break. */

const NBSP = '\u00a0';

function fixed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  const isZero = Number(text) === 0;
  return isZero ? text.replace('-', '') : text.replace('-', '−');
}

export function formatMetres(value: number): string {
  return `${fixed(value, 2)}${NBSP}m`;
}

export function formatArea(value: number): string {
  if (value === 0) return `0${NBSP}m²`;
  if (value < 0.05) return `<${NBSP}0.1${NBSP}m²`;
  return `${fixed(value, value < 100 ? 1 : 0)}${NBSP}m²`;
}

export function formatDegrees(value: number): string {
  return `${fixed(value, 1).replace(/\.0$/u, '')}°`;
}

/** A share 0 to 1 as a percentage, never rounded up to 100 %. */
export function formatShare(value: number | null): string {
  if (value === null) return 'none';
  const percent = value < 1 ? Math.min(value * 100, 99.9) : 100;
  const digits = percent > 99 && percent < 100 ? 1 : 0;
  return `${fixed(percent, digits)}${NBSP}%`;
}

export function formatNumber(value: number): string {
  return fixed(value, 3).replace(/\.?0+$/u, '');
}

/** A difference with its sign: "+ 1.20". Null where it rounds to nothing. */
export function formatChange(by: number, digits = 2): string | null {
  if (Number(by.toFixed(digits)) === 0) return null;
  return `${by > 0 ? '+' : '−'}${NBSP}${Math.abs(by).toFixed(digits)}`;
}

export function formatPlace(at: readonly [number, number]): string {
  return `${fixed(at[0], 2)}, ${fixed(at[1], 2)}`;
}

/** A moment as seen from now, both milliseconds since 1970: "today 14:05", "yesterday 09:30", "3 March 2031". */
export function formatMoment(moment: number, now: number): string {
  const date = new Date(moment);
  const midnight = new Date(now).setHours(0, 0, 0, 0);
  const time = date.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  if (moment >= midnight) return `today ${time}`;
  if (moment >= new Date(now).setHours(-24, 0, 0, 0)) return `yesterday ${time}`;
  return date.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
}

/** "1 door", "2 doors". */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${number}${NBSP}${number === 1 ? one : many}`;
}

/** "D1", "D1 and D2", "D1, D2 and D3"; more than `most` end in "and 5 more". */
export function joinNames(names: readonly string[], most = 6): string {
  const shown = names.length > most ? names.slice(0, most - 1) : names;
  const rest = names.length - shown.length;
  const parts = rest > 0 ? [...shown, `${rest} more`] : shown;
  if (parts.length <= 1) return parts.join('');
  return `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}
