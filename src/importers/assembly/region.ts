/** Areas of the plan put together and cut apart: a thin layer over Clipper2, in whole hundredths of a millimetre. */
import {
  booleanOpWithPolyTree,
  ClipType,
  difference,
  EndType,
  FillRule,
  inflatePaths,
  intersect,
  JoinType,
  type Paths64,
  type PolyPath64,
  PolyTree64,
  union,
} from 'clipper2-ts';
import { LIMITS, type Point, type Ring } from '../../core/floor/index.ts';
import { computeSignedArea } from '../../core/geometry/polygon.ts';

/** Steps in one metre. Whole numbers keep Clipper exact; 10 km are 1e9 steps, far below what a double holds exactly. */
const STEPS = 100_000;
const MITRE = 4;
const FARTHEST = 10 * LIMITS.coordinate;

/** An area: rings by the non-zero rule, outer ones counter-clockwise and holes clockwise. */
export type Area = Paths64;

/** One connected piece of an area. */
export interface Face {
  readonly outline: Ring;
  readonly holes: readonly Ring[];
}

/** A connected piece with what lies in its holes, and so on inwards. */
export interface NestedFace {
  readonly outline: Ring;
  readonly holes: readonly { readonly ring: Ring; readonly islands: readonly NestedFace[] }[];
}

/**
 * Every ring as a filled area, whatever its winding; self-crossings are resolved. Corners that are no places of a plan
 * are passed over: Clipper never comes back from a number that is not finite.
 */
export function areaOf(rings: readonly Ring[]): Area {
  const paths = rings
    .map((ring) => (ring.every(isPlace) ? ring : ring.filter(isPlace)))
    .filter((ring) => ring.length >= 3)
    .map((ring) => toPath(isForward(ring) ? ring : ring.toReversed()));
  return paths.length === 0 ? [] : union(paths, FillRule.NonZero);
}

/** The area of outlines less their holes. */
export function areaOfFace({ outline, holes }: Face): Area {
  const area = areaOf([outline]);
  return holes.length === 0 ? area : subtract(area, areaOf(holes));
}

export function unite(...areas: readonly Area[]): Area {
  return union(areas.flat(), FillRule.NonZero);
}

export function subtract(a: Area, b: Area): Area {
  return a.length === 0 || b.length === 0 ? a : difference(a, b, FillRule.NonZero);
}

export function common(a: Area, b: Area): Area {
  return a.length === 0 || b.length === 0 ? [] : intersect(a, b, FillRule.NonZero);
}

/** The area grown by so many metres to every side, shrunk below 0. Right angles stay right angles. */
export function grow(area: Area, by: number): Area {
  return area.length === 0 || by === 0 ? area : inflatePaths(area, by * STEPS, JoinType.Miter, EndType.Polygon, MITRE);
}

/** Lines as strips so many metres to either side, and as much longer at their ends. */
export function growLines(lines: readonly (readonly [Point, Point])[], by: number): Area {
  const places = lines.filter((line) => line.every(isPlace));
  if (places.length === 0) return [];
  const strips = inflatePaths(places.map(toPath), by * STEPS, JoinType.Miter, EndType.Square, MITRE);
  return union(strips, FillRule.NonZero);
}

/** Square metres. */
export function measureArea(area: Area): number {
  return area.reduce((sum, path) => sum + computeSignedArea(toRing(path)), 0);
}

/** The connected pieces of an area, the largest first. */
export function listFaces(area: Area): readonly Face[] {
  const faces: Face[] = [];
  const gather = (nested: readonly NestedFace[]): void => {
    for (const { outline, holes } of nested) {
      faces.push({ outline, holes: holes.map(({ ring }) => ring) });
      for (const { islands } of holes) gather(islands);
    }
  };
  gather(nestFaces(area));
  return faces.sort((a, b) => measureFace(b) - measureFace(a));
}

/** Square metres of a face, its holes taken off. */
export function measureFace({ outline, holes }: Face): number {
  return holes.reduce((sum, hole) => sum - Math.abs(computeSignedArea(hole)), Math.abs(computeSignedArea(outline)));
}

/** The pieces of an area with what lies in their holes. */
export function nestFaces(area: Area): readonly NestedFace[] {
  if (area.length === 0) return [];
  const tree = new PolyTree64();
  booleanOpWithPolyTree(ClipType.Union, area, null, tree, FillRule.NonZero);
  const read = (node: PolyPath64): NestedFace[] => {
    const faces: NestedFace[] = [];
    for (let i = 0; i < node.count; i++) {
      const outer = node.child(i);
      const holes = [];
      for (let k = 0; k < outer.count; k++) {
        const hole = outer.child(k);
        holes.push({ ring: toRing(hole.poly ?? []), islands: read(hole) });
      }
      faces.push({ outline: toRing(outer.poly ?? []), holes });
    }
    return faces;
  };
  return read(tree);
}

/** Finite, and within ten times the bounds of a floor. */
export function isPlace([x, y]: Point): boolean {
  return Math.abs(x) <= FARTHEST && Math.abs(y) <= FARTHEST;
}

function isForward(ring: Ring): boolean {
  return computeSignedArea(ring) > 0;
}

function toPath(points: readonly Point[]): { x: number; y: number }[] {
  return points.map(([x, y]) => ({ x: Math.round(x * STEPS), y: Math.round(y * STEPS) }));
}

function toRing(path: readonly { readonly x: number; readonly y: number }[]): Ring {
  return path.map(({ x, y }): Point => [x / STEPS, y / STEPS]);
}
