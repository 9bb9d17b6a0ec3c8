/** A corner of a room dragged, with the corners and edges of other rooms that meet it. */
import type { FloorFile, Point, Ring } from '../../core/floor/index.ts';
import { computeSegmentDistance } from '../../core/geometry/polygon.ts';
import { carryOpenings, type WallMove } from './carried-openings.ts';
import { createChange } from './change.ts';
import { type Edit, refuseGone } from './edit.ts';
import { nameThing, showMetres } from './fault-words.ts';
import { findItem } from './lists.ts';
import { dropStraightCorners } from './loops.ts';
import { dropRepeatedCorners } from './outlines.ts';
import { between, cornerOf, cross, distance, finePoint, SAME, subtract, unit } from './plane.ts';
import {
  boxWithin,
  findCorner,
  findWallRing,
  listWallRings,
  ringsNear,
  setRings,
  type WallRing,
  weld,
} from './wall-rings.ts';

/** Walls that differ in direction by less than this count as one line. */
const LEAST_TURN = Math.sin(Math.PI / 12);

/**
 * Moves a corner of a room. Openings in the two walls go along.
 * @param ring 0 for the outline, 1 for the first hole
 * @param together whether other rooms follow: their corners in the same place move with it, their straight walls get a
 *   corner there, and their corners along the two walls stay on them. Else only this room changes.
 */
export function moveRoomCorner(
  file: FloorFile,
  roomId: string,
  ring: number,
  corner: number,
  to: Point,
  together = true,
): Edit {
  const room = findItem(file, 'rooms', roomId);
  const rings = listWallRings(file);
  const own = findWallRing(rings, roomId, ring);
  const from = own?.before[corner];
  if (room === undefined || own === undefined || from === undefined) return refuseGone('corner');
  const target = finePoint(to);
  const ends = [cornerOf(own.before, corner - 1), from, cornerOf(own.before, corner + 1)] as const;
  const near = together ? ringsNear(rings, boxWithin(ends, SAME)) : [own];

  const slid = together ? slideAlong(near, own, ends, target) : [];
  const movers = together
    ? joinAt(
        near,
        own,
        from,
        slid.map((each) => each.from),
      )
    : [own];
  const moves = listWallMoves(movers, from, target);
  // Corners along the walls of those that follow stay on them too.
  for (const mover of together ? movers.filter((each) => each !== own) : []) {
    const at = findCorner(mover.points, from);
    const bent = [cornerOf(mover.points, at - 1), from, cornerOf(mover.points, at + 1)] as const;
    const others = slideAlong(
      near.filter((each) => !movers.includes(each)),
      mover,
      bent,
      target,
    );
    slid.push(...others.filter((each) => !slid.some((known) => distance(known.from, each.from) < SAME)));
  }
  for (const each of near) each.points = replaceCorners(each, own, [...slid, { from, to: target }]);

  const change = createChange(file);
  const fault = setRings(change, near) ?? carryOpenings(change, moves);
  if (fault !== null) return fault;
  const name = nameThing({ list: 'rooms', item: room });
  return change.plan(`Moved a corner of ${name} by ${showMetres(distance(from, target))}`, [roomId]);
}

interface CornerMove {
  readonly from: Point;
  readonly to: Point;
}

/** Gives every ring that meets a corner one of its own there, and the ends of the walls that leave it. @returns those rings */
function joinAt(near: readonly WallRing[], own: WallRing, from: Point, along: readonly Point[]): readonly WallRing[] {
  for (const each of near) if (each !== own) each.points = weld(each.points, from);
  const movers = near.filter(({ points }) => findCorner(points, from) >= 0);
  const ends = movers.flatMap(({ points }) => {
    const at = findCorner(points, from);
    return [cornerOf(points, at - 1), cornerOf(points, at + 1)];
  });
  for (const end of ends) {
    // A corner along this room's own straight wall is carried on that wall and must not bend it.
    if (along.some((each) => distance(each, end) < SAME)) continue;
    for (const mover of movers) if (mover !== own) mover.points = weld(mover.points, end);
  }
  return movers;
}

/** Where the corners of other rings go that lie along the two walls of a corner: where their own wall meets the new line. */
function slideAlong(
  near: readonly WallRing[],
  own: WallRing,
  [before, from, after]: readonly [Point, Point, Point],
  target: Point,
): CornerMove[] {
  const slid: CornerMove[] = [];
  for (const end of [before, after]) {
    for (const each of near) {
      if (each === own) continue;
      each.points.forEach((corner, i) => {
        if (distance(corner, from) < SAME || distance(corner, end) < SAME) return;
        if (computeSegmentDistance(from, end, corner[0], corner[1]) >= SAME) return;
        if (slid.some((known) => distance(known.from, corner) < SAME)) return;
        slid.push({ from: corner, to: finePoint(slide(each.points, i, [from, end], [target, end])) });
      });
    }
  }
  return slid;
}

function slide(points: Ring, index: number, wall: readonly [Point, Point], next: readonly [Point, Point]): Point {
  const corner = cornerOf(points, index);
  const direction = unit(...next);
  for (const other of [cornerOf(points, index - 1), cornerOf(points, index + 1)]) {
    const axis = unit(corner, other);
    const turn = cross(axis, direction);
    if (Math.abs(cross(axis, unit(...wall))) < LEAST_TURN || Math.abs(turn) < LEAST_TURN) continue;
    const reach = cross(subtract(next[0], corner), direction) / turn;
    const met: Point = [corner[0] + reach * axis[0], corner[1] + reach * axis[1]];
    const part = distance(next[0], met) / distance(...next);
    if (part > 0 && part < 1 && computeSegmentDistance(...next, met[0], met[1]) < SAME) return met;
  }
  return between(...next, distance(wall[0], corner) / distance(...wall));
}

/** The walls on either side of the corner in every ring that moves, as they were and as they will be. */
function listWallMoves(movers: readonly WallRing[], from: Point, target: Point): readonly WallMove[] {
  return movers.flatMap(({ points }) => {
    const at = findCorner(points, from);
    return [cornerOf(points, at - 1), cornerOf(points, at + 1)].map(
      (end): WallMove => ({ from: [end, from], to: [end, target], fixed: 'a' }),
    );
  });
}

function replaceCorners(each: WallRing, own: WallRing, moves: readonly CornerMove[]): Ring {
  const isTouched = each.points.some((corner) => moves.some(({ from }) => distance(from, corner) < SAME));
  if (!isTouched) return each.before;
  const points = each.points.map((corner) => moves.find(({ from }) => distance(from, corner) < SAME)?.to ?? corner);
  if (each === own) return points;
  // A corner this has brought that stands on a straight wall is of no use there.
  return dropStraightCorners(dropRepeatedCorners(points), (corner) => findCorner(each.before, corner) < 0);
}
