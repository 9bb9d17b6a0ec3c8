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

/** Directions measured where nobody says which: towards -x and towards -y. */
const LOW = [
  [0, 180],
  [1, 270],
] as const;
const ALL = [...LOW, [0, 0], [1, 90]] as const;

/**
 * How far a place is from the wall towards -x and from the wall towards -y (west and south where north is +y), or from
 * the wall on the one side that is asked for. Empty outside every room.
 */
export function measureToWalls(floor: Floor, at: Point, side?: Side): readonly WallDistance[] {
  const room = findRoomAt(floor.rooms, at);
  if (room === undefined) return [];
  const rings = [room.outline, ...room.holes];
  const found: WallDistance[] = [];
  const asked = side === undefined ? LOW : ALL.filter(([, direction]) => sideOf(direction, floor.north) === side);
  for (const [axis, direction] of asked) {
    const other = axis === 0 ? 1 : 0;
    // Away from the wall: up the axis from a low one, down from a high one.
    const sign = direction >= 180 ? 1 : -1;
    let wall = sign * Number.NEGATIVE_INFINITY;
    for (const ring of rings) {
      ring.forEach((a, i) => {
        const b = ring[(i + 1) % ring.length] ?? a;
        const low = Math.min(a[other], b[other]);
        const high = Math.max(a[other], b[other]);
        if (at[other] < low || at[other] >= high) return;
        const cut = a[axis] + ((at[other] - a[other]) / (b[other] - a[other])) * (b[axis] - a[axis]);
        if (sign * (at[axis] - cut) >= 0 && sign * (cut - wall) > 0) wall = cut;
      });
    }
    if (!Number.isFinite(wall)) continue;
    found.push({ axis, side: sideOf(direction, floor.north), distance: sign * (at[axis] - wall), wall, sign });
  }
  return found;
}
