/** Small floors written in a test, read the way a file is. */
import { readFileSync } from 'node:fs';
import type { Floor, FloorFile } from '../../../src/core/floor/index.ts';
import { formatFault, validateFloor } from '../../../src/core/floor/index.ts';

export type XY = readonly [number, number];

type List = Exclude<keyof FloorFile, 'format' | 'name' | 'notes' | 'north' | 'analysis'>;
/** One entry of a list of the floor file, as written. */
export type Entry<Key extends List> = NonNullable<FloorFile[Key]>[number];

/** A rectangle between two corners, counter-clockwise. */
export function rect(x0: number, y0: number, x1: number, y1: number): XY[] {
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
}

/** Reads a floor as a file would be read; throws with every fault when it is none. */
export function readFloor(file: unknown): Floor {
  const parsed = validateFloor(file);
  if (!parsed.ok) throw new Error(parsed.faults.map(formatFault).join(' '));
  return parsed.floor;
}

/** A floor of the given parts; lists left out are empty. */
export function buildFloor(parts: Partial<Omit<FloorFile, 'format' | 'name'>>): Floor {
  const file: FloorFile = { format: 'lacuna/1', name: 'Test', rooms: [], types: [], detectors: [], ...parts };
  return readFloor(file);
}

/** One row of a round range. */
export function row(
  motion: 'minor' | 'tangential' | 'radial',
  mounting: number,
  plane: number,
  diameter: number,
): Entry<'types'>['ranges'][number] {
  return { motion, mounting, plane, diameter };
}

/** A type that reaches as far as a type may, for all three motions, from 0.5 m up to any ceiling. */
export const FAR_TYPE: Entry<'types'> = {
  id: 'far',
  name: 'Far',
  ranges: [
    row('minor', 0.5, 0, 100),
    row('minor', 49.9, 0, 100),
    row('tangential', 0.5, 0, 100),
    row('radial', 0.5, 0, 100),
  ],
};

export type Changeable<Value> = Value extends object
  ? { -readonly [Key in keyof Value]: Changeable<Value[Key]> }
  : Value;

/** One of the two scenarios whose results were derived by hand, changed as a test needs it. */
export function readScenario(name: 'a' | 'b', change: (file: Changeable<FloorFile>) => void = () => {}): Floor {
  const url = new URL(`../../models/scenario-${name}.json`, import.meta.url);
  const file = JSON.parse(readFileSync(url, 'utf8')) as Changeable<FloorFile>;
  change(file);
  return readFloor(file);
}
