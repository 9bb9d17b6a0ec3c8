/**
 * Walls as bodies. A floor file knows rooms, not walls: what lies between two rooms that face each other is wall, and a
 * room edge with nothing behind it gets the thickness of an outer wall. Rooms that share an edge get a thin line of wall.
 */
import type { Floor } from '../../../core/floor/index.ts';
import { type Bins, createBins, queryBins } from '../../../core/geometry/bins.ts';
import { computeSignedArea, type PlanPoint, type PlanRing } from '../../../core/geometry/polygon.ts';
import { cutEdge, type Gap, listGaps } from '../../../core/sight/index.ts';
import { LINE } from '../../tokens.ts';

/** A stretch of a room's edge with the wall behind it. The room lies to the left of the way from a to b. */
export interface WallPiece {
  readonly room: number;
  readonly a: PlanPoint;
  readonly b: PlanPoint;
  /** Unit vector out of the room. */
  readonly nx: number;
  readonly ny: number;
  /** Thickness at a and at b, metres. */
  readonly ta: number;
  readonly tb: number;
  /** Nothing behind it: its outer face can be seen. */
  readonly free: boolean;
  /** The opening it lies in, if any. */
  readonly gap: Gap | null;
}

/** The solid corner between two pieces that meet at a convex corner of a room: counter-clockwise, flat x, y. */
export interface WallCorner {
  readonly room: number;
  readonly xy: readonly number[];
  readonly free: boolean;
}

export interface Walls {
  readonly pieces: readonly WallPiece[];
  readonly corners: readonly WallCorner[];
}

/** Two rooms further apart than this are not parted by one wall, metres. */
const WIDEST = 0.6;
/** Half the thickness drawn where two rooms share an edge. */
const SHARED = 0.03;

interface Edge {
  readonly room: number;
  readonly a: PlanPoint;
  readonly b: PlanPoint;
  readonly length: number;
}

export function listWalls(floor: Floor): Walls {
  const rings = floor.rooms.flatMap((room, index) => [
    { room: index, ring: turnRing(room.outline, true) },
    ...room.holes.map((hole) => ({ room: index, ring: turnRing(hole, false) })),
  ]);
  const edges = rings.flatMap(({ room, ring }) =>
    ring.map((a, i): Edge => {
      const b = ring[(i + 1) % ring.length] as PlanPoint;
      return { room, a, b, length: Math.hypot(b[0] - a[0], b[1] - a[1]) };
    }),
  );
  const near = createNearby(edges);
  const gaps = createGapFinder(listGaps(floor));
  const pieces: WallPiece[] = [];
  const corners: WallCorner[] = [];
  let first = 0;
  for (const { room, ring } of rings) {
    const runs = ring.map((_, i) => cutPieces(edges[first + i] as Edge, near, gaps));
    runs.forEach((run, i) => {
      pieces.push(...run);
      const next = runs[(i + 1) % runs.length]?.[0];
      const last = run.at(-1);
      const corner = last && next && joinCorner(last, next);
      if (corner) corners.push({ room, xy: corner, free: last.free || next.free });
    });
    first += ring.length;
  }
  return { pieces, corners };
}

function turnRing(ring: PlanRing, counterClockwise: boolean): PlanRing {
  return computeSignedArea(ring) > 0 === counterClockwise ? ring : [...ring].reverse();
}

interface Nearby {
  readonly edges: readonly Edge[];
  readonly bins: Bins;
  readonly found: Int32Array;
}

function createNearby(edges: readonly Edge[]): Nearby {
  const boxes = new Float64Array(edges.length * 4);
  edges.forEach(({ a, b }, k) => {
    boxes[4 * k] = Math.min(a[0], b[0]);
    boxes[4 * k + 1] = Math.min(a[1], b[1]);
    boxes[4 * k + 2] = Math.max(a[0], b[0]);
    boxes[4 * k + 3] = Math.max(a[1], b[1]);
  });
  return { edges, bins: createBins(boxes), found: new Int32Array(edges.length) };
}

/** Finds the openings that may lie in an edge: those whose box, with their depth round it, meets the edge's. */
function createGapFinder(gaps: readonly Gap[]): (edge: Edge) => readonly Gap[] {
  const boxes = new Float64Array(gaps.length * 4);
  gaps.forEach(({ opening: { from, to }, halfDepth }, k) => {
    const round = halfDepth + 0.01;
    boxes[4 * k] = Math.min(from[0], to[0]) - round;
    boxes[4 * k + 1] = Math.min(from[1], to[1]) - round;
    boxes[4 * k + 2] = Math.max(from[0], to[0]) + round;
    boxes[4 * k + 3] = Math.max(from[1], to[1]) + round;
  });
  const bins = createBins(boxes);
  const found = new Int32Array(Math.max(1, gaps.length));
  return ({ a, b }) => {
    const [x0, x1] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
    const [y0, y1] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
    const count = queryBins(bins, x0, y0, x1, y1, found);
    // In the order of the floor, as an edge met by two openings takes the first.
    return [...found.subarray(0, count)].sort((p, q) => p - q).map((k) => gaps[k] as Gap);
  };
}

function cutPieces(edge: Edge, near: Nearby, findGaps: (edge: Edge) => readonly Gap[]): WallPiece[] {
  const { a, b, length } = edge;
  if (length < 1e-6) return [];
  const ux = (b[0] - a[0]) / length;
  const uy = (b[1] - a[1]) / length;
  const nx = uy;
  const ny = -ux;
  const cuts = findGaps(edge).flatMap((gap) => {
    const span = cutEdge(gap, { a, b, room: edge.room });
    return span === null ? [] : [{ gap, span }];
  });
  const stops = new Set([0, 1, ...cuts.flatMap(({ span }) => span)]);
  const others = listNear(edge, near);
  for (const other of others) {
    for (const [x, y] of [other.a, other.b]) {
      const along = ((x - a[0]) * ux + (y - a[1]) * uy) / length;
      const out = (x - a[0]) * nx + (y - a[1]) * ny;
      if (along > 1e-6 && along < 1 - 1e-6 && out > -0.01 && out <= WIDEST) stops.add(along);
    }
  }
  const order = [...stops].sort((p, q) => p - q);
  const pieces: WallPiece[] = [];
  for (let s = 0; s + 1 < order.length; s++) {
    const t0 = order[s] as number;
    const t1 = order[s + 1] as number;
    if ((t1 - t0) * length < 1e-6) continue;
    const inset = Math.min(0.02 / length, (t1 - t0) / 4);
    const behind = [t0 + inset, t1 - inset].map((t) =>
      measureBehind(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, nx, ny, others),
    );
    const [da, db] = [behind[0] ?? behind[1] ?? null, behind[1] ?? behind[0] ?? null];
    const middle = (t0 + t1) / 2;
    pieces.push({
      room: edge.room,
      a: [a[0] + (b[0] - a[0]) * t0, a[1] + (b[1] - a[1]) * t0],
      b: [a[0] + (b[0] - a[0]) * t1, a[1] + (b[1] - a[1]) * t1],
      nx,
      ny,
      ta: da === null ? LINE.wallOuter : Math.max(SHARED, da),
      tb: db === null ? LINE.wallOuter : Math.max(SHARED, db),
      free: da === null,
      gap: cuts.find(({ span }) => span[0] <= middle && middle <= span[1])?.gap ?? null,
    });
  }
  return pieces;
}

function listNear(edge: Edge, near: Nearby): Edge[] {
  const { a, b } = edge;
  const count = queryBins(
    near.bins,
    Math.min(a[0], b[0]) - WIDEST,
    Math.min(a[1], b[1]) - WIDEST,
    Math.max(a[0], b[0]) + WIDEST,
    Math.max(a[1], b[1]) + WIDEST,
    near.found,
  );
  const edges: Edge[] = [];
  for (let k = 0; k < count; k++) {
    const other = near.edges[near.found[k] as number] as Edge;
    if (other !== edge) edges.push(other);
  }
  return edges;
}

/** Metres out of the room to the next edge of any room, null: none within `WIDEST`. */
function measureBehind(x: number, y: number, nx: number, ny: number, others: readonly Edge[]): number | null {
  // Begun a little inside, so that an edge shared by two rooms is met at 0.
  const back = 0.002;
  let least = WIDEST + back;
  let met = false;
  for (const { a, b } of others) {
    const ex = b[0] - a[0];
    const ey = b[1] - a[1];
    const turn = nx * ey - ny * ex;
    // Only an edge that faces this one ends the wall between them.
    if (turn > -1e-9) continue;
    const sx = a[0] - (x - nx * back);
    const sy = a[1] - (y - ny * back);
    const distance = (sx * ey - sy * ex) / turn;
    const along = (sx * ny - sy * nx) / turn;
    if (distance >= 0 && distance <= least && along >= 0 && along <= 1) {
      least = distance;
      met = true;
    }
  }
  return met ? Math.max(0, least - back) : null;
}

/** The body that closes a convex corner, mitred where that does not run away; null at a reflex or straight one. */
function joinCorner(last: WallPiece, next: WallPiece): number[] | null {
  const turn = last.nx * next.ny - last.ny * next.nx;
  if (turn < 0.02) return null;
  const [x, y] = next.a;
  const p = [x + last.nx * last.tb, y + last.ny * last.tb] as const;
  const q = [x + next.nx * next.ta, y + next.ny * next.ta] as const;
  // Where the two outer faces meet: v = s * n1 + … solved for n1·v = t1 and n2·v = t2.
  const mx = (last.tb * next.ny - next.ta * last.ny) / turn;
  const my = (next.ta * last.nx - last.tb * next.nx) / turn;
  const far = Math.hypot(mx, my) > 3 * Math.max(last.tb, next.ta);
  return far ? [x, y, ...p, ...q] : [x, y, ...p, x + mx, y + my, ...q];
}
