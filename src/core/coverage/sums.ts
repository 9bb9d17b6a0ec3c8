/** Sums of detectors' layers over a window of the lattice. */
import type { Lens, Raster } from '../sight/index.ts';
import type { Field } from './field.ts';
import type { ServedLayer } from './served.ts';

/** Words w0 … w1 − 1 of rows j0 … j1 − 1 of the lattice. */
export interface Window {
  readonly w0: number;
  readonly w1: number;
  readonly j0: number;
  readonly j1: number;
}

/** Bits of a count kept apart; a further word says that more were added. */
export const SLICES = 8;

/** Window-sized words, row by row. */
export interface Sums {
  /** Count of layers that see, bit-sliced. */
  readonly slices: readonly Int32Array[];
  readonly over: Int32Array;
  /** Any layer sees; any is hidden; any is masked. */
  readonly any: Int32Array;
  readonly hidden: Int32Array;
  readonly masked: Int32Array;
}

/** Sums over a window to which nothing has been added. */
export function createSums(size: number): Sums {
  const words = new Int32Array(size * (SLICES + 4));
  const part = (n: number) => words.subarray(n * size, (n + 1) * size);
  return {
    slices: Array.from({ length: SLICES }, (_, s) => part(s)),
    over: part(SLICES),
    any: part(SLICES + 1),
    hidden: part(SLICES + 2),
    masked: part(SLICES + 3),
  };
}

export function sumLayers(window: Window, layers: readonly (ServedLayer | null)[]): Sums {
  const sums = createSums((window.w1 - window.w0) * (window.j1 - window.j0));
  for (const layer of layers) if (layer) addLayer(sums, window, layer);
  return sums;
}

/** Adds a layer where its window meets that of the sums. */
function addLayer(sums: Sums, window: Window, layer: ServedLayer): void {
  const { seen, hidden, masked } = layer;
  const w0 = Math.max(seen.w0, window.w0);
  const w1 = Math.min(seen.w0 + seen.words, window.w1);
  const j0 = Math.max(seen.j0, window.j0);
  const j1 = Math.min(seen.j0 + seen.rows, window.j1);
  const words = window.w1 - window.w0;
  for (let j = j0; j < j1; j++) {
    let from = (j - seen.j0) * seen.words + w0 - seen.w0;
    let to = (j - window.j0) * words + w0 - window.w0;
    for (let w = w0; w < w1; w++, from++, to++) {
      sums.hidden[to] = sums.hidden[to]! | hidden.bits[from]!;
      if (masked) sums.masked[to] = sums.masked[to]! | masked.bits[from]!;
      const bits = seen.bits[from]!;
      if (bits !== 0) addSeen(sums, to, bits);
    }
  }
}

/** Adds one detector's seen cells to a word: a ripple of half adders; most carries end within the first two bits. */
export function addSeen({ slices, over, any }: Sums, to: number, bits: number): void {
  any[to] = any[to]! | bits;
  let carry = bits;
  for (let s = 0; s < SLICES && carry !== 0; s++) {
    const slice = slices[s]!;
    const before = slice[to]!;
    slice[to] = before ^ carry;
    carry &= before;
  }
  if (carry !== 0) over[to] = over[to]! | carry;
}

/** The word of a raster at word w, row j of the lattice; 0 outside its window. */
export function wordAt(raster: Raster, w: number, j: number): number {
  const column = w - raster.w0;
  const row = j - raster.j0;
  if (column < 0 || row < 0 || column >= raster.words || row >= raster.rows) return 0;
  return raster.bits[row * raster.words + column]!;
}

/** Ors a raster into window-sized words. */
export function orInto(words: Int32Array, window: Window, raster: Raster | null | undefined): void {
  if (!raster) return;
  const { bits } = raster;
  const w0 = Math.max(raster.w0, window.w0);
  const w1 = Math.min(raster.w0 + raster.words, window.w1);
  const j0 = Math.max(raster.j0, window.j0);
  const j1 = Math.min(raster.j0 + raster.rows, window.j1);
  const windowWords = window.w1 - window.w0;
  for (let j = j0; j < j1; j++) {
    let from = (j - raster.j0) * raster.words + w0 - raster.w0;
    let to = (j - window.j0) * windowWords + w0 - window.w0;
    for (let w = w0; w < w1; w++, from++, to++) words[to] = words[to]! | bits[from]!;
  }
}

/** One detector's layer, with the raster of cells it sees for too few headings. */
export interface MissLayer {
  readonly lens: Lens;
  readonly layer: ServedLayer | null;
  readonly tangential: Raster | null;
}

/**
 * Finds for the blind cells of some words the detector whose miss is the nearest in plan, the first of equals.
 * @param blindWords indices into the window
 */
export function findNearestMisses(
  field: Field,
  lattice: { readonly x0: number; readonly y0: number; readonly cell: number; readonly nx: number },
  window: Window,
  blindWords: readonly number[],
  layers: readonly MissLayer[],
): void {
  const { x0, y0, cell, nx } = lattice;
  const { nearest } = field;
  const words = window.w1 - window.w0;
  const count = blindWords.length;
  const best = new Float64Array(32 * count).fill(Infinity);
  // Word and row of each blind word, once for all detectors; rows ascend.
  const column = new Int32Array(count);
  const line = new Int32Array(count);
  for (let n = 0; n < count; n++) {
    const at = blindWords[n]!;
    const row = Math.floor(at / words);
    column[n] = window.w0 + at - row * words;
    line[n] = window.j0 + row;
    const first = line[n]! * nx + 32 * column[n]!;
    nearest.fill(-1, first, Math.min(first + 32, (line[n]! + 1) * nx));
  }
  for (let detector = 0; detector < layers.length; detector++) {
    const { lens, layer, tangential } = layers[detector]!;
    if (!layer || !touchesWindow(layer.seen, window)) continue;
    const { seen, hidden, masked } = layer;
    const lastRow = seen.j0 + seen.rows;
    for (let n = 0; n < count; n++) {
      const j = line[n]!;
      if (j < seen.j0) continue;
      if (j >= lastRow) break;
      const w = column[n]!;
      const within = w - seen.w0;
      if (within < 0 || within >= seen.words) continue;
      const from = (j - seen.j0) * seen.words + within;
      const full = j * field.occupiable.words + w;
      let bits: number = hidden.bits[from]! & field.hidden.bits[full]!;
      if (masked) bits |= masked.bits[from]! & field.masked.bits[full]!;
      if (field.tooFew && tangential) bits |= wordAt(tangential, w, j) & field.tooFew.bits[full]!;
      const dy = y0 + (j + 0.5) * cell - lens.y;
      while (bits !== 0) {
        const b: number = 31 - Math.clz32(bits & -bits);
        bits &= bits - 1;
        const i = 32 * w + b;
        const dx = x0 + (i + 0.5) * cell - lens.x;
        const distance = dx * dx + dy * dy;
        if (distance < best[32 * n + b]!) {
          best[32 * n + b] = distance;
          nearest[j * nx + i] = detector;
        }
      }
    }
  }
}

export function touchesWindow(raster: Raster, window: Window): boolean {
  return (
    raster.w0 < window.w1 &&
    raster.w0 + raster.words > window.w0 &&
    raster.j0 < window.j1 &&
    raster.j0 + raster.rows > window.j0
  );
}
