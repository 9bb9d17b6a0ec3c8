/** Openings set into the walls they belong to: moved and made deep enough that they cut the edges of the rooms they join. */
import { LIMITS, type Point, type Ring } from '../../core/floor/index.ts';
import { type BoxIndex, createBoxIndex } from '../../core/geometry/box-index.ts';
import { computeSignedArea } from '../../core/geometry/polygon.ts';
import type { DrawnOpening } from '../storey.ts';
import { type Account, placeOf } from './account.ts';
import type { Face } from './region.ts';

/** An opening that cuts the edge of a room. */
export interface SetOpening {
  readonly drawn: DrawnOpening;
  readonly from: Point;
  readonly to: Point;
  readonly depth: number;
}

/** An edge of a room. */
interface Edge {
  readonly a: Point;
  readonly b: Point;
  /** Whether the room lies to the left of a→b. */
  readonly isRoomLeft: boolean;
}

/** The edges of all rooms, findable. */
export interface RoomEdges {
  readonly edges: readonly Edge[];
  readonly index: BoxIndex;
}

/** An opening opens only edges turned from it by less than this (the floor file's own rule). */
const WIDEST_TURN = Math.cos((30 * Math.PI) / 180);
/** Metres from an opening's line in which the edges of its rooms are looked for when its wall's thickness is not known. */
const REACH = 0.6;
/** Metres that an edge may lie beyond the stated thickness: plaster, a rounded drawing. */
const BEYOND = 0.3;
/** Metres by which an opening's rectangle passes the edges it cuts. */
const OVER = 0.02;
/** Edges of one wall face lie within so many metres across: a curve drawn in short lines, a pier. */
const ONE_FACE = 0.12;
const LEAST_WIDTH = 0.1;
/** Metres off the middle of its wall that an opening may stand, and above which moving it is told. */
const PLASTER = 0.03;
const TOLD = 0.1;

export function indexEdges(faces: readonly Face[]): RoomEdges {
  const edges = faces.flatMap(({ outline, holes }) => [
    ...listEdges(outline, computeSignedArea(outline) > 0),
    ...holes.flatMap((hole) => listEdges(hole, computeSignedArea(hole) < 0)),
  ]);
  const index = createBoxIndex(
    edges.map(({ a, b }) => ({
      minX: Math.min(a[0], b[0]),
      minY: Math.min(a[1], b[1]),
      maxX: Math.max(a[0], b[0]),
      maxY: Math.max(a[1], b[1]),
    })),
  );
  return { edges, index };
}

function listEdges(ring: Ring, isRoomLeft: boolean): readonly Edge[] {
  return ring.map((a, i) => ({ a, b: ring[(i + 1) % ring.length] ?? a, isRoomLeft }));
}

/** Sets openings into walls; what cuts no room's edge is left out and told. */
export function setOpenings(
  openings: readonly DrawnOpening[],
  rooms: RoomEdges,
  account: Account,
): readonly SetOpening[] {
  return openings.flatMap((drawn) => {
    const { from, to } = drawn;
    const what = `${drawn.kind}s`;
    const at: Point = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
    if (![...from, ...to].every((value) => Math.abs(value) <= LIMITS.coordinate)) {
      account.add('left out', what, 'They lie beyond the bounds of a floor.', placeOf(drawn, null));
      return [];
    }
    if (Math.hypot(to[0] - from[0], to[1] - from[1]) < LEAST_WIDTH) {
      account.add('left out', what, `They are narrower than ${LEAST_WIDTH} m.`, placeOf(drawn, at));
      return [];
    }
    const set = setOpening(drawn, rooms);
    if (set === undefined) {
      account.add('left out', what, 'They cut nothing: no wall of a room runs along them.', placeOf(drawn, at));
      return [];
    }
    if (drawn.standing === 'guessed')
      account.add(
        'guessed',
        what,
        'They are told from what is drawn: a name, a swing, a gap in a wall.',
        placeOf(drawn, at),
      );
    if (set.isMoved) account.add('guessed', what, 'They were moved into the middle of their wall.', placeOf(drawn, at));
    return [set];
  });
}

/** A stretch of a wall face beside an opening: how far across it lies, left above 0, and which side its room is on. */
interface Stretch {
  readonly low: number;
  readonly high: number;
  readonly isRoomLeft: boolean;
}

/** The faces of the wall an opening stands in: to the left of `left` is a room, to the right of `right` another. */
interface WallFaces {
  readonly left?: number;
  readonly right?: number;
}

function listStretches(from: Point, to: Point, reach: number, { edges, index }: RoomEdges): readonly Stretch[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const box = {
    minX: Math.min(from[0], to[0]) - reach,
    minY: Math.min(from[1], to[1]) - reach,
    maxX: Math.max(from[0], to[0]) + reach,
    maxY: Math.max(from[1], to[1]) + reach,
  };
  const stretches: Stretch[] = [];
  index.query(box, (item) => {
    const edge = edges[item];
    const stretch = edge === undefined ? undefined : measureEdge(edge, from, ux, uy, length);
    if (stretch !== undefined && stretch.low <= reach && stretch.high >= -reach) stretches.push(stretch);
    return false;
  });
  return stretches;
}

/** Where an edge that runs along an opening lies across it, over the stretch they share. */
function measureEdge(
  { a, b, isRoomLeft }: Edge,
  from: Point,
  ux: number,
  uy: number,
  length: number,
): Stretch | undefined {
  const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
  const along = ex * ux + ey * uy;
  if (Math.abs(along) < Math.hypot(ex, ey) * WIDEST_TURN || along === 0) return undefined;
  const start = (a[0] - from[0]) * ux + (a[1] - from[1]) * uy;
  const across = (a[1] - from[1]) * ux - (a[0] - from[0]) * uy;
  const first = Math.max(0, Math.min(start, start + along));
  const last = Math.min(length, Math.max(start, start + along));
  if (last - first < Math.min(0.05, length / 4)) return undefined;
  const rate = (ey * ux - ex * uy) / along;
  const [near, far] = [across + (first - start) * rate, across + (last - start) * rate];
  return { low: Math.min(near, far), high: Math.max(near, far), isRoomLeft: along > 0 === isRoomLeft };
}

/** The two faces nearest to the opening's line between which its wall lies, or the one where there is no other. */
function findFaces(stretches: readonly Stretch[]): WallFaces | undefined {
  const away = ({ low, high }: Stretch): number => (low > 0 ? low : high < 0 ? -high : 0);
  const lefts = stretches.filter(({ isRoomLeft }) => isRoomLeft);
  const rights = stretches.filter(({ isRoomLeft }) => !isRoomLeft);
  let best: { readonly left: Stretch; readonly right: Stretch } | undefined;
  for (const left of lefts) {
    for (const right of rights) {
      if (right.low > left.high + 0.02 || left.high - right.low > 2 * REACH) continue;
      if (best === undefined || away(left) + away(right) < away(best.left) + away(best.right)) best = { left, right };
    }
  }
  const outerLeft = (from: Stretch): number =>
    Math.max(
      ...lefts.filter(({ low }) => low <= from.low + ONE_FACE && low >= from.low - 0.02).map(({ high }) => high),
    );
  const outerRight = (from: Stretch): number =>
    Math.min(
      ...rights.filter(({ high }) => high >= from.high - ONE_FACE && high <= from.high + 0.02).map(({ low }) => low),
    );
  if (best !== undefined) return { left: outerLeft(best.left), right: outerRight(best.right) };
  const nearest = stretches.toSorted((p, q) => away(p) - away(q))[0];
  if (nearest === undefined) return undefined;
  return nearest.isRoomLeft ? { left: outerLeft(nearest) } : { right: outerRight(nearest) };
}

function setOpening(drawn: DrawnOpening, rooms: RoomEdges): (SetOpening & { readonly isMoved: boolean }) | undefined {
  const { from, to } = drawn;
  const reach = drawn.depth === null ? REACH : Math.min(2, drawn.depth / 2 + BEYOND);
  const faces = findFaces(listStretches(from, to, reach, rooms));
  if (faces === undefined) return undefined;
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [nx, ny] = [-(to[1] - from[1]) / length, (to[0] - from[0]) / length];
  const { left, right } = faces;
  if (left === undefined || right === undefined) {
    const only = Math.abs(left ?? right ?? 0);
    const depth = ceil(Math.max(2 * only + 2 * OVER, drawn.depth ?? 0));
    return { drawn, from: [round(from[0]), round(from[1])], to: [round(to[0]), round(to[1])], depth, isMoved: false };
  }
  // Off the middle of its wall by more than a plaster's thickness it is moved there; else it stays as drawn.
  const off = Math.abs(left + right) / 2 > PLASTER ? (left + right) / 2 : 0;
  const thickness = 2 * Math.max(Math.abs(left - off), Math.abs(right - off));
  return {
    drawn,
    from: [round(from[0] + nx * off), round(from[1] + ny * off)],
    to: [round(to[0] + nx * off), round(to[1] + ny * off)],
    depth: ceil(thickness + 2 * OVER),
    isMoved: Math.abs(off) > TOLD,
  };
}

function round(value: number): number {
  return Math.round(value * 10_000) / 10_000 || 0;
}

/** Up to whole centimetres, and at least 4 cm. */
function ceil(depth: number): number {
  return Math.max(0.04, Math.ceil(depth * 100 - 1e-6) / 100);
}
