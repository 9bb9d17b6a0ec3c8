/** Vectors and outlines in plan as edits need them: metres, degrees counter-clockwise from +x. */
import type { Point, Ring } from '../../core/floor/index.ts';
import type { Box } from '../../core/geometry/polygon.ts';

/** Two places nearer to each other than this are one: corners of an outline stand at least so far apart. */
export const SAME = 0.001;

/** Micrometres: fine enough that turning a piece all the way round leaves it as it was, without the noise of last bits. */
export function fine(value: number): number {
  return Math.round(value * 1e6) / 1e6 || 0;
}

export function finePoint([x, y]: Point): Point {
  return [fine(x), fine(y)];
}

export function add(a: Point, b: Point): Point {
  return [a[0] + b[0], a[1] + b[1]];
}

export function subtract(a: Point, b: Point): Point {
  return [a[0] - b[0], a[1] - b[1]];
}

export function scale(a: Point, by: number): Point {
  return [a[0] * by, a[1] * by];
}

/** `a` at 0, `b` at 1. */
export function between(a: Point, b: Point, part: number): Point {
  return [a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part];
}

export function dot(a: Point, b: Point): number {
  return a[0] * b[0] + a[1] * b[1];
}

/** Above 0 when `b` points to the left of `a`. */
export function cross(a: Point, b: Point): number {
  return a[0] * b[1] - a[1] * b[0];
}

export function distance(a: Point, b: Point): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** The unit vector from `a` to `b`; [1, 0] when they are one. */
export function unit(a: Point, b: Point): Point {
  const length = distance(a, b);
  return length > 0 ? [(b[0] - a[0]) / length, (b[1] - a[1]) / length] : [1, 0];
}

/** A vector turned a quarter to the left. */
export function left([x, y]: Point): Point {
  return [-y, x];
}

/** The unit vector of a direction. Quarter turns are exact. */
export function along(degrees: number): Point {
  const quarter = (((degrees / 90) % 4) + 4) % 4;
  const exact: Readonly<Record<number, Point>> = { 0: [1, 0], 1: [0, 1], 2: [-1, 0], 3: [0, -1] };
  const radians = (degrees * Math.PI) / 180;
  return exact[quarter] ?? [Math.cos(radians), Math.sin(radians)];
}

/** A point given in axes that stand at `origin`, turned so that +x points along `axis`, in plan. */
export function place(origin: Point, axis: Point, [u, v]: Point): Point {
  return [origin[0] + u * axis[0] - v * axis[1], origin[1] + u * axis[1] + v * axis[0]];
}

/** A point of the plan in axes that stand at `origin`, turned so that +x points along `axis`. */
export function locate(origin: Point, axis: Point, at: Point): Point {
  const away = subtract(at, origin);
  return [dot(away, axis), cross(axis, away)];
}

/** A corner of a ring, counted round the end. */
export function cornerOf(ring: Ring, index: number): Point {
  return ring[((index % ring.length) + ring.length) % ring.length] as Point;
}

/** The rectangle about a centre, its length along `axis`, counter-clockwise. */
export function rectangleAbout(centre: Point, axis: Point, length: number, width: number): Ring {
  const [u, v] = [length / 2, width / 2];
  const corners: readonly Point[] = [
    [-u, -v],
    [u, -v],
    [u, v],
    [-u, v],
  ];
  return corners.map((corner) => finePoint(place(centre, axis, corner)));
}

/** The rectangle between two opposite corners, counter-clockwise from the lower left. */
export function rectangleBetween(a: Point, b: Point): Ring {
  const [x0, x1] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])].map(fine) as [number, number];
  const [y0, y1] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])].map(fine) as [number, number];
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
}

/** The box around boxes; of none the box that holds nothing. */
export function joinBoxes(boxes: readonly Box[]): Box {
  return {
    minX: Math.min(...boxes.map(({ minX }) => minX)),
    minY: Math.min(...boxes.map(({ minY }) => minY)),
    maxX: Math.max(...boxes.map(({ maxX }) => maxX)),
    maxY: Math.max(...boxes.map(({ maxY }) => maxY)),
  };
}

export function middleOfBox({ minX, minY, maxX, maxY }: Box): Point {
  return [(minX + maxX) / 2, (minY + maxY) / 2];
}
