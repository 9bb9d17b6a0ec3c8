/** Many places asked of one lens: what can stand in the way is gathered once. */
import type { Motion } from '../floor/index.ts';
import { findFirstBlocker } from './first-cut.ts';
import type { Lens } from './lenses.ts';
import { extentAt, MOTIONS, outerRadius, SLACK } from './range.ts';
import type { Scene } from './scene.ts';
import type { Surroundings } from './shadows.ts';
import { gather } from './shadows.ts';
import { isMasked } from './trace.ts';

export interface Watch {
  readonly lens: Lens;
  /** In range, unmasked, and the line is clear. The place must lie in some room. */
  sees(x: number, y: number, h: number, motion: Motion): boolean;
  /** The same for whichever motion reaches farthest. */
  seesAny(x: number, y: number, h: number): boolean;
}

/**
 * Readies a lens to be asked about places at or above height `lowest`, in or near its widest range there.
 * Valid until the surroundings are gathered for another lens.
 */
export function watchFrom(scene: Scene, surroundings: Surroundings, lens: Lens, lowest: number, doors: number): Watch {
  const { minor, tangential, radial } = lens.ranges;
  const reach = Math.max(...[minor, tangential, radial].map((range) => outerRadius(extentAt(range, lens.h, lowest))));
  const { x, y } = lens;
  if (!lens.removed && reach > 0) {
    gather(surroundings, scene, x, y, lens.h, reach, lowest, doors, x - reach, y - reach, x + reach, y + reach);
  }
  const turn = (lens.turn * Math.PI) / 180;
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  const inRange = (px: number, py: number, h: number, motion: Motion): boolean => {
    const extent = extentAt(lens.ranges[motion], lens.h, h);
    if (!extent) return false;
    const dx = px - x;
    const dy = py - y;
    if (extent.kind === 'round') return dx * dx + dy * dy <= (extent.radius + SLACK) ** 2;
    return (
      Math.abs(dx * c + dy * s) <= extent.length / 2 + SLACK && Math.abs(dy * c - dx * s) <= extent.width / 2 + SLACK
    );
  };
  const isOpen = (px: number, py: number, h: number): boolean =>
    !lens.removed && !isMasked(lens, { x: px, y: py, h }) && findFirstBlocker(surroundings, scene, px, py, h) < 0;
  return {
    lens,
    sees: (px, py, h, motion) => inRange(px, py, h, motion) && isOpen(px, py, h),
    seesAny: (px, py, h) => MOTIONS.some((motion) => inRange(px, py, h, motion)) && isOpen(px, py, h),
  };
}
