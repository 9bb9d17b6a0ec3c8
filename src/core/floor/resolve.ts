import { type Floor, type FloorFile, floorSchema } from './schema.ts';

const resolved = new WeakMap<FloorFile, Floor>();

/** Fills in the defaults of a floor file. The same file gives the same floor. */
export function resolveFloor(file: FloorFile): Floor {
  let floor = resolved.get(file);
  if (floor === undefined) {
    floor = floorSchema.parse(file);
    resolved.set(file, floor);
  }
  return floor;
}
