import type { Detector, Floor, Mask } from '../floor/index.ts';
import { boxChangedRooms, findRoomAt, lensHeightOf } from '../floor/index.ts';
import type { Box } from '../geometry/polygon.ts';
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
  const compile = createLensCompiler(floor);
  return floor.detectors.map(compile);
}

function createLensCompiler(floor: Floor): (detector: Detector) => Lens {
  const types = new Map(floor.types.map((type) => [type.id, type]));
  return (detector) => {
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
  };
}

/** The lenses of a floor that has the types and, by their ids, the rooms of another whose lenses are known. */
export function lensesOf(floor: Floor, was: Floor, lenses: readonly Lens[]): readonly Lens[] {
  if (floor.types !== was.types) return compileLenses(floor);
  if (floor.rooms === was.rooms && floor.detectors === was.detectors) return lenses;
  const changed = boxChangedRooms(was.rooms, floor.rooms);
  if (changed === null) return compileLenses(floor);
  const compile = createLensCompiler(floor);
  return floor.detectors.map((detector, index) => {
    const [x, y] = detector.at;
    const stays = detector === was.detectors[index] && !changed.some((box) => holds(box, x, y));
    return stays ? lenses[index]! : compile(detector);
  });
}

function holds({ minX, minY, maxX, maxY }: Box, x: number, y: number): boolean {
  return x >= minX && x <= maxX && y >= minY && y <= maxY;
}
