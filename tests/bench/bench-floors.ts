/** The floors that speed is measured on. */
import { readFileSync } from 'node:fs';
import { type Floor, type FloorFile, formatFault, parseFloor, validateFloor } from '../../src/core/floor/index.ts';
import { generateFloor } from '../models/generate-floor.ts';

const SEED = 7;

/** The bench is built into `dist/bench`, so the repository is where it is started, not beside this file. */
export const OFFICE = 'models/floors/open-plan-office.json';

export interface BenchFloor {
  readonly name: string;
  readonly floor: Floor;
}

/**
 * A generated floor with detectors of 24 m for small movements and for walking past: one motion a plane. Walking at it
 * is left out, or every heading would be seen wherever one is, and heading shares would cost nothing.
 */
export function generateBenchFloor(areaM2: number): BenchFloor {
  const file = generateFloor({ areaM2, seed: SEED });
  const types = file.types.map((type) => ({
    ...type,
    ranges: type.ranges.filter((row) => row.motion !== 'radial'),
  }));
  return { name: `${areaM2.toLocaleString('en')} m²`, floor: readFile({ ...file, types }) };
}

/** The same floor with all detectors in one group that serves all rooms: every cell counts each detector in reach. */
export function joinGroups({ name, floor }: BenchFloor): BenchFloor {
  const [main, ...extensions] = floor.detectors.map(({ id }) => id);
  const group = floor.groups[0];
  if (main === undefined || group === undefined) throw new Error(`${name}: has no group`);
  const serves = floor.rooms.map(({ id }) => id);
  return { name: `${name}, one group`, floor: { ...floor, groups: [{ ...group, main, extensions, serves }] } };
}

export function readOfficeText(): string {
  return readFileSync(OFFICE, 'utf8');
}

export function readOffice(): BenchFloor {
  const parsed = parseFloor(readOfficeText());
  if (!parsed.ok) throw new Error(`${OFFICE}: ${parsed.faults.map(formatFault).join(' ')}`);
  return { name: 'open-plan office', floor: parsed.floor };
}

function readFile(file: FloorFile): Floor {
  const parsed = validateFloor(file);
  if (!parsed.ok) throw new Error(`${file.name}: ${parsed.faults.map(formatFault).join(' ')}`);
  return parsed.floor;
}
