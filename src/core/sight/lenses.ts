import type { Floor, Mask } from '../floor/index.ts';
import { findRoomAt, lensHeightOf } from '../floor/index.ts';
import type { HungRange } from './range.ts';
import { hangRange } from './range.ts';

/** One detector's lens, ready to cast. */
export interface Lens {
  readonly x: number;
  readonly y: number;
  readonly h: number;
  readonly turn: number;
  readonly masks: readonly Mask[];
  /** To be removed: sees nothing. */
  readonly removed: boolean;
  /** Index of the room it hangs in, -1 for none. */
  readonly room: number;
  readonly ranges: {
    readonly minor: HungRange | null;
    readonly tangential: HungRange | null;
    readonly radial: HungRange | null;
  };
}

export function compileLenses(floor: Floor): Lens[] {
  const types = new Map(floor.types.map((type) => [type.id, type]));
  return floor.detectors.map((detector) => {
    const h = lensHeightOf(detector, floor);
    const type = types.get(detector.type);
    const room = findRoomAt(floor.rooms, detector.at);
    const hang = (motion: 'minor' | 'tangential' | 'radial') =>
      type ? hangRange(type, motion, h, detector.reach) : null;
    return {
      x: detector.at[0],
      y: detector.at[1],
      h,
      turn: detector.turn,
      masks: detector.masks,
      removed: detector.status === 'remove',
      room: room ? floor.rooms.indexOf(room) : -1,
      ranges: { minor: hang('minor'), tangential: hang('tangential'), radial: hang('radial') },
    };
  });
}

export function lensesOf(floor: Floor, was: Floor, lenses: readonly Lens[]): readonly Lens[] {
  const same = floor.rooms === was.rooms && floor.detectors === was.detectors && floor.types === was.types;
  return same ? lenses : compileLenses(floor);
}
