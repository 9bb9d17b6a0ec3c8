/** Walls as footprints, glass fronts as windows or glass partitions, columns and railings as pieces. */
import type { PlanPoint } from '../../core/geometry/polygon.ts';
import type { DrawnOpening, DrawnPiece, DrawnWall } from '../storey.ts';
import { sizeOf } from './furniture.ts';
import { cutHoles, growRegions, type Region, settleOutline } from './regions.ts';
import type { Solid } from './shapes.ts';
import { middleOf, placeOf, type StoreyScope } from './storey-scope.ts';
import type { Thing } from './things.ts';

/** Panes and posts nearer to each other than this (metres) are one front. */
const JOINT = 0.03;
/** A straight front is at least so many times longer than thick, and no thicker than this (metres). */
const STRAIGHT = { ratio: 3, thickest: 0.6 };
/** A railing that climbs more than this (metres) goes along stairs. */
const CLIMBING = 1.6;

/** A wall's outline, without holes, with its true base and top. */
export function toWalls(scope: StoreyScope, wall: Thing, solid: Solid): DrawnWall[] {
  const rings = solid.regions.flatMap((region) => cutHoles(region));
  return rings.map((ring, i) => ({
    kind: 'footprint',
    key: i === 0 ? wall.key : `${wall.key}/${i + 1}`,
    outline: scope.toRing(ring),
    base: scope.toHeight(solid.base),
    top: scope.toHeight(solid.top),
  }));
}

/** Panes and posts of a front joined into the outlines of the whole. */
export function joinFront(solid: Solid): Solid {
  if (solid.regions.length < 2) return solid;
  const joined = growRegions(growRegions(solid.regions, JOINT), -JOINT);
  return joined.length > 0 ? { ...solid, regions: joined } : solid;
}

export interface GlassFront {
  readonly pieces: readonly DrawnPiece[];
  readonly openings: readonly DrawnOpening[];
}

/**
 * A front of glass: a window from its base to its top where it stands between rooms or in the façade, a glass partition where
 * it stands in a room.
 */
export function toGlassFront(
  scope: StoreyScope,
  front: Thing,
  solid: Solid,
  isInRoom: (point: PlanPoint) => boolean,
): GlassFront {
  const pieces: DrawnPiece[] = [];
  const openings: DrawnOpening[] = [];
  const [base, top] = [scope.toHeight(solid.base), scope.toHeight(solid.top)];
  for (const region of solid.regions) {
    const key =
      pieces.length + openings.length === 0 ? front.key : `${front.key}/${pieces.length + openings.length + 1}`;
    const axis = isInRoom(middleOf([region])) ? undefined : findAxis(region);
    if (axis !== undefined) {
      openings.push({
        key,
        kind: 'window',
        name: front.name,
        from: scope.toPoint(axis.from),
        to: scope.toPoint(axis.to),
        depth: axis.depth,
        sill: Math.max(0, base),
        head: top,
        standing: 'read',
      });
      continue;
    }
    cutHoles(region).forEach((ring, i) => {
      pieces.push({
        key: i === 0 ? key : `${key}.${i + 1}`,
        kind: 'partition',
        name: front.name,
        outline: scope.toRing(ring),
        base: Math.max(0, base),
        top,
        glass: true,
        standing: 'read',
      });
    });
  }
  return { pieces, openings };
}

/** The middle line of a straight, thin outline, undefined for any other. */
function findAxis(region: Region): { from: PlanPoint; to: PlanPoint; depth: number } | undefined {
  const [length, width] = sizeOf([region]);
  if (width > STRAIGHT.thickest || length < width * STRAIGHT.ratio) return undefined;
  let longest = 0;
  let along: PlanPoint = [1, 0];
  region.outer.forEach(([x, y], i) => {
    const [a, b] = region.outer[(i + 1) % region.outer.length] as PlanPoint;
    const size = Math.hypot(a - x, b - y);
    if (size <= longest) return;
    longest = size;
    along = [(a - x) / size, (b - y) / size];
  });
  const [u, v] = along;
  const ts = region.outer.map(([x, y]) => x * u + y * v);
  const ns = region.outer.map(([x, y]) => y * u - x * v);
  const n = (Math.min(...ns) + Math.max(...ns)) / 2;
  const depth = Math.max(...ns) - Math.min(...ns);
  if (depth > STRAIGHT.thickest) return undefined;
  const at = (t: number): PlanPoint => [t * u - n * v, t * v + n * u];
  return { from: at(Math.min(...ts)), to: at(Math.max(...ts)), depth: Math.max(0.01, depth) };
}

/** A column, a plate or a railing as an extruded outline; climbing railings are left out. */
export function toStandingPiece(
  scope: StoreyScope,
  thing: Thing,
  solid: Solid,
  kind: DrawnPiece['kind'],
  isGlass: boolean,
): DrawnPiece[] {
  const [base, top] = [scope.toHeight(solid.base), scope.toHeight(solid.top)];
  if (thing.role === 'railing' && top - base > CLIMBING) {
    scope.account.note('left out', 'railings', 'They climb along stairs or ramps.', placeOf(scope, thing, solid));
    return [];
  }
  const rings = settleOutline(solid.regions).flatMap((region) => cutHoles(region));
  return rings.map((ring, i) => ({
    key: i === 0 ? thing.key : `${thing.key}/${i + 1}`,
    kind,
    name: thing.name,
    outline: scope.toRing(ring),
    base: Math.max(0, base),
    top,
    glass: isGlass,
    standing: 'read',
  }));
}
