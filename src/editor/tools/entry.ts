/** What is typed while a tool works: numbers, and the few words tools know. */
import type { Point } from '../../core/floor/index.ts';
import { parseQuantity } from '../quantity.ts';
import type { KeyToolEvent, ToolEvent, Units } from './tool.ts';

/** What begins a number, an angle or a place. Plus and minus are the page's, nearer and farther, until something is typed. */
export const NUMBER_START = /^[\d.,@]$/u;

/** The same with a sign before it. */
export const SIGNED_START = /^[\d.,@+\-−]$/u;

/** Longer than anything a tool reads. */
const MOST = 80;

/**
 * What an event makes of the text typed so far: more of it, less of it; null when it is no typing.
 * @param starts characters that begin a text; once begun every character belongs to it
 */
export function typeInto(entry: string, event: ToolEvent, starts: RegExp = NUMBER_START): string | null {
  if (event.type === 'text') {
    const text = event.text.replace(/\s+/gu, ' ');
    const first = text.trim().charAt(0);
    const begins = entry !== '' || starts.test(first) || (starts === NUMBER_START && SIGNED_START.test(first));
    return begins ? `${entry}${entry === '' ? text.trimStart() : text}`.slice(0, MOST) : null;
  }
  if (event.type !== 'key' || !isTyped(event)) return null;
  const { key } = event;
  if (key === 'Backspace') return entry === '' ? null : [...entry].slice(0, -1).join('');
  if ([...key].length !== 1 || (entry === '' && !starts.test(key))) return null;
  return entry.length < MOST ? `${entry}${key}` : entry;
}

/** Whether a key is pressed to write with: Ctrl and Alt make a command of a letter, but a sign of many a key. */
export function isTyped({ key, modifiers: { alt, ctrl } }: KeyToolEvent): boolean {
  if (!alt) return !ctrl;
  return [...key].length === 1 && !/[\p{L}\d\s]/u.test(key);
}

export type Typed =
  | { readonly ok: true; readonly numbers: readonly number[]; readonly angle: number | null }
  | { readonly ok: false; readonly remedy: string };

/**
 * Reads lengths in the unit they are shown in (or the units written), and an angle in degrees after `@`: `5.4`,
 * `5.4 8.1`, `5.4 @30`. What comes back is metres.
 * A number that follows a space and has its sign with it is a number of its own: `3 -2` is two, `3 - 2` is one.
 */
export function readTyped(text: string, units: Units): Typed {
  const [lengths = '', angle, ...more] = text.split('@');
  if (more.length > 0) return { ok: false, remedy: 'Write one angle, such as 5.4 @30.' };
  const numbers: number[] = [];
  let words = lengths.trim().split(/\s+/u).filter(Boolean);
  while (words.length > 0) {
    const read = readFirst(words, units);
    if (read === null) return { ok: false, remedy: parseRemedy(words.join(' '), units) };
    numbers.push(read.value);
    words = words.slice(read.count);
  }
  if (angle === undefined) return { ok: true, numbers, angle: null };
  const degrees = parseQuantity(angle, { kind: 'angle', min: -3_600, max: 3_600 }, units);
  return degrees.ok ? { ok: true, numbers, angle: degrees.value } : degrees;
}

/** Reads `at 3.2 4.5`, a place where bare numbers mean something else; null: it is no such text. */
export function readPlace(text: string, units: Units): Point | { readonly remedy: string } | null {
  const match = /^at\b(.*)$/iu.exec(text.trim());
  if (match === null) return null;
  const read = readTyped(match[1] ?? '', units);
  if (!read.ok) return { remedy: read.remedy };
  const [x, y, more] = read.numbers;
  if (x === undefined || y === undefined || more !== undefined || read.angle !== null)
    return { remedy: 'Write x and y of the place, such as at 3.2 4.5.' };
  return [x, y];
}

/** The longest run of words that is one length. */
function readFirst(words: readonly string[], units: Units): { readonly value: number; readonly count: number } | null {
  const next = words.findIndex((word, i) => i > 0 && /^[+\-−][\d.,]/u.test(word));
  for (let count = next === -1 ? words.length : next; count > 0; count -= 1) {
    const read = parseQuantity(words.slice(0, count).join(' '), { kind: 'length' }, units);
    if (read.ok) return { value: read.value, count };
  }
  return null;
}

function parseRemedy(text: string, units: Units): string {
  const read = parseQuantity(text, { kind: 'length' }, units);
  return read.ok ? '' : read.remedy;
}
