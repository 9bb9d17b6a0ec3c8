/** How far a place is from the walls of its room, as it is set out with a tape. */
import { type Floor, findRoomAt, type Point } from '../../core/floor/index.ts';
import { distance } from '../edits/plane.ts';
import { meetEdge } from '../snapping/plan.ts';
import type { Guide } from './guide.ts';
import type { Units } from './tool.ts';
import { sayLength } from './words.ts';

interface WallDistance {
  /** Where the wall is met. */
  readonly to: Point;
  readonly metres: number;
}

/** The nearest wall along x and the nearest along y; fewer where the room has none. Empty outside every room. */
function measureNearestWalls(floor: Floor, at: Point): readonly WallDistance[] {
  const room = findRoomAt(floor.rooms, at);
  if (room === undefined) return [];
  return (
    [
      [1, 0],
      [0, 1],
    ] as const
  ).flatMap(([dx, dy]): WallDistance[] => {
    let nearest = Infinity;
    for (const ring of [room.outline, ...room.holes]) {
      ring.forEach((a, i) => {
        const far = meetEdge(at, dx, dy, a, ring[(i + 1) % ring.length] ?? a);
        if (far !== null && Math.abs(far) < Math.abs(nearest)) nearest = far;
      });
    }
    if (!Number.isFinite(nearest)) return [];
    const to: Point = [at[0] + dx * nearest, at[1] + dy * nearest];
    return [{ to, metres: distance(at, to) }];
  });
}

/** The same as dimensions. */
export function guideToWalls(floor: Floor, at: Point, units: Units): Guide[] {
  return measureNearestWalls(floor, at).map(({ to, metres }) => ({
    kind: 'length',
    from: to,
    to: at,
    text: sayLength(metres, units),
  }));
}

/** The same in words: `1.20 m and 2.30 m from the nearest walls`. Empty outside every room. */
export function sayWalls(floor: Floor, at: Point, units: Units): string {
  const walls = measureNearestWalls(floor, at).map(({ metres }) => sayLength(metres, units));
  return walls.length === 0 ? '' : `${walls.join(' and ')} from the nearest walls`;
}
