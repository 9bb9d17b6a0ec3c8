/** A mask drawn on a plane: a sector of a ring about the lens's foot. Local metres, radians. */

import type { PlaneName } from '../../../core/coverage/index.ts';
import { type Detector, type Floor, lensHeightOf, type Mask } from '../../../core/floor/index.ts';
import { outerRadius, rangeAt } from '../../../core/sight/index.ts';
import type { MaskHandle } from '../../../editor/store.ts';
import type { LocalFrame } from '../local-frame.ts';

export interface MaskShape {
  /** The foot of the lens. */
  readonly x: number;
  readonly y: number;
  /** The plane it is drawn on, and the lens above it. */
  readonly z: number;
  readonly lens: number;
  /** Azimuths in plan, counter-clockwise from +x; `to` lies up to a whole turn beyond `from`. */
  readonly from: number;
  readonly to: number;
  readonly inner: number;
  readonly outer: number;
  /** The outer arc stands for more: the mask goes on beyond what is drawn. */
  readonly open: boolean;
}

export interface MaskGrip {
  readonly part: MaskHandle['part'];
  readonly x: number;
  readonly y: number;
  /** The way it can be moved, radians. */
  readonly turn: number;
}

/** Less than this is never drawn as the outer radius, metres. */
const LEAST_OUTER = 1.2;

/** Plan radius at which a nadir angle (degrees) meets a plane `below` metres under the lens. */
export function radiusOfNadir(nadir: number, below: number): number {
  return nadir >= 90 ? Number.POSITIVE_INFINITY : below * Math.tan((nadir * Math.PI) / 180);
}

/** The nadir angle, degrees, at which a plan radius is seen on a plane `below` metres under the lens. */
export function nadirOfRadius(radius: number, below: number): number {
  return (Math.atan2(radius, below) * 180) / Math.PI;
}

/** The mask on the seated or walking plane, its outer arc cut where the detector's longest range there ends. */
export function shapeMask(
  floor: Floor,
  detector: Detector,
  mask: Mask,
  plane: PlaneName,
  frame: LocalFrame,
): MaskShape {
  const lens = lensHeightOf(detector, floor);
  const z = Math.min(plane === 'seated' ? floor.analysis.seatedPlane : floor.analysis.walkingPlane, lens - 0.05);
  const motion = plane === 'seated' ? 'minor' : 'tangential';
  const range = outerRadius(rangeAt(floor, detector, motion, z));
  const inner = radiusOfNadir(Math.min(mask.inner, 88), lens - z);
  const most = Math.max(LEAST_OUTER, range, inner + 0.6);
  const outer = Math.min(most, radiusOfNadir(mask.outer, lens - z));
  const span = mask.to - mask.from;
  const turn = span === 360 ? 360 : ((span % 360) + 360) % 360 || 360;
  const from = ((mask.from + detector.turn) * Math.PI) / 180;
  return {
    x: detector.at[0] - frame.x,
    y: detector.at[1] - frame.y,
    z,
    lens,
    from,
    to: from + (turn * Math.PI) / 180,
    inner,
    outer,
    open: outer === most,
  };
}

/** Where the handles of a mask are. */
export function listGrips(shape: MaskShape): MaskGrip[] {
  const { x, y, from, to, inner, outer } = shape;
  const at = (part: MaskGrip['part'], angle: number, radius: number): MaskGrip => ({
    part,
    x: x + radius * Math.cos(angle),
    y: y + radius * Math.sin(angle),
    turn: angle,
  });
  const middle = (from + to) / 2;
  return [
    at('from', from, outer),
    at('to', to, outer),
    // A mask that begins at the foot keeps its inner handle off the lens.
    at('inner', middle, Math.max(inner, 0.25)),
    at('outer', from + (to - from) * 0.25, outer),
    at('turn', middle, outer),
  ];
}

/** An arc about the foot, flat x, y, a corner every 3 degrees or finer. */
export function arcOf(shape: MaskShape, radius: number): number[] {
  const { x, y, from, to } = shape;
  const steps = Math.max(2, Math.ceil(((to - from) * 180) / Math.PI / 3));
  return Array.from({ length: steps + 1 }, (_, i) => from + ((to - from) * i) / steps).flatMap((angle) => [
    x + radius * Math.cos(angle),
    y + radius * Math.sin(angle),
  ]);
}
