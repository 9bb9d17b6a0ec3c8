/**
 * How deep regions of the plan push into each other, without clipping them: only the question "deeper than so much?"
 * is answered, and it is answered on the edges.
 */
import { type BoxIndex, createBoxIndex } from './box-index.ts';
import { type Box, computeBox, computeRingDistance, isInRing, type PlanPoint, type PlanRing } from './polygon.ts';

/** A part of the plan: what an odd number of its rings hold, as an outline and its holes do. */
export interface Region {
  readonly rings: readonly PlanRing[];
  /** Around all rings. */
  readonly box: Box;
  /** Every edge: x, y of its start, then of its end. */
  readonly edges: Float64Array;
  readonly index: BoxIndex;
}

/** Edges and index are made when first asked for: most regions are told apart by their boxes. */
export function createRegion(rings: readonly PlanRing[]): Region {
  let edges: Float64Array | undefined;
  let index: BoxIndex | undefined;
  return {
    rings,
    box: computeBox(rings.length === 1 ? rings[0]! : rings.flat()),
    get edges() {
      edges ??= listEdges(rings);
      return edges;
    },
    get index() {
      index ??= indexEdges(this.edges);
      return index;
    },
  };
}

function listEdges(rings: readonly PlanRing[]): Float64Array {
  const edges = new Float64Array(rings.reduce((sum, ring) => sum + ring.length, 0) * 4);
  let at = 0;
  for (const ring of rings) {
    let a = ring[ring.length - 1]!;
    for (const b of ring) {
      edges.set([a[0], a[1], b[0], b[1]], at);
      at += 4;
      a = b;
    }
  }
  return edges;
}

function indexEdges(edges: Float64Array): BoxIndex {
  const boxes = Array.from({ length: edges.length / 4 }, (_, edge): Box => {
    const [ax, ay, bx, by] = [edges[edge * 4]!, edges[edge * 4 + 1]!, edges[edge * 4 + 2]!, edges[edge * 4 + 3]!];
    return { minX: Math.min(ax, bx), minY: Math.min(ay, by), maxX: Math.max(ax, bx), maxY: Math.max(ay, by) };
  });
  return createBoxIndex(boxes);
}

/** Whether a region holds a point, by the half-open even-odd rule over all its rings. */
export function isInRegion(region: Region, x: number, y: number): boolean {
  let inside = false;
  for (const ring of region.rings) if (isInRing(ring, x, y)) inside = !inside;
  return inside;
}

/**
 * A point that lies deeper than `depth` (metres) inside both of two regions, or undefined: they share no more than a
 * sliver, an edge or nothing. Exact for what pushes in from the side; regions thinner than twice the depth may pass.
 */
export function findCommonPlace(a: Region, b: Region, depth: number): PlanPoint | undefined {
  // Where no edge of one goes deep into the other, one holds the deep inside of the other whole, or nothing of it.
  for (const [x, y] of [findInnerPlace(a), findInnerPlace(b)]) {
    if (isDeepInside(a, x, y, depth) && isDeepInside(b, x, y, depth)) return [x, y];
  }
  return findEdgePlace(a, b, depth, true) ?? findEdgePlace(b, a, depth, true);
}

/** A point on the edges of `a` more than `depth` outside `b`, or undefined when `b` holds all of `a` but for a sliver. */
export function findPlaceOutside(a: Region, b: Region, depth: number): PlanPoint | undefined {
  return findEdgePlace(a, b, depth, false);
}

/**
 * A point on an edge of `a` that is farther than `depth` from every edge of `b`, on the asked side of them. Which side
 * the edges of `a` are on can only change where they come near an edge of `b`, so it is asked once between such places.
 */
function findEdgePlace(a: Region, b: Region, depth: number, isInside: boolean): PlanPoint | undefined {
  const { edges } = a;
  /** Whether the stretch in hand began on the edge before, and has been asked about. */
  let isAsked = false;
  for (let at = 0; at < edges.length; at += 4) {
    const x0 = edges[at]!;
    const y0 = edges[at + 1]!;
    const length = Math.hypot(edges[at + 2]! - x0, edges[at + 3]! - y0);
    if (at === 0 || x0 !== edges[at - 2] || y0 !== edges[at - 1]) isAsked = false;
    if (length === 0) continue;
    const dx = (edges[at + 2]! - x0) / length;
    const dy = (edges[at + 3]! - y0) / length;
    const near = listNearStretches(b, x0, y0, dx, dy, length, depth);
    let free = 0;
    for (let k = 0; k <= near.length; k++) {
      const end = Math.min(near[k]?.[0] ?? length, length);
      if (end - free > 1e-9 && !isAsked) {
        const x = x0 + ((free + end) / 2) * dx;
        const y = y0 + ((free + end) / 2) * dy;
        if (isInRegion(b, x, y) === isInside) return [x, y];
        isAsked = true;
      }
      const covered = near[k]?.[1];
      if (covered === undefined) continue;
      if (covered >= 0 && end < length) isAsked = false;
      free = Math.max(free, covered);
    }
  }
  return undefined;
}

/** The stretches of a line that lie within `depth` of an edge of `b`, in metres along it, by their beginnings. */
function listNearStretches(
  b: Region,
  x0: number,
  y0: number,
  dx: number,
  dy: number,
  length: number,
  depth: number,
): readonly (readonly [number, number])[] {
  const x1 = x0 + dx * length;
  const y1 = y0 + dy * length;
  const box: Box = {
    minX: Math.min(x0, x1) - depth,
    minY: Math.min(y0, y1) - depth,
    maxX: Math.max(x0, x1) + depth,
    maxY: Math.max(y0, y1) + depth,
  };
  const stretches: [number, number][] = [];
  b.index.query(box, (edge) => {
    const near = findNearStretch(x0, y0, dx, dy, b.edges, edge * 4, depth);
    if (near !== undefined && near[1] >= 0 && near[0] <= length) stretches.push(near);
    return false;
  });
  return stretches.sort((p, q) => p[0] - q[0]);
}

/**
 * The stretch of the line from (x0, y0) along (dx, dy), in metres, that lies within `distance` of an edge: what the
 * line cuts of a rectangle and two discs, which together are convex.
 */
function findNearStretch(
  x0: number,
  y0: number,
  dx: number,
  dy: number,
  edges: Float64Array,
  at: number,
  distance: number,
): [number, number] | undefined {
  const ax = edges[at]!;
  const ay = edges[at + 1]!;
  const bx = edges[at + 2]!;
  const by = edges[at + 3]!;
  let from = Infinity;
  let to = -Infinity;
  const add = (low: number, high: number): void => {
    if (low > high) return;
    from = Math.min(from, low);
    to = Math.max(to, high);
  };
  for (const [cx, cy] of [
    [ax, ay],
    [bx, by],
  ] as const) {
    const foot = (cx - x0) * dx + (cy - y0) * dy;
    const off = (cx - x0) * dy - (cy - y0) * dx;
    const half = distance * distance - off * off;
    if (half >= 0) add(foot - Math.sqrt(half), foot + Math.sqrt(half));
  }
  const length = Math.hypot(bx - ax, by - ay);
  if (length > 0) {
    const ux = (bx - ax) / length;
    const uy = (by - ay) / length;
    // In the edge's own axes: along it between 0 and its length, across it within the distance.
    const along = findStretchBetween((x0 - ax) * ux + (y0 - ay) * uy, dx * ux + dy * uy, 0, length);
    const across = findStretchBetween((y0 - ay) * ux - (x0 - ax) * uy, dy * ux - dx * uy, -distance, distance);
    add(Math.max(along[0], across[0]), Math.min(along[1], across[1]));
  }
  return from <= to ? [from, to] : undefined;
}

/** The t for which low <= start + t·rate <= high. */
function findStretchBetween(start: number, rate: number, low: number, high: number): [number, number] {
  if (Math.abs(rate) < 1e-15) return start >= low && start <= high ? [-Infinity, Infinity] : [Infinity, -Infinity];
  const a = (low - start) / rate;
  const b = (high - start) / rate;
  return a < b ? [a, b] : [b, a];
}

function isDeepInside(region: Region, x: number, y: number, depth: number): boolean {
  return isInRegion(region, x, y) && region.rings.every((ring) => computeRingDistance(ring, x, y) > depth);
}

const innerPlaces = new WeakMap<Region, PlanPoint>();

/** A point well inside a region: of a few level lines through its widest gaps between corners, the roomiest middle. */
function findInnerPlace(region: Region): PlanPoint {
  const known = innerPlaces.get(region);
  if (known !== undefined) return known;
  const levels = [...new Set(region.rings.flat().map(([, y]) => y))].sort((p, q) => p - q);
  const gaps = levels.slice(1).map((high, i) => ({ low: levels[i]!, high }));
  gaps.sort((p, q) => q.high - q.low - (p.high - p.low));
  let best: PlanPoint = region.rings[0]?.[0] ?? [0, 0];
  let room = -1;
  for (const { low, high } of gaps.slice(0, 8)) {
    const y = (low + high) / 2;
    const [from, to] = findWidestStretch(region, y);
    const x = (from + to) / 2;
    const clearance = Math.min(...region.rings.map((ring) => computeRingDistance(ring, x, y)));
    if (clearance <= room) continue;
    room = clearance;
    best = [x, y];
  }
  innerPlaces.set(region, best);
  return best;
}

/** The widest stretch in x that a region holds at a height between its corners. */
function findWidestStretch({ edges }: Region, y: number): readonly [number, number] {
  const cuts: number[] = [];
  for (let at = 0; at < edges.length; at += 4) {
    const [ax, ay, bx, by] = [edges[at]!, edges[at + 1]!, edges[at + 2]!, edges[at + 3]!];
    if (ay > y !== by > y) cuts.push(ax + ((bx - ax) * (y - ay)) / (by - ay));
  }
  cuts.sort((p, q) => p - q);
  let widest: readonly [number, number] = [0, 0];
  for (let i = 0; i + 1 < cuts.length; i += 2) {
    if (cuts[i + 1]! - cuts[i]! > widest[1] - widest[0]) widest = [cuts[i]!, cuts[i + 1]!];
  }
  return widest;
}
