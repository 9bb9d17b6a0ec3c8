/** The account of a reading: what was taken, guessed and left out, things of one kind and reason in one line. */
import type { Point } from '../../core/floor/index.ts';
import type { Remark, SourceKey } from '../storey.ts';

/** Places named per line. */
const MAX_PLACES = 200;

export interface Place {
  readonly key: SourceKey;
  readonly name: string;
  readonly at: Point | null;
}

export interface Account {
  note(fate: Remark['fate'], what: string, reason: string, place?: Place): void;
  list(): readonly Remark[];
}

export function createAccount(): Account {
  const lines = new Map<
    string,
    { fate: Remark['fate']; what: string; reason: string; count: number; places: Place[] }
  >();
  return {
    note(fate, what, reason, place) {
      const key = `${fate}\n${what}\n${reason}`;
      let line = lines.get(key);
      if (line === undefined) {
        line = { fate, what, reason, count: 0, places: [] };
        lines.set(key, line);
      }
      line.count++;
      if (place !== undefined && line.places.length < MAX_PLACES) line.places.push(place);
    },
    list: () => [...lines.values()],
  };
}
