/** The walking plane: the share of headings seen at each cell of a window. */
import type { Analysis } from '../floor/index.ts';
import type { Lattice, Lens, Raster } from '../sight/index.ts';
import { SLACK } from '../sight/index.ts';
import type { Field, SeenWords } from './field.ts';
import { CELLS, recount } from './field.ts';
import { computeHeadingShare, EVERY_HEADING_WITHIN } from './headings.ts';
import { addSightLines, createOutermost, listFeet, NOBODY, outermostShare } from './outermost.ts';
import type { ServedLayers } from './served.ts';
import type { Window } from './sums.ts';
import { orInto, wordAt } from './sums.ts';

/** Degrees: up to here one sight line misses at most a quarter turn. */
export const WIDEST = 45;

/**
 * Fills heading shares and `every` over a window; returns the words that count as seen and as seen for too few headings.
 *
 * Seen for walking at it, or close to the lens's foot: every heading. Seen only for walking past: the union over the
 * detectors, told by the two outermost where one sight line misses at most a quarter turn (`outermost.ts`), else worked
 * out from all of them.
 */
export function fillHeadings(
  field: Field,
  lattice: Lattice,
  window: Window,
  lenses: readonly Lens[],
  served: readonly ServedLayers[],
  analysis: Analysis,
  touched: Int32Array | null,
): SeenWords {
  const words = window.w1 - window.w0;
  const size = words * (window.j1 - window.j0);
  const full = new Int32Array(size);
  const some = new Int32Array(size);
  for (let d = 0; d < served.length; d++) {
    orInto(full, window, served[d]!.radial);
    const { tangential } = served[d]!;
    if (tangential) {
      orInto(some, window, tangential);
      orNearFoot(full, window, tangential, lattice, lenses[d]!);
    }
  }
  const open = new Int32Array(size);
  for (let j = window.j0; j < window.j1; j++) {
    for (let w = window.w0; w < window.w1; w++) {
      const at = (j - window.j0) * words + w - window.w0;
      const occupiable = wordAt(field.occupiable, w, j);
      full[at] = full[at]! & occupiable;
      open[at] = some[at]! & occupiable & ~full[at]!;
    }
  }
  const seen = full.slice();
  const every = full.slice();
  // Where no lens that moved sees or saw, everything is as before.
  const anew = touched ? open.map((word, k) => word & touched[k]!) : open;
  if (touched) keepUntouched(field, window, open, touched, seen, every);
  writeWhole(field, lattice, window, full, touched);

  const settle = (at: number, bit: number, i: number, j: number, share: number) => {
    field.heading![j * lattice.nx + i] = share;
    if (share > SLACK && share >= analysis.headings - SLACK) seen[at] = seen[at]! | bit;
    if (share >= 1 - SLACK) every[at] = every[at]! | bit;
  };
  if (analysis.crossingAngle <= WIDEST)
    spreadOfTwo(lattice, window, anew, lenses, served, analysis.crossingAngle, settle);
  else oneByOne(lattice, window, anew, lenses, served, analysis.crossingAngle, settle);

  const tooFew = new Int32Array(size);
  for (let k = 0; k < size; k++) tooFew[k] = open[k]! & ~seen[k]!;
  storeEvery(field, window, every);
  return { seen, tooFew };
}

type Settle = (at: number, bit: number, i: number, j: number, share: number) => void;

/** Ors the cells of a layer that lie close to the lens's foot. */
export function orNearFoot(full: Int32Array, window: Window, layer: Raster, lattice: Lattice, lens: Lens): void {
  const { x0, y0, cell, nx, ny } = lattice;
  const reach = EVERY_HEADING_WITHIN + SLACK;
  const column = (x: number) => (x - x0) / cell - 0.5;
  const i0 = Math.max(0, 32 * window.w0, Math.ceil(column(lens.x - reach)));
  const i1 = Math.min(nx - 1, 32 * window.w1 - 1, Math.floor(column(lens.x + reach)));
  const j0 = Math.max(0, window.j0, Math.ceil((lens.y - reach - y0) / cell - 0.5));
  const j1 = Math.min(ny - 1, window.j1 - 1, Math.floor((lens.y + reach - y0) / cell - 0.5));
  for (let j = j0; j <= j1; j++) {
    for (let i = i0; i <= i1; i++) {
      if (Math.hypot(x0 + (i + 0.5) * cell - lens.x, y0 + (j + 0.5) * cell - lens.y) > reach) continue;
      const bit = wordAt(layer, i >> 5, j) & (1 << (i & 31));
      const at = (j - window.j0) * (window.w1 - window.w0) + (i >> 5) - window.w0;
      full[at] = full[at]! | bit;
    }
  }
}

/** Takes over what was decided before for cells that nothing touched. */
function keepUntouched(
  field: Field,
  window: Window,
  open: Int32Array,
  touched: Int32Array,
  seen: Int32Array,
  every: Int32Array,
): void {
  for (let j = window.j0, k = 0; j < window.j1; j++) {
    const row = j * field.seen.words;
    for (let w = window.w0; w < window.w1; w++, k++) {
      const kept = open[k]! & ~touched[k]!;
      if (kept === 0) continue;
      seen[k] = seen[k]! | (kept & field.seen.bits[row + w]!);
      every[k] = every[k]! | (kept & field.every!.bits[row + w]!);
    }
  }
}

/** Writes the cells seen for every heading as 1 and the others as 0; those with a share of their own follow. */
function writeWhole(
  field: Field,
  lattice: Lattice,
  window: Window,
  full: Int32Array,
  touched: Int32Array | null,
): void {
  const { nx } = lattice;
  const words = window.w1 - window.w0;
  const heading = field.heading!;
  for (let j = window.j0; j < window.j1; j++) {
    for (let w = window.w0; w < window.w1; w++) {
      const at = (j - window.j0) * words + w - window.w0;
      const bits = full[at]!;
      const mine = touched ? touched[at]! : -1;
      if (mine === 0) continue;
      const first = j * nx + 32 * w;
      const cells = Math.min(32, nx - 32 * w);
      if (mine === -1 && (bits === 0 || bits === -1)) heading.fill(bits === 0 ? 0 : 1, first, first + cells);
      else for (let b = 0; b < cells; b++) if ((mine >>> b) & 1) heading[first + b] = (bits >>> b) & 1;
    }
  }
}

function storeEvery(field: Field, window: Window, words: Int32Array): void {
  const every = field.every!;
  for (let j = window.j0, k = 0; j < window.j1; j++) {
    const row = j * every.words;
    for (let w = window.w0; w < window.w1; w++, k++) {
      recount(field.cells, CELLS.every, every.bits[row + w]!, words[k]!);
      every.bits[row + w] = words[k]!;
    }
  }
}

function spreadOfTwo(
  lattice: Lattice,
  window: Window,
  open: Int32Array,
  lenses: readonly Lens[],
  served: readonly ServedLayers[],
  crossingAngle: number,
  settle: Settle,
): void {
  const { x0, y0, cell } = lattice;
  const words = window.w1 - window.w0;
  const feet = listFeet(lenses);
  // Bands keep what is known of the cells within a small, cached piece of memory.
  const band = 16;
  const outermost = createOutermost(band * words * 32);
  const { low, high } = outermost;
  for (let jBand = window.j0; jBand < window.j1; jBand += band) {
    const part: Window = { ...window, j0: jBand, j1: Math.min(window.j1, jBand + band) };
    low.fill(NOBODY);
    const openBase = (jBand - window.j0) * words;
    for (let d = 0; d < served.length; d++) {
      const layer = served[d]!.tangential;
      if (!layer) continue;
      const w0 = Math.max(layer.w0, part.w0);
      const w1 = Math.min(layer.w0 + layer.words, part.w1);
      const j0 = Math.max(layer.j0, part.j0);
      const j1 = Math.min(layer.j0 + layer.rows, part.j1);
      for (let j = j0; j < j1; j++) {
        const fromRow = (j - layer.j0) * layer.words - layer.w0;
        const toRow = (j - part.j0) * words - part.w0;
        for (let w = w0; w < w1; w++) {
          const bits = layer.bits[fromRow + w]! & open[openBase + toRow + w]!;
          if (bits !== 0) addSightLines(outermost, bits, 32 * (toRow + w), lattice, w, j, d, feet);
        }
      }
    }
    for (let at = openBase; at < openBase + (part.j1 - part.j0) * words; at++) {
      let bits = open[at]!;
      const row = Math.floor(at / words);
      const j = window.j0 + row;
      const y = y0 + (j + 0.5) * cell;
      while (bits !== 0) {
        const b = 31 - Math.clz32(bits & -bits);
        bits &= bits - 1;
        const k = (at - openBase) * 32 + b;
        const i = 32 * (window.w0 + at - row * words) + b;
        const x = x0 + (i + 0.5) * cell;
        settle(at, 1 << b, i, j, outermostShare(low[k]!, high[k]!, x, y, feet, crossingAngle));
      }
    }
  }
}

function oneByOne(
  lattice: Lattice,
  window: Window,
  open: Int32Array,
  lenses: readonly Lens[],
  served: readonly ServedLayers[],
  crossingAngle: number,
  settle: Settle,
): void {
  const { x0, y0, cell } = lattice;
  const words = window.w1 - window.w0;
  const directions: number[] = [];
  for (let at = 0; at < open.length; at++) {
    let bits = open[at]!;
    while (bits !== 0) {
      const b = 31 - Math.clz32(bits & -bits);
      bits &= bits - 1;
      const j = window.j0 + Math.floor(at / words);
      const w = window.w0 + (at % words);
      const i = 32 * w + b;
      directions.length = 0;
      for (let d = 0; d < served.length; d++) {
        const layer = served[d]!.tangential;
        if (!layer || (wordAt(layer, w, j) & (1 << b)) === 0) continue;
        const dy = y0 + (j + 0.5) * cell - lenses[d]!.y;
        const dx = x0 + (i + 0.5) * cell - lenses[d]!.x;
        directions.push((Math.atan2(dy, dx) * 180) / Math.PI);
      }
      settle(at, 1 << b, i, j, computeHeadingShare(directions, crossingAngle));
    }
  }
}
