/** How broad a blind area is round each of its cells: what is narrower than one spacing of the hatch is filled. */
import { BLIND } from '../../../core/coverage/index.ts';
import type { CellWindow } from './cell-words.ts';

export const MOST_BREADTH = 7;
/** How many cells a broad place lends its breadth to, each way. */
const LEND = 7;
/** How far the change of one cell is felt. */
export const FELT = MOST_BREADTH + LEND;

/** Rows of zeros above and below, so that a step up or down needs no test. */
const GUARD = 8;

/** Bits of cells, 32 a word, row by row, a word of zeros after each row. */
interface Bits {
  readonly words: number;
  readonly rows: number;
  readonly stride: number;
  readonly size: number;
}

/** Rasters that are worked on, kept from call to call: blind cells, how far one can go each way, and what is in hand. */
const scratch: Int32Array[] = Array.from({ length: 16 }, () => new Int32Array(0));

function take(number: number, size: number): Int32Array {
  const known = scratch[number] as Int32Array;
  if (known.length >= size) return known.fill(0, 0, size);
  const made = new Int32Array(2 * size);
  scratch[number] = made;
  return made;
}

/**
 * Writes the breadth bits of the blind words in `felt`; those of others are 0 already. The breadth of a cell is the
 * lesser of its blind runs along its row and its column; then each cell takes the greatest within `LEND` along its run,
 * first over rows, then over columns. So the tip of a broad area counts as broad, a strip does not.
 *
 * Worked out breadth by breadth on whole words: the cells in runs of at least t both ways, spread along their runs.
 */
export function writeBreadths(words: Uint32Array, nx: number, ny: number, felt: CellWindow, shift: number): void {
  // What is lent within `felt` may come from beyond it.
  const w0 = Math.max(0, felt.i0 - FELT) >> 5;
  const w1 = (Math.min(nx, felt.i1 + FELT) + 31) >> 5;
  const j0 = Math.max(0, felt.j0 - FELT);
  const j1 = Math.min(ny, felt.j1 + FELT);
  const stride = w1 - w0 + 1;
  const rows = j1 - j0;
  const bits: Bits = { words: w1 - w0, rows, stride, size: stride * (rows + 2 * GUARD) };
  const blind = take(0, bits.size);
  if (!pack(words, nx, w0, j0, bits, blind)) return;
  const low = take(1, bits.size);
  const middle = take(2, bits.size);
  const high = take(3, bits.size);
  low.set(blind.subarray(0, bits.size));
  const ways = findWays(blind, bits);
  const acrossAll = take(12, bits.size);
  const downAll = take(13, bits.size);
  acrossAll.set(blind.subarray(0, bits.size));
  downAll.set(blind.subarray(0, bits.size));
  const held = take(14, bits.size);
  for (let t = 2; t <= MOST_BREADTH; t++) {
    if (!findBroad(blind, acrossAll, downAll, held, bits, t)) break;
    spread(held, ways, bits);
    // Each breadth lies within the one before, so a count is told by what changes.
    for (let k = 0; k < bits.size; k++) {
      const here = held[k] as number;
      low[k] = (low[k] as number) ^ here;
      if ((t & 1) === 0) middle[k] = (middle[k] as number) ^ here;
      if (t === 4) high[k] = here;
    }
  }
  writeBits(words, nx, felt, shift, { w0, j0 }, bits, blind, low, middle, high);
}

/** Packs the blind cells; answers whether there is one. */
function pack(words: Uint32Array, nx: number, w0: number, j0: number, bits: Bits, into: Int32Array): boolean {
  let any = 0;
  for (let r = 0; r < bits.rows; r++) {
    const first = (j0 + r) * nx;
    for (let w = 0; w < bits.words; w++) {
      const i0 = 32 * (w0 + w);
      const cells = Math.min(32, nx - i0);
      let word = 0;
      for (let b = 0; b < cells; b++) if (((words[first + i0 + b] as number) & 3) === BLIND) word |= 1 << b;
      into[(r + GUARD) * bits.stride + w] = word;
      any |= word;
    }
  }
  return any !== 0;
}

/** From which cells one can go 1, 2 and 4 steps back without a gap: right, left, up, down. */
type Ways = readonly (readonly [Int32Array, Int32Array, Int32Array])[];

function findWays(blind: Int32Array, { size, stride }: Bits): Ways {
  const from = GUARD * stride;
  const to = size - from;
  return [0, 1, 2, 3].map((way) => {
    const two = take(4 + 2 * way, size);
    const four = take(5 + 2 * way, size);
    for (const [one, both, s] of [
      [blind, two, 1],
      [two, four, 2],
    ] as const) {
      const rise = (way === 2 ? -s : s) * stride;
      for (let k = from; k < to; k++) {
        const here = one[k] as number;
        if (here === 0) continue;
        const behind =
          way === 0
            ? (here << s) | ((one[k - 1] as number) >>> (32 - s))
            : way === 1
              ? (here >>> s) | ((one[k + 1] as number) << (32 - s))
              : (one[k + rise] as number);
        both[k] = here & behind;
      }
    }
    return [blind, two, four] as const;
  });
}

/**
 * The cells in runs of at least t along their row and their column.
 * @param across,down starts of runs of t − 1; become starts of runs of t
 * @returns whether there is any
 */
function findBroad(
  blind: Int32Array,
  across: Int32Array,
  down: Int32Array,
  into: Int32Array,
  { size, stride }: Bits,
  t: number,
): boolean {
  const from = GUARD * stride;
  const to = size - from;
  const s = t - 1;
  let any = 0;
  for (let k = from; k < to; k++) {
    const a = across[k] as number;
    if (a !== 0) across[k] = a & (((blind[k] as number) >>> s) | ((blind[k + 1] as number) << (32 - s)));
    const d = down[k] as number;
    if (d !== 0) down[k] = d & (blind[k + s * stride] as number);
  }
  for (let k = from; k < to; k++) {
    if (blind[k] === 0) {
      into[k] = 0;
      continue;
    }
    let covered = 0;
    for (let n = 0, at = k; n < t; n++, at -= stride) covered |= down[at] as number;
    if (covered !== 0) {
      const here = across[k] as number;
      const before = across[k - 1] as number;
      let run = here;
      for (let n = 1; n < t; n++) run |= (here << n) | (before >>> (32 - n));
      covered &= run;
    }
    into[k] = covered;
    any |= covered;
  }
  return any !== 0;
}

/** Spreads what is held up to seven cells along the blind runs, over rows and then over columns. */
function spread(held: Int32Array, ways: Ways, { size, stride }: Bits): void {
  const from = GUARD * stride;
  const to = size - from;
  const [right, left, up, down] = ways as [Ways[0], Ways[0], Ways[0], Ways[0]];
  for (let n = 0; n < 3; n++) {
    const s = 1 << n;
    const open = right[n] as Int32Array;
    for (let k = to - 1; k >= from; k--) {
      const may = open[k] as number;
      if (may !== 0) {
        const here = held[k] as number;
        held[k] = here | (may & ((here << s) | ((held[k - 1] as number) >>> (32 - s))));
      }
    }
  }
  for (let n = 0; n < 3; n++) {
    const s = 1 << n;
    const open = left[n] as Int32Array;
    for (let k = from; k < to; k++) {
      const may = open[k] as number;
      if (may !== 0) {
        const here = held[k] as number;
        held[k] = here | (may & ((here >>> s) | ((held[k + 1] as number) << (32 - s))));
      }
    }
  }
  for (let n = 0; n < 3; n++) {
    const rise = stride << n;
    const open = up[n] as Int32Array;
    for (let k = to - 1; k >= from; k--) {
      const may = open[k] as number;
      if (may !== 0) held[k] = (held[k] as number) | (may & (held[k - rise] as number));
    }
  }
  for (let n = 0; n < 3; n++) {
    const rise = stride << n;
    const open = down[n] as Int32Array;
    for (let k = from; k < to; k++) {
      const may = open[k] as number;
      if (may !== 0) held[k] = (held[k] as number) | (may & (held[k + rise] as number));
    }
  }
}

/** Writes three bits a blind cell where they differ; any other cell has none. */
function writeBits(
  words: Uint32Array,
  nx: number,
  felt: CellWindow,
  shift: number,
  corner: { readonly w0: number; readonly j0: number },
  { stride }: Bits,
  blind: Int32Array,
  low: Int32Array,
  middle: Int32Array,
  high: Int32Array,
): void {
  const others = ~(MOST_BREADTH << shift);
  const last = (felt.i1 - 1) >> 5;
  for (let j = felt.j0; j < felt.j1; j++) {
    for (let w = felt.i0 >> 5; w <= last; w++) {
      const k = (j - corner.j0 + GUARD) * stride + w - corner.w0;
      let rest = blind[k] as number;
      const [one, two, four] = [low[k] as number, middle[k] as number, high[k] as number];
      while (rest !== 0) {
        const b: number = 31 - Math.clz32(rest & -rest);
        rest &= rest - 1;
        const breadth = ((one >>> b) & 1) | (((two >>> b) & 1) << 1) | (((four >>> b) & 1) << 2);
        const at = j * nx + 32 * w + b;
        const word = words[at] as number;
        if (((word >>> shift) & MOST_BREADTH) !== breadth) words[at] = (word & others) | (breadth << shift);
      }
    }
  }
}
