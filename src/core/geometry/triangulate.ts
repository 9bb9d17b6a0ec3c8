/** Triangles of polygons with holes, by ear cutting. */
import earcut from 'earcut';
import type { PlanRing } from './polygon.ts';

export interface Triangles {
  /** Corners, flat [x0, y0, x1, y1 …], metres: the outline's first, then each hole's. */
  readonly xy: readonly number[];
  /** Three indices a triangle into the corners, counter-clockwise whatever the rings' winding. */
  readonly index: readonly number[];
}

/**
 * Cuts a polygon into triangles that cover it exactly. Rings in either winding, not closed; corners are kept as they
 * are, none is added. An outline without area gives no triangles.
 */
export function triangulate(outline: PlanRing, holes: readonly PlanRing[] = []): Triangles {
  const xy: number[] = [];
  const starts: number[] = [];
  for (const [x, y] of outline) xy.push(x, y);
  for (const hole of holes) {
    starts.push(xy.length / 2);
    for (const [x, y] of hole) xy.push(x, y);
  }
  const index = earcut(xy, starts);
  for (let t = 0; t < index.length; t += 3) {
    const a = 2 * index[t]!;
    const b = 2 * index[t + 1]!;
    const c = 2 * index[t + 2]!;
    const turn = (xy[b]! - xy[a]!) * (xy[c + 1]! - xy[a + 1]!) - (xy[b + 1]! - xy[a + 1]!) * (xy[c]! - xy[a]!);
    if (turn < 0) {
      const swap = index[t + 1]!;
      index[t + 1] = index[t + 2]!;
      index[t + 2] = swap;
    }
  }
  return { xy, index };
}
