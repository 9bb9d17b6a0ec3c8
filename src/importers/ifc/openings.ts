/** Doors, windows and bare openings: jambs on the middle line of the wall, its thickness, sill and head. */
import { computeBox, computeSegmentDistance, type PlanPoint, type PlanRing } from '../../core/geometry/polygon.ts';
import type { DrawnOpening } from '../storey.ts';
import { type Body, cornersOf, extentOf, footprintOf } from './bodies.ts';
import type { Frame } from './frame.ts';
import { hullOf, intersectRegions, type Region } from './regions.ts';
import type { Solid } from './shapes.ts';
import { numberOf } from './step-file.ts';
import { middleOf, type StoreyScope } from './storey-scope.ts';
import type { Thing } from './things.ts';

/** Walls thicker than this (metres) are none: the ray met something else. */
const MAX_THICKNESS = 1.5;
/** A floor file takes openings from this width on. */
const MIN_WIDTH = 0.1;
/** A bare opening lower or smaller than this is for pipes. */
const MIN_PASSAGE = { width: 0.4, height: 0.4 };
/** A hole that goes through less than this share of its wall is a niche. */
const MIN_DEPTH_SHARE = 0.8;
/** A leaf or pane is so many times longer than thick. */
const LONGER = 2.5;
/** Wall and leaf run one way when the cosine between them is above this. */
const ASKEW = 0.7;
/** A sill or threshold up to this is the floor. */
const THRESHOLD = 0.05;

/** A hole and what stands in it; either may be missing. */
export interface OpeningParts {
  readonly filling: Thing | undefined;
  readonly hole: Thing | undefined;
  /** The wall's whole outline, holes not taken out. */
  readonly wall: Solid | undefined;
  /** Outlines of other walls near, for doors that say no opening. */
  readonly walls: readonly Solid[];
  readonly unit: number;
}

/** Where an opening lies in its wall, in the world. */
interface Slot {
  readonly from: PlanPoint;
  readonly to: PlanPoint;
  readonly depth: number | null;
}

/** The opening as drawn, or undefined with the account told why. */
export function readOpening(scope: StoreyScope, parts: OpeningParts): DrawnOpening | undefined {
  const { filling, hole } = parts;
  const thing = filling ?? hole;
  if (thing === undefined) return undefined;
  const kind = filling === undefined ? 'passage' : filling.role === 'window' ? 'window' : 'door';
  const what = filling === undefined ? 'openings without doors or windows' : `${kind}s`;
  const label = thing.name || (filling === undefined ? '' : (filling.names[2] ?? ''));
  const place = { key: thing.key, name: label, at: null as null };
  const leaveOut = (reason: string, at: PlanPoint | undefined): undefined => {
    scope.account.note('left out', what, reason, { ...place, at: at === undefined ? null : scope.toPoint(at) });
    return undefined;
  };

  const bodies = hole !== undefined && hole.bodies.length > 0 ? hole.bodies : (filling?.bodies ?? []);
  const extent = extentOf(bodies) ?? statedExtent(filling, parts.unit);
  const stated = filling === undefined ? undefined : statedSlot(filling, parts.unit);
  if (extent === undefined || (bodies.length === 0 && stated === undefined)) {
    return leaveOut(thing.unplaced ?? 'It has no body and states no size.', undefined);
  }
  const outline = bodies.length > 0 ? outlineOf(bodies) : [];
  const middle =
    bodies.length > 0
      ? middleOf(outline.length > 0 ? outline : [{ outer: cornersOf(bodies), holes: [] }])
      : (stated as { middle: PlanPoint }).middle;
  const walls = parts.wall === undefined ? parts.walls : [parts.wall];
  const axis = axisOf(filling?.frame ?? hole?.frame);
  const lengthways = findLengthways(filling !== undefined && filling.bodies.length > 0 ? filling.bodies : bodies);
  const slot = findSlot(walls, bodies, outline, middle, lengthways ?? axis, stated, lengthways);
  if (slot === undefined) return leaveOut('It is too narrow, or lies in no wall and states no direction.', middle);
  const width = Math.hypot(slot.to[0] - slot.from[0], slot.to[1] - slot.from[1]);
  if (width < MIN_WIDTH) return leaveOut('It is less than 0.1 m wide.', middle);

  const base = scope.toHeight(extent.base);
  const head = scope.toHeight(extent.top);
  if (filling === undefined) {
    if (width < MIN_PASSAGE.width || head - base < MIN_PASSAGE.height)
      return leaveOut('Too small for people or sight: it is for pipes and ducts.', middle);
    if (slot.depth !== null && isNiche(bodies, slot))
      return leaveOut('It does not go through its wall: a niche.', middle);
  }
  if (head <= THRESHOLD) return leaveOut("It lies below the storey's floor.", middle);
  if (base >= scope.height) return leaveOut("It lies above the storey's ceiling.", middle);
  const isGuessed = parts.wall === undefined;
  if (isGuessed)
    scope.account.note(
      'guessed',
      what,
      slot.depth === null
        ? 'No wall is named for them and none stands there: their depth is open.'
        : 'No wall is named for them: the nearest was taken.',
      { ...place, at: scope.toPoint(middle) },
    );
  return {
    key: thing.key,
    kind,
    name: label,
    from: scope.toPoint(slot.from),
    to: scope.toPoint(slot.to),
    depth: slot.depth === null ? null : Math.round(slot.depth * 1e6) / 1e6,
    sill: base <= THRESHOLD ? 0 : base,
    head,
    standing: isGuessed ? 'guessed' : 'read',
  };
}

/** The plan of bodies; that of thin upright faces is nothing, so their corners decide later. */
function outlineOf(bodies: readonly Body[]): readonly Region[] {
  return footprintOf(bodies);
}

/** The horizontal direction a door or window runs along by its placement. */
function axisOf(frame: Frame | undefined): PlanPoint | undefined {
  if (frame === undefined) return undefined;
  const length = Math.hypot(frame.x[0], frame.x[1]);
  return length > 0.5 * Math.hypot(...frame.x) ? [frame.x[0] / length, frame.x[1] / length] : undefined;
}

/** The direction of the longer side of bodies in plan, where one is clearly longer: that of a closed leaf or a pane. */
function findLengthways(bodies: readonly Body[]): PlanPoint | undefined {
  const hull = hullOf(cornersOf(bodies));
  let best: PlanPoint | undefined;
  let least = Number.POSITIVE_INFINITY;
  hull.slice(0, 64).forEach((a, i) => {
    const b = hull[(i + 1) % hull.length] as PlanPoint;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (length < 1e-6) return;
    const along: PlanPoint = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const [t0, t1] = spreadAlong(hull, a, along);
    const [n0, n1] = spreadAlong(hull, a, [-along[1], along[0]]);
    const [one, two] = [t1 - t0, n1 - n0];
    if (one * two >= least) return;
    least = one * two;
    best = one >= two * LONGER ? along : two >= one * LONGER ? [-along[1], along[0]] : undefined;
  });
  return best;
}

/** Overall width and height of a door or window, from its placement: its first jamb stands on the origin. */
function statedSlot(filling: Thing, unit: number): { middle: PlanPoint; width: number } | undefined {
  const width = (numberOf(filling.args[9]) ?? 0) * unit;
  const axis = axisOf(filling.frame);
  if (filling.frame === undefined || axis === undefined || !(width > 0)) return undefined;
  const [x, y] = filling.frame.o;
  return { middle: [x + (axis[0] * width) / 2, y + (axis[1] * width) / 2], width };
}

function statedExtent(filling: Thing | undefined, unit: number): { base: number; top: number } | undefined {
  const height = (numberOf(filling?.args[8]) ?? 0) * unit;
  if (filling?.frame === undefined || !(height > 0)) return undefined;
  return { base: filling.frame.o[2], top: filling.frame.o[2] + height };
}

function findSlot(
  walls: readonly Solid[],
  bodies: readonly Body[],
  outline: readonly Region[],
  middle: PlanPoint,
  axis: PlanPoint | undefined,
  stated: { width: number } | undefined,
  lengthways: PlanPoint | undefined,
): Slot | undefined {
  const corners = bodies.length > 0 ? cornersOf(bodies) : [];
  for (const wall of walls) {
    if (!isNear(wall, middle)) continue;
    const common = outline.length > 0 ? intersectRegions(outline, wall.regions) : [];
    const within = common.length > 0 ? middleOf(common) : middle;
    const faces = findFaces(wall.regions, within);
    if (faces === undefined) continue;
    const { along, at, depth } = faces;
    // The ends of a gap in a front are faces too, but across it.
    if (lengthways !== undefined && Math.abs(along[0] * lengthways[0] + along[1] * lengthways[1]) < ASKEW) continue;
    const spread = corners.length > 0 ? spreadAlong(corners, at, along) : undefined;
    const [low, high] = spread ?? [-(stated?.width ?? 0) / 2, (stated?.width ?? 0) / 2];
    if (high - low < 1e-6) continue;
    return { from: move(at, along, low), to: move(at, along, high), depth };
  }
  if (axis === undefined) return undefined;
  const [low, high] =
    corners.length > 0 ? spreadAlong(corners, middle, axis) : [-(stated?.width ?? 0) / 2, (stated?.width ?? 0) / 2];
  if (high - low < 1e-6) return undefined;
  return { from: move(middle, axis, low), to: move(middle, axis, high), depth: null };
}

/** Whether a place lies in the box around a wall, or a hole's length beside it. */
function isNear({ regions }: Solid, [x, y]: PlanPoint): boolean {
  const { minX, minY, maxX, maxY } = computeBox(regions.flatMap(({ outer }) => outer));
  return x > minX - MAX_THICKNESS && x < maxX + MAX_THICKNESS && y > minY - MAX_THICKNESS && y < maxY + MAX_THICKNESS;
}

const move = ([x, y]: PlanPoint, [u, v]: PlanPoint, by: number): PlanPoint => [x + u * by, y + v * by];

/** How far corners reach along a direction from a point, both ways. */
function spreadAlong(corners: readonly PlanPoint[], [x, y]: PlanPoint, [u, v]: PlanPoint): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const [a, b] of corners) {
    const t = (a - x) * u + (b - y) * v;
    low = Math.min(low, t);
    high = Math.max(high, t);
  }
  return [low, high];
}

/**
 * The two faces of a wall around a place: the direction of the nearest edge, the place moved to the middle between the faces, and
 * their distance. Undefined when the place is not in the wall.
 */
function findFaces(
  regions: readonly Region[],
  [x, y]: PlanPoint,
): { along: PlanPoint; at: PlanPoint; depth: number } | undefined {
  const rings = regions.flatMap(({ outer, holes }) => [outer, ...holes]);
  let along: PlanPoint | undefined;
  let nearest = MAX_THICKNESS;
  for (const ring of rings) {
    forEachEdge(ring, (a, b) => {
      const distance = computeSegmentDistance(a, b, x, y);
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (distance >= nearest || length < 1e-6) return;
      nearest = distance;
      along = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    });
  }
  if (along === undefined) return undefined;
  const [u, v] = along;
  let left = Number.POSITIVE_INFINITY;
  let right = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    forEachEdge(ring, (a, b) => {
      // Signed distances along the wall and across it.
      const [ta, tb] = [(a[0] - x) * u + (a[1] - y) * v, (b[0] - x) * u + (b[1] - y) * v];
      if (ta > 0 === tb > 0) return;
      const [na, nb] = [(a[1] - y) * u - (a[0] - x) * v, (b[1] - y) * u - (b[0] - x) * v];
      const n = na + ((nb - na) * ta) / (ta - tb);
      if (n >= 0) left = Math.min(left, n);
      if (n <= 0) right = Math.min(right, -n);
    });
  }
  const depth = left + right;
  if (!(depth > 1e-4 && depth <= MAX_THICKNESS)) return undefined;
  const shift = (left - right) / 2;
  return { along, at: [x - v * shift, y + u * shift], depth };
}

function forEachEdge(ring: PlanRing, take: (a: PlanPoint, b: PlanPoint) => void): void {
  let before = ring[ring.length - 1];
  for (const point of ring) {
    if (before !== undefined) take(before, point);
    before = point;
  }
}

/** Whether a hole ends inside its wall. */
function isNiche(bodies: readonly Body[], { from, to, depth }: Slot): boolean {
  if (depth === null) return false;
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const across: PlanPoint = [-(to[1] - from[1]) / length, (to[0] - from[0]) / length];
  const middle: PlanPoint = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  const [low, high] = spreadAlong(cornersOf(bodies), middle, across);
  const inside = Math.min(high, depth / 2) - Math.max(low, -depth / 2);
  return inside < depth * MIN_DEPTH_SHARE;
}
