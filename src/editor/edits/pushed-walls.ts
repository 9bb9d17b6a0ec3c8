/**
 * Where the corners go when a wall is pushed. Of two rooms that meet at its end the one that gets smaller gives way along
 * its own wall there, and the other follows it, so that no sliver is left between them and none is taken twice.
 */
import type { Point, Ring } from '../../core/floor/index.ts';
import type { WallMove } from './carried-openings.ts';
import { add, cornerOf, cross, distance, dot, finePoint, SAME, scale, subtract, unit } from './plane.ts';
import { outwardOf, type WallRing } from './wall-rings.ts';

/** Metres between the faces of one wall: a room's edge that faces another across more than this is another wall. */
export const THICKEST_WALL = 0.5;
/** Walls that differ in direction by less than this count as one line. */
const LEAST_TURN = Math.sin(Math.PI / 12);
/** Facing walls are parallel to within this, half a degree. */
const PARALLEL = Math.sin(Math.PI / 360);
/** A corner less than this off the line between its neighbours is none: the noise of rounding. */
const STRAIGHT = 5e-6;

/** The edge that is pushed, and which way it goes. */
export interface Push {
  readonly a: Point;
  readonly b: Point;
  readonly length: number;
  readonly axis: Point;
  readonly outward: Point;
  /** Metres outward. */
  readonly by: number;
  /** Whether a place lies in no room: what stands between two edges is then one wall. */
  isFree(at: Point): boolean;
}

export function startPush(own: WallRing, edge: number, by: number, isFree: (at: Point) => boolean): Push {
  const [a, b] = [cornerOf(own.before, edge), cornerOf(own.before, edge + 1)];
  return { a, b, length: distance(a, b), axis: unit(a, b), outward: outwardOf(own, edge), by, isFree };
}

/** An edge that faces the pushed one. */
interface Face {
  /** Metres between the two, 0 where they are one line. */
  readonly gap: number;
}

/** A ring of another room, and for each of its edges whether it faces the pushed one. */
export interface Facing {
  readonly other: WallRing;
  readonly faces: readonly (Face | null)[];
}

export function findFaces(other: WallRing, push: Push): readonly (Face | null)[] {
  return other.before.map((_, edge) => faceOf(other, edge, push));
}

function faceOf(other: WallRing, edge: number, push: Push): Face | null {
  const [p, q] = [cornerOf(other.before, edge), cornerOf(other.before, edge + 1)];
  if (Math.abs(cross(unit(p, q), push.axis)) > PARALLEL) return null;
  if (dot(outwardOf(other, edge), push.outward) > 0) return null;
  const gap = dot(subtract(p, push.a), push.outward);
  if (gap < -SAME || gap > THICKEST_WALL) return null;
  const [low, high] = spanOf([p, q], push);
  const [from, to] = [Math.max(low, 0), Math.min(high, push.length)];
  if (to - from < Math.max(SAME, gap / 2) || (push.by < 0 && push.length < 2 * gap + SAME)) return null;
  const middle = add(push.a, add(scale(push.axis, (from + to) / 2), scale(push.outward, gap / 2)));
  return gap < SAME || push.isFree(middle) ? { gap: Math.max(0, gap) } : null;
}

/** Where a wall lies along the pushed edge, metres from its start, the lower end first. */
function spanOf([p, q]: readonly [Point, Point], { a, axis }: Push): readonly [number, number] {
  const [tp, tq] = [dot(subtract(p, a), axis), dot(subtract(q, a), axis)];
  return tp < tq ? [tp, tq] : [tq, tp];
}

/** The ring of the pushed edge as it will be, how far its ends go, and the walls that move with it. */
export interface Pushed {
  readonly points: Ring;
  readonly shiftA: Point;
  readonly shiftB: Point;
  readonly moves: readonly WallMove[];
}

/** @returns null when an end would pass the far end of the wall beside it */
export function pushOwn(own: WallRing, edge: number, push: Push, facing: readonly Facing[]): Pushed | null {
  const { before } = own;
  const { a, b, outward, by } = push;
  const follow = (end: Point, beside: Point): End | null => {
    const partner = by > 0 ? findPartner(end, facing, push) : undefined;
    if (partner === undefined) return giveWay(end, beside, push);
    const led = giveWay(end, partner, push);
    return led === null ? null : followTo(end, beside, led.shift);
  };
  const endA = follow(a, cornerOf(before, edge - 1));
  const endB = follow(b, cornerOf(before, edge + 2));
  if (endA === null || endB === null) return null;
  const points = before.flatMap((corner, i) => {
    if (i === edge) return endA.corners;
    if (i === (edge + 1) % before.length) return endB.corners.toReversed();
    return [corner];
  });
  // As a whole the wall goes straight out, wherever its ends slide to.
  const straight: WallMove = {
    from: [a, b],
    to: [add(a, scale(outward, by)), add(b, scale(outward, by))],
    fixed: 'none',
  };
  return { points, shiftA: endA.shift, shiftB: endB.shift, moves: [straight, ...endA.moves, ...endB.moves] };
}

/** The far end of the wall beside, in a room whose facing edge ends where the pushed one does; undefined where none does. */
function findPartner(end: Point, facing: readonly Facing[], push: Push): Point | undefined {
  for (const { other, faces } of facing) {
    const { before } = other;
    for (const [edge, face] of faces.entries()) {
      if (face === null || face.gap >= SAME) continue;
      for (const [at, beside] of [
        [cornerOf(before, edge), cornerOf(before, edge - 1)],
        [cornerOf(before, edge + 1), cornerOf(before, edge + 2)],
      ] as const)
        if (distance(at, end) < SAME && !isAlong(at, beside, push)) return beside;
    }
  }
  return undefined;
}

function isAlong(end: Point, beside: Point, { axis }: Push): boolean {
  return Math.abs(cross(axis, unit(end, beside))) < LEAST_TURN;
}

/** Where an end of a wall comes to stand. */
interface End {
  /** From the wall beside towards the pushed edge. */
  readonly corners: readonly Point[];
  readonly shift: Point;
  readonly moves: readonly WallMove[];
}

/** An end that slides along the wall beside it, or steps off one that goes straight on; null when it would pass its far end. */
function giveWay(end: Point, beside: Point, push: Push): End | null {
  if (isAlong(end, beside, push)) {
    const shift = scale(push.outward, push.by);
    return { corners: [end, finePoint(add(end, shift))], shift, moves: [] };
  }
  const side = unit(end, beside);
  const reach = push.by / dot(side, push.outward);
  if (reach > distance(end, beside) + SAME) return null;
  const shift = scale(side, reach);
  const next = finePoint(add(end, shift));
  return { corners: [next], shift, moves: [{ from: [beside, end], to: [beside, next], fixed: 'a' }] };
}

/** An end that goes where another room gives way to, and keeps its corner unless the wall beside runs along there. */
function followTo(end: Point, beside: Point, shift: Point): End {
  const next = finePoint(add(end, shift));
  const isAlongside = Math.abs(cross(unit(beside, end), shift)) < STRAIGHT;
  return isAlongside
    ? { corners: [next], shift, moves: [{ from: [beside, end], to: [beside, next], fixed: 'a' }] }
    : { corners: [end, next], shift, moves: [] };
}

/** Pushes the edges of another room that face the pushed one; null when one has no room to go. */
export function pushFacing(
  { other, faces }: Facing,
  push: Push,
  own: Pushed,
): { readonly points: Ring; readonly moves: readonly WallMove[] } | null {
  const { before } = other;
  const moves: WallMove[] = [];
  const points: Point[] = [];
  for (const [i, corner] of before.entries()) {
    const [previous, following] = [cornerOf(before, i - 1), cornerOf(before, i + 1)];
    const [arriving, leaving] = [faces.at(i - 1) ?? null, faces[i] ?? null];
    if (leaving !== null) moves.push(...stretchOf([corner, following], leaving, push));
    if (arriving !== null && leaving !== null) points.push(finePoint(add(corner, scale(push.outward, push.by))));
    else if (arriving === null && leaving === null) points.push(corner);
    else {
      // The end of the edge that arrives here, or the start of the one that leaves.
      const face = arriving ?? leaving;
      const end = face === null ? null : endOf(corner, arriving === null ? previous : following, face, push, own);
      if (end === null) return null;
      points.push(...(arriving === null ? end.corners : end.corners.toReversed()));
      moves.push(...end.moves);
    }
  }
  // What comes before the first corner stands at the end of the ring, so that the first stays the first.
  const ahead = faces.at(-1) !== null && faces[0] === null ? points.indexOf(cornerOf(before, 0)) : 0;
  return { points: ahead > 0 ? [...points.slice(ahead), ...points.slice(0, ahead)] : points, moves };
}

/** One end of a facing edge; null when it would pass the far end of the wall beside. */
function endOf(end: Point, beside: Point, { gap }: Face, push: Push, own: Pushed): End | null {
  const { a, axis, outward, by, length } = push;
  const at = dot(subtract(end, a), axis);
  const isBefore = at < length / 2;
  const ownShift = isBefore ? own.shiftA : own.shiftB;
  if (isBefore ? at < -gap - SAME : at > length + gap + SAME) {
    // The wall goes on: it keeps its line up to where the pushed edge ends, and steps there. Pushed into the other room
    // the wall keeps its thickness outside the edge, drawn back from it inside.
    const beyond = by > 0 ? gap : -gap;
    const step = add(end, scale(axis, (isBefore ? -beyond : length + beyond) - at));
    return { corners: [end, finePoint(step), finePoint(add(step, ownShift))], shift: ownShift, moves: [] };
  }
  const isAtEnd = isBefore ? at <= gap + SAME : at >= length - gap - SAME;
  if (isAlong(end, beside, push)) {
    const shift = isAtEnd ? ownShift : scale(outward, by);
    return { corners: [end, finePoint(add(end, shift))], shift, moves: [] };
  }
  return by < 0 && isAtEnd && gap < SAME ? followTo(end, beside, ownShift) : giveWay(end, beside, push);
}

/** The part of a facing wall that moves straight along with the pushed edge. */
function stretchOf(wall: readonly [Point, Point], { gap }: Face, push: Push): readonly WallMove[] {
  const { a, axis, outward, by, length } = push;
  const [low, high] = spanOf(wall, push);
  const from = Math.max(low, -gap);
  const to = Math.min(high, length + gap);
  if (to - from < SAME) return [];
  const at = (t: number, off: number): Point => add(a, add(scale(axis, t), scale(outward, off)));
  return [{ from: [at(from, gap), at(to, gap)], to: [at(from, gap + by), at(to, gap + by)], fixed: 'none' }];
}
