/**
 * Bit rasters: a cell is one bit, 32 cells of a row to a word. A raster is a window, aligned to whole words, on a lattice
 * of square cells; so layers of different detectors can be combined word by word.
 */

/** Square cells in the plan: cell (i, j) has its centre at x0 + (i + ½)·cell, y0 + (j + ½)·cell. Metres. */
export interface Lattice {
  readonly x0: number;
  readonly y0: number;
  readonly cell: number;
  /** Cells in x and y. */
  readonly nx: number;
  readonly ny: number;
}

/** A window of `words` × `rows` whose first word is word `w0` of row `j0` of the lattice. */
export interface Raster {
  readonly lattice: Lattice;
  readonly w0: number;
  readonly j0: number;
  readonly words: number;
  readonly rows: number;
  /** `bits[r * words + w]`: cells 32·(w0 + w) … + 31 of row j0 + r, lowest bit first. */
  readonly bits: Int32Array;
}

/** Shadows and ranges are grown by this part of a cell, so that neighbours leave no single cells at their seams. */
const GROWTH = 1e-6;

export function createRaster(lattice: Lattice, w0: number, j0: number, words: number, rows: number): Raster {
  return { lattice, w0, j0, words, rows, bits: new Int32Array(words * rows) };
}

/** Where a raster lies on its lattice. */
export type Window = Pick<Raster, 'w0' | 'j0' | 'words' | 'rows'>;

/** The words and rows that hold the cells of a box (metres), cut to the lattice; at least one word. */
export function windowOver(lattice: Lattice, minX: number, minY: number, maxX: number, maxY: number): Window {
  const { x0, y0, cell, nx, ny } = lattice;
  const column = (x: number) => Math.min(nx - 1, Math.max(0, Math.floor((x - x0) / cell)));
  const row = (y: number) => Math.min(ny - 1, Math.max(0, Math.floor((y - y0) / cell)));
  const w0 = column(minX) >> 5;
  const j0 = row(minY);
  return { w0, j0, words: (column(maxX) >> 5) - w0 + 1, rows: row(maxY) - j0 + 1 };
}

/** An empty raster over the cells that a box (metres) can hold, cut to the lattice; at least one word. */
export function createRasterOver(lattice: Lattice, minX: number, minY: number, maxX: number, maxY: number): Raster {
  const { w0, j0, words, rows } = windowOver(lattice, minX, minY, maxX, maxY);
  return createRaster(lattice, w0, j0, words, rows);
}

/** The raster of the whole lattice. */
export function createFullRaster(lattice: Lattice): Raster {
  return createRaster(lattice, 0, 0, (lattice.nx + 31) >> 5, lattice.ny);
}

/** Copies the part of `from` that lies in `to`'s window; cells of `to` outside `from` become 0. Same lattice. */
export function copyInto(to: Raster, from: Raster): void {
  for (let r = 0; r < to.rows; r++) {
    const row = to.j0 + r - from.j0;
    const shift = to.w0 - from.w0;
    const base = r * to.words;
    if (row < 0 || row >= from.rows) {
      to.bits.fill(0, base, base + to.words);
      continue;
    }
    const fromBase = row * from.words + shift;
    for (let w = 0; w < to.words; w++) {
      const inside = w + shift >= 0 && w + shift < from.words;
      to.bits[base + w] = inside ? from.bits[fromBase + w]! : 0;
    }
  }
}

/** Bits set in a word. */
export function countBits(word: number): number {
  let v = word - ((word >>> 1) & 0x55555555);
  v = (v & 0x33333333) + ((v >>> 2) & 0x33333333);
  return Math.imul((v + (v >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}

export function countCells(raster: Raster): number {
  let count = 0;
  for (let k = 0; k < raster.bits.length; k++) count += countBits(raster.bits[k]!);
  return count;
}

/** Is cell (i, j) of the lattice set? False outside the window. */
export function hasCell(raster: Raster, i: number, j: number): boolean {
  const w = (i >> 5) - raster.w0;
  const r = j - raster.j0;
  if (w < 0 || r < 0 || w >= raster.words || r >= raster.rows) return false;
  return (raster.bits[r * raster.words + w]! & (1 << (i & 31))) !== 0;
}

/** Sets cells i0 … i1 of the window's row r (columns counted from the window's first cell). */
export function setSpan(bits: Int32Array, rowBase: number, i0: number, i1: number): void {
  const a = i0 >> 5;
  const b = i1 >> 5;
  const head = -1 << (i0 & 31);
  const tail = -1 >>> (31 - (i1 & 31));
  if (a === b) {
    bits[rowBase + a] = bits[rowBase + a]! | (head & tail);
    return;
  }
  bits[rowBase + a] = bits[rowBase + a]! | head;
  for (let w = a + 1; w < b; w++) bits[rowBase + w] = -1;
  bits[rowBase + b] = bits[rowBase + b]! | tail;
}

/** Clears cells i0 … i1 of a row. */
export function clearSpan(bits: Int32Array, rowBase: number, i0: number, i1: number): void {
  const a = i0 >> 5;
  const b = i1 >> 5;
  const head = -1 << (i0 & 31);
  const tail = -1 >>> (31 - (i1 & 31));
  if (a === b) {
    bits[rowBase + a] = bits[rowBase + a]! & ~(head & tail);
    return;
  }
  bits[rowBase + a] = bits[rowBase + a]! & ~head;
  for (let w = a + 1; w < b; w++) bits[rowBase + w] = 0;
  bits[rowBase + b] = bits[rowBase + b]! & ~tail;
}

/** Keeps only cells i0 … i1 of a row; none where i0 > i1. */
export function keepSpan(bits: Int32Array, rowBase: number, words: number, i0: number, i1: number): void {
  if (i0 > i1) {
    for (let w = 0; w < words; w++) bits[rowBase + w] = 0;
    return;
  }
  const a = i0 >> 5;
  const b = i1 >> 5;
  for (let w = 0; w < a; w++) bits[rowBase + w] = 0;
  bits[rowBase + a] = bits[rowBase + a]! & (-1 << (i0 & 31));
  bits[rowBase + b] = bits[rowBase + b]! & (-1 >>> (31 - (i1 & 31)));
  for (let w = b + 1; w < words; w++) bits[rowBase + w] = 0;
}

/** Rows and columns of a window that a fill is cut to, counted from the window's first cell; inclusive. */
export interface Clip {
  readonly i0: number;
  readonly i1: number;
  readonly r0: number;
  readonly r1: number;
}

/**
 * Clears every cell whose centre lies in the closed convex polygon, grown by 1e-6 of a cell.
 *
 * Left and right edge are walked together upwards from the lowest corner: per row two additions and one word or a few.
 * @param px,py corners counter-clockwise, in cells from the centre of the window's first cell
 * @param n corners; fewer than three and slivers are taken as they are
 */
export function clearConvex(
  bits: Int32Array,
  words: number,
  clip: Clip,
  px: Float64Array,
  py: Float64Array,
  n: number,
): void {
  let bottom = 0;
  let low = py[0]!;
  let high = low;
  let westmost = px[0]!;
  let eastmost = westmost;
  for (let v = 1; v < n; v++) {
    const x = px[v]!;
    if (x < westmost) westmost = x;
    else if (x > eastmost) eastmost = x;
    const y = py[v]!;
    if (y < low) {
      low = y;
      bottom = v;
    } else if (y > high) high = y;
  }
  if (westmost - GROWTH > clip.i1 || eastmost + GROWTH < clip.i0) return;
  let r = Math.max(clip.r0, Math.ceil(low - GROWTH));
  const rEnd = Math.min(clip.r1, Math.floor(high + GROWTH));
  if (r > rEnd) return;

  // Each chain holds its edge's start, and how far x moves per row.
  let left = bottom;
  let right = bottom;
  let leftEnd = low;
  let rightEnd = low;
  let leftX = 0;
  let rightX = 0;
  let leftStep = 0;
  let rightStep = 0;
  let leftStarted = false;
  let rightStarted = false;
  const i0 = clip.i0;
  const i1 = clip.i1;
  let base = r * words;
  while (r <= rEnd) {
    const y = r < low ? low : r > high ? high : r;
    if (!leftStarted || leftEnd < y) {
      leftStarted = true;
      let from = left;
      let guard = n;
      do {
        from = left;
        left = left === 0 ? n - 1 : left - 1;
      } while ((py[left]! < y || py[left]! - py[from]! < 1e-12) && py[left]! < high && --guard > 0);
      leftEnd = py[left]!;
      const rise = leftEnd - py[from]!;
      leftStep = rise > 1e-12 ? (px[left]! - px[from]!) / rise : 0;
      leftX = px[from]! + (y - py[from]!) * leftStep;
    }
    if (!rightStarted || rightEnd < y) {
      rightStarted = true;
      let from = right;
      let guard = n;
      do {
        from = right;
        right = right === n - 1 ? 0 : right + 1;
      } while ((py[right]! < y || py[right]! - py[from]! < 1e-12) && py[right]! < high && --guard > 0);
      rightEnd = py[right]!;
      const rise = rightEnd - py[from]!;
      rightStep = rise > 1e-12 ? (px[right]! - px[from]!) / rise : 0;
      rightX = px[from]! + (y - py[from]!) * rightStep;
    }
    // Rows up to the nearer end of the two edges share them.
    const stop = leftEnd < rightEnd ? leftEnd : rightEnd;
    let rStop = stop >= high ? rEnd : Math.floor(stop);
    if (rStop > rEnd) rStop = rEnd;
    if (rStop < r) rStop = r;
    for (; r <= rStop; r++, base += words, leftX += leftStep, rightX += rightStep) {
      const a = leftX <= i0 ? i0 : Math.ceil(leftX - GROWTH);
      const b = rightX >= i1 ? i1 : Math.floor(rightX + GROWTH);
      if (a > b) continue;
      const wa = base + (a >> 5);
      const wb = base + (b >> 5);
      const head = -1 << (a & 31);
      const tail = -1 >>> (31 - (b & 31));
      if (wa === wb) {
        bits[wa] = bits[wa]! & ~(head & tail);
      } else {
        bits[wa] = bits[wa]! & ~head;
        for (let w = wa + 1; w < wb; w++) bits[w] = 0;
        bits[wb] = bits[wb]! & ~tail;
      }
    }
  }
}
