/** What was found at the test points: kept among the records of the floor file, the newest of a point counts. */
import type { Floor } from '../../floor/index.ts';
import type { TestPoint } from './test-points.ts';
import { ALLOWED_DARK_M } from './test-points.ts';

/** The word that tells these records from others. */
export const WALK_TEST = 'walk test';

/** How far a measured entrance may be from the predicted one before reality is said to disagree, metres (common practice, no source). */
const DISAGREES_M = 0.3;

/** What a person found: whether the light came (quiet places: whether it switched), and after how many metres. */
export interface Found {
  readonly seen: boolean;
  readonly metres?: number;
}

export interface TestRecord {
  readonly date: string;
  readonly by: string;
  readonly found: Found;
  readonly pass: boolean;
  readonly note: string;
}

type FloorRecord = Floor['records'][number];

/** Is what was found right? At an entrance the light comes in time, at a seat it stays on, a quiet place switches nothing. */
export function isPassed(point: TestPoint, found: Found): boolean {
  if (point.part === 'quiet') return !found.seen;
  if (point.part === 'seat') return found.seen;
  return found.seen && (found.metres ?? 0) <= ALLOWED_DARK_M + 1e-9;
}

/** The record of one point as it stands in the file. */
export function writeRecord(point: TestPoint, found: Found, date: string, by: string, note: string): FloorRecord {
  return {
    date,
    by,
    kind: WALK_TEST,
    about: point.about,
    expected: { point: point.no, room: point.room, ...point.predicted },
    found: { ...found },
    pass: isPassed(point, found),
    text: note,
  };
}

/** The newest record of every point that has one, by the point's number. What is not in the form above is left aside. */
export function readRecords(floor: Floor, points: readonly TestPoint[]): ReadonlyMap<string, TestRecord> {
  const byPlace = new Map(points.map((point) => [`${point.about} ${point.room ?? ''}`, point.no]));
  const records = new Map<string, TestRecord>();
  for (const { kind, about, expected, found, pass, date, by, text } of floor.records) {
    if (kind !== WALK_TEST || pass === null) continue;
    const room = isObject(expected) && typeof expected.room === 'string' ? expected.room : '';
    const no = byPlace.get(`${about} ${room}`);
    if (no === undefined || !isObject(found) || typeof found.seen !== 'boolean') continue;
    const metres = typeof found.metres === 'number' ? { metres: found.metres } : {};
    records.set(no, { date, by, found: { seen: found.seen, ...metres }, pass, note: text });
  }
  return records;
}

/** Where reality is not as predicted, and by how much, in words; null where it is. */
export function sayDisagreement({ predicted }: TestPoint, { found }: TestRecord): string | null {
  switch (predicted.kind) {
    case 'entrance': {
      const { firstSeenM } = predicted;
      if (!found.seen) return firstSeenM === null ? null : `predicted after ${firstSeenM.toFixed(2)} m, found never`;
      const metres = found.metres ?? 0;
      if (firstSeenM === null) return `predicted never, found after ${metres.toFixed(2)} m`;
      const by = metres - firstSeenM;
      if (Math.abs(by) <= DISAGREES_M + 1e-9) return null;
      const way = by > 0 ? 'later' : 'sooner';
      return `predicted after ${firstSeenM.toFixed(2)} m, found after ${metres.toFixed(2)} m: ${Math.abs(by).toFixed(2)} m ${way}`;
    }
    case 'seat':
      if (found.seen === predicted.met) return null;
      return predicted.met ? 'predicted seen, found not seen' : 'predicted not met, found seen';
    case 'zone':
      if (found.seen === !predicted.met) return null;
      return predicted.met ? 'predicted dark, found switching' : 'predicted seen, found dark';
    case 'spill':
    case 'source':
      return found.seen ? null : 'predicted that it may switch, found that it does not';
  }
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}
