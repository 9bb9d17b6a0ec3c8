/** Gathers remarks: things of one kind with one fate for one reason are one line. */
import type { Remark } from '../storey.ts';

type Place = Remark['places'][number];

/** Places kept of one line; more are only counted. */
const MOST_PLACES = 200;

export interface Remarks {
  add(fate: Remark['fate'], what: string, reason: string, place?: Place, count?: number): void;
  list(): readonly Remark[];
}

export function createRemarks(): Remarks {
  const lines = new Map<
    string,
    { fate: Remark['fate']; what: string; reason: string; count: number; places: Place[] }
  >();
  return {
    add(fate, what, reason, place, count = 1) {
      const key = `${fate}|${what}|${reason}`;
      let line = lines.get(key);
      if (line === undefined) {
        line = { fate, what, reason, count: 0, places: [] };
        lines.set(key, line);
      }
      line.count += count;
      if (place !== undefined && line.places.length < MOST_PLACES) line.places.push(place);
    },
    list: () => [...lines.values()],
  };
}
