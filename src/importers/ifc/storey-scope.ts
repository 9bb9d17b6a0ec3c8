/** What the readers of one storey share: where its floor lies, what is taken off coordinates, its account. */

import type { Point, Ring } from '../../core/floor/index.ts';
import type { PlanPoint, PlanRing } from '../../core/geometry/polygon.ts';
import type { DrawnRoom } from '../storey.ts';
import type { Account, Place } from './account.ts';
import type { Level } from './levels.ts';
import { isInRegion, type Region } from './regions.ts';
import type { Solid } from './shapes.ts';
import type { Thing } from './things.ts';

export interface StoreyScope {
  readonly level: Level;
  /** The next floor above, metres over this one; Infinity for the highest storey. */
  readonly height: number;
  readonly account: Account;
  /** A place of the world in the source's coordinates less the origin. */
  toPoint(point: PlanPoint): Point;
  toRing(ring: PlanRing): Ring;
  /** A height of the world over this storey's floor. */
  toHeight(z: number): number;
  /** The ceiling over a place of the world, where a room or the storey above says one. */
  ceilingAt(point: PlanPoint): number | undefined;
}

/** Tenths of a micrometre: rounding that no drawing means and every reader likes. */
const DIGITS = 1e7;

const round = (value: number): number => Math.round(value * DIGITS) / DIGITS + 0;

export interface RoomPlan {
  readonly region: Region;
  readonly room: DrawnRoom;
}

export function createScope(
  level: Level,
  height: number,
  account: Account,
  [ox, oy]: PlanPoint,
  rooms: readonly RoomPlan[],
): StoreyScope {
  const toPoint = ([x, y]: PlanPoint): Point => [round(x - ox), round(y - oy)];
  return {
    level,
    height,
    account,
    toPoint,
    toRing: (ring) => ring.map(toPoint),
    toHeight: (z) => round(z - level.floor),
    ceilingAt([x, y]) {
      const found = rooms.find(({ region }) => isInRegion(region, x, y));
      if (found !== undefined && found.room.ceiling !== null) return found.room.ceiling;
      return Number.isFinite(height) ? height : undefined;
    },
  };
}

/** A thing as the account names it, with the middle of its outline. */
export function placeOf(scope: StoreyScope | undefined, thing: Pick<Thing, 'key' | 'name'>, solid?: Solid): Place {
  const middle = solid === undefined || scope === undefined ? null : scope.toPoint(middleOf(solid.regions));
  return { key: thing.key, name: thing.name, at: middle };
}

/** The middle of the box around regions. */
export function middleOf(regions: readonly Region[]): PlanPoint {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { outer } of regions) {
    for (const [x, y] of outer) {
      minX = Math.min(minX, x);
      minY = Math.min(minY, y);
      maxX = Math.max(maxX, x);
      maxY = Math.max(maxY, y);
    }
  }
  return [(minX + maxX) / 2, (minY + maxY) / 2];
}
