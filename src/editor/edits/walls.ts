/** Walls by the room, ring and edge they are, and openings by where they lie in one. */
import { type FloorFile, findRoomAt, type Point, resolveFloor } from '../../core/floor/index.ts';
import { computeSegmentDistance } from '../../core/geometry/polygon.ts';
import { liesIn } from './carried-openings.ts';
import { findItem, type Items } from './lists.ts';
import { add, between, cornerOf, cross, distance, dot, locate, SAME, scale, subtract, unit } from './plane.ts';
import { THICKEST_WALL } from './pushed-walls.ts';
import { listWallRings, outwardOf, type WallRing } from './wall-rings.ts';

/** One edge of a room. */
export interface WallPlace {
  readonly roomId: string;
  /** 0 for the outline, 1 for the first hole. */
  readonly ring: number;
  /** From the corner of this number to the next. */
  readonly edge: number;
}

/** A wall as it stands: from `a` to `b`, the way its ring runs. */
export interface Wall extends WallPlace {
  readonly a: Point;
  readonly b: Point;
  readonly length: number;
  /** Unit vector out of the room. */
  readonly outward: Point;
}

export function findWall(file: FloorFile, { roomId, ring, edge }: WallPlace): Wall | undefined {
  const room = findItem(file, 'rooms', roomId);
  const before = ring === 0 ? room?.outline : room?.holes?.[ring - 1];
  return before?.[edge] === undefined ? undefined : wallOf({ roomId, ring, before }, edge);
}

function wallOf({ roomId, ring, before }: Pick<WallRing, 'roomId' | 'ring' | 'before'>, edge: number): Wall {
  const [a, b] = [cornerOf(before, edge), cornerOf(before, edge + 1)];
  return { roomId, ring, edge, a, b, length: distance(a, b), outward: outwardOf({ before, ring }, edge) };
}

/** The wall nearest to a place, within `reach` metres, and how far along it the place is; undefined where none is near. */
export function findWallNear(
  file: FloorFile,
  at: Point,
  reach: number,
): { readonly wall: Wall; readonly along: number } | undefined {
  let nearest: { readonly ring: WallRing; readonly edge: number } | undefined;
  let least = reach;
  for (const ring of listWallRings(file)) {
    ring.before.forEach((a, edge) => {
      const away = computeSegmentDistance(a, cornerOf(ring.before, edge + 1), at[0], at[1]);
      if (away < least) [nearest, least] = [{ ring, edge }, away];
    });
  }
  if (nearest === undefined) return undefined;
  const wall = wallOf(nearest.ring, nearest.edge);
  const [along] = locate(wall.a, unit(wall.a, wall.b), at);
  return { wall, along: Math.min(Math.max(along, 0), wall.length) };
}

/**
 * Metres from a wall out to the wall of another room that faces it over a stretch: 0 where the two are one line,
 * undefined where none is within the thickness of a wall, or a room lies between.
 */
export function measureGap(file: FloorFile, wall: Wall, from: number, to: number): number | undefined {
  const axis = unit(wall.a, wall.b);
  const { rooms } = resolveFloor(file);
  let least: number | undefined;
  for (const ring of listWallRings(file)) {
    if (ring.roomId === wall.roomId) continue;
    ring.before.forEach((p, edge) => {
      const q = cornerOf(ring.before, edge + 1);
      if (Math.abs(cross(unit(p, q), axis)) > 0.01 || dot(outwardOf(ring, edge), wall.outward) > 0) return;
      const gap = dot(subtract(p, wall.a), wall.outward);
      if (gap < -SAME || gap > THICKEST_WALL || gap >= (least ?? Infinity)) return;
      const [tp, tq] = [dot(subtract(p, wall.a), axis), dot(subtract(q, wall.a), axis)];
      const [low, high] = [Math.max(Math.min(tp, tq), from), Math.min(Math.max(tp, tq), to)];
      if (high - low < SAME) return;
      const middle = add(wall.a, add(scale(axis, (low + high) / 2), scale(wall.outward, gap / 2)));
      if (gap < SAME || findRoomAt(rooms, middle) === undefined) least = Math.max(0, gap);
    });
  }
  return least;
}

/** Where an opening lies in its wall. */
export interface OpeningPlace {
  readonly wall: Wall;
  /** Metres from the wall's start to the nearer side of the opening. */
  readonly along: number;
  readonly width: number;
  /** Metres from the wall out to the opening's middle line. */
  readonly off: number;
  /** Whether the opening's `from` is nearer to the wall's start. */
  readonly isForward: boolean;
}

/** The wall an opening lies in, the nearest to its middle; undefined when it lies in none. */
export function findOpeningPlace(file: FloorFile, opening: Items['openings']): OpeningPlace | undefined {
  const [x, y] = between(opening.from, opening.to, 0.5);
  let nearest: Wall | undefined;
  let least = Infinity;
  for (const ring of listWallRings(file)) {
    ring.before.forEach((a, edge) => {
      const b = cornerOf(ring.before, edge + 1);
      const away = computeSegmentDistance(a, b, x, y);
      if (away < least && liesIn(opening, [a, b])) [nearest, least] = [wallOf(ring, edge), away];
    });
  }
  if (nearest === undefined) return undefined;
  const axis = unit(nearest.a, nearest.b);
  const [from, to] = [dot(subtract(opening.from, nearest.a), axis), dot(subtract(opening.to, nearest.a), axis)];
  return {
    wall: nearest,
    along: Math.min(from, to),
    width: distance(opening.from, opening.to),
    off: dot(subtract([x, y], nearest.a), nearest.outward),
    isForward: from <= to,
  };
}
