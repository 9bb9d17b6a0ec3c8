/** A wall of a room pushed out or in, with the walls of other rooms that face it. */
import { type FloorFile, findRoomAt, type Point, type Ring, resolveFloor } from '../../core/floor/index.ts';
import { carryOpenings, type WallMove } from './carried-openings.ts';
import { createChange } from './change.ts';
import { type Edit, type Refused, refuse, refuseGone } from './edit.ts';
import { nameThing, showMetres } from './fault-words.ts';
import { findItem } from './lists.ts';
import { dropRepeatedCorners } from './outlines.ts';
import { add, cornerOf, cross, distance, dot, finePoint, SAME, scale, subtract, unit } from './plane.ts';
import { boxWithin, findWallRing, listWallRings, outwardOf, ringsNear, setRings, type WallRing } from './wall-rings.ts';

/** Metres between the faces of one wall: a room's edge that faces another across more than this is another wall. */
export const THICKEST_WALL = 0.5;
/** Walls that differ in direction by less than this count as one line. */
const LEAST_TURN = Math.sin(Math.PI / 12);
/** Facing walls are parallel to within this, half a degree. */
const PARALLEL = Math.sin(Math.PI / 360);

/**
 * Moves an edge of a room at right angles to itself. Its ends slide along the walls they meet; where such a wall goes
 * straight on, the edge parts from it with a step. Openings in the wall go along.
 * @param ring 0 for the outline, 1 for the first hole
 * @param by metres, above 0 out of the room
 * @param together whether the walls of other rooms that face the edge, in one line with it or across the thickness of a
 *   wall, are moved by as much; one that goes on beyond the edge gets a step at its ends
 */
export function moveRoomEdge(
  file: FloorFile,
  roomId: string,
  ring: number,
  edge: number,
  by: number,
  together = true,
): Edit {
  const room = findItem(file, 'rooms', roomId);
  const rings = listWallRings(file);
  const own = findWallRing(rings, roomId, ring);
  if (room === undefined || own?.before[edge] === undefined) return refuseGone('wall');
  const pushed = pushOwn(own, edge, by);
  if (pushed === null)
    return refuse(
      'The wall would pass the end of the one beside it',
      'Move it less far, or take that corner out first.',
    );
  const moves: WallMove[] = [...pushed.moves];
  const reach = together ? THICKEST_WALL : 0;
  const others = together ? ringsNear(rings, boxWithin([pushed.a, pushed.b], reach + SAME)) : [];
  for (const other of others) {
    if (other.roomId === roomId) continue;
    const along = pushOther(other, {
      ...pushed,
      isFree: (at) => findRoomAt(resolveFloor(file).rooms, at) === undefined,
    });
    if (along === null) return refusePassing(` of ${nameOf(file, other.roomId)}`);
    moves.push(...along);
  }
  own.points = dropRepeatedCorners(pushed.points);

  const change = createChange(file);
  const fault = setRings(change, [own, ...others.filter((each) => each !== own)]) ?? carryOpenings(change, moves);
  if (fault !== null) return fault;
  const name = nameThing({ list: 'rooms', item: room });
  return change.plan(`Moved a wall of ${name} by ${showMetres(Math.abs(by))}`, [roomId]);
}

function refusePassing(whose: string): Refused {
  return refuse(
    `The wall would pass the end of the one beside it${whose}`,
    'Move it less far, or take a corner out first.',
  );
}

function nameOf(file: FloorFile, roomId: string): string {
  const item = findItem(file, 'rooms', roomId);
  return item === undefined ? roomId : nameThing({ list: 'rooms', item });
}

/** The edge that is pushed: where it was, which way it goes, and where its ends come to stand. */
interface Push {
  readonly a: Point;
  readonly b: Point;
  readonly axis: Point;
  readonly outward: Point;
  readonly by: number;
  readonly shiftA: Point;
  readonly shiftB: Point;
  readonly points: Ring;
  readonly moves: readonly WallMove[];
}

function pushOwn(own: WallRing, edge: number, by: number): Push | null {
  const { before } = own;
  const [a, b] = [cornerOf(before, edge), cornerOf(before, edge + 1)];
  const axis = unit(a, b);
  const outward = outwardOf(own, edge);
  const push = { a, b, axis, outward, by };
  const endA = pushEnd(a, cornerOf(before, edge - 1), push);
  const endB = pushEnd(b, cornerOf(before, edge + 2), push);
  if (endA === null || endB === null) return null;
  const points = before.flatMap((corner, i) => {
    if (i === edge) return endA.corners;
    if (i === (edge + 1) % before.length) return [...endB.corners].reverse();
    return [corner];
  });
  return {
    ...push,
    shiftA: endA.shift,
    shiftB: endB.shift,
    points,
    // As a whole the wall goes straight out, wherever its ends slide to.
    moves: [
      { from: [a, b], to: [add(a, scale(outward, by)), add(b, scale(outward, by))], fixed: 'none' },
      ...endA.moves,
      ...endB.moves,
    ],
  };
}

interface End {
  /** From the wall beside towards the pushed edge. */
  readonly corners: readonly Point[];
  readonly shift: Point;
  readonly moves: readonly WallMove[];
}

type Way = Pick<Push, 'axis' | 'outward' | 'by'>;

/** Where an end comes to stand whose other wall goes to `other`; null when it would pass the end of that wall. */
function pushEnd(end: Point, other: Point, { axis, outward, by }: Way): End | null {
  const side = unit(end, other);
  if (Math.abs(cross(axis, side)) < LEAST_TURN) {
    const shift = scale(outward, by);
    return { corners: [end, finePoint(add(end, shift))], shift, moves: [] };
  }
  const reach = by / dot(side, outward);
  if (reach > distance(end, other) + SAME) return null;
  const shift = scale(side, reach);
  const next = finePoint(add(end, shift));
  return { corners: [next], shift, moves: [{ from: [other, end], to: [other, next], fixed: 'a' }] };
}

/** Pushes the edges of another room that face the pushed one, and tells which walls that moved; null when one has no room to go. */
function pushOther(other: WallRing, push: Among): readonly WallMove[] | null {
  const { before } = other;
  const faces = before.map((_, edge) => faceOf(other, edge, push));
  if (faces.every((face) => face === null)) return [];
  const moves: WallMove[] = [];
  const shift = scale(push.outward, push.by);
  const next: Point[] = [];
  for (const [i, corner] of before.entries()) {
    const [previous, following] = [cornerOf(before, i - 1), cornerOf(before, i + 1)];
    const [arriving, leaving] = [faces.at(i - 1) ?? null, faces[i] ?? null];
    if (leaving !== null) moves.push(...stretchOf([corner, following], leaving, push));
    // The end of the edge that arrives here, or the start of the one that leaves.
    let corners: readonly Point[] | null = [corner];
    if (arriving !== null && leaving !== null) corners = [finePoint(add(corner, shift))];
    else if (arriving !== null) corners = endOf(corner, following, arriving, push, moves)?.toReversed() ?? null;
    else if (leaving !== null) corners = endOf(corner, previous, leaving, push, moves);
    if (corners === null) return null;
    next.push(...corners);
  }
  other.points = dropRepeatedCorners(next);
  return moves;
}

/** The pushed edge, and whether a place lies in no room: what stands between two edges is then one wall. */
interface Among extends Push {
  isFree(at: Point): boolean;
}

/** An edge that faces the pushed one. */
interface Face {
  /** Metres between the two, 0 where they are one line. */
  readonly gap: number;
}

function faceOf(other: WallRing, edge: number, push: Among): Face | null {
  const [p, q] = [cornerOf(other.before, edge), cornerOf(other.before, edge + 1)];
  if (Math.abs(cross(unit(p, q), push.axis)) > PARALLEL) return null;
  if (dot(outwardOf(other, edge), push.outward) > 0) return null;
  const gap = dot(subtract(p, push.a), push.outward);
  if (gap < -SAME || gap > THICKEST_WALL) return null;
  const length = distance(push.a, push.b);
  const [low, high] = spanOf([p, q], push);
  const [from, to] = [Math.max(low, 0), Math.min(high, length)];
  if (to - from < Math.max(SAME, gap / 2) || (push.by < 0 && length < 2 * gap + SAME)) return null;
  const middle = add(push.a, add(scale(push.axis, (from + to) / 2), scale(push.outward, gap / 2)));
  return gap < SAME || push.isFree(middle) ? { gap: Math.max(0, gap) } : null;
}

/** Where a wall lies along the pushed edge, metres from its start, the lower end first. */
function spanOf([p, q]: readonly [Point, Point], { a, axis }: Push): readonly [number, number] {
  const [tp, tq] = [dot(subtract(p, a), axis), dot(subtract(q, a), axis)];
  return tp < tq ? [tp, tq] : [tq, tp];
}

/** The corners at one end of a facing edge, from outside towards its middle; null when it would pass `other`, the far end of the wall beside. */
function endOf(end: Point, other: Point, { gap }: Face, push: Push, moves: WallMove[]): readonly Point[] | null {
  const { a, b, axis, outward, by } = push;
  const length = distance(a, b);
  const at = dot(subtract(end, a), axis);
  const isBefore = at < length / 2;
  const isBeyond = isBefore ? at < -gap - SAME : at > length + gap + SAME;
  const isAtEnd = isBefore ? at <= gap + SAME : at >= length - gap - SAME;
  const shift = isBeyond || isAtEnd ? (isBefore ? push.shiftA : push.shiftB) : scale(outward, by);
  // Pushed into the other room the wall keeps its thickness outside the edge, drawn back from it inside.
  const beyond = by > 0 ? gap : -gap;
  const edgeEnd = isBefore ? -beyond : length + beyond;
  if (isBeyond) {
    // The wall goes on: it keeps its line up to where the pushed edge ends, and steps there.
    const step = add(end, scale(axis, edgeEnd - at));
    return [end, finePoint(step), finePoint(add(step, shift))];
  }
  const side = unit(end, other);
  if (Math.abs(cross(axis, side)) < LEAST_TURN) return [end, finePoint(add(end, shift))];
  const reach = by / dot(side, outward);
  if (reach > distance(end, other) + SAME) return null;
  const next = finePoint(add(end, scale(side, reach)));
  moves.push({ from: [other, end], to: [other, next], fixed: 'a' });
  return [next];
}

/** The part of a facing wall that moves straight along with the pushed edge. */
function stretchOf(wall: readonly [Point, Point], { gap }: Face, push: Push): readonly WallMove[] {
  const { a, axis, outward, by } = push;
  const [low, high] = spanOf(wall, push);
  const from = Math.max(low, -gap);
  const to = Math.min(high, distance(push.a, push.b) + gap);
  if (to - from < SAME) return [];
  const at = (t: number, off: number): Point => add(a, add(scale(axis, t), scale(outward, off)));
  return [{ from: [at(from, gap), at(to, gap)], to: [at(from, gap + by), at(to, gap + by)], fixed: 'none' }];
}
