/**
 * The share of headings seen where several detectors see a cell for walking past only.
 *
 * As long as one sight line misses at most a quarter turn, what several miss together is what the two outermost miss. So
 * a cell keeps two detectors; which they are does not depend on the order in which the detectors come.
 */
import type { Lattice, Lens } from '../sight/index.ts';

/** No sight line yet. */
export const NOBODY = -1;
/** The sight lines span a quarter turn or more: every heading is seen. */
const AROUND = -2;

/** Per cell the detectors of the two outermost sight lines, counter-clockwise from low to high; NOBODY or AROUND. */
export interface Outermost {
  readonly low: Int16Array;
  readonly high: Int16Array;
}

export function createOutermost(cells: number): Outermost {
  return { low: new Int16Array(cells).fill(NOBODY), high: new Int16Array(cells).fill(NOBODY) };
}

/** x and y of every lens's foot, metres. */
export function listFeet(lenses: readonly Lens[]): Float64Array {
  const feet = new Float64Array(2 * lenses.length);
  for (let d = 0; d < lenses.length; d++) {
    feet[2 * d] = lenses[d]!.x;
    feet[2 * d + 1] = lenses[d]!.y;
  }
  return feet;
}

/**
 * Adds one detector's sight lines to the cells of a word.
 * @param bits the cells it sees
 * @param first index of the word's first cell in `outermost`
 * @param w,j the word on the lattice
 */
export function addSightLines(
  outermost: Outermost,
  bits: number,
  first: number,
  { x0, y0, cell }: Lattice,
  w: number,
  j: number,
  detector: number,
  feet: Float64Array,
): void {
  const { low, high } = outermost;
  const y = y0 + (j + 0.5) * cell;
  let rest = bits;
  while (rest !== 0) {
    const b = 31 - Math.clz32(rest & -rest);
    rest &= rest - 1;
    addSightLine(low, high, first + b, x0 + (32 * w + b + 0.5) * cell, y, detector, feet);
  }
}

/** Adds the line from a lens to the place (x, y) of cell k. */
function addSightLine(
  low: Int16Array,
  high: Int16Array,
  k: number,
  x: number,
  y: number,
  detector: number,
  feet: Float64Array,
): void {
  const a = low[k]!;
  if (a === AROUND) return;
  if (a === NOBODY) {
    low[k] = detector;
    high[k] = detector;
    return;
  }
  const b = high[k]!;
  const vx = x - feet[2 * detector]!;
  const vy = y - feet[2 * detector + 1]!;
  const lx = x - feet[2 * a]!;
  const ly = y - feet[2 * a + 1]!;
  const fromLow = lx * vy - ly * vx;
  let alongLow = lx * vx + ly * vy;
  if (a === b) {
    // Of two equal directions the first detector in the file stands for both.
    if (fromLow === 0) low[k] = high[k] = Math.min(a, detector);
    else if (alongLow === 0) low[k] = AROUND;
    else if (fromLow > 0 === alongLow > 0) high[k] = detector;
    else low[k] = detector;
    return;
  }
  let hx = x - feet[2 * b]!;
  let hy = y - feet[2 * b + 1]!;
  // Directions are headings without sense: low and high are less than a quarter turn apart.
  if (lx * hx + ly * hy < 0) {
    hx = -hx;
    hy = -hy;
  }
  const toHigh = vx * hy - vy * hx;
  if (fromLow === 0) {
    if (detector < a) low[k] = detector;
    return;
  }
  if (toHigh === 0) {
    if (detector < b) high[k] = detector;
    return;
  }
  // Between the two, whichever way it is read.
  if (fromLow > 0 === toHigh > 0) return;
  let alongHigh = hx * vx + hy * vy;
  if (fromLow < 0) {
    alongLow = -alongLow;
    alongHigh = -alongHigh;
  }
  if (alongLow > 0) high[k] = detector;
  else if (alongHigh < 0) low[k] = detector;
  else low[k] = AROUND;
}

/**
 * Share of headings seen at the place (x, y) of cell k, 0 to 1.
 * @param crossingAngle degrees, 0 to 45
 */
export function outermostShare(
  low: number,
  high: number,
  x: number,
  y: number,
  feet: Float64Array,
  crossingAngle: number,
): number {
  if (low === AROUND) return 1;
  if (low === NOBODY) return 0;
  if (low === high) return 1 - (2 * crossingAngle) / 180;
  const lx = x - feet[2 * low]!;
  const ly = y - feet[2 * low + 1]!;
  const hx = x - feet[2 * high]!;
  const hy = y - feet[2 * high + 1]!;
  const spread = angleOf(Math.abs(lx * hy - ly * hx), Math.abs(lx * hx + ly * hy));
  const missed = 2 * crossingAngle - spread;
  return missed <= 0 ? 1 : 1 - missed / 180;
}

/**
 * The same with one more detector, without keeping it: what `addSightLine` and `outermostShare` together say.
 * @param low,high the two outermost of the others
 */
export function shareWith(
  low: number,
  high: number,
  x: number,
  y: number,
  detector: number,
  feet: Float64Array,
  crossingAngle: number,
): number {
  if (low === AROUND) return 1;
  if (low === NOBODY) return 1 - (2 * crossingAngle) / 180;
  const vx = x - feet[2 * detector]!;
  const vy = y - feet[2 * detector + 1]!;
  const lx = x - feet[2 * low]!;
  const ly = y - feet[2 * low + 1]!;
  const fromLow = lx * vy - ly * vx;
  const alongLow = lx * vx + ly * vy;
  let across = Math.abs(fromLow);
  let along = Math.abs(alongLow);
  if (low === high) {
    if (fromLow === 0) return 1 - (2 * crossingAngle) / 180;
    if (alongLow === 0) return 1;
  } else {
    const hx = x - feet[2 * high]!;
    const hy = y - feet[2 * high + 1]!;
    const apart = lx * hx + ly * hy;
    const sense = apart < 0 ? -1 : 1;
    const toHigh = sense * (vx * hy - vy * hx);
    const alongHigh = sense * (hx * vx + hy * vy);
    if (fromLow === 0 ? detector < low : toHigh !== 0 && fromLow > 0 !== toHigh > 0) {
      const turned = fromLow < 0 ? -1 : 1;
      if (fromLow === 0 || turned * alongLow <= 0) {
        if (fromLow !== 0 && turned * alongHigh >= 0) return 1;
        across = Math.abs(toHigh);
        along = Math.abs(alongHigh);
      }
    } else if (fromLow === 0 || toHigh !== 0 || detector > high) {
      across = Math.abs(lx * hy - ly * hx);
      along = Math.abs(apart);
    }
  }
  const missed = 2 * crossingAngle - angleOf(across, along);
  return missed <= 0 ? 1 : 1 - missed / 180;
}

/** Steps of the table of arc tangents between 0 and 1. */
const STEPS = 256;
/** Per step the arc tangent in degrees and its first three derivatives over 1, 2 and 6. */
const ARCS = new Float64Array(4 * (STEPS + 1));
for (let n = 0; n <= STEPS; n++) {
  const t = n / STEPS;
  const q = 1 / (1 + t * t);
  const degrees = 180 / Math.PI;
  ARCS[4 * n] = Math.atan(t) * degrees;
  ARCS[4 * n + 1] = q * degrees;
  ARCS[4 * n + 2] = -t * q * q * degrees;
  ARCS[4 * n + 3] = ((3 * t * t - 1) / 3) * q * q * q * degrees;
}

/**
 * The angle whose tangent is `across` over `along`, neither of them negative, in degrees: 0 to 90. From a table with
 * cubic terms, within 2e-10 degrees of `Math.atan2` and several times faster; exact at 0, 45 and 90.
 */
function angleOf(across: number, along: number): number {
  const steep = across > along;
  const t = steep ? along / across : across / along;
  const n = (t * STEPS + 0.5) | 0;
  const u = t - n / STEPS;
  const at = 4 * n;
  const arc = ARCS[at]! + u * (ARCS[at + 1]! + u * (ARCS[at + 2]! + u * ARCS[at + 3]!));
  return steep ? 90 - arc : arc;
}
