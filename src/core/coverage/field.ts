/** Fields over the floor: per cell how many serving detectors see it, and why it is blind. */
import type { Lattice, Lens, Raster } from '../sight/index.ts';
import { countBits } from '../sight/index.ts';
import type { ServedLayer } from './served.ts';

export const OUTSIDE = 0;
export const TAKEN = 1;
export const BLIND = 2;
export const SEEN = 3;

/** Codes of `Field.cause`, in the order of precedence of a nearest miss. */
export const CAUSES = ['seen', 'hidden', 'masked', 'range', 'headings'] as const;

/**
 * One plane's values, a value per cell, `values[j * nx + i]`; changed in place when the floor changes.
 */
export interface Field {
  /** Metres above the floor. */
  readonly height: number;
  /** Serving detectors that see the cell (walking: for some heading); 255 stands for 255 or more. */
  readonly count: Uint8Array;
  /** Walking only: share of headings seen, 0 to 1. */
  readonly heading: Float32Array | null;
  /** OUTSIDE every room, TAKEN by furniture, BLIND or SEEN. */
  readonly state: Uint8Array;
  /** Index into CAUSES; 0 where not blind. */
  readonly cause: Uint8Array;
  /** Blind cells: index of the detector whose miss is the nearest; -1 elsewhere and where none comes near. */
  readonly nearest: Int16Array;
  /** The same as bits: occupiable, seen enough to count, and blind by cause. */
  readonly occupiable: Raster;
  readonly seen: Raster;
  readonly hidden: Raster;
  readonly masked: Raster;
  /** Walking only: seen for every heading; for too few headings to count. */
  readonly every: Raster | null;
  /** The counts, bit-sliced: ones, twos, fours, and eight or more. */
  readonly slices: readonly [Raster, Raster, Raster, Raster];
  readonly tooFew: Raster | null;
}

/** Words w0 … w1 − 1 of rows j0 … j1 − 1 of the lattice. */
export interface Window {
  readonly w0: number;
  readonly w1: number;
  readonly j0: number;
  readonly j1: number;
}

export function createField(lattice: Lattice, height: number, occupiable: Raster, walking: boolean): Field {
  const cells = lattice.nx * lattice.ny;
  const like = (): Raster => ({ ...occupiable, bits: new Int32Array(occupiable.bits.length) });
  return {
    height,
    count: new Uint8Array(cells),
    heading: walking ? new Float32Array(cells) : null,
    state: new Uint8Array(cells),
    cause: new Uint8Array(cells),
    nearest: new Int16Array(cells).fill(-1),
    occupiable,
    seen: like(),
    hidden: like(),
    masked: like(),
    every: walking ? like() : null,
    slices: [like(), like(), like(), like()],
    tooFew: walking ? like() : null,
  };
}

/** Sums of bit layers over a window: eight bits a cell, bit-sliced; a ninth says that more were added. */
export interface Tally {
  readonly window: Window;
  readonly words: number;
  readonly slices: readonly Int32Array[];
  readonly over: Int32Array;
}

export const COUNT_SLICES = 8;

export function createTally(window: Window): Tally {
  const words = window.w1 - window.w0;
  const size = words * (window.j1 - window.j0);
  return {
    window,
    words,
    slices: Array.from({ length: COUNT_SLICES }, () => new Int32Array(size)),
    over: new Int32Array(size),
  };
}

/** Calls `each(layerIndex, windowIndex, length)` for the runs of words that a raster and a window share. */
export function forSharedRuns(
  raster: Raster,
  window: Window,
  each: (rasterIndex: number, windowIndex: number, length: number) => void,
): void {
  const w0 = Math.max(raster.w0, window.w0);
  const w1 = Math.min(raster.w0 + raster.words, window.w1);
  const j0 = Math.max(raster.j0, window.j0);
  const j1 = Math.min(raster.j0 + raster.rows, window.j1);
  if (w0 >= w1) return;
  const windowWords = window.w1 - window.w0;
  for (let j = j0; j < j1; j++) {
    each((j - raster.j0) * raster.words + w0 - raster.w0, (j - window.j0) * windowWords + w0 - window.w0, w1 - w0);
  }
}

/** Adds one layer, or the union of two, to the tally. */
export function addToTally(tally: Tally, one: Raster, other: Raster | null): void {
  const { window, slices, over } = tally;
  const add = (at: number, bits: number) => {
    let carry = bits;
    for (let s = 0; s < COUNT_SLICES && carry !== 0; s++) {
      const slice = slices[s]!;
      const before = slice[at]!;
      slice[at] = before ^ carry;
      carry &= before;
    }
    if (carry !== 0) over[at] = over[at]! | carry;
  };
  const w0 = Math.max(window.w0, Math.min(one.w0, other ? other.w0 : one.w0));
  const w1 = Math.min(window.w1, Math.max(one.w0 + one.words, other ? other.w0 + other.words : 0));
  const j0 = Math.max(window.j0, Math.min(one.j0, other ? other.j0 : one.j0));
  const j1 = Math.min(window.j1, Math.max(one.j0 + one.rows, other ? other.j0 + other.rows : 0));
  for (let j = j0; j < j1; j++) {
    const base = (j - window.j0) * tally.words - window.w0;
    for (let w = w0; w < w1; w++) {
      const bits = wordAt(one, w, j) | (other ? wordAt(other, w, j) : 0);
      if (bits !== 0) add(base + w, bits);
    }
  }
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
  forSharedRuns(raster, window, (from, to, length) => {
    for (let w = 0; w < length; w++) words[to + w] = words[to + w]! | bits[from + w]!;
  });
}

/** Writes one window's words back into a raster that holds it. */
export function storeWindow(raster: Raster, window: Window, words: Int32Array): void {
  forSharedRuns(raster, window, (to, from, length) => {
    for (let w = 0; w < length; w++) raster.bits[to + w] = words[from + w]!;
  });
}

/** Writes a window's counts into the field, a byte a cell; words whose counts stay are passed over. */
export function expandCounts(field: Field, lattice: Lattice, tally: Tally): void {
  const { window, words, slices, over } = tally;
  const { nx } = lattice;
  const { count, occupiable } = field;
  const [ones, twos, fours, more] = field.slices;
  const last = lastUsed(slices);
  for (let j = window.j0; j < window.j1; j++) {
    for (let w = window.w0; w < window.w1; w++) {
      const at = (j - window.j0) * words + w - window.w0;
      const full = j * occupiable.words + w;
      const free = occupiable.bits[full]!;
      let rest = over[at]!;
      for (let s = 3; s < COUNT_SLICES; s++) rest |= slices[s]![at]!;
      const s0 = slices[0]![at]! & free;
      const s1 = slices[1]![at]! & free;
      const s2 = slices[2]![at]! & free;
      rest &= free;
      const same =
        rest === 0 &&
        more.bits[full] === 0 &&
        ones.bits[full] === s0 &&
        twos.bits[full] === s1 &&
        fours.bits[full] === s2;
      if (same) continue;
      ones.bits[full] = s0;
      twos.bits[full] = s1;
      fours.bits[full] = s2;
      more.bits[full] = rest;
      const first = j * nx + 32 * w;
      const cells = Math.min(32, nx - 32 * w);
      if (rest === 0) {
        for (let b = 0; b < cells; b++) {
          count[first + b] = ((s0 >>> b) & 1) | (((s1 >>> b) & 1) << 1) | (((s2 >>> b) & 1) << 2);
        }
        continue;
      }
      for (let b = 0; b < cells; b++) {
        let sum = 0;
        for (let s = 0; s <= last; s++) sum |= ((slices[s]![at]! >>> b) & 1) << s;
        if ((over[at]! >>> b) & 1) sum = 255;
        count[first + b] = (free >>> b) & 1 ? sum : 0;
      }
    }
  }
}

function lastUsed(slices: readonly Int32Array[]): number {
  for (let s = slices.length - 1; s > 0; s--) if (slices[s]!.some((word) => word !== 0)) return s;
  return 0;
}

/** Writes states and causes of a window from the field's bits. */
export function expandStates(field: Field, lattice: Lattice, inRoom: Raster, window: Window): void {
  const { nx } = lattice;
  const { state, cause } = field;
  for (let j = window.j0; j < window.j1; j++) {
    for (let w = window.w0; w < window.w1; w++) {
      const room = wordAt(inRoom, w, j);
      const occupiable = wordAt(field.occupiable, w, j);
      const seen = wordAt(field.seen, w, j);
      const hidden = wordAt(field.hidden, w, j);
      const masked = wordAt(field.masked, w, j);
      const tooFew = field.tooFew ? wordAt(field.tooFew, w, j) : 0;
      const first = j * nx + 32 * w;
      const cells = Math.min(32, nx - 32 * w);
      if (room === 0 || occupiable === seen) {
        // Whole words without a blind cell are most of a good floor.
        for (let b = 0; b < cells; b++) {
          state[first + b] = (seen >>> b) & 1 ? SEEN : (room >>> b) & 1 ? TAKEN : OUTSIDE;
        }
        cause.fill(0, first, first + cells);
        continue;
      }
      for (let b = 0; b < cells; b++) {
        const blind = (occupiable & ~seen & (1 << b)) !== 0;
        state[first + b] = blind ? BLIND : (seen >>> b) & 1 ? SEEN : (room >>> b) & 1 ? TAKEN : OUTSIDE;
        cause[first + b] = !blind ? 0 : (tooFew >>> b) & 1 ? 4 : (hidden >>> b) & 1 ? 1 : (masked >>> b) & 1 ? 2 : 3;
      }
    }
  }
}

/** Finds for every blind cell of a window the detector whose miss is the nearest in plan, the first of equals. */
export function findNearestMisses(
  field: Field,
  lattice: Lattice,
  window: Window,
  lenses: readonly Lens[],
  layersOf: (detector: number) => readonly (ServedLayer | null)[],
): void {
  const { x0, y0, cell, nx } = lattice;
  const { nearest } = field;
  const width = 32 * (window.w1 - window.w0);
  const best = new Float64Array(width * (window.j1 - window.j0)).fill(Infinity);
  for (let j = window.j0; j < window.j1; j++) {
    nearest.fill(-1, j * nx + 32 * window.w0, j * nx + Math.min(nx, 32 * window.w1));
  }
  const note = (detector: number, layer: ServedLayer | null, misses: 'hidden' | 'masked' | 'seen', of: Raster) => {
    const raster = layer?.[misses];
    if (!raster) return;
    const lens = lenses[detector]!;
    forSharedRuns(raster, window, (from, at, length) => {
      for (let w = 0; w < length; w++) {
        const words = window.w1 - window.w0;
        const row = Math.floor((at + w) / words);
        const j = window.j0 + row;
        const column = window.w0 + at + w - row * words;
        let bits = raster.bits[from + w]! & wordAt(of, column, j);
        while (bits !== 0) {
          const b = 31 - Math.clz32(bits & -bits);
          bits &= bits - 1;
          const i = 32 * column + b;
          const dx = x0 + (i + 0.5) * cell - lens.x;
          const dy = y0 + (j + 0.5) * cell - lens.y;
          const distance = dx * dx + dy * dy;
          const k = row * width + i - 32 * window.w0;
          if (distance < best[k]!) {
            best[k] = distance;
            nearest[j * nx + i] = detector;
          }
        }
      }
    });
  };
  for (let detector = 0; detector < lenses.length; detector++) {
    for (const layer of layersOf(detector)) {
      note(detector, layer, 'hidden', field.hidden);
      note(detector, layer, 'masked', field.masked);
      if (field.tooFew) note(detector, layer, 'seen', field.tooFew);
    }
  }
}

/** Cells set in both rasters of the same window. */
export function countShared(a: Raster, b: Raster): number {
  let cells = 0;
  for (let k = 0; k < a.bits.length; k++) cells += countBits(a.bits[k]! & b.bits[k]!);
  return cells;
}
