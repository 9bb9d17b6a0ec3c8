/**
 * The plain sight line: the reference that every faster answer must equal, and what probes read.
 * It reads room outlines, openings and pieces as written and shares no step with the fast fields.
 */
import type { BlockerId, Doors, Mask, Motion } from '../floor/index.ts';
import { findRoomAt } from '../floor/index.ts';
import { isInRing } from '../geometry/polygon.ts';
import type { Lens } from './lenses.ts';
import type { Prism } from './prisms.ts';
import { extentAt, SLACK } from './range.ts';
import type { Scene } from './scene.ts';
import type { Gap, WallEdge } from './walls.ts';
import { gapHolds, runsAlong } from './walls.ts';

/** A place that is looked for, metres above the floor. */
export interface Target {
  readonly x: number;
  readonly y: number;
  readonly h: number;
}

/** Why a detector misses a place: the first test that fails. */
export type Sight =
  | { readonly seen: true }
  | {
      readonly seen: false;
      readonly why: 'range' | 'masked';
      readonly by: null;
      /** Metres in plan by which a round range is too short; null where no nearer place would help. */
      readonly shortM: number | null;
    }
  | {
      readonly seen: false;
      readonly why: 'hidden';
      /** The piece met first from the lens; a wall is named by its room. */
      readonly by: BlockerId;
      /** Where the line is cut. */
      readonly at: readonly [number, number, number];
    };

const SEEN: Sight = { seen: true };

/** Nadir angles are read at the foot where plan distance is at most this, metres. */
const FOOT = 0.001;

/** Does the detector see the target for a motion? Tests range, mask, then the line, in this order. */
export function traceSight(scene: Scene, detectorIndex: number, target: Target, motion: Motion, doors: Doors): Sight {
  const lens = scene.lenses[detectorIndex]!;
  const short = missOfRange(scene, lens, target, motion);
  if (short !== 'in range') return { seen: false, why: 'range', by: null, shortM: short };
  if (isMasked(lens, target)) return { seen: false, why: 'masked', by: null, shortM: null };
  const cut = findCut(scene, lens, target, doors);
  if (!cut) return SEEN;
  const at = (a: number, b: number) => a + cut.t * (b - a);
  return {
    seen: false,
    why: 'hidden',
    by: scene.blockers[cut.blocker]!,
    at: [at(lens.x, target.x), at(lens.y, target.y), at(lens.h, target.h)],
  };
}

function missOfRange(scene: Scene, lens: Lens, target: Target, motion: Motion): 'in range' | number | null {
  if (lens.removed || target.h < 0 || !findRoomAt(scene.floor.rooms, [target.x, target.y])) return null;
  const extent = extentAt(lens.ranges[motion], lens.h, target.h);
  if (!extent) return null;
  const dx = target.x - lens.x;
  const dy = target.y - lens.y;
  if (extent.kind === 'round') {
    const over = Math.hypot(dx, dy) - extent.radius;
    return over <= SLACK ? 'in range' : over;
  }
  const turn = (lens.turn * Math.PI) / 180;
  const u = Math.abs(dx * Math.cos(turn) + dy * Math.sin(turn)) - extent.length / 2;
  const v = Math.abs(dy * Math.cos(turn) - dx * Math.sin(turn)) - extent.width / 2;
  if (u <= SLACK && v <= SLACK) return 'in range';
  return Math.hypot(Math.max(0, u), Math.max(0, v));
}

/** Is the target in one of the detector's masks? */
export function isMasked(lens: Lens, target: Target): boolean {
  if (lens.masks.length === 0) return false;
  const dx = target.x - lens.x;
  const dy = target.y - lens.y;
  const distance = Math.hypot(dx, dy);
  const nadir = (Math.atan2(distance, lens.h - target.h) * 180) / Math.PI;
  const azimuth = (Math.atan2(dy, dx) * 180) / Math.PI - lens.turn;
  return lens.masks.some(
    (mask) => nadir >= mask.inner && nadir <= mask.outer && (distance <= FOOT || isBetween(mask, azimuth)),
  );
}

/** Degrees a mask runs counter-clockwise from `from` to `to`: over 0, up to 360. */
export function spanOf(mask: Mask): number {
  const span = (((mask.to - mask.from) % 360) + 360) % 360;
  return span === 0 ? 360 : span;
}

function isBetween(mask: Mask, azimuth: number): boolean {
  const past = (((azimuth - mask.from) % 360) + 360) % 360;
  return past <= spanOf(mask);
}

interface Cut {
  /** 0 at the lens, 1 at the target. */
  readonly t: number;
  readonly blocker: number;
}

/** What the line from the lens to the target meets first. */
export function findCut(scene: Scene, lens: Lens, target: Target, doors: Doors): Cut | null {
  let first: Cut | null = null;
  const take = (t: number | null, blocker: number) => {
    if (t !== null && (!first || t < first.t)) first = { t, blocker };
  };
  for (const edge of scene.edges) take(crossWall(edge, scene.gaps, lens, target, doors), edge.room);
  for (const prism of scene.prisms) take(enterPrism(prism, lens, target), prism.blocker);
  return first;
}

function crossWall(edge: WallEdge, gaps: readonly Gap[], lens: Lens, target: Target, doors: Doors): number | null {
  const [ax, ay] = edge.a;
  const [bx, by] = edge.b;
  const dx = target.x - lens.x;
  const dy = target.y - lens.y;
  // The ends against the line, then the line's ends against the wall. A line through an end of the wall crosses both
  // edges that meet there, so none slips between; a line that only ends on the wall touches it and passes.
  const atA = dx * (ay - lens.y) - dy * (ax - lens.x);
  const atB = dx * (by - lens.y) - dy * (bx - lens.x);
  if ((atA > 0 && atB > 0) || (atA < 0 && atB < 0)) return null;
  const fromLens = (bx - ax) * (lens.y - ay) - (by - ay) * (lens.x - ax);
  const fromTarget = (bx - ax) * (target.y - ay) - (by - ay) * (target.x - ax);
  if (!((fromLens > 0 && fromTarget < 0) || (fromLens < 0 && fromTarget > 0))) return null;
  const t = fromLens / (fromLens - fromTarget);
  const x = lens.x + t * dx;
  const y = lens.y + t * dy;
  const z = lens.h + t * (target.h - lens.h);
  const passes = gaps.some(
    (gap) =>
      gap.open[doors] && z >= gap.sill - SLACK && z <= gap.head + SLACK && gapHolds(gap, x, y) && runsAlong(gap, edge),
  );
  return passes ? null : t;
}

/** Where the line enters the inside of the prism; null where it misses it or only touches a face, edge or corner. */
function enterPrism(prism: Prism, lens: Lens, target: Target): number | null {
  const drop = lens.h - target.h;
  if (prism.base >= lens.h) return null;
  const low = Math.max(0, (lens.h - prism.top) / drop);
  const high = Math.min(1, (lens.h - prism.base) / drop);
  if (high - low <= 1e-12) return null;
  const dx = target.x - lens.x;
  const dy = target.y - lens.y;
  const stops = [low, high];
  prism.outline.forEach(([ax, ay], i) => {
    const [bx, by] = prism.outline[(i + 1) % prism.outline.length]!;
    const ex = bx - ax;
    const ey = by - ay;
    const across = dx * ey - dy * ex;
    if (across === 0) return;
    const t = ((ax - lens.x) * ey - (ay - lens.y) * ex) / across;
    if (t > low && t < high) stops.push(t);
  });
  stops.sort((a, b) => a - b);
  // Half-open containment: a line along the seam of two pieces lies in exactly one of them.
  for (let s = 0; s + 1 < stops.length; s++) {
    if (stops[s + 1]! - stops[s]! <= 1e-12) continue;
    const middle = (stops[s]! + stops[s + 1]!) / 2;
    if (isInRing(prism.outline, lens.x + middle * dx, lens.y + middle * dy)) return stops[s]!;
  }
  return null;
}
