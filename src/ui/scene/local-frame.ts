/** The scene's own origin: card arithmetic has seven digits, so a floor far from zero is drawn about its middle. */

import type { Floor } from '../../core/floor/index.ts';
import { computeBox } from '../../core/geometry/polygon.ts';

export interface LocalFrame {
  /** Floor coordinates of the scene's origin, metres; whole numbers. */
  readonly x: number;
  readonly y: number;
  /** The middle of the rooms, local. */
  readonly midX: number;
  readonly midY: number;
  /** Half the extent of the rooms, metres. */
  readonly halfWidth: number;
  readonly halfDepth: number;
  /** The highest ceiling. */
  readonly height: number;
}

/** An origin this far from the floor's middle still draws sharply, metres. */
const FARTHEST = 2_000;

/** What is shown of a floor without a room, metres. */
const EMPTY = { halfWidth: 10, halfDepth: 7, height: 3 } as const;

/** The frame of a floor that has been opened. */
export function frameFloor(floor: Floor): LocalFrame {
  if (floor.rooms.length === 0) return { x: 0, y: 0, midX: EMPTY.halfWidth, midY: EMPTY.halfDepth, ...EMPTY };
  const box = computeBox(floor.rooms.flatMap((room) => room.outline));
  const [x, y] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  return measure(floor, Math.round(x), Math.round(y));
}

/** The frame of a floor that has been changed: the origin stays, so that nothing on the card moves. */
export function keepFrame(floor: Floor, before: LocalFrame): LocalFrame {
  if (floor.rooms.length === 0) return before;
  const next = measure(floor, before.x, before.y);
  return Math.hypot(next.midX, next.midY) > FARTHEST ? frameFloor(floor) : next;
}

function measure(floor: Floor, x: number, y: number): LocalFrame {
  const box = computeBox(floor.rooms.flatMap((room) => room.outline));
  return {
    x,
    y,
    midX: (box.minX + box.maxX) / 2 - x,
    midY: (box.minY + box.maxY) / 2 - y,
    halfWidth: (box.maxX - box.minX) / 2,
    halfDepth: (box.maxY - box.minY) / 2,
    height: floor.rooms.reduce((most, room) => Math.max(most, room.ceiling), 0),
  };
}

/** The ceiling heights are measured against for their tone: the one over most of the area. */
export function referenceCeiling(floor: Floor): number {
  const areas = new Map<number, number>();
  for (const room of floor.rooms) {
    const box = computeBox(room.outline);
    const area = (box.maxX - box.minX) * (box.maxY - box.minY);
    areas.set(room.ceiling, (areas.get(room.ceiling) ?? 0) + area);
  }
  let best = 3;
  let most = 0;
  for (const [ceiling, area] of areas) {
    if (area > most) {
      best = ceiling;
      most = area;
    }
  }
  return best;
}

/** How far up its ceiling a height reaches, as the tone rule wants it. */
export function reachOf(height: number, ceiling: number): number {
  return Math.min(1, Math.max(0, height / ceiling)) ** 2.2;
}

/** Share of ink of an upright face by the way it looks (unit vector): 5 to 27 %. */
export function shadeOfSide(nx: number, ny: number): number {
  return 0.16 + 0.11 * (0.8 * nx - 0.6 * ny);
}
