/** Outlines with holes in plan: cleaning, joining, cutting. Metres; outer rings counter-clockwise, holes clockwise. */
import { Clipper, ClipType, EndType, FillRule, JoinType, type Path64, type PolyPath64, PolyTree64 } from 'clipper2-ts';
import { computeBox, computeSignedArea, isInRing, type PlanPoint, type PlanRing } from '../../core/geometry/polygon.ts';
import { findCrossing } from '../../core/geometry/simple-ring.ts';

export interface Region {
  readonly outer: PlanRing;
  readonly holes: readonly PlanRing[];
}

/** Corners nearer than this are one: a floor file wants at least 1 mm. */
const LEAST_GAP = 0.0015;
/** A corner that stands out less than this from the line between its neighbours is none. */
const LEAST_BULGE = 0.0002;
/** What a floor file still calls an outline. */
const LEAST_AREA = 0.0011;
/** Clipping works in whole numbers of a micrometre, from a corner of what is clipped. */
const SCALE = 1e6;
/** Unions of more paths than this are done in parts, so that they do not all cross at once. */
const BATCH = 400;

export function areaOf({ outer, holes }: Region): number {
  return holes.reduce((sum, hole) => sum - Math.abs(computeSignedArea(hole)), Math.abs(computeSignedArea(outer)));
}

export function isInRegion({ outer, holes }: Region, x: number, y: number): boolean {
  return isInRing(outer, x, y) && !holes.some((hole) => isInRing(hole, x, y));
}

/** Without corners that lie together or on a straight line, counter-clockwise; undefined when nothing is left. */
function cleanRing(ring: PlanRing): PlanRing | undefined {
  let points: PlanPoint[] = [];
  for (const point of ring) {
    const last = points[points.length - 1];
    if (!Number.isFinite(point[0]) || !Number.isFinite(point[1])) return undefined;
    if (last === undefined || Math.hypot(point[0] - last[0], point[1] - last[1]) >= LEAST_GAP) points.push(point);
  }
  const first = points[0];
  while (points.length > 1 && first !== undefined) {
    const last = points[points.length - 1] as PlanPoint;
    if (Math.hypot(first[0] - last[0], first[1] - last[1]) >= LEAST_GAP) break;
    points.pop();
  }
  for (let before = -1; before !== points.length && points.length > 2; ) {
    before = points.length;
    points = dropStraight(points);
  }
  if (points.length < 3) return undefined;
  const area = computeSignedArea(points);
  if (Math.abs(area) < LEAST_AREA) return undefined;
  return area < 0 ? points.reverse() : points;
}

function dropStraight(points: readonly PlanPoint[]): PlanPoint[] {
  const kept: PlanPoint[] = [];
  const count = points.length;
  for (let i = 0; i < count; i++) {
    const before = kept[kept.length - 1] ?? (points[count - 1] as PlanPoint);
    const here = points[i] as PlanPoint;
    const after = points[(i + 1) % count] as PlanPoint;
    const length = Math.hypot(after[0] - before[0], after[1] - before[1]);
    const twice = (here[0] - before[0]) * (after[1] - before[1]) - (here[1] - before[1]) * (after[0] - before[0]);
    const bulge = length > 0 ? Math.abs(twice) / length : Number.POSITIVE_INFINITY;
    // A spike that runs out and back over itself has no width either.
    if (length < LEAST_GAP || bulge < LEAST_BULGE) continue;
    kept.push(here);
  }
  return kept;
}

/**
 * A region that a floor file takes: rings simple, corners apart, holes inside. What crosses itself is joined anew, so one
 * outline may become several.
 */
export function cleanRegions(regions: readonly Region[]): Region[] {
  return regions.flatMap((region) => {
    const cleaned = tidy(region);
    if (cleaned === undefined) return [];
    if (isSound(cleaned)) return [cleaned];
    return unite([cleaned])
      .flatMap((part) => tidy(part) ?? [])
      .filter(isSound);
  });
}

function tidy({ outer, holes }: Region): Region | undefined {
  const ring = cleanRing(outer);
  if (ring === undefined) return undefined;
  const inner = holes.map(cleanRing).filter((hole) => hole !== undefined);
  return { outer: ring, holes: inner.map((hole) => [...hole].reverse()) };
}

function isSound({ outer, holes }: Region): boolean {
  return findCrossing(outer) === undefined && holes.every((hole) => findCrossing(hole) === undefined);
}

/** All regions as one, by clipping; parts that touch become one. */
export function unite(regions: readonly Region[]): Region[] {
  return combine(ClipType.Union, regions, []);
}

export function subtractRegions(from: readonly Region[], what: readonly Region[]): Region[] {
  return what.length === 0 ? [...from] : combine(ClipType.Difference, from, what);
}

export function intersectRegions(a: readonly Region[], b: readonly Region[]): Region[] {
  return combine(ClipType.Intersection, a, b);
}

/** Grown (or shrunk) to all sides by a distance in metres, corners mitred. */
export function growRegions(regions: readonly Region[], by: number): Region[] {
  const origin = originOf(regions);
  if (origin === undefined) return [];
  const grown = Clipper.inflatePaths(toPaths(regions, origin), by * SCALE, JoinType.Miter, EndType.Polygon, 4);
  return fromTree(runClip(ClipType.Union, grown, []), origin);
}

/** Rings that lie in one another become outlines and their holes in turn. */
export function evenOdd(rings: readonly PlanRing[]): Region[] {
  const regions = rings.map((outer) => ({ outer, holes: [] }));
  const origin = originOf(regions);
  if (origin === undefined) return [];
  const tree = new PolyTree64();
  Clipper.booleanOpWithPolyTree(ClipType.Union, toPaths(regions, origin), [], tree, FillRule.EvenOdd);
  return fromTree(tree, origin);
}

function combine(clip: ClipType, subjects: readonly Region[], others: readonly Region[]): Region[] {
  const origin = originOf(subjects);
  if (origin === undefined) return [];
  let paths = toPaths(subjects, origin);
  while (paths.length > BATCH) {
    const joined: Path64[] = [];
    for (let from = 0; from < paths.length; from += BATCH) {
      joined.push(...Clipper.union(paths.slice(from, from + BATCH), FillRule.NonZero));
    }
    if (joined.length > paths.length * 0.7) break;
    paths = joined;
  }
  return fromTree(runClip(clip, paths, toPaths(others, origin)), origin);
}

function runClip(clip: ClipType, subjects: Path64[], others: Path64[]): PolyTree64 {
  const tree = new PolyTree64();
  Clipper.booleanOpWithPolyTree(clip, subjects, others, tree, FillRule.NonZero);
  return tree;
}

function originOf(regions: readonly Region[]): PlanPoint | undefined {
  let origin: [number, number] | undefined;
  for (const { outer } of regions) {
    const { minX, minY } = computeBox(outer);
    if (!Number.isFinite(minX)) continue;
    origin = origin === undefined ? [minX, minY] : [Math.min(origin[0], minX), Math.min(origin[1], minY)];
  }
  return origin;
}

function toPaths(regions: readonly Region[], [ox, oy]: PlanPoint): Path64[] {
  const paths: Path64[] = [];
  const add = (ring: PlanRing, isHole: boolean): void => {
    const path = ring.map(([x, y]) => ({ x: Math.round((x - ox) * SCALE), y: Math.round((y - oy) * SCALE) }));
    if (!path.every(({ x, y }) => Math.abs(x) < 1e14 && Math.abs(y) < 1e14)) return;
    if (computeSignedArea(ring) > 0 === isHole) path.reverse();
    paths.push(path as Path64);
  };
  for (const { outer, holes } of regions) {
    add(outer, false);
    for (const hole of holes) add(hole, true);
  }
  return paths;
}

function fromTree(tree: PolyTree64, [ox, oy]: PlanPoint): Region[] {
  const regions: Region[] = [];
  const toRing = (path: Path64 | null): PlanRing => (path ?? []).map(({ x, y }) => [x / SCALE + ox, y / SCALE + oy]);
  const walk = (node: PolyPath64): void => {
    const outer = toRing(node.poly);
    const holes: PlanRing[] = [];
    for (let i = 0; i < node.count; i++) {
      const hole = node.child(i);
      holes.push(toRing(hole.poly));
      for (let j = 0; j < hole.count; j++) walk(hole.child(j));
    }
    regions.push({ outer, holes });
  };
  for (let i = 0; i < tree.count; i++) walk(tree.child(i));
  return regions;
}

/** Pieces keep holes from this size on, m²; smaller ones are gaps between boards and legs. */
const LEAST_HOLE = 0.25;
/** Gaps narrower than twice this (metres) close. */
const CLOSING = 0.015;
/** Corners of pieces may move this far, metres. */
const SIMPLER = 0.002;
/** Outlines with this many corners are drawn, not made of faces. */
const FEW_CORNERS = 24;

/** Outlines of things made of many boards and faces, without gaps and with few corners. What is simple stays exact. */
export function settleOutline(regions: readonly Region[]): Region[] {
  const isSimple = regions.every(({ outer, holes }) => holes.length === 0 && outer.length <= FEW_CORNERS);
  if (isSimple && regions.length === 1) return [...regions];
  const closed = growRegions(growRegions(regions, CLOSING), -CLOSING);
  const filled = (closed.length > 0 ? closed : regions).map(({ outer, holes }) => ({
    outer: simplify(outer),
    holes: holes.filter((hole) => Math.abs(computeSignedArea(hole)) >= LEAST_HOLE).map(simplify),
  }));
  const cleaned = cleanRegions(filled);
  return cleaned.length > 0 ? cleaned : [...regions];
}

function simplify(ring: PlanRing): PlanRing {
  if (ring.length <= 4) return ring;
  const path = ring.map(([x, y]) => ({ x, y }));
  const simple = Clipper.simplifyPathD(path, SIMPLER, true).map(({ x, y }): PlanPoint => [x, y]);
  return simple.length >= 3 ? simple : ring;
}

/** Cuts regions with holes until no part has one: pieces and walls are outlines without holes. */
export function cutHoles(region: Region, depth = 0): PlanRing[] {
  const [hole] = region.holes;
  if (hole === undefined || depth > 12) return [region.outer];
  const box = computeBox(region.outer);
  const inner = computeBox(hole);
  const x = (inner.minX + inner.maxX) / 2;
  const [low, high] = [box.minY - 1, box.maxY + 1];
  const halves = [
    [box.minX - 1, x],
    [x, box.maxX + 1],
  ] as const;
  return halves.flatMap(([from, to]) => {
    const half: PlanRing = [
      [from, low],
      [to, low],
      [to, high],
      [from, high],
    ];
    const parts = cleanRegions(intersectRegions([region], [{ outer: half, holes: [] }]));
    return parts.flatMap((part) => cutHoles(part, depth + 1));
  });
}

/** The convex hull of points, counter-clockwise. */
export function hullOf(points: readonly PlanPoint[]): PlanRing {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly PlanPoint[]): PlanPoint[] => {
    const chain: PlanPoint[] = [];
    for (const point of list) {
      while (chain.length > 1) {
        const a = chain[chain.length - 2] as PlanPoint;
        const b = chain[chain.length - 1] as PlanPoint;
        if ((b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0]) > 0) break;
        chain.pop();
      }
      chain.push(point);
    }
    chain.pop();
    return chain;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}
