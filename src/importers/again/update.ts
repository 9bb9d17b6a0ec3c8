/**
 * Brings a newer version of a source onto a floor that was made from an older one. What people added stays: detectors, types,
 * groups, masks, zones, settings, records, and whatever they drew. What they corrected by hand is not overwritten but told.
 */
import { type FloorFile, formatFault, type Point, validateFloor } from '../../core/floor/index.ts';
import { computeRingDistance, isInRing } from '../../core/geometry/polygon.ts';
import { OWN_KEYS, stampOf } from '../assembly/stamp.ts';
import { isChangedByHand, marksOf, matchThings, middleOf, type Thing } from './match.ts';

const LISTS = ['rooms', 'openings', 'furniture', 'luminaires', 'workplaces', 'sources'] as const;
type ListName = (typeof LISTS)[number];

export interface SourceChange {
  readonly fate: 'changed' | 'new' | 'gone' | 'kept as corrected' | 'kept although gone';
  readonly list: ListName;
  /** Of the thing on the updated floor; of what is gone, the id it had. */
  readonly id: string;
  readonly name: string;
  readonly at: Point;
  /** What is different, in words: `outline, ceiling`. */
  readonly what: string;
}

export type FloorUpdate =
  | {
      readonly ok: true;
      readonly floor: FloorFile;
      readonly changes: readonly SourceChange[];
      readonly unchanged: number;
    }
  /** The newer version and what is on the floor cannot stand together. */
  | { readonly ok: false; readonly reasons: readonly string[] };

/** @param fresh the newer version, as `assembleFloor` made it */
export function updateFromSource(old: FloorFile, fresh: FloorFile): FloorUpdate {
  const changes: SourceChange[] = [];
  const ids = createIds(old);
  let unchanged = 0;
  const merge = <Item extends Thing>(list: ListName, olds: readonly Item[], freshes: readonly Item[]): Item[] => {
    const matches = matchThings(olds, freshes);
    const kept = new Map<Item, Item | null>();
    for (const { old: before, fresh: after } of matches.both) {
      const next = choose(list, before, after, changes);
      if (next === before) unchanged++;
      kept.set(before, next);
    }
    for (const gone of matches.gone) kept.set(gone, retire(list, gone, old, changes));
    const added = matches.added.map((item) => {
      const added = { ...item, id: ids.next(item.id) } as Item;
      changes.push(describe('new', list, added, ''));
      return added;
    });
    return [
      ...olds.map((item) => kept.get(item) ?? (kept.has(item) ? null : item)).filter((item) => item !== null),
      ...added,
    ];
  };
  const floor: FloorFile = {
    ...old,
    notes: {
      ...(typeof old.notes === 'object' ? old.notes : old.notes === undefined ? {} : { text: old.notes }),
      ...(typeof fresh.notes === 'object' ? fresh.notes : {}),
    },
    rooms: merge('rooms', old.rooms, fresh.rooms),
    openings: merge('openings', old.openings ?? [], fresh.openings ?? []),
    furniture: merge('furniture', old.furniture ?? [], fresh.furniture ?? []),
    luminaires: merge('luminaires', old.luminaires ?? [], fresh.luminaires ?? []),
    workplaces: merge('workplaces', old.workplaces ?? [], fresh.workplaces ?? []),
    sources: merge('sources', old.sources ?? [], fresh.sources ?? []),
  };
  const judged = validateFloor(floor);
  if (judged.ok) return { ok: true, floor: judged.file, changes, unchanged };
  return { ok: false, reasons: judged.faults.slice(0, 50).map((fault) => explain(floor, formatFault(fault))) };
}

/** What stands after the update: the fresh version under the old id, or the old one where nothing changed or a hand did. */
function choose<Item extends Thing>(list: ListName, before: Item, after: Item, changes: SourceChange[]): Item {
  const { as } = marksOf(before);
  const isSame = as === marksOf(after).as;
  if (isChangedByHand(before)) {
    if (isSame) return before;
    changes.push(describe('kept as corrected', list, before, listDifferences(before, after)));
    // The newer mark is not taken: the next update tells of it again.
    return before;
  }
  if (isSame || stampOf(before) === stampOf(after)) return before;
  const { id: _, ...rest } = after;
  const next = { ...keepOwnKeys(before), ...rest, id: before.id } as unknown as Item;
  changes.push(describe('changed', list, next, listDifferences(before, next)));
  return next;
}

/** Values that no importer writes and that belong to people: a luminaire's group, a door's state, a room's tiles. */
function keepOwnKeys(thing: Thing): object {
  return Object.fromEntries(Object.entries(thing).filter(([key]) => OWN_KEYS.includes(key)));
}

/** What is gone from the source goes from the floor, unless a hand corrected it or something hangs on it. */
function retire<Item extends Thing>(
  list: ListName,
  thing: Item,
  floor: FloorFile,
  changes: SourceChange[],
): Item | null {
  const needed = isChangedByHand(thing) ? 'it was changed by hand' : findNeed(thing, floor);
  if (needed === undefined) {
    changes.push(describe('gone', list, thing, ''));
    return null;
  }
  changes.push(describe('kept although gone', list, thing, needed));
  return thing;
}

/** Why a thing cannot go: a detector hangs in it, a group serves it, a record is about it. */
function findNeed(thing: Thing, floor: FloorFile): string | undefined {
  const { id, outline } = thing;
  if (floor.records?.some(({ about }) => about === id)) return 'a record is about it';
  const isServed = floor.groups?.some(({ serves = [], ventilation = [] }) =>
    [...serves, ...ventilation].some((each) => each === id),
  );
  if (isServed) return 'a group serves it';
  const isRoom = 'ceiling' in thing;
  if (
    isRoom &&
    outline !== undefined &&
    floor.detectors.some(({ at }) => isInRing(outline, ...at) || computeRingDistance(outline, ...at) < 0.005)
  )
    return 'detectors hang in it';
  return undefined;
}

function describe(fate: SourceChange['fate'], list: ListName, thing: Thing, what: string): SourceChange {
  const name = 'name' in thing && typeof thing.name === 'string' ? thing.name : '';
  return { fate, list, id: thing.id, name, at: middleOf(thing), what };
}

/** The keys that differ, in the words of the file. */
function listDifferences(before: Thing, after: Thing): string {
  const [a, b] = [before as unknown as Record<string, unknown>, after as unknown as Record<string, unknown>];
  const keys = [...new Set([...Object.keys(a), ...Object.keys(b)])].filter((key) => key !== 'id' && key !== 'notes');
  return keys.filter((key) => JSON.stringify(a[key]) !== JSON.stringify(b[key])).join(', ');
}

function createIds(floor: FloorFile): { next(like: string): string } {
  const lists = [
    floor.rooms,
    floor.openings,
    floor.furniture,
    floor.luminaires,
    floor.workplaces,
    floor.zones,
    floor.sources,
    floor.types,
    floor.detectors,
    floor.groups,
  ];
  const used = new Set<string>(
    lists.flatMap((list: readonly { readonly id: string }[] | undefined) => (list ?? []).map(({ id }) => id)),
  );
  return {
    next(like) {
      const letter = like.replace(/\d+$/u, '');
      let number = Number(like.slice(letter.length)) || 1;
      while (used.has(`${letter}${number}`)) number++;
      used.add(`${letter}${number}`);
      return `${letter}${number}`;
    },
  };
}

/** A fault with the name of what it is about, where the path names a detector or a room. */
function explain(floor: FloorFile, fault: string): string {
  const [, list = '', place = ''] = /^(detectors|rooms|groups)\[(\d+)\]/.exec(fault) ?? [];
  const things: readonly { readonly name: string }[] =
    list === 'detectors' ? floor.detectors : list === 'rooms' ? floor.rooms : (floor.groups ?? []);
  const name = things[Number(place)]?.name;
  return list === '' || name === undefined ? fault : `${name}: ${fault}`;
}
