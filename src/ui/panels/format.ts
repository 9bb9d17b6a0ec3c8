/** Numbers as they are written on screen: with their unit, a true minus, and a space that does not break. */

import type { Units } from '../../editor/tools/tool.ts';
import { sayArea, sayLength } from '../../editor/tools/words.ts';

const NBSP = '\u00a0';

/** One page is written in one unit: whoever draws it says which before it draws. */
let units: Units = 'metres';

export function writeLengthsIn(next: Units): void {
  units = next;
}

function fixed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  const isZero = Number(text) === 0;
  return isZero ? text.replace('-', '') : text.replace('-', '−');
}

/** A length with its unit: "2.40 m", or feet and inches. */
export function formatMetres(value: number): string {
  if (units === 'feet') return sayLength(value, units).replaceAll(' ', NBSP);
  return `${fixed(value, 2)}${NBSP}m`;
}

/** A length where its unit stands beside it: "2.40"; feet and inches carry theirs. */
export function formatBare(value: number): string {
  return units === 'feet' ? formatMetres(value) : fixed(value, 2);
}

/** A height on a scale whose title says the unit: metres or feet, with decimals. */
export function formatOnScale(value: number): string {
  return fixed(units === 'feet' ? value / 0.3048 : value, 2);
}

export function formatArea(value: number): string {
  if (units === 'feet') return sayArea(value, units).replaceAll(' ', NBSP);
  if (value === 0) return `0${NBSP}m²`;
  if (value < 0.05) return `<${NBSP}0.1${NBSP}m²`;
  return `${fixed(value, value < 100 ? 1 : 0)}${NBSP}m²`;
}

/** A sentence whose lengths and areas are metric, in the unit shown. */
export function writeInUnits(sentence: string): string {
  if (units === 'metres') return sentence;
  return sentence.replace(
    /(?<![\p{L}\d.])(\d+(?:\.\d+)?)[ \u00a0]m(²?)(?![\p{L}\d²])/gu,
    (_, number: string, square: string) => (square === '' ? formatMetres(Number(number)) : formatArea(Number(number))),
  );
}

/** A word as it begins a sentence. */
export function capitalise(word: string): string {
  return `${word.charAt(0).toUpperCase()}${word.slice(1)}`;
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
  return `${by > 0 ? '+' : '−'}${NBSP}${digits === 2 ? formatBare(Math.abs(by)) : Math.abs(by).toFixed(digits)}`;
}

export function formatPlace(at: readonly [number, number]): string {
  return `${formatBare(at[0])}, ${formatBare(at[1])}`;
}

/** A place with the unit of its numbers: "3.20, 4.50 m". */
export function formatPlaceWithUnit(at: readonly [number, number]): string {
  return `${formatPlace(at)}${units === 'metres' ? `${NBSP}m` : ''}`;
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
