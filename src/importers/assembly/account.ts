/** The account of an import: what was taken, guessed and left out, and where. */
import type { Point } from '../../core/floor/index.ts';
import type { Remark, SourceKey } from '../storey.ts';

type Place = Remark['places'][number];

/** Places kept of one line; more are only counted. */
const MOST_PLACES = 200;

/** Gathers things one by one into lines: things of one kind, with one fate, for one reason. */
export interface Account {
  add(fate: Remark['fate'], what: string, reason: string, place?: Place): void;
  /** The lines: what was guessed, what was left out, what was taken. */
  list(): readonly Remark[];
}

const ORDER: readonly Remark['fate'][] = ['guessed', 'left out', 'taken'];

/** @param given lines of the reader, which come along */
export function createAccount(given: readonly Remark[] = []): Account {
  const lines = new Map<string, { remark: Omit<Remark, 'count' | 'places'>; count: number; places: Place[] }>();
  const lineOf = (fate: Remark['fate'], what: string, reason: string) => {
    const key = JSON.stringify([fate, what, reason]);
    const line = lines.get(key) ?? { remark: { fate, what, reason }, count: 0, places: [] };
    lines.set(key, line);
    return line;
  };
  for (const { fate, what, reason, count, places } of given) {
    const line = lineOf(fate, what, reason);
    line.count += count;
    line.places.push(...places.slice(0, MOST_PLACES - line.places.length));
  }
  return {
    add(fate, what, reason, place) {
      const line = lineOf(fate, what, reason);
      line.count++;
      if (place !== undefined && line.places.length < MOST_PLACES) line.places.push(place);
    },
    list() {
      const all = [...lines.values()].map(({ remark, count, places }): Remark => ({ ...remark, count, places }));
      return ORDER.flatMap((fate) => all.filter((remark) => remark.fate === fate));
    },
  };
}

/** A place in the account: the thing's key and name, and where it lies. */
export function placeOf(thing: { readonly key: SourceKey; readonly name?: string }, at: Point | null): Place {
  return { key: thing.key, name: thing.name ?? '', at };
}
