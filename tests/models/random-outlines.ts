import type { XY } from './floor-draft.ts';
import type { Random } from './random.ts';

export interface Placement {
  /** Where the next outline goes. */
  readonly point: () => XY;
  /** How far it reaches from there, metres. */
  readonly size: () => number;
}

type Vertex = readonly [number, number];

/** Even-odd rule; a point on the edge may go either way. */
export function isInside(ring: readonly Vertex[], x: number, y: number): boolean {
  let inside = false;
  let [px, py] = ring[ring.length - 1] ?? [0, 0];
  for (const [qx, qy] of ring) {
    if (py > y !== qy > y && x < px + ((y - py) / (qy - py)) * (qx - px)) inside = !inside;
    [px, py] = [qx, qy];
  }
  return inside;
}

/** Distance from a point to the nearest edge of a ring, metres. */
export function ringClearance(ring: readonly Vertex[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  let [px, py] = ring[ring.length - 1] ?? [0, 0];
  for (const [qx, qy] of ring) {
    const [dx, dy] = [qx - px, qy - py];
    const t = Math.min(1, Math.max(0, ((x - px) * dx + (y - py) * dy) / (dx * dx + dy * dy)));
    least = Math.min(least, Math.hypot(px + t * dx - x, py + t * dy - y));
    [px, py] = [qx, qy];
  }
  return least;
}

/** Corners in units of the outline's size, all of simple polygons. */
const SHAPES: readonly (readonly Vertex[])[] = [
  // L
  [
    [-1, -1],
    [1, -1],
    [1, -0.4],
    [-0.3, -0.4],
    [-0.3, 1],
    [-1, 1],
  ],
  // U
  [
    [-1, -0.8],
    [1, -0.8],
    [1, 0.8],
    [0.7, 0.8],
    [0.7, -0.4],
    [-0.7, -0.4],
    [-0.7, 0.8],
    [-1, 0.8],
  ],
  // Arrowhead
  [
    [-0.7, -0.8],
    [1, 0],
    [-0.7, 0.8],
    [-0.2, 0],
  ],
];

/** An outline of any kind: thin or thick rectangle, triangle, star, L, U, arrowhead; turned, either winding, rarely round numbers. */
export function randomOutline(random: Random, place: Placement): XY[] {
  const [cx, cy] = place.point();
  const size = place.size();
  const turn = random.pick([0, 90, random.between(0, 360)]) * (Math.PI / 180);
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const put = ([u, v]: Vertex): XY => [cx + size * (u * c - v * s), cy + size * (u * s + v * c)];
  const kind = random.whole(0, 4);
  let ring: XY[];
  if (kind <= 1) {
    const half = Math.max(random.pick([0.02 / size, random.between(0.1, 0.9)]), 0.01 / size);
    ring = [put([-1, -half]), put([1, -half]), put([1, half]), put([-1, half])];
  } else if (kind === 2) {
    // Star-shaped about its centre: the angles grow, so no two edges cross.
    const corners = random.whole(3, 9);
    ring = Array.from({ length: corners }, (_, index) => {
      const angle = ((index + random.between(0.1, 0.6)) / corners) * 2 * Math.PI;
      const reach = random.between(0.35, 1);
      return put([reach * Math.cos(angle), reach * Math.sin(angle)]);
    });
  } else {
    ring = random.pick(SHAPES).map(put);
  }
  return random.chance(0.5) ? ring : ring.reverse();
}
