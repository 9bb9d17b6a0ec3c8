/** The angles of an outline being drawn: a small square where it is right, an arc with its degrees at the last other one. */
import type { Point, Ring } from '../../../core/floor/index.ts';

export interface DrawnAngle {
  readonly at: Point;
  readonly lines: readonly (readonly [Point, Point])[];
  /** Degrees, written along `towards` from the corner; null: a right angle says itself. */
  readonly text: string | null;
  /** Unit vector into the angle. */
  readonly towards: Point;
}

/** Degrees within which an angle is right. */
const RIGHT = 0.01;
/** Px: side of the square, radius of the arc. */
const SQUARE = 8;
const ARC = 16;
const ARC_STEPS = 10;
/** An edge shorter than this has no room for a sign, px. */
const LEAST = 14;

/** @param metre metres of a px */
export function drawAngles(ring: Ring, isClosed: boolean, metre: number): DrawnAngle[] {
  const count = ring.length;
  if (count < 3) return [];
  const first = isClosed ? 0 : 1;
  const last = isClosed ? count - 1 : count - 2;
  const found: DrawnAngle[] = [];
  for (let i = first; i <= last; i++) {
    const at = ring[i] as Point;
    const before = ring[(i + count - 1) % count] as Point;
    const after = ring[(i + 1) % count] as Point;
    const angle = drawAngle(before, at, after, metre, i === last);
    if (angle !== null) found.push(angle);
  }
  return found;
}

function drawAngle(before: Point, at: Point, after: Point, metre: number, isLast: boolean): DrawnAngle | null {
  const a = leave(at, before);
  const b = leave(at, after);
  if (a === null || b === null || Math.min(a.length, b.length) < LEAST * metre) return null;
  const degrees = (Math.acos(Math.min(1, Math.max(-1, a.x * b.x + a.y * b.y))) * 180) / Math.PI;
  if (degrees < RIGHT || degrees > 180 - RIGHT) return null;
  const put = (u: number, v: number): Point => [at[0] + u * a.x + v * b.x, at[1] + u * a.y + v * b.y];
  const [mx, my] = [a.x + b.x, a.y + b.y];
  const middle = Math.hypot(mx, my) || 1;
  const towards: Point = [mx / middle, my / middle];
  if (Math.abs(degrees - 90) <= RIGHT) {
    const side = SQUARE * metre;
    const lines = [
      [put(side, 0), put(side, side)],
      [put(side, side), put(0, side)],
    ] as const;
    return { at, lines, text: null, towards };
  }
  if (!isLast) return null;
  const start = Math.atan2(a.y, a.x);
  const sweep = (((a.x * b.y - a.y * b.x >= 0 ? 1 : -1) * degrees) / 180) * Math.PI;
  const arc = Array.from({ length: ARC_STEPS + 1 }, (_, k): Point => {
    const angle = start + (sweep * k) / ARC_STEPS;
    return [at[0] + ARC * metre * Math.cos(angle), at[1] + ARC * metre * Math.sin(angle)];
  });
  const lines = arc.slice(1).map((to, k) => [arc[k] as Point, to] as const);
  return { at, lines, text: `${Number(degrees.toFixed(1))}°`, towards };
}

function leave(from: Point, to: Point): { readonly x: number; readonly y: number; readonly length: number } | null {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return length < 1e-9 ? null : { x: (to[0] - from[0]) / length, y: (to[1] - from[1]) / length, length };
}
