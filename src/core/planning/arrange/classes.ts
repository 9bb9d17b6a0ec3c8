/** Divides what is to be seen into classes: parts that exactly the same columns see. */
import { countBits, type Raster } from '../../sight/index.ts';
import type { Level } from './problem.ts';
import { createRandom } from './random.ts';

/** What one column sees, in a window of its own on the elements' lattice; null for all of the elements. */
export interface ColumnView {
  readonly column: number;
  readonly full: Raster | null;
  /** Seen, but worth one unit of two only; nothing that `full` holds. */
  readonly part?: Raster | null;
}

/**
 * Builds a level from what each column sees. Every column has a random number, and each element adds up (by exclusive
 * or) those of the columns that see it: elements of one sum make a class. Two sums that are equal by chance would be as
 * rare as one in 10^9, and whatever is arranged is judged by the check in the end.
 *
 * @param elements what is to be covered
 * @param views by ascending column; a column that sees nothing may be left out
 * @param half elements that have one unit from the start
 */
export function buildLevel(
  elements: Raster,
  required: number,
  views: readonly ColumnView[],
  half: Raster | null = null,
): Level {
  const size = 32 * elements.bits.length;
  const random = createRandom(3);
  const draw = () => Math.floor(random() * 2 ** 32) | 0;
  const low = new Int32Array(size);
  const high = new Int32Array(size);
  if (half) mix(half, elements, low, high, draw(), draw());
  const most = countCommon(elements, elements) / 2;
  for (const { full, part } of views) {
    // What a column does not see parts the elements as well as what it sees, and may be less.
    if (full)
      mix(
        isAlike(full, elements) && countCommon(full, elements) > most ? invert(full) : full,
        elements,
        low,
        high,
        draw(),
        draw(),
      );
    if (part) mix(part, elements, low, high, draw(), draw());
  }
  // Each class keeps its first element to be recognised by.
  const firsts: Raster = { ...elements, bits: new Int32Array(elements.bits.length) };
  const first = new Int32Array(size);
  const numbers = new Map<number, number>();
  const weights: number[] = [];
  for (let k = 0; k < elements.bits.length; k++) {
    for (let bits: number = elements.bits[k]!; bits !== 0; bits &= bits - 1) {
      const b: number = 31 - Math.clz32(bits & -bits);
      const element = 32 * k + b;
      const key = low[element]! * 2 ** 21 + (high[element]! & 0x1fffff);
      const number = numbers.get(key);
      if (number !== undefined) {
        weights[number]! += 1;
        continue;
      }
      numbers.set(key, weights.length);
      first[element] = weights.length;
      firsts.bits[k] = firsts.bits[k]! | (1 << b);
      weights.push(1);
    }
  }

  let total = 0;
  for (const { full, part } of views) {
    total += full ? countCommon(full, firsts) : weights.length;
    if (part) total += countCommon(part, firsts);
  }
  const classes = new Int32Array(total);
  const units = views.some(({ part }) => part) ? new Uint8Array(total).fill(2) : null;
  const columns: number[] = [];
  const starts: number[] = [0];
  let end = 0;
  for (const { column, full, part } of views) {
    const from = end;
    end = listCommon(full ?? firsts, firsts, first, classes, end);
    if (part) {
      const whole = end;
      end = listCommon(part, firsts, first, classes, end);
      units?.fill(1, whole, end);
    }
    if (end === from) continue;
    columns.push(column);
    starts.push(end);
  }
  const base = new Uint8Array(weights.length);
  if (half) {
    const halved = new Int32Array(countCommon(half, firsts));
    listCommon(half, firsts, first, halved, 0);
    for (const number of halved) base[number] = 1;
  }
  return {
    weights: Int32Array.from(weights),
    base: half ? base : null,
    required,
    columns: Int32Array.from(columns),
    starts: Int32Array.from(starts),
    classes,
    units: units?.includes(1) ? units : null,
  };
}

function isAlike(a: Raster, b: Raster): boolean {
  return a.w0 === b.w0 && a.j0 === b.j0 && a.words === b.words && a.rows === b.rows;
}

function invert(raster: Raster): Raster {
  return { ...raster, bits: raster.bits.map((word) => ~word) };
}

/** The words that two rasters of a lattice share. */
function overlap(a: Raster, b: Raster) {
  return {
    w0: Math.max(a.w0, b.w0),
    w1: Math.min(a.w0 + a.words, b.w0 + b.words),
    j0: Math.max(a.j0, b.j0),
    j1: Math.min(a.j0 + a.rows, b.j0 + b.rows),
  };
}

function mix(raster: Raster, elements: Raster, low: Int32Array, high: Int32Array, one: number, two: number): void {
  const { w0, w1, j0, j1 } = overlap(raster, elements);
  for (let j = j0; j < j1; j++) {
    const from = (j - raster.j0) * raster.words - raster.w0;
    const to = (j - elements.j0) * elements.words - elements.w0;
    for (let w = w0; w < w1; w++) {
      let bits: number = raster.bits[from + w]! & elements.bits[to + w]!;
      const at = 32 * (to + w);
      while (bits !== 0) {
        const element = at + 31 - Math.clz32(bits & -bits);
        bits &= bits - 1;
        low[element]! ^= one;
        high[element]! ^= two;
      }
    }
  }
}

/** Cells that two rasters of a lattice share. */
export function countCommon(raster: Raster, elements: Raster): number {
  const { w0, w1, j0, j1 } = overlap(raster, elements);
  let count = 0;
  for (let j = j0; j < j1; j++) {
    const from = (j - raster.j0) * raster.words - raster.w0;
    const to = (j - elements.j0) * elements.words - elements.w0;
    for (let w = w0; w < w1; w++) count += countBits(raster.bits[from + w]! & elements.bits[to + w]!);
  }
  return count;
}

/** Writes the numbers of the shared elements to a list from `end` on; answers its new end. */
function listCommon(raster: Raster, elements: Raster, first: Int32Array, list: Int32Array, end: number): number {
  const { w0, w1, j0, j1 } = overlap(raster, elements);
  let at = end;
  for (let j = j0; j < j1; j++) {
    const from = (j - raster.j0) * raster.words - raster.w0;
    const to = (j - elements.j0) * elements.words - elements.w0;
    for (let w = w0; w < w1; w++) {
      let bits: number = raster.bits[from + w]! & elements.bits[to + w]!;
      while (bits !== 0) {
        list[at++] = first[32 * (to + w) + 31 - Math.clz32(bits & -bits)]!;
        bits &= bits - 1;
      }
    }
  }
  return at;
}

/** Takes the cells of one raster out of another of the same lattice, in place. */
export function clearCommon(raster: Raster, from: Raster): void {
  const { w0, w1, j0, j1 } = overlap(raster, from);
  for (let j = j0; j < j1; j++) {
    for (let w = w0; w < w1; w++) {
      const at = (j - from.j0) * from.words + w - from.w0;
      from.bits[at] = from.bits[at]! & ~raster.bits[(j - raster.j0) * raster.words + w - raster.w0]!;
    }
  }
}
