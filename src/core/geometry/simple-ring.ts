/** Whether an outline is a simple polygon: no two corners in one place, no edge meeting another but at their common corner. */
import type { PlanPoint, PlanRing } from './polygon.ts';

/** Two corners or two edges of a ring, by position; an edge has the position of the corner it starts from. */
export type RingPair = readonly [number, number];

/** Rings up to this many corners are compared edge by edge with edge; sorting costs more than it saves. */
const FEW = 12;

/**
 * Two corners of a ring nearer to each other than `distance` (metres), or undefined.
 * Near-linear: corners are sorted along a direction that no drawing is aligned with.
 */
export function findNearCorners(ring: PlanRing, distance: number): RingPair | undefined {
  const count = ring.length;
  if (count <= FEW) {
    for (let i = 0; i < count; i++) {
      const a = ring[i]!;
      for (let j = i + 1; j < count; j++) {
        const b = ring[j]!;
        // Most corners are apart along one axis already.
        if (b[0] - a[0] >= distance || a[0] - b[0] >= distance || b[1] - a[1] >= distance || a[1] - b[1] >= distance)
          continue;
        if (isNearer(a, b, distance)) return [i, j];
      }
    }
    return undefined;
  }
  const along = Float64Array.from(ring, ([x, y]) => x * 0.7986355100472928 + y * 0.6018150231520483);
  const order = Int32Array.from(ring, (_, i) => i).sort((a, b) => (along[a] as number) - (along[b] as number));
  for (let at = 0; at < count; at++) {
    const i = order[at] as number;
    for (let next = at + 1; next < count; next++) {
      const j = order[next] as number;
      if ((along[j] as number) - (along[i] as number) >= distance) break;
      if (isNearer(ring[i] as PlanPoint, ring[j] as PlanPoint, distance)) return i < j ? [i, j] : [j, i];
    }
  }
  return undefined;
}

function isNearer(a: PlanPoint, b: PlanPoint, distance: number): boolean {
  const dx = a[0] - b[0];
  const dy = a[1] - b[1];
  return dx * dx + dy * dy < distance * distance;
}

/**
 * Two edges of a ring that cross or touch although they are no neighbours, or two neighbours that run back over each
 * other; undefined for a simple polygon. Neighbouring corners must differ (see `findNearCorners`). Near-linear in the number of corners: a sweep in x (Shamos and Hoey 1976)
 * that keeps the edges under the sweep line in their order and compares neighbours only.
 */
export function findCrossing(ring: PlanRing): RingPair | undefined {
  if (ring.length > FEW) return findCrossingBySweep(ring);
  return isConvex(ring) ? undefined : findCrossingByPairs(ring);
}

/** Whether a ring turns one way at every corner, and once round in all: most outlines do, and such a one is simple. */
function isConvex(ring: PlanRing): boolean {
  const count = ring.length;
  let a = ring[count - 2]!;
  let b = ring[count - 1]!;
  let turn = 0;
  let reversals = 0;
  let way = Math.sign(b[0] - a[0]);
  for (let i = 0; i < count; i++) {
    const c = ring[i]!;
    const side = orient(a, b, c);
    if (side === 0 || (side > 0 ? -1 : 1) === turn) return false;
    turn = side > 0 ? 1 : -1;
    const next = Math.sign(c[0] - b[0]);
    if (next !== 0) {
      if (way !== 0 && next !== way) reversals++;
      way = next;
    }
    a = b;
    b = c;
  }
  return reversals <= 2;
}

/** The plain comparison of every edge with every other: what the sweep must agree with. */
export function findCrossingByPairs(ring: PlanRing): RingPair | undefined {
  for (let i = 0; i < ring.length; i++) {
    for (let j = i + 1; j < ring.length; j++) {
      if (areEdgesMeeting(ring, i, j)) return [i, j];
    }
  }
  return undefined;
}

function findCrossingBySweep(ring: PlanRing): RingPair | undefined {
  const count = ring.length;
  const corner = (i: number): PlanPoint => ring[i] as PlanPoint;
  const compare = (i: number, j: number): number => corner(i)[0] - corner(j)[0] || corner(i)[1] - corner(j)[1] || i - j;
  const order = Array.from(ring, (_, i) => i).sort(compare);
  /** Per edge, its first and its last corner in the order of the sweep. */
  const first = Int32Array.from(ring, (_, i) => (compare(i, (i + 1) % count) < 0 ? i : (i + 1) % count));
  const last = Int32Array.from(ring, (_, i) => (first[i] === i ? (i + 1) % count : i));
  const start = (edge: number): PlanPoint => corner(first[edge] as number);
  const end = (edge: number): PlanPoint => corner(last[edge] as number);

  /** Edges under the sweep line, lowest first. */
  const status: number[] = [];
  const meet = (a: number | undefined, b: number | undefined): RingPair | undefined => {
    if (a === undefined || b === undefined || a === b) return undefined;
    const pair: RingPair = a < b ? [a, b] : [b, a];
    return areEdgesMeeting(ring, pair[0], pair[1]) ? pair : undefined;
  };
  /** Where an edge that starts now goes into the status, or the pair that shows it cannot. */
  const findSlot = (edge: number): number | RingPair => {
    let low = 0;
    let high = status.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      const other = status[middle] as number;
      let side = orient(start(other), end(other), start(edge));
      if (side === 0) {
        // The corner lies on an edge under the sweep: both start there, or the outline touches itself.
        const pair = meet(other, edge);
        if (pair !== undefined) return pair;
        side = orient(start(other), end(other), end(edge));
      }
      if (side > 0) low = middle + 1;
      else high = middle;
    }
    return low;
  };

  for (const [at, i] of order.entries()) {
    // Corners in one place follow each other here: at the second, the edges of the first may have left the status.
    const before = order[at - 1];
    if (before !== undefined && corner(before)[0] === corner(i)[0] && corner(before)[1] === corner(i)[1])
      return before < i ? [before, i] : [i, before];
    const edges = [(i + count - 1) % count, i];
    for (const edge of edges) {
      if (last[edge] !== i) continue;
      const slot = status.indexOf(edge);
      status.splice(slot, 1);
      const pair = meet(status[slot - 1], status[slot]);
      if (pair !== undefined) return pair;
    }
    for (const edge of edges) {
      if (first[edge] !== i) continue;
      const slot = findSlot(edge);
      if (typeof slot !== 'number') return slot;
      const pair = meet(status[slot - 1], edge) ?? meet(edge, status[slot]);
      if (pair !== undefined) return pair;
      status.splice(slot, 0, edge);
    }
  }
  return undefined;
}

/** Whether edges i < j of a ring have a point in common that is not their shared corner. */
function areEdgesMeeting(ring: PlanRing, i: number, j: number): boolean {
  const count = ring.length;
  const a = ring[i] as PlanPoint;
  const b = ring[i + 1 === count ? 0 : i + 1] as PlanPoint;
  const c = ring[j] as PlanPoint;
  const d = ring[j + 1 === count ? 0 : j + 1] as PlanPoint;
  if (j === i + 1) return count > 2 && isRunningBack(a, b, d);
  if (i === 0 && j === count - 1) return isRunningBack(c, a, b);
  return areSegmentsMeeting(a, b, c, d);
}

/** Whether the path a–b–c turns round at b and runs back over itself. */
function isRunningBack(a: PlanPoint, b: PlanPoint, c: PlanPoint): boolean {
  return orient(a, b, c) === 0 && (a[0] - b[0]) * (c[0] - b[0]) + (a[1] - b[1]) * (c[1] - b[1]) > 0;
}

/** Whether two closed segments have a point in common. */
function areSegmentsMeeting(a: PlanPoint, b: PlanPoint, c: PlanPoint, d: PlanPoint): boolean {
  if (Math.max(a[0], b[0]) < Math.min(c[0], d[0]) || Math.max(c[0], d[0]) < Math.min(a[0], b[0])) return false;
  if (Math.max(a[1], b[1]) < Math.min(c[1], d[1]) || Math.max(c[1], d[1]) < Math.min(a[1], b[1])) return false;
  const abc = orient(a, b, c);
  const abd = orient(a, b, d);
  if ((abc > 0 && abd > 0) || (abc < 0 && abd < 0)) return false;
  const cda = orient(c, d, a);
  const cdb = orient(c, d, b);
  return !((cda > 0 && cdb > 0) || (cda < 0 && cdb < 0));
}

/**
 * Twice the area of a–b–c, above 0 when c lies left of a→b, and exactly 0 when it is below what rounding can tell.
 */
function orient(a: PlanPoint, b: PlanPoint, c: PlanPoint): number {
  const left = (b[0] - a[0]) * (c[1] - a[1]);
  const right = (b[1] - a[1]) * (c[0] - a[0]);
  const area = left - right;
  return Math.abs(area) <= (Math.abs(left) + Math.abs(right)) * 4e-16 ? 0 : area;
}
