/** One room made two by a line drawn through it. */
import type { FloorFile, Point, Ring } from '../../core/floor/index.ts';
import { computeRingDistance, computeSignedArea, isInRing } from '../../core/geometry/polygon.ts';
import { type Change, createChange } from './change.ts';
import { type Edit, refuse, refuseGone } from './edit.ts';
import { nameThing } from './fault-words.ts';
import { clipText, createIdMaker } from './ids.ts';
import { findItem, type Items } from './lists.ts';
import { createPlaces, listSides, type Side, sortLoops, traceLoops } from './loops.ts';
import { findOutlineFault } from './outlines.ts';
import { add, cornerOf, distance, dot, finePoint, locate, SAME, scale, subtract, unit } from './plane.ts';
import { weld } from './wall-rings.ts';

type Room = Items['rooms'];

/**
 * Splits a room along a line, drawn from wall to wall or beyond; every stretch of the room it passes is cut from wall to
 * wall. The larger part keeps the id; the other gets the name with a number, the same ceiling and tiles, and is served by
 * the same groups. Nothing in the room is touched.
 */
export function splitRoom(file: FloorFile, roomId: string, from: Point, to: Point): Edit {
  const room = findItem(file, 'rooms', roomId);
  if (room === undefined) return refuseGone('room');
  const name = nameThing({ list: 'rooms', item: room });
  if (distance(from, to) < SAME) return refuse('The line has no length', 'Draw it from wall to wall.');
  const rings = [room.outline, ...(room.holes ?? [])];
  const cuts = listCuts(rings, from, to);

  const places = createPlaces();
  const ends = cuts.flat();
  const welded = rings.map((ring) => ends.reduce(weld, ring));
  const sides: Side[] = welded.flatMap((ring, k) => listSides(ring, k > 0, places));
  for (const [a, b] of cuts) {
    const [i, j] = [places.number(a), places.number(b)];
    sides.push([i, j], [j, i]);
  }
  const parts = sortLoops(traceLoops(sides, places)).toSorted((a, b) => areaOf(b) - areaOf(a));
  const [larger, smaller, ...others] = parts;
  if (larger === undefined || smaller === undefined)
    return refuse(`The line does not part ${name}`, 'Draw it from wall to wall.');
  if (others.length > 0)
    return refuse(`The line cuts ${name} into ${parts.length} parts`, 'Draw it through one stretch of the room only.');
  for (const { outline, holes } of [larger, smaller])
    for (const ring of [outline, ...holes]) {
      const fault = findOutlineFault(ring, `a part of ${name}`);
      if (fault !== null) return fault;
    }

  const change = createChange(file);
  const maker = createIdMaker(file);
  const id = maker.next('rooms');
  change.set('rooms', withRings(room, larger));
  change.add('rooms', {
    ...withRings(room, smaller),
    id,
    name: maker.freeName('rooms', `${clipText(room.name, 900)} 2`),
  });
  serveAlso(change, roomId, id);
  return change.plan(`Split ${name}`, [roomId, id]);
}

interface Part {
  readonly outline: Ring;
  readonly holes: readonly Ring[];
}

function areaOf({ outline, holes }: Part): number {
  return [outline, ...holes].reduce((sum, ring, k) => sum + (k === 0 ? 1 : -1) * Math.abs(computeSignedArea(ring)), 0);
}

function withRings(room: Room, { outline, holes }: Part): Room {
  const { holes: _, ...rest } = room;
  return { ...rest, outline, ...(holes.length === 0 ? {} : { holes }) };
}

/** The stretches from wall to wall, inside the room, that the drawn line passes. */
function listCuts(rings: readonly Ring[], from: Point, to: Point): readonly (readonly [Point, Point])[] {
  const axis = unit(from, to);
  const length = distance(from, to);
  const stops = rings.flatMap((ring) => listCrossings(ring, from, axis)).sort((a, b) => a - b);
  const at = (t: number): Point => finePoint(add(from, scale(axis, t)));
  const cuts: (readonly [Point, Point])[] = [];
  for (let i = 0; i + 1 < stops.length; i++) {
    const [low, high] = [stops[i] as number, stops[i + 1] as number];
    if (high - low < SAME || Math.min(high, length) - Math.max(low, 0) < SAME) continue;
    if (isInside(rings, add(from, scale(axis, (low + high) / 2))))
      cuts.push([cornerNear(rings, at(low)), cornerNear(rings, at(high))]);
  }
  return cuts;
}

/** Where a line meets a ring, metres along it: at corners it comes near, and through edges. */
function listCrossings(ring: Ring, from: Point, axis: Point): readonly number[] {
  const stops: number[] = [];
  ring.forEach((a, i) => {
    const b = cornerOf(ring, i + 1);
    const [[ta, offA], [, offB]] = [locate(from, axis, a), locate(from, axis, b)];
    if (Math.abs(offA) < SAME) stops.push(ta);
    else if (Math.abs(offB) >= SAME && offA > 0 !== offB > 0) {
      const part = offA / (offA - offB);
      stops.push(dot(subtract(add(a, scale(subtract(b, a), part)), from), axis));
    }
  });
  return stops;
}

function isInside(rings: readonly Ring[], [x, y]: Point): boolean {
  const inside = rings.reduce((odd, ring) => odd !== isInRing(ring, x, y), false);
  return inside && rings.every((ring) => computeRingDistance(ring, x, y) >= SAME);
}

/** The corner a place lies at, else the place itself. */
function cornerNear(rings: readonly Ring[], at: Point): Point {
  return rings.flat().find((corner) => distance(corner, at) < SAME) ?? at;
}

/** Has every group that names a room serve another too. */
function serveAlso(change: Change, roomId: string, also: string): void {
  const withAlso = (ids: readonly string[]): readonly string[] =>
    ids.flatMap((id) => (id === roomId ? [id, also] : [id]));
  for (const group of change.list('groups')) {
    const { serves, ventilation } = group;
    if (serves?.includes(roomId) !== true && ventilation?.includes(roomId) !== true) continue;
    change.set('groups', {
      ...group,
      ...(serves === undefined ? {} : { serves: withAlso(serves) }),
      ...(ventilation === undefined ? {} : { ventilation: withAlso(ventilation) }),
    });
  }
}
