/**
 * A static grid of square bins over boxes in the plan: which boxes may touch a rectangle.
 * Built once per floor; a query allocates nothing.
 */
export interface Bins {
  readonly x0: number;
  readonly y0: number;
  /** Edge of one bin, metres. */
  readonly size: number;
  readonly nx: number;
  readonly ny: number;
  /** `items[start[b] … start[b + 1])` are the boxes that touch bin b = j * nx + i. */
  readonly start: Int32Array;
  readonly items: Int32Array;
  /** Per item, the serial of the last query that met it, so that each is reported once. */
  readonly stamp: Int32Array;
  /** [0]: the serial of the last query. */
  readonly serial: Int32Array;
  /** Items that have moved since: they are asked one by one, by the boxes they have now, four numbers each. */
  readonly loose: Int32Array;
  readonly looseBoxes: Float64Array;
}

/** Items that may be asked one by one before it takes less to make the bins anew. */
const MOST_LOOSE = 64;

/**
 * The bins after some items have moved.
 * @param boxes of all items, as they are now
 * @returns null when too many have: then they are made anew
 */
export function loosen(bins: Bins, moved: readonly number[], boxes: Float64Array): Bins | null {
  const loose = Int32Array.from(new Set([...bins.loose, ...moved]));
  if (loose.length > MOST_LOOSE) return null;
  const looseBoxes = new Float64Array(4 * loose.length);
  loose.forEach((item, at) => {
    looseBoxes.set(boxes.subarray(4 * item, 4 * item + 4), 4 * at);
  });
  return { ...bins, loose, looseBoxes };
}

/** Bins a box may stand in on average. */
const MOST_PER_BOX = 24;

function countEntries(boxes: Float64Array, size: number): number {
  let entries = 0;
  for (let k = 0; k < boxes.length; k += 4) {
    entries += ((boxes[k + 2]! - boxes[k]!) / size + 1) * ((boxes[k + 3]! - boxes[k + 1]!) / size + 1);
  }
  return entries;
}

/** @param boxes min x, min y, max x, max y per item, metres */
export function createBins(boxes: Float64Array): Bins {
  const count = boxes.length / 4;
  let x0 = Infinity;
  let y0 = Infinity;
  let x1 = -Infinity;
  let y1 = -Infinity;
  for (let k = 0; k < count; k++) {
    x0 = Math.min(x0, boxes[4 * k]!);
    y0 = Math.min(y0, boxes[4 * k + 1]!);
    x1 = Math.max(x1, boxes[4 * k + 2]!);
    y1 = Math.max(y1, boxes[4 * k + 3]!);
  }
  if (count === 0) {
    x0 = y0 = x1 = y1 = 0;
  }
  let size = Math.max(2, Math.sqrt(((x1 - x0) * (y1 - y0)) / 40_000), (x1 - x0) / 1_000, (y1 - y0) / 1_000);
  // Boxes as large as the floor would fill every bin: coarser bins keep the lists short.
  while (countEntries(boxes, size) > MOST_PER_BOX * count + 1_000) size *= 2;
  const nx = Math.max(1, Math.ceil((x1 - x0) / size));
  const ny = Math.max(1, Math.ceil((y1 - y0) / size));
  const start = new Int32Array(nx * ny + 1);
  const visit = (k: number, each: (bin: number) => void) => {
    const i0 = clampBin((boxes[4 * k]! - x0) / size, nx);
    const i1 = clampBin((boxes[4 * k + 2]! - x0) / size, nx);
    const j0 = clampBin((boxes[4 * k + 1]! - y0) / size, ny);
    const j1 = clampBin((boxes[4 * k + 3]! - y0) / size, ny);
    for (let j = j0; j <= j1; j++) for (let i = i0; i <= i1; i++) each(j * nx + i);
  };
  for (let k = 0; k < count; k++) {
    visit(k, (bin) => {
      start[bin + 1]!++;
    });
  }
  for (let b = 0; b < nx * ny; b++) start[b + 1]! += start[b]!;
  const items = new Int32Array(start[nx * ny]!);
  const next = start.slice();
  for (let k = 0; k < count; k++) {
    visit(k, (bin) => {
      items[next[bin]!++] = k;
    });
  }
  return {
    x0,
    y0,
    size,
    nx,
    ny,
    start,
    items,
    stamp: new Int32Array(count),
    serial: new Int32Array(1),
    loose: new Int32Array(0),
    looseBoxes: new Float64Array(0),
  };
}

/**
 * Writes the items whose bins touch the rectangle into `out` (which must hold as many as there are items), in no
 * particular order, each once. A superset of those whose boxes touch it.
 * @returns how many were written
 */
export function queryBins(bins: Bins, minX: number, minY: number, maxX: number, maxY: number, out: Int32Array): number {
  const { x0, y0, size, nx, ny, start, items, stamp } = bins;
  const serial = ++bins.serial[0]!;
  const { loose, looseBoxes } = bins;
  let found = 0;
  for (let l = 0; l < loose.length; l++) {
    stamp[loose[l]!] = serial;
    if (looseBoxes[4 * l]! > maxX || looseBoxes[4 * l + 1]! > maxY) continue;
    if (looseBoxes[4 * l + 2]! < minX || looseBoxes[4 * l + 3]! < minY) continue;
    out[found++] = loose[l]!;
  }
  if (maxX < x0 || maxY < y0 || minX > x0 + nx * size || minY > y0 + ny * size) return found;
  const i0 = clampBin((minX - x0) / size, nx);
  const i1 = clampBin((maxX - x0) / size, nx);
  const j0 = clampBin((minY - y0) / size, ny);
  const j1 = clampBin((maxY - y0) / size, ny);
  for (let j = j0; j <= j1; j++) {
    // Bins of one row are neighbours in memory, so one run covers them all.
    const end = start[j * nx + i1 + 1]!;
    for (let s = start[j * nx + i0]!; s < end; s++) {
      const k = items[s]!;
      if (stamp[k] === serial) continue;
      stamp[k] = serial;
      out[found++] = k;
    }
  }
  return found;
}

function clampBin(at: number, count: number): number {
  return Math.min(count - 1, Math.max(0, Math.floor(at)));
}
