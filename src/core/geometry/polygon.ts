/**
 * Simple polygons in plan: rings of [x, y] in metres, either winding, the last point not repeated.
 * Nothing here changes its input.
 */

/** A place in plan, metres. */
export type PlanPoint = readonly [number, number];
/** A closed outline without its repeated end. */
export type PlanRing = readonly PlanPoint[];

/** An axis-parallel box, metres. */
export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** The box around a ring; of an empty ring the box that holds nothing (min Infinity, max −Infinity). */
export function computeBox(ring: PlanRing): Box {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const [x, y] of ring) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

/** Do two boxes share a point? */
export function overlaps(a: Box, b: Box): boolean {
  return a.minX <= b.maxX && a.maxX >= b.minX && a.minY <= b.maxY && a.maxY >= b.minY;
}

/**
 * Area in m², above 0 for a counter-clockwise ring. Measured from the first point, so that a small outline far from
 * the origin keeps its digits.
 */
export function computeSignedArea(ring: PlanRing): number {
  const first = ring[0];
  if (first === undefined) return 0;
  const [ox, oy] = first;
  let twice = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const a = ring[i] as PlanPoint;
    const b = ring[i + 1] as PlanPoint;
    twice += (a[0] - ox) * (b[1] - oy) - (b[0] - ox) * (a[1] - oy);
  }
  return twice / 2;
}

/** The box with so many metres more on every side. */
export function growBox({ minX, minY, maxX, maxY }: Box, by: number): Box {
  return { minX: minX - by, minY: minY - by, maxX: maxX + by, maxY: maxY + by };
}

/**
 * Whether a ring holds a point, by the half-open even-odd rule: of two outlines that share an edge exactly one holds a
 * point on it. Every edge is read from its lower end, so both neighbours round alike.
 */
export function isInRing(ring: PlanRing, x: number, y: number): boolean {
  let inside = false;
  let previous = ring[ring.length - 1];
  if (previous === undefined) return false;
  for (const point of ring) {
    if (point[1] > y !== previous[1] > y) {
      const low = point[1] < previous[1] ? point : previous;
      const high = low === point ? previous : point;
      if (x < low[0] + ((high[0] - low[0]) * (y - low[1])) / (high[1] - low[1])) inside = !inside;
    }
    previous = point;
  }
  return inside;
}

/** Metres in plan from a point to the segment a–b. */
export function computeSegmentDistance(a: PlanPoint, b: PlanPoint, x: number, y: number): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const lengthSquared = dx * dx + dy * dy;
  const along = lengthSquared > 0 ? ((x - a[0]) * dx + (y - a[1]) * dy) / lengthSquared : 0;
  const t = along < 0 ? 0 : along > 1 ? 1 : along;
  return Math.hypot(a[0] + t * dx - x, a[1] + t * dy - y);
}

/** Metres in plan from a point to the nearest edge of a ring, inside or outside. Infinity for an empty ring. */
export function computeRingDistance(ring: PlanRing, x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  let previous = ring[ring.length - 1];
  if (previous === undefined) return least;
  for (const point of ring) {
    least = Math.min(least, computeSegmentDistance(previous, point, x, y));
    previous = point;
  }
  return least;
}
