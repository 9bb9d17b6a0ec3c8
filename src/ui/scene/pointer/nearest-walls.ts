/** How far a place is from the walls of its room, along the floor's own axes. */
import type { Point, Room } from '../../../core/floor/index.ts';

export interface NearWall {
  /** 0: measured along x, 1: along y. */
  readonly axis: 0 | 1;
  /** Where the wall is met. */
  readonly to: Point;
  readonly distance: number;
}

/** The nearest wall along x and the nearest along y, of any edge of the room; fewer where there is none. */
export function findNearestWalls(room: Room, at: Point): NearWall[] {
  const walls: NearWall[] = [];
  for (const axis of [0, 1] as const) {
    const other = axis === 0 ? 1 : 0;
    let best: number | null = null;
    for (const ring of [room.outline, ...room.holes]) {
      ring.forEach((a, i) => {
        const b = ring[(i + 1) % ring.length] as Point;
        const low = Math.min(a[other], b[other]);
        const high = Math.max(a[other], b[other]);
        if (at[other] < low || at[other] >= high) return;
        const cut = a[axis] + ((at[other] - a[other]) / (b[other] - a[other])) * (b[axis] - a[axis]);
        if (best === null || Math.abs(cut - at[axis]) < Math.abs(best - at[axis])) best = cut;
      });
    }
    if (best === null) continue;
    walls.push({ axis, to: axis === 0 ? [best, at[1]] : [at[0], best], distance: Math.abs(best - at[axis]) });
  }
  return walls;
}
