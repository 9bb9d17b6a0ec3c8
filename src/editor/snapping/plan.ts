/** Small sums on places in plan, metres and degrees, that snapping and the tools share. */
import type { Point } from '../../core/floor/index.ts';
import type { Box } from '../../core/geometry/polygon.ts';

export function measureDistance(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** Degrees counter-clockwise from +x, 0 up to but not 360. */
export function measureDirection(from: Point, to: Point): number {
  const degrees = (Math.atan2(to[1] - from[1], to[0] - from[0]) * 180) / Math.PI;
  return degrees < 0 ? degrees + 360 : degrees;
}

/** The unit vector of a direction; quarter turns are exact, so that what is square to the axes has round coordinates. */
export function toUnit(degrees: number): Point {
  const angle = (degrees * Math.PI) / 180;
  const exact = degrees % 90 === 0;
  const clean = (value: number): number => (exact ? Math.round(value) : value) || 0;
  return [clean(Math.cos(angle)), clean(Math.sin(angle))];
}

/** The place at `length` from another in a direction. */
export function goFrom(at: Point, degrees: number, length: number): Point {
  const [x, y] = toUnit(degrees);
  return settle([at[0] + x * length, at[1] + y * length]);
}

/** Micrometres: rid of the noise of sums, and still on an oblique edge. */
export function settle(at: Point): Point {
  const round = (value: number): number => Math.round(value * 1e6) / 1e6 || 0;
  return [round(at[0]), round(at[1])];
}

export function roundToGrid(at: Point, grid: number): Point {
  return settle([Math.round(at[0] / grid) * grid, Math.round(at[1] / grid) * grid]);
}

export function boxAbout(at: Point, x: number, y: number): Box {
  return { minX: at[0] - x, minY: at[1] - y, maxX: at[0] + x, maxY: at[1] + y };
}

/** Turns a place about another, degrees counter-clockwise. */
export function turnAbout(at: Point, centre: Point, degrees: number): Point {
  const [c, s] = toUnit(degrees);
  const [x, y] = [at[0] - centre[0], at[1] - centre[1]];
  return settle([centre[0] + x * c - y * s, centre[1] + x * s + y * c]);
}
