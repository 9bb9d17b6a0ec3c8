/** Heights of lenses, each worked out once: where none is stated it takes the room above the place to tell. */
import { type Detector, type Floor, lensHeightOf } from '../../core/floor/index.ts';

interface Known {
  readonly rooms: Floor['rooms'];
  readonly types: Floor['types'];
  readonly height: number;
}

const known = new WeakMap<Detector, Known>();

/** Metres above the floor. */
export function heightOfLens(detector: Detector, floor: Floor): number {
  const before = known.get(detector);
  if (before !== undefined && before.rooms === floor.rooms && before.types === floor.types) return before.height;
  const height = lensHeightOf(detector, floor);
  known.set(detector, { rooms: floor.rooms, types: floor.types, height });
  return height;
}
