/** Divides what is to be seen into classes: parts that exactly the same columns see. */
import type { Raster } from '../../sight/index.ts';
import type { Level } from './problem.ts';

/** What one column sees, in a window of its own on the elements' lattice; null for all of the elements. */
export interface ColumnView {
  readonly column: number;
  readonly full: Raster | null;
  /** Seen, but worth one unit of two only; nothing that `full` holds. */
  readonly part?: Raster | null;
}

/**
 * Builds a level from what each column sees, by splitting the elements column by column.
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
  const classOf = new Int32Array(size).fill(-1);
  const count: number[] = [0];
  forCommon(elements, elements, (element) => {
    classOf[element] = 0;
    count[0]!++;
  });
  const split = createSplitter(elements, classOf, count);
  if (half) split(half);
  for (const { full, part } of views) {
    if (full) split(full);
    if (part) split(part);
  }
  // Each class keeps one element to be recognised by.
  const numberOf = new Int32Array(count.length).fill(-1);
  const first = new Int32Array(size).fill(-1);
  const weights: number[] = [];
  forCommon(elements, elements, (element) => {
    const old = classOf[element]!;
    if (numberOf[old]! >= 0) return;
    numberOf[old] = weights.length;
    first[element] = weights.length;
    weights.push(count[old]!);
  });
  const base = new Uint8Array(weights.length);
  if (half) {
    forCommon(half, elements, (element) => {
      if (first[element]! >= 0) base[first[element]!] = 1;
    });
  }

  const columns: number[] = [];
  const starts: number[] = [0];
  const classes = createIntList();
  const units = createIntList();
  const add = (raster: Raster, unit: number) =>
    forCommon(raster, elements, (element) => {
      const number = first[element]!;
      if (number < 0) return;
      classes.push(number);
      units.push(unit);
    });
  let isHalved = false;
  for (const { column, full, part } of views) {
    const before = classes.length();
    add(full ?? elements, 2);
    if (part) {
      const whole = classes.length();
      add(part, 1);
      isHalved ||= classes.length() > whole;
    }
    if (classes.length() === before) continue;
    columns.push(column);
    starts.push(classes.length());
  }
  return {
    weights: Int32Array.from(weights),
    base: half ? base : null,
    required,
    columns: Int32Array.from(columns),
    starts: Int32Array.from(starts),
    classes: classes.toArray(),
    units: isHalved ? Uint8Array.from(units.toArray()) : null,
  };
}

/** Parts every class into what a raster holds and what it does not. A class held whole keeps its number. */
function createSplitter(elements: Raster, classOf: Int32Array, count: number[]): (raster: Raster) => void {
  const seen: number[] = [0];
  const target: number[] = [-1];
  return (raster) => {
    const touched: number[] = [];
    forCommon(raster, elements, (element) => {
      const old = classOf[element]!;
      if (seen[old] === 0) touched.push(old);
      seen[old]!++;
    });
    let parted = false;
    for (const old of touched) {
      if (seen[old] !== count[old]) {
        target[old] = count.length;
        count.push(seen[old]!);
        count[old]! -= seen[old]!;
        seen.push(0);
        target.push(-1);
        parted = true;
      }
      seen[old] = 0;
    }
    if (!parted) return;
    forCommon(raster, elements, (element) => {
      const next = target[classOf[element]!]!;
      if (next >= 0) classOf[element] = next;
    });
    for (const old of touched) target[old] = -1;
  };
}

/** Calls `each` for the elements (32 · word + bit of `elements`) that a raster of the same lattice holds too. */
export function forCommon(raster: Raster, elements: Raster, each: (element: number) => void): void {
  const w0 = Math.max(raster.w0, elements.w0);
  const w1 = Math.min(raster.w0 + raster.words, elements.w0 + elements.words);
  const j0 = Math.max(raster.j0, elements.j0);
  const j1 = Math.min(raster.j0 + raster.rows, elements.j0 + elements.rows);
  for (let j = j0; j < j1; j++) {
    const from = (j - raster.j0) * raster.words - raster.w0;
    const to = (j - elements.j0) * elements.words - elements.w0;
    for (let w = w0; w < w1; w++) {
      let bits: number = raster.bits[from + w]! & elements.bits[to + w]!;
      while (bits !== 0) {
        const b: number = 31 - Math.clz32(bits & -bits);
        bits &= bits - 1;
        each(32 * (to + w) + b);
      }
    }
  }
}

function createIntList() {
  let list = new Int32Array(1024);
  let end = 0;
  return {
    length: () => end,
    push(value: number): void {
      if (end === list.length) {
        const longer = new Int32Array(2 * end);
        longer.set(list);
        list = longer;
      }
      list[end++] = value;
    },
    toArray: () => list.slice(0, end),
  };
}
