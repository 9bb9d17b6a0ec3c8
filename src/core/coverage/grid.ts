/** The cells of a floor: which room each belongs to, and where a person can be. */
import type { Floor, Furniture, Point } from '../floor/index.ts';
import type { Box } from '../geometry/polygon.ts';
import { computeBox, overlaps } from '../geometry/polygon.ts';
import type { Lattice, Raster, Scene } from '../sight/index.ts';
import { clearSpan, createFullRaster, listFurnitureNear, setSpan } from '../sight/index.ts';

/** Words w0 … w1 − 1 of rows j0 … j1 − 1 of the lattice. */
interface Window {
  readonly w0: number;
  readonly w1: number;
  readonly j0: number;
  readonly j1: number;
}

export interface Grid {
  readonly lattice: Lattice;
  /** Index of the first room of the file that holds the cell's centre, -1 for none; `room[j * nx + i]`. */
  readonly room: Int16Array;
  /** 1 in some room, 0 outside; as `room`. */
  readonly inside: Uint8Array;
  readonly inRoom: Raster;
  /** In a room and not inside furniture that holds the seated plane. */
  readonly seated: Raster;
  /** In a room and not inside furniture that a walking person would bump into. */
  readonly walking: Raster;
}

/** Furniture lower than this from below, or higher than this from above, is walked over or under, metres. */
const STEP_OVER = 0.1;
const HEAD_ROOM = 1.8;

/** Corner and size of the lattice over all rooms, with square cells of `cell` metres. */
function createLattice(floor: Floor, cell: number): Lattice {
  let x0 = Infinity;
  let y0 = Infinity;
  let x1 = -Infinity;
  let y1 = -Infinity;
  for (const room of floor.rooms) {
    for (const [x, y] of room.outline) {
      x0 = Math.min(x0, x);
      x1 = Math.max(x1, x);
      y0 = Math.min(y0, y);
      y1 = Math.max(y1, y);
    }
  }
  if (x0 > x1) return { x0: 0, y0: 0, cell, nx: 1, ny: 1 };
  return {
    x0,
    y0,
    cell,
    nx: Math.max(1, Math.ceil((x1 - x0) / cell - 1e-9)),
    ny: Math.max(1, Math.ceil((y1 - y0) / cell - 1e-9)),
  };
}

export function createGrid(floor: Floor): Grid {
  const lattice = createLattice(floor, floor.analysis.cell);
  const { nx, ny } = lattice;
  const room = new Int16Array(nx * ny).fill(-1);
  const inside = new Uint8Array(nx * ny);
  const inRoom = createFullRaster(lattice);
  // From the last room to the first, so that the first of the file has the last word.
  for (let index = floor.rooms.length - 1; index >= 0; index--) {
    const each = floor.rooms[index]!;
    scanRings(lattice, [each.outline, ...each.holes], (j, i0, i1) => {
      setSpan(inRoom.bits, j * inRoom.words, i0, i1);
      room.fill(index, j * nx + i0, j * nx + i1 + 1);
      inside.fill(1, j * nx + i0, j * nx + i1 + 1);
    });
  }
  return { lattice, room, inside, inRoom, ...markOccupiable(floor, inRoom) };
}

/** Whether cells lie where they lay: the rooms span the same lattice. */
export function sameLattice({ lattice }: Grid, floor: Floor): boolean {
  const { x0, y0, cell, nx, ny } = createLattice(floor, floor.analysis.cell);
  return lattice.x0 === x0 && lattice.y0 === y0 && lattice.cell === cell && lattice.nx === nx && lattice.ny === ny;
}

/** Marks anew in which room the cells of a window lie, in place: rooms there have another outline. */
export function remarkRooms(floor: Floor, { lattice, room, inside, inRoom }: Grid, window: Window): void {
  const { nx } = lattice;
  const first = 32 * window.w0;
  const last = Math.min(nx, 32 * window.w1) - 1;
  const box = boxOver(lattice, window);
  for (let j = window.j0; j < window.j1; j++) {
    room.fill(-1, j * nx + first, j * nx + last + 1);
    inside.fill(0, j * nx + first, j * nx + last + 1);
    inRoom.bits.fill(0, j * inRoom.words + window.w0, j * inRoom.words + window.w1);
  }
  for (let index = floor.rooms.length - 1; index >= 0; index--) {
    const each = floor.rooms[index]!;
    if (!overlaps(computeBox(each.outline), box)) continue;
    const mark = (j: number, i0: number, i1: number) => {
      const from = Math.max(i0, first);
      const to = Math.min(i1, last);
      if (from > to) return;
      setSpan(inRoom.bits, j * inRoom.words, from, to);
      room.fill(index, j * nx + from, j * nx + to + 1);
      inside.fill(1, j * nx + from, j * nx + to + 1);
    };
    scanRings(lattice, [each.outline, ...each.holes], mark, [window.j0, window.j1 - 1]);
  }
}

function boxOver({ x0, y0, cell }: Lattice, { w0, w1, j0, j1 }: Window): Box {
  return { minX: x0 + 32 * w0 * cell, minY: y0 + j0 * cell, maxX: x0 + 32 * w1 * cell, maxY: y0 + j1 * cell };
}

/** Where a person can sit and walk on this floor, over the cells that lie in rooms. */
function markOccupiable(floor: Floor, inRoom: Raster): { readonly seated: Raster; readonly walking: Raster } {
  const { seatedPlane } = floor.analysis;
  return {
    seated: clearPieces(inRoom, floor.furniture, (piece) => piece.base <= seatedPlane && seatedPlane < piece.top),
    walking: clearPieces(inRoom, floor.furniture, blocksWalking),
  };
}

/** Marks anew where a person can be in a window of the lattice, in place: pieces there have changed. */
export function remarkOccupiable(
  scene: Scene,
  inRoom: Raster,
  free: { readonly seated: Raster; readonly walking: Raster },
  window: Window,
): void {
  const box = boxOver(inRoom.lattice, window);
  const { analysis, furniture } = scene.floor;
  const { seatedPlane } = analysis;
  const near = listFurnitureNear(scene, box).map((index) => furniture[index]!);
  for (const [raster, stands] of [
    [free.seated, (piece: Furniture) => holdsPlane(piece, seatedPlane)],
    [free.walking, blocksWalking],
  ] as const) {
    for (let j = window.j0; j < window.j1; j++) {
      for (let k = j * raster.words + window.w0; k < j * raster.words + window.w1; k++)
        raster.bits[k] = inRoom.bits[k]!;
    }
    for (const piece of near) {
      if (!stands(piece)) continue;
      const clear = (j: number, i0: number, i1: number) => {
        const from = Math.max(i0, 32 * window.w0);
        const to = Math.min(i1, 32 * window.w1 - 1);
        if (from <= to) clearSpan(raster.bits, j * raster.words, from, to);
      };
      scanRings(inRoom.lattice, [piece.outline], clear, [window.j0, window.j1 - 1]);
    }
  }
}

function holdsPlane({ base, top }: Furniture, plane: number): boolean {
  return base <= plane && plane < top;
}

/** Do two states of a piece leave people the same cells, seated and walking? */
export function takesAlike(a: Furniture, b: Furniture, seatedPlane: number): boolean {
  return (
    a.outline === b.outline &&
    blocksWalking(a) === blocksWalking(b) &&
    holdsPlane(a, seatedPlane) === holdsPlane(b, seatedPlane)
  );
}

export function blocksWalking(piece: Furniture): boolean {
  return piece.base < HEAD_ROOM && piece.top > STEP_OVER;
}

function clearPieces(inRoom: Raster, furniture: readonly Furniture[], stands: (piece: Furniture) => boolean): Raster {
  const free: Raster = { ...inRoom, bits: inRoom.bits.slice() };
  const taken = createFullRaster(inRoom.lattice);
  for (const piece of furniture) {
    if (!stands(piece)) continue;
    scanRings(inRoom.lattice, [piece.outline], (j, i0, i1) => {
      setSpan(taken.bits, j * taken.words, i0, i1);
    });
  }
  for (let k = 0; k < free.bits.length; k++) free.bits[k] = free.bits[k]! & ~taken.bits[k]!;
  return free;
}

/**
 * Calls `span` for each run of cells whose centres lie inside the rings by the half-open even-odd rule, the same rule
 * and rounding as a single point's.
 *
 * @param rows first and last row of interest
 */
export function scanRings(
  lattice: Lattice,
  rings: readonly (readonly Point[])[],
  span: (j: number, i0: number, i1: number) => void,
  rows: readonly [number, number] = [0, lattice.ny - 1],
): void {
  const { x0, y0, cell, nx } = lattice;
  let minY = Infinity;
  let maxY = -Infinity;
  for (const ring of rings) {
    for (const [, y] of ring) {
      minY = Math.min(minY, y);
      maxY = Math.max(maxY, y);
    }
  }
  const jFirst = Math.max(rows[0], Math.floor((minY - y0) / cell - 0.5));
  const jLast = Math.min(rows[1], Math.ceil((maxY - y0) / cell - 0.5));
  const edges = rings
    .flatMap((ring) => ring.map((a, v) => [a, ring[(v + 1) % ring.length]!] as const))
    .filter(([a, b]) => a[1] !== b[1]);
  const crossings: number[] = [];
  for (let j = jFirst; j <= jLast; j++) {
    const y = y0 + (j + 0.5) * cell;
    crossings.length = 0;
    for (const [a, b] of edges) {
      if (a[1] > y === b[1] > y) continue;
      const low = a[1] < b[1] ? a : b;
      const high = low === a ? b : a;
      crossings.push(low[0] + ((high[0] - low[0]) * (y - low[1])) / (high[1] - low[1]));
    }
    crossings.sort((p, q) => p - q);
    for (let c = 0; c + 1 < crossings.length; c += 2) {
      const i0 = Math.max(0, firstAtOrAfter(crossings[c]!, x0, cell));
      const i1 = Math.min(nx - 1, firstAtOrAfter(crossings[c + 1]!, x0, cell) - 1);
      if (i0 <= i1) span(j, i0, i1);
    }
  }
}

/** The first column whose centre lies at x or beyond. */
function firstAtOrAfter(x: number, x0: number, cell: number): number {
  let i = Math.ceil((x - x0) / cell - 0.5);
  while (x0 + (i - 0.5) * cell >= x) i--;
  while (x0 + (i + 0.5) * cell < x) i++;
  return i;
}
