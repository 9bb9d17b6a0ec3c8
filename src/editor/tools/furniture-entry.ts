/** What can be typed with a piece of furniture in hand: sizes, rows and blocks, mirrored pairs. */
import { readTyped } from './entry.ts';
import type { Units } from './tool.ts';

/** A row of pieces, or several rows. Metres. */
export interface Pattern {
  readonly count: number;
  readonly pitch: number | null;
  readonly rows: number;
  readonly rowPitch: number | null;
  readonly mirrored: boolean;
  /** The top of a screen between the backs of each pair; null: none. */
  readonly screen: number | null;
}

export const SINGLE: Pattern = { count: 1, pitch: null, rows: 1, rowPitch: null, mirrored: false, screen: null };

export type FurnitureEntry =
  | { readonly kind: 'size'; readonly length: number; readonly width: number | null; readonly top: number | null }
  | {
      readonly kind: 'row';
      readonly count: number;
      readonly pitch: number | null;
      readonly rows: number;
      readonly rowPitch: number | null;
    }
  | { readonly kind: 'mirror'; readonly screen: number | null }
  | { readonly kind: 'unread'; readonly remedy: string };

/** Pieces a row may be typed with. */
const MOST = 1_000;

/** Reads `1.6 0.8`, `1.6 0.8 1.4`, `row 4`, `row 4 1.6`, `row 4 1.6 3 4.5`, `x2`, `x2 1.4`. */
export function readFurnitureEntry(text: string, units: Units): FurnitureEntry {
  const trimmed = text.trim();
  const row = /^row\s+(\d{1,4})(?:\s+(.+))?$/iu.exec(trimmed);
  if (row !== null) return readRow(Number(row[1]), row[2] ?? '', units);
  if (/^row/iu.test(trimmed)) return unread('Write how many and how far apart, such as row 4 1.6.');
  const mirror = /^x\s*2(?:\s+(.+))?$/iu.exec(trimmed);
  if (mirror !== null) {
    const read = readTyped(mirror[1] ?? '', units);
    const [top = null, more] = read.ok ? read.numbers : [];
    if (!read.ok || more !== undefined || (top !== null && !(top > 0)))
      return unread('Write x2, or x2 1.4 for a screen to 1.4 m between the backs.');
    return { kind: 'mirror', screen: top };
  }
  if (/^x/iu.test(trimmed)) return unread('Write x2, or x2 1.4 for a screen to 1.4 m between the backs.');
  const read = readTyped(trimmed, units);
  if (!read.ok) return unread(read.remedy);
  const [length, width = null, top = null, more] = read.numbers;
  if (length === undefined || more !== undefined || read.angle !== null)
    return unread('Write length and width, such as 1.6 0.8; a third number is the top.');
  return { kind: 'size', length, width, top };
}

/** After the count: pitch, then how many rows, then their pitch. */
function readRow(count: number, rest: string, units: Units): FurnitureEntry {
  const remedy = 'Write how many and how far apart, such as row 4 1.6; then how many rows and how far apart.';
  const words = rest.split(/\s+/u).filter(Boolean);
  const rowsAt = words.findIndex((word, i) => i > 0 && /^\d{1,4}$/u.test(word));
  const pitch = readTyped(words.slice(0, rowsAt === -1 ? words.length : rowsAt).join(' '), units);
  const rows = rowsAt === -1 ? 1 : Number(words[rowsAt]);
  const rowPitch = readTyped(rowsAt === -1 ? '' : words.slice(rowsAt + 1).join(' '), units);
  if (!pitch.ok || !rowPitch.ok || pitch.numbers.length > 1 || rowPitch.numbers.length > 1) return unread(remedy);
  if (pitch.angle !== null || rowPitch.angle !== null) return unread(remedy);
  if (count < 1 || count > MOST || rows < 1 || rows > MOST) return unread(`Write a whole number from 1 to ${MOST}.`);
  return { kind: 'row', count, pitch: pitch.numbers[0] ?? null, rows, rowPitch: rowPitch.numbers[0] ?? null };
}

function unread(remedy: string): FurnitureEntry {
  return { kind: 'unread', remedy };
}
