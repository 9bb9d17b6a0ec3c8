/** Whether a path drawn corner by corner can go on to a place without meeting itself. */
import type { Point } from '../../core/floor/index.ts';
import { distance, SAME } from '../edits/plane.ts';

export interface PathFault {
  /** For the foot: what would be wrong, and what would be right. */
  readonly sentence: string;
  /** The edge that would be met, if one is. */
  readonly edge: readonly [Point, Point] | null;
}

/** Why `next` cannot be the corner after `corners`, or null. Corners are counted from 1. */
export function findPathFault(corners: readonly Point[], next: Point): PathFault | null {
  const last = corners.at(-1);
  if (last === undefined) return null;
  const same = corners.findIndex((corner) => distance(corner, next) < SAME);
  if (same === corners.length - 1)
    return { sentence: 'The corner is where the last one is. Move on from it.', edge: null };
  if (same >= 0) return { sentence: `The corner is where corner ${same + 1} is. Move it.`, edge: null };
  for (let i = 0; i + 1 < corners.length; i += 1) {
    const [a, b] = [corners[i] ?? last, corners[i + 1] ?? last];
    const isBefore = i + 2 === corners.length;
    if (isBefore ? isRunningBack(a, last, next) : areMeeting(a, b, last, next))
      return {
        sentence: `The outline crosses itself between corners ${i + 1} and ${corners.length}. Move the corner.`,
        edge: [a, b],
      };
  }
  return null;
}

/** Twice the area of a–b–c, and exactly 0 when c lies within a micrometre of the line through a and b. */
function orient(a: Point, b: Point, c: Point): number {
  const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
  return Math.abs(area) <= 1e-6 * distance(a, b) ? 0 : area;
}

function isRunningBack(a: Point, b: Point, c: Point): boolean {
  return orient(a, b, c) === 0 && (a[0] - b[0]) * (c[0] - b[0]) + (a[1] - b[1]) * (c[1] - b[1]) > 0;
}

/** Whether two closed segments have a point in common. */
function areMeeting(a: Point, b: Point, c: Point, d: Point): boolean {
  if (Math.max(a[0], b[0]) < Math.min(c[0], d[0]) || Math.max(c[0], d[0]) < Math.min(a[0], b[0])) return false;
  if (Math.max(a[1], b[1]) < Math.min(c[1], d[1]) || Math.max(c[1], d[1]) < Math.min(a[1], b[1])) return false;
  return orient(a, b, c) * orient(a, b, d) <= 0 && orient(c, d, a) * orient(c, d, b) <= 0;
}
