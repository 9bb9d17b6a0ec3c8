/** Small sums on guides. */
import type { Point } from '../../../core/floor/index.ts';
import type { Guide } from '../../../editor/tools/guide.ts';

/** Whether two lists of guides look the same. */
export function isSameGuides(a: readonly Guide[], b: readonly Guide[]): boolean {
  return a === b || (a.length === b.length && a.every((guide, i) => isEqual(guide, b[i])));
}

/** Guides are plain data. */
function isEqual(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => isEqual((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key]))
  );
}

/** Where two segments cross; null where they do not. */
export function crossSegments(a: Point, b: Point, c: Point, d: Point): Point | null {
  const [ux, uy] = [b[0] - a[0], b[1] - a[1]];
  const [vx, vy] = [d[0] - c[0], d[1] - c[1]];
  const turn = ux * vy - uy * vx;
  if (Math.abs(turn) < 1e-12) return null;
  const [wx, wy] = [c[0] - a[0], c[1] - a[1]];
  const s = (wx * vy - wy * vx) / turn;
  const t = (wx * uy - wy * ux) / turn;
  const isOn = (share: number): boolean => share >= -1e-9 && share <= 1 + 1e-9;
  return isOn(s) && isOn(t) ? [a[0] + s * ux, a[1] + s * uy] : null;
}
