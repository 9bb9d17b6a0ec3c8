/** Small sums on places in plan that snapping and the tools share, beside those of the edits. Metres and degrees. */
import type { Point } from '../../core/floor/index.ts';
import type { Box } from '../../core/geometry/polygon.ts';
import { add, along, finePoint, scale } from '../edits/plane.ts';

/** Degrees counter-clockwise from +x, 0 up to but not 360. */
export function measureDirection(from: Point, to: Point): number {
  const degrees = (Math.atan2(to[1] - from[1], to[0] - from[0]) * 180) / Math.PI;
  return degrees < 0 ? degrees + 360 : degrees;
}

/** The place at `length` from another in a direction. */
export function goFrom(at: Point, degrees: number, length: number): Point {
  return finePoint(add(at, scale(along(degrees), length)));
}

export function roundToGrid(at: Point, grid: number): Point {
  return finePoint([Math.round(at[0] / grid) * grid, Math.round(at[1] / grid) * grid]);
}

export function boxAbout(at: Point, x: number, y: number): Box {
  return { minX: at[0] - x, minY: at[1] - y, maxX: at[0] + x, maxY: at[1] + y };
}

/** Metres along a unit direction at which an edge is met, below 0 behind; null when the line passes it by. */
export function meetEdge(at: Point, dx: number, dy: number, a: Point, b: Point): number | null {
  const sideA = dx * (a[1] - at[1]) - dy * (a[0] - at[0]);
  const sideB = dx * (b[1] - at[1]) - dy * (b[0] - at[0]);
  if (sideA > 0 === sideB > 0) return null;
  const part = sideA / (sideA - sideB);
  const x = a[0] + part * (b[0] - a[0]) - at[0];
  const y = a[1] + part * (b[1] - a[1]) - at[1];
  return x * dx + y * dy;
}
