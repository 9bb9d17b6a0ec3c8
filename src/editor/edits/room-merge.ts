/** Two rooms made one by taking out the wall between them. */
import type { FloorFile, Point, Ring } from '../../core/floor/index.ts';
import { computeSegmentDistance } from '../../core/geometry/polygon.ts';
import { liesIn } from './carried-openings.ts';
import { type Change, createChange } from './change.ts';
import { type Edit, refuse, refuseGone } from './edit.ts';
import { nameThing, showMetres, startSentence } from './fault-words.ts';
import { findItem, type Items } from './lists.ts';
import { cancelSides, createPlaces, dropStraightCorners, listSides, sortLoops, traceLoops } from './loops.ts';
import { findOutlineFault } from './outlines.ts';
import { cornerOf, distance, SAME } from './plane.ts';
import { removeThings } from './removal.ts';
import { weld } from './wall-rings.ts';

type Room = Items['rooms'];

/**
 * Makes one room of two that share a stretch of wall: the first keeps its id, name, ceiling and tiles, and takes the
 * place of the second wherever a group serves it. Openings in the wall between go.
 */
export function mergeRooms(file: FloorFile, firstId: string, secondId: string): Edit {
  const [first, second] = [findItem(file, 'rooms', firstId), findItem(file, 'rooms', secondId)];
  if (first === undefined || second === undefined) return refuseGone('room');
  if (first === second) return refuse('One room cannot be merged with itself', 'Select two.');
  const names = [first, second].map((item) => nameThing({ list: 'rooms', item })) as [string, string];

  const rings = weldAll(ringsOf(first), ringsOf(second));
  const places = createPlaces();
  const sides = rings.flatMap(({ ring, isHole }) => listSides(ring, isHole, places));
  const { left, cancelled } = cancelSides(sides);
  if (cancelled.length === 0) return refuseApart(first, second, names);
  const walls = cancelled.map(([from, to]) => [places.points[from] as Point, places.points[to] as Point] as const);
  const isEnd = (corner: Point): boolean => walls.some((wall) => wall.some((end) => distance(end, corner) < SAME));
  const parts = sortLoops(traceLoops(left, places).map((loop) => dropStraightCorners(loop, isEnd)));
  const [part, ...others] = parts;
  if (part === undefined || others.length > 0)
    return refuse(`${startSentence(names[0])} and ${names[1]} do not make one room`, 'Draw the room anew.');
  const merged: Room = { ...first, outline: part.outline, ...(hasHoles(first, part) ? { holes: part.holes } : {}) };
  const fault = [part.outline, ...part.holes]
    .map((ring, k) => findOutlineFault(ring, k === 0 ? 'the common outline' : `hole ${k}`))
    .find((each) => each !== null);
  if (fault !== undefined) return fault;

  const change = createChange(file);
  change.set('rooms', merged);
  standInFor(change, secondId, firstId);
  const between = change
    .list('openings')
    .filter((opening) => walls.some((wall) => liesIn(opening, wall)) && !liesInRings(opening, merged));
  removeThings(change, [secondId, ...between.map(({ id }) => id)]);
  return change.plan(`Merged ${names[0]} and ${names[1]}`, [firstId]);
}

function hasHoles(room: Room, { holes }: { readonly holes: readonly Ring[] }): boolean {
  return holes.length > 0 || room.holes !== undefined;
}

interface RingOf {
  readonly ring: Ring;
  readonly isHole: boolean;
}

function ringsOf({ outline, holes }: Room): readonly RingOf[] {
  return [outline, ...(holes ?? [])].map((ring, k) => ({ ring, isHole: k > 0 }));
}

/** The rings of both rooms, with a corner wherever a corner of the other lies on a wall. */
function weldAll(first: readonly RingOf[], second: readonly RingOf[]): readonly RingOf[] {
  const weldTo = (rings: readonly RingOf[], others: readonly RingOf[]): readonly RingOf[] =>
    rings.map(({ ring, isHole }) => ({ isHole, ring: others.flatMap((other) => other.ring).reduce(weld, ring) }));
  return [...weldTo(first, second), ...weldTo(second, first)];
}

function liesInRings(opening: Items['openings'], room: Room): boolean {
  return ringsOf(room).some(({ ring }) => ring.some((a, i) => liesIn(opening, [a, cornerOf(ring, i + 1)])));
}

/** Puts one room in the place of another wherever a group serves or ventilates it, and where a record is about it. */
function standInFor(change: Change, from: string, to: string): void {
  const replaced = (ids: readonly string[]): readonly string[] => [
    ...new Set(ids.map((id) => (id === from ? to : id))),
  ];
  for (const group of change.list('groups')) {
    const { serves, ventilation } = group;
    if (serves?.includes(from) !== true && ventilation?.includes(from) !== true) continue;
    change.set('groups', {
      ...group,
      ...(serves === undefined ? {} : { serves: replaced(serves) }),
      ...(ventilation === undefined ? {} : { ventilation: replaced(ventilation) }),
    });
  }
  const records = change.whole('records');
  if (records?.some(({ about }) => about === from) !== true) return;
  change.put(
    'records',
    records.map((record) => (record.about === from ? { ...record, about: to } : record)),
  );
}

function refuseApart(first: Room, second: Room, [a, b]: readonly [string, string]): Edit {
  const away = Math.min(measureApart(first, second), measureApart(second, first));
  return away < SAME
    ? refuse(`${startSentence(a)} and ${b} only touch`, 'Two rooms that are merged share a stretch of wall.')
    : refuse(
        `${startSentence(a)} and ${b} are ${showMetres(away)} apart`,
        'Move a wall of one onto the other, then merge them.',
      );
}

/** The least distance from a corner of one room to a wall of another, metres. */
function measureApart(room: Room, other: Room): number {
  const walls = ringsOf(other).flatMap(({ ring }) => ring.map((a, i) => [a, cornerOf(ring, i + 1)] as const));
  const corners = ringsOf(room).flatMap(({ ring }) => ring);
  return Math.min(...corners.map(([x, y]) => Math.min(...walls.map(([a, b]) => computeSegmentDistance(a, b, x, y)))));
}
