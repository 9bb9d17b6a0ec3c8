import type { Point } from '../../core/floor/index.ts';
import type { Spot } from './svg.ts';

/** How the floor lies on the sheet: x to the right, y up, at 1:scale. */
export interface Frame {
  readonly scale: number;
  /** mm on the sheet for a metre on the floor. */
  readonly mmPerMetre: number;
  toSpot(at: Point): Spot;
  toFloor(spot: Spot): Point;
}

/** A frame that puts the floor's (left, top) at a spot of the sheet. */
export function createFrame(scale: number, left: number, top: number, spot: Spot): Frame {
  const mmPerMetre = 1000 / scale;
  return {
    scale,
    mmPerMetre,
    toSpot: ([x, y]) => ({ x: spot.x + (x - left) * mmPerMetre, y: spot.y + (top - y) * mmPerMetre }),
    toFloor: ({ x, y }) => [left + (x - spot.x) / mmPerMetre, top - (y - spot.y) / mmPerMetre],
  };
}
