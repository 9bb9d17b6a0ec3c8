/** Outlines of ranges in plan, and boxes round things. Local metres. */
import type { Floor } from '../../../core/floor/index.ts';
import type { Extent } from '../../../core/sight/index.ts';
import { findThing } from '../../../editor/things.ts';
import type { LocalFrame } from '../local-frame.ts';
import { localOutline } from './prisms.ts';

const ROUND_STEPS = 144;

/** The outline of a range about a foot, flat x, y, counter-clockwise; `turn` in degrees turns rectangles. */
export function outlineExtent(extent: Extent, x: number, y: number, turn: number): number[] {
  if (extent.kind === 'round') {
    const xy: number[] = [];
    for (let i = 0; i < ROUND_STEPS; i++) {
      const angle = (i / ROUND_STEPS) * 2 * Math.PI;
      xy.push(x + extent.radius * Math.cos(angle), y + extent.radius * Math.sin(angle));
    }
    return xy;
  }
  const c = Math.cos((turn * Math.PI) / 180);
  const s = Math.sin((turn * Math.PI) / 180);
  return [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].flatMap(([u = 0, v = 0]) => {
    const along = (u * extent.length) / 2;
    const across = (v * extent.width) / 2;
    return [x + c * along - s * across, y + s * along + c * across];
  });
}

/** A rectangle turned in plan, standing from base to top. */
export interface TurnedBox {
  readonly x: number;
  readonly y: number;
  /** Unit vector along its first half-size. */
  readonly ux: number;
  readonly uy: number;
  readonly halfU: number;
  readonly halfV: number;
  readonly base: number;
  readonly top: number;
}

/** The box round a thing of the floor; null for a group or an unknown id. Detectors have none: their sign has a size in px. */
export function boxOf(floor: Floor, id: string, frame: LocalFrame): TurnedBox | null {
  const thing = findThing(floor, id);
  if (thing === undefined) return null;
  switch (thing.kind) {
    case 'furniture':
      return boxOutline(localOutline(thing.value.outline, frame), thing.value.base, thing.value.top);
    case 'room':
    case 'zone':
      return boxOutline(localOutline(thing.value.outline, frame), 0, 0);
    case 'luminaire': {
      const { at, size, turn, base, top } = thing.value;
      const angle = (turn * Math.PI) / 180;
      return {
        x: at[0] - frame.x,
        y: at[1] - frame.y,
        ux: Math.cos(angle),
        uy: Math.sin(angle),
        halfU: size[0] / 2,
        halfV: size[1] / 2,
        base,
        top,
      };
    }
    case 'opening': {
      const { from, to, depth } = thing.value;
      const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
      return {
        x: (from[0] + to[0]) / 2 - frame.x,
        y: (from[1] + to[1]) / 2 - frame.y,
        ux: (to[0] - from[0]) / length,
        uy: (to[1] - from[1]) / length,
        halfU: length / 2,
        halfV: Math.min(0.3, depth / 2),
        base: 0,
        top: 0.32,
      };
    }
    case 'workplace':
    case 'source': {
      const { at, radius } = thing.value;
      const z = thing.kind === 'source' ? thing.value.top : floor.analysis.seatedPlane;
      return {
        x: at[0] - frame.x,
        y: at[1] - frame.y,
        ux: 1,
        uy: 0,
        halfU: radius,
        halfV: radius,
        base: z,
        top: z,
      };
    }
    default:
      return null;
  }
}

/** The box along an outline's longest edge. */
export function boxOutline(xy: readonly number[], base: number, top: number): TurnedBox {
  let longest = 0;
  let ux = 1;
  let uy = 0;
  for (let i = 0; i < xy.length; i += 2) {
    const j = (i + 2) % xy.length;
    const dx = (xy[j] as number) - (xy[i] as number);
    const dy = (xy[j + 1] as number) - (xy[i + 1] as number);
    const length = Math.hypot(dx, dy);
    if (length <= longest) continue;
    longest = length;
    ux = dx / length;
    uy = dy / length;
  }
  let [minU, maxU, minV, maxV] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < xy.length; i += 2) {
    const u = (xy[i] as number) * ux + (xy[i + 1] as number) * uy;
    const v = (xy[i + 1] as number) * ux - (xy[i] as number) * uy;
    minU = Math.min(minU, u);
    maxU = Math.max(maxU, u);
    minV = Math.min(minV, v);
    maxV = Math.max(maxV, v);
  }
  const u = (minU + maxU) / 2;
  const v = (minV + maxV) / 2;
  return {
    x: u * ux - v * uy,
    y: u * uy + v * ux,
    ux,
    uy,
    halfU: (maxU - minU) / 2,
    halfV: (maxV - minV) / 2,
    base,
    top,
  };
}

/** The level box that holds several boxes. */
export function joinBoxes(boxes: readonly TurnedBox[]): TurnedBox | null {
  if (boxes.length === 0) return null;
  let [minX, maxX, minY, maxY, base, top] = [Infinity, -Infinity, Infinity, -Infinity, Infinity, -Infinity];
  for (const box of boxes) {
    const wide = Math.abs(box.ux) * box.halfU + Math.abs(box.uy) * box.halfV;
    const high = Math.abs(box.uy) * box.halfU + Math.abs(box.ux) * box.halfV;
    minX = Math.min(minX, box.x - wide);
    maxX = Math.max(maxX, box.x + wide);
    minY = Math.min(minY, box.y - high);
    maxY = Math.max(maxY, box.y + high);
    base = Math.min(base, box.base);
    top = Math.max(top, box.top);
  }
  return {
    x: (minX + maxX) / 2,
    y: (minY + maxY) / 2,
    ux: 1,
    uy: 0,
    halfU: (maxX - minX) / 2,
    halfV: (maxY - minY) / 2,
    base,
    top,
  };
}
