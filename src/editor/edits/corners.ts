/** Corners of the outlines of rooms, furniture and zones: moved, put in, taken out. */
import type { FloorFile, Point, Ring } from '../../core/floor/index.ts';
import { computeSegmentDistance } from '../../core/geometry/polygon.ts';
import { createChange, setListed } from './change.ts';
import { moveRoomCorner } from './corner-moves.ts';
import { type Edit, refuse, refuseGone } from './edit.ts';
import { nameThing, showMetres } from './fault-words.ts';
import { findListed, type Listed } from './lists.ts';
import { findOutlineFault } from './outlines.ts';
import { cornerOf, distance, finePoint } from './plane.ts';
import { findCorner, listWallRings, setRings, type WallRing } from './wall-rings.ts';

/** One ring of a thing that has an outline. */
export interface OutlinePlace {
  readonly id: string;
  /** 0 or left out: the outline; 1: the first hole of a room. */
  readonly ring?: number;
}

/**
 * Moves a corner of a room, a piece of furniture or a zone.
 * @param together of rooms: whether others that meet the corner follow (`moveRoomCorner`)
 */
export function moveCorner(
  file: FloorFile,
  { id, ring = 0 }: OutlinePlace,
  corner: number,
  to: Point,
  together = true,
): Edit {
  const thing = findOutlined(file, id);
  if (thing === undefined) return refuseGone('outline');
  if (thing.list === 'rooms') return moveRoomCorner(file, id, ring, corner, to, together);
  const from = thing.item.outline[corner];
  if (from === undefined) return refuseGone('corner');
  const target = finePoint(to);
  const outline = thing.item.outline.map((each, i) => (i === corner ? target : each));
  return setOutline(
    file,
    thing,
    outline,
    (name) => `Moved a corner of ${name} by ${showMetres(distance(from, target))}`,
  );
}

/** Puts a corner into an edge, where it can then be moved from. An edge runs from the corner of its number to the next. */
export function insertCorner(file: FloorFile, { id, ring = 0 }: OutlinePlace, edge: number, at: Point): Edit {
  const thing = findOutlined(file, id);
  const points = thing === undefined ? undefined : ringOf(thing, ring);
  if (thing === undefined || points?.[edge] === undefined) return refuseGone('edge');
  const corner = finePoint(at);
  const next = [...points.slice(0, edge + 1), corner, ...points.slice(edge + 1)];
  return setRing(file, thing, ring, next, (name) => `Added a corner to ${name}`);
}

/**
 * Takes a corner out of an outline.
 * @param together of rooms: whether the corner also goes from other rooms whose walls run the same way through it
 */
export function removeCorner(file: FloorFile, { id, ring = 0 }: OutlinePlace, corner: number, together = true): Edit {
  const thing = findOutlined(file, id);
  const points = thing === undefined ? undefined : ringOf(thing, ring);
  if (thing === undefined || points?.[corner] === undefined) return refuseGone('corner');
  if (points.length <= 3)
    return refuse('An outline of three corners cannot lose one', 'Remove the whole thing instead.');
  const next = points.filter((_, i) => i !== corner);
  const name = (whose: string): string => `Took a corner out of ${whose}`;
  if (thing.list !== 'rooms' || !together) return setRing(file, thing, ring, next, name);
  const ends = [-1, 0, 1].map((step) => cornerOf(points, corner + step));
  const rings = listWallRings(file);
  for (const each of rings) {
    if (each.roomId === id && each.ring === ring) each.points = next;
    else each.points = withoutCorner(each, ends);
  }
  const change = createChange(file);
  return setRings(change, rings) ?? change.plan(name(nameThing(thing)), [id]);
}

/** Another ring without the middle one of three places, when it runs through all of them. */
function withoutCorner({ before }: WallRing, ends: readonly Point[]): Ring {
  const [first, middle, last] = ends.map((end) => findCorner(before, end));
  if (first === undefined || middle === undefined || last === undefined) return before;
  if (Math.min(first, middle, last) < 0 || before.length <= 3) return before;
  const isNext = (a: number, b: number): boolean => (a + 1) % before.length === b || (b + 1) % before.length === a;
  return isNext(first, middle) && isNext(middle, last) ? before.filter((_, i) => i !== middle) : before;
}

type Outlined = Extract<Listed, { readonly list: 'rooms' | 'furniture' | 'zones' }>;

function findOutlined(file: FloorFile, id: string): Outlined | undefined {
  const thing = findListed(file, id);
  return thing !== undefined && 'outline' in thing.item ? (thing as Outlined) : undefined;
}

function ringOf(thing: Outlined, ring: number): Ring | undefined {
  if (ring === 0) return thing.item.outline;
  return thing.list === 'rooms' ? thing.item.holes?.[ring - 1] : undefined;
}

function setRing(file: FloorFile, thing: Outlined, ring: number, points: Ring, name: (whose: string) => string): Edit {
  if (ring === 0 || thing.list !== 'rooms') return setOutline(file, thing, points, name);
  const own = nameThing(thing);
  const fault = findOutlineFault(points, `hole ${ring} of ${own}`);
  if (fault !== null) return fault;
  const holes = (thing.item.holes ?? []).map((hole, k) => (k === ring - 1 ? points : hole));
  const change = createChange(file);
  change.set('rooms', { ...thing.item, holes });
  return change.plan(name(own), [thing.item.id]);
}

function setOutline(file: FloorFile, thing: Outlined, outline: Ring, name: (whose: string) => string): Edit {
  const own = nameThing(thing);
  const fault = findOutlineFault(outline, `the outline of ${own}`);
  if (fault !== null) return fault;
  const change = createChange(file);
  setListed(change, { ...thing, item: { ...thing.item, outline } } as Outlined);
  return change.plan(name(own), [thing.item.id]);
}

/** The edge of an outline nearest to a place, the one a new corner there goes into; -1 for a thing without an outline. */
export function findNearestEdge(file: FloorFile, { id, ring = 0 }: OutlinePlace, at: Point): number {
  const thing = findOutlined(file, id);
  const points = thing === undefined ? undefined : ringOf(thing, ring);
  if (points === undefined) return -1;
  const away = points.map((a, i) => computeSegmentDistance(a, cornerOf(points, i + 1), at[0], at[1]));
  return away.indexOf(Math.min(...away));
}
