/** Fields over the floor: per cell how many serving detectors see it, and why it is blind. */
import type { Lattice, Raster } from '../sight/index.ts';
import { countBits } from '../sight/index.ts';
import type { Sums, Window } from './sums.ts';
import { SLICES } from './sums.ts';

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
  readonly tooFew: Raster | null;
  /** The counts, bit-sliced: ones, twos, fours, and eight or more. */
  readonly slices: readonly [Raster, Raster, Raster, Raster];
  /** `occupiable` as it was when the bytes were last written. */
  readonly written: Raster;
  /** Cells counted as they are written, by the indices of `CELLS`. */
  readonly cells: Int32Array;
}

/** Places in `Field.cells`; `count` and the four after it: seen by exactly 1, 2, 3, 4 and by 5 or more. */
export const CELLS = { occupiable: 0, seen: 1, hidden: 2, masked: 3, tooFew: 4, every: 5, count: 6 } as const;

/**
 * A field in which nobody can be anywhere yet.
 * @param inside 1 for cells in some room, which is also the state TAKEN; 0 for those OUTSIDE
 */
export function createField(inside: Uint8Array, height: number, occupiable: Raster, walking: boolean): Field {
  const cells = inside.length;
  const like = (): Raster => ({ ...occupiable, bits: new Int32Array(occupiable.bits.length) });
  return {
    height,
    count: new Uint8Array(cells),
    heading: walking ? new Float32Array(cells) : null,
    state: inside.slice(),
    cause: new Uint8Array(cells),
    nearest: new Int16Array(cells).fill(-1),
    occupiable,
    seen: like(),
    hidden: like(),
    masked: like(),
    every: walking ? like() : null,
    tooFew: walking ? like() : null,
    slices: [like(), like(), like(), like()],
    written: like(),
    cells: new Int32Array(11),
  };
}

/** Says anew of the cells of a window where nobody can be whether they lie in a room: rooms have another outline. */
export function restateRooms({ state, occupiable, written }: Field, inRoom: Raster, window: Window): void {
  const { nx } = inRoom.lattice;
  for (let j = window.j0; j < window.j1; j++) {
    for (let i = 32 * window.w0; i < Math.min(nx, 32 * window.w1); i++) {
      const full = j * inRoom.words + (i >> 5);
      // What was free or is will be written with its word.
      const bit = 1 << (i & 31);
      if (((occupiable.bits[full]! | written.bits[full]!) & bit) !== 0) continue;
      state[j * nx + i] = (inRoom.bits[full]! & bit) !== 0 ? TAKEN : OUTSIDE;
    }
  }
}

/** Words of a window that follow from what is seen: headings decide at the walking plane. */
export interface SeenWords {
  readonly seen: Int32Array;
  readonly tooFew: Int32Array | null;
}

/**
 * Writes a window's bits, and the bytes of those words that differ from before.
 * @returns indices into the window of words that hold blind cells with a near miss
 */
export function writeField(
  field: Field,
  lattice: Lattice,
  inRoom: Raster,
  window: Window,
  sums: Sums,
  { seen, tooFew }: SeenWords,
): number[] {
  const { occupiable, written } = field;
  const words = window.w1 - window.w0;
  const blindWords: number[] = [];
  for (let j = window.j0; j < window.j1; j++) {
    for (let w = window.w0; w < window.w1; w++) {
      const at = (j - window.j0) * words + w - window.w0;
      const full = j * occupiable.words + w;
      const free = occupiable.bits[full]!;
      const see = seen[at]!;
      const few = tooFew ? tooFew[at]! : 0;
      const blind = free & ~see & ~few;
      const hidden = sums.hidden[at]! & blind;
      const masked = sums.masked[at]! & blind & ~hidden;
      if ((hidden | masked | few) !== 0) blindWords.push(at);

      if (writeWhy(field, lattice, inRoom, j, w, see, hidden, masked, few) !== 0) {
        const first = j * lattice.nx + 32 * w;
        field.nearest.fill(-1, first, Math.min(first + 32, (j + 1) * lattice.nx));
      }
      writeCount(field, lattice, j, w, sums, at);
      written.bits[full] = free;
    }
  }
  return blindWords;
}

/**
 * Writes why the cells of a word are seen or blind.
 * @returns the cells that have changed
 */
export function writeWhy(
  field: Field,
  lattice: Lattice,
  inRoom: Raster,
  j: number,
  w: number,
  see: number,
  hidden: number,
  masked: number,
  few: number,
): number {
  const { cells, written } = field;
  const full = j * written.words + w;
  const free = field.occupiable.bits[full]!;
  const wasFew = field.tooFew ? field.tooFew.bits[full]! : 0;
  const changed =
    (written.bits[full]! ^ free) |
    (field.seen.bits[full]! ^ see) |
    (field.hidden.bits[full]! ^ hidden) |
    (field.masked.bits[full]! ^ masked) |
    (wasFew ^ few);
  if (changed === 0) return 0;
  recount(cells, CELLS.occupiable, written.bits[full]!, free);
  recount(cells, CELLS.seen, field.seen.bits[full]!, see);
  recount(cells, CELLS.hidden, field.hidden.bits[full]!, hidden);
  recount(cells, CELLS.masked, field.masked.bits[full]!, masked);
  recount(cells, CELLS.tooFew, wasFew, few);
  field.seen.bits[full] = see;
  field.hidden.bits[full] = hidden;
  field.masked.bits[full] = masked;
  if (field.tooFew) field.tooFew.bits[full] = few;

  const { state, cause } = field;
  const room = inRoom.bits[full]!;
  const first = j * lattice.nx + 32 * w;
  const blind = free & ~see;
  let rest = changed;
  while (rest !== 0) {
    const bit = rest & -rest;
    rest &= rest - 1;
    const k = first + 31 - Math.clz32(bit);
    if ((blind & bit) !== 0) {
      state[k] = BLIND;
      cause[k] = (few & bit) !== 0 ? 4 : (hidden & bit) !== 0 ? 1 : (masked & bit) !== 0 ? 2 : 3;
    } else {
      state[k] = (see & bit) !== 0 ? SEEN : (room & bit) !== 0 ? TAKEN : OUTSIDE;
      cause[k] = 0;
    }
  }
  return changed;
}

/**
 * Writes how many detectors see the cells of a word.
 * @param at the word's place in `sums`
 * @returns the cells that may have changed
 */
export function writeCount(field: Field, lattice: Lattice, j: number, w: number, sums: Sums, at: number): number {
  const { cells, written } = field;
  const [ones, twos, fours, more] = field.slices;
  const full = j * written.words + w;
  const free = field.occupiable.bits[full]!;
  const s0 = sums.slices[0]![at]! & free;
  const s1 = sums.slices[1]![at]! & free;
  const s2 = sums.slices[2]![at]! & free;
  let rest = sums.over[at]!;
  for (let s = 3; s < SLICES; s++) rest |= sums.slices[s]![at]!;
  rest &= free;
  // Where there are eight or more, what is beyond the eight is not kept apart.
  let changed = (ones.bits[full]! ^ s0) | (twos.bits[full]! ^ s1) | (fours.bits[full]! ^ s2) | more.bits[full]! | rest;
  if (changed === 0) return 0;
  recountNumbers(cells, ones.bits[full]!, twos.bits[full]!, fours.bits[full]!, more.bits[full]!, -1);
  recountNumbers(cells, s0, s1, s2, rest, 1);
  ones.bits[full] = s0;
  twos.bits[full] = s1;
  fours.bits[full] = s2;
  more.bits[full] = rest;
  const { count } = field;
  const over = sums.over[at]! & free;
  const first = j * lattice.nx + 32 * w;
  const all = changed;
  while (changed !== 0) {
    const b: number = 31 - Math.clz32(changed & -changed);
    changed &= changed - 1;
    let number = ((s0 >>> b) & 1) | (((s1 >>> b) & 1) << 1) | (((s2 >>> b) & 1) << 2);
    if (((rest >>> b) & 1) !== 0) {
      for (let s = 3; s < SLICES; s++) number |= ((sums.slices[s]![at]! >>> b) & 1) << s;
      if (((over >>> b) & 1) !== 0) number = 255;
    }
    count[first + b] = number;
  }
  return all;
}

/** Brings a count of cells from one word to another. */
export function recount(cells: Int32Array, place: number, before: number, after: number): void {
  if (before !== after) cells[place] = cells[place]! + countBits(after) - countBits(before);
}

/** Adds or takes off one word's cells by how many detectors see them. */
function recountNumbers(cells: Int32Array, a: number, b: number, c: number, d: number, sign: 1 | -1): void {
  if ((a | b | c | d) === 0) return;
  const { count } = CELLS;
  cells[count] = cells[count]! + sign * countBits(a & ~b & ~c & ~d);
  cells[count + 1] = cells[count + 1]! + sign * countBits(b & ~a & ~c & ~d);
  cells[count + 2] = cells[count + 2]! + sign * countBits(a & b & ~c & ~d);
  cells[count + 3] = cells[count + 3]! + sign * countBits(c & ~a & ~b & ~d);
  cells[count + 4] = cells[count + 4]! + sign * countBits((c & (a | b)) | d);
}
