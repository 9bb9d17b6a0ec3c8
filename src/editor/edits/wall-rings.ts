/** The outlines and holes of all rooms as one working copy, so that rooms that share a wall can follow one another. */
import type { FloorFile, Point, Ring } from '../../core/floor/index.ts';
import {
  type Box,
  computeBox,
  computeSegmentDistance,
  computeSignedArea,
  overlaps,
} from '../../core/geometry/polygon.ts';
import type { Change } from './change.ts';
import type { Refused } from './edit.ts';
import { nameThing } from './fault-words.ts';
import { listOf } from './lists.ts';
import { findOutlineFault } from './outlines.ts';
import { cornerOf, distance, left, SAME, scale, unit } from './plane.ts';

/** One ring of a room. `points` is replaced as it changes; `before` is the ring as the file has it. */
export interface WallRing {
  readonly roomId: string;
  /** 0 for the outline, 1 for the first hole. */
  readonly ring: number;
  readonly before: Ring;
  points: Ring;
}

export function listWallRings(file: FloorFile): readonly WallRing[] {
  return listOf(file, 'rooms').flatMap(({ id, outline, holes }) =>
    [outline, ...(holes ?? [])].map((before, ring) => ({ roomId: id, ring, before, points: before })),
  );
}

export function findWallRing(rings: readonly WallRing[], roomId: string, ring: number): WallRing | undefined {
  return rings.find((each) => each.roomId === roomId && each.ring === ring);
}

/** The unit vector out of the room across an edge of a ring: out of an outline, into a hole. */
export function outwardOf({ before, ring }: Pick<WallRing, 'before' | 'ring'>, edge: number): Point {
  const inwards = left(unit(cornerOf(before, edge), cornerOf(before, edge + 1)));
  const isLeft = computeSignedArea(before) > 0 === (ring === 0);
  return isLeft ? scale(inwards, -1) : inwards;
}

/** The rings whose box comes near one. */
export function ringsNear(rings: readonly WallRing[], box: Box): readonly WallRing[] {
  return rings.filter(({ before }) => overlaps(computeBox(before), box));
}

/** A box and what lies within a distance of it. */
export function boxWithin(points: readonly Point[], reach: number): Box {
  const { minX, minY, maxX, maxY } = computeBox(points);
  return { minX: minX - reach, minY: minY - reach, maxX: maxX + reach, maxY: maxY + reach };
}

/** The position of the corner that stands at a place, -1 for none. */
export function findCorner(points: Ring, at: Point): number {
  return points.findIndex((corner) => distance(corner, at) < SAME);
}

/** The edge that runs through a place and has no corner there, -1 for none. */
function findEdgeThrough(points: Ring, at: Point): number {
  if (findCorner(points, at) >= 0) return -1;
  return points.findIndex((a, i) => computeSegmentDistance(a, cornerOf(points, i + 1), at[0], at[1]) < SAME);
}

/** The ring with a corner at a place that one of its edges runs through; unchanged when none does. */
export function weld(points: Ring, at: Point): Ring {
  const edge = findEdgeThrough(points, at);
  return edge < 0 ? points : [...points.slice(0, edge + 1), at, ...points.slice(edge + 1)];
}

/** Writes the rings that have changed into their rooms. */
export function setRings(change: Change, rings: readonly WallRing[]): Refused | null {
  const changed = rings.filter(({ before, points }) => points !== before);
  for (const { roomId, ring, points } of changed) {
    const room = change.get('rooms', roomId);
    if (room === undefined) continue;
    const name = nameThing({ list: 'rooms', item: room });
    const fault = findOutlineFault(points, ring === 0 ? `the outline of ${name}` : `hole ${ring} of ${name}`);
    if (fault !== null) return fault;
    const holes = (room.holes ?? []).map((hole, k) => (k === ring - 1 ? points : hole));
    change.set('rooms', ring === 0 ? { ...room, outline: points } : { ...room, holes });
  }
  return null;
}
