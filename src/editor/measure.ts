/** Distances from a place to the walls of its room, as a person sets it out with a tape. */
import { type Floor, findRoomAt, type Point } from '../core/floor/index.ts';

export type Side = 'west' | 'east' | 'south' | 'north';

export interface WallDistance {
  /** The axis it is measured along: 0 for x, 1 for y. */
  readonly axis: 0 | 1;
  /** The side the wall stands on, by the floor's north. */
  readonly side: Side;
  /** Metres. */
  readonly distance: number;
  /** The coordinate of the wall on that axis: a place d away from it has the coordinate `wall + sign * d`. */
  readonly wall: number;
  readonly sign: 1 | -1;
}

const SIDES: readonly Side[] = ['north', 'west', 'south', 'east'];

/** The compass side a direction (degrees from +x) points to, the nearest of four. */
export function sideOf(direction: number, north: number): Side {
  const quarter = Math.round((((direction - north) % 360) + 360) / 90) % 4;
  return SIDES[quarter] ?? 'north';
}

/**
 * How far a place is from the wall towards -x and from the wall towards -y (west and south where north is +y).
 * Empty outside every room.
 */
export function measureToWalls(floor: Floor, at: Point): readonly WallDistance[] {
  const room = findRoomAt(floor.rooms, at);
  if (room === undefined) return [];
  const rings = [room.outline, ...room.holes];
  const found: WallDistance[] = [];
  for (const axis of [0, 1] as const) {
    const other = axis === 0 ? 1 : 0;
    let wall = Number.NEGATIVE_INFINITY;
    for (const ring of rings) {
      ring.forEach((a, i) => {
        const b = ring[(i + 1) % ring.length] ?? a;
        const low = Math.min(a[other], b[other]);
        const high = Math.max(a[other], b[other]);
        if (at[other] < low || at[other] >= high) return;
        const cut = a[axis] + ((at[other] - a[other]) / (b[other] - a[other])) * (b[axis] - a[axis]);
        if (cut <= at[axis] && cut > wall) wall = cut;
      });
    }
    if (wall === Number.NEGATIVE_INFINITY) continue;
    const direction = axis === 0 ? 180 : 270;
    found.push({ axis, side: sideOf(direction, floor.north), distance: at[axis] - wall, wall, sign: 1 });
  }
  return found;
}
