/** Things taken out of a floor together, and put into one under new ids. */
import type { FloorFile } from '../../core/floor/index.ts';
import type { Change } from './change.ts';
import type { IdMaker } from './ids.ts';
import { findAllListed, type Items, LIST_NAMES, type ListName, listOf, type Placed } from './lists.ts';
import { moveThing, type RigidMove } from './rigid-moves.ts';

/** Things by their lists, as written. Groups only with all their detectors, types with the detectors that need them. */
export type Fragment = { readonly [List in ListName]: readonly Items[List][] };

type PlacedList = Placed['list'];
const PLACED = LIST_NAMES.filter((list): list is PlacedList => list !== 'types' && list !== 'groups');

/** What is copied with ids: the things, groups all of whose detectors are among them (or that are), and their types. */
export function collectFragment(file: FloorFile, ids: readonly string[]): Fragment {
  const chosen = new Set(findAllListed(file, ids).map(({ item }) => item.id));
  for (const group of listOf(file, 'groups')) {
    const members = [group.main, ...(group.extensions ?? [])];
    if (chosen.has(group.id)) for (const id of members) chosen.add(id);
    else if (members.every((id) => chosen.has(id))) chosen.add(group.id);
  }
  for (const { id, type } of listOf(file, 'detectors')) if (chosen.has(id)) chosen.add(type);
  const pick = <List extends ListName>(list: List): readonly Items[List][] =>
    listOf(file, list).filter(({ id }) => chosen.has(id));
  return Object.fromEntries(LIST_NAMES.map((list) => [list, pick(list)])) as unknown as Fragment;
}

/** The fragment without what its things name outside it, so that it can go to another floor. */
export function closeFragment(fragment: Fragment): Fragment {
  const inside = new Set(LIST_NAMES.flatMap((list) => fragment[list].map(({ id }) => id as string)));
  const refer = (id: string): string | undefined => (inside.has(id) ? id : undefined);
  return {
    ...fragment,
    luminaires: fragment.luminaires.map((luminaire) => withGroup(luminaire, refer)),
    zones: fragment.zones.map((zone) => withGroups(zone, refer)),
    groups: fragment.groups.map((group) => withMembers(group, refer, refer)),
  };
}

export interface Placing {
  readonly change: Change;
  readonly maker: IdMaker;
  readonly move: RigidMove;
  /** Whether the fragment is of the same floor, so that what it names outside itself is what it named before. */
  readonly isOwn: boolean;
}

/** Puts a fragment onto the floor. Names inside it lead to the copies. @returns the new ids of what can be selected */
export function placeFragment(fragment: Fragment, placing: Placing): readonly string[] {
  const { change, maker, isOwn } = placing;
  const ids = new Map<string, string>();
  const names = new Map<string, string>();
  if (isOwn) for (const { id } of fragment.types) ids.set(id, id);
  else placeTypes(fragment.types, placing, ids);
  for (const list of [...PLACED, 'groups'] as const) {
    for (const { id, ...rest } of fragment[list]) {
      if (list === 'detectors' && 'name' in rest && /^D\d{1,9}$/.test(rest.name)) {
        const next = maker.nextDetector();
        ids.set(id, next.id);
        names.set(id, next.name);
        continue;
      }
      ids.set(id, maker.next(list));
      if (list !== 'openings' && 'name' in rest) names.set(id, maker.freeName(list, rest.name));
    }
  }
  const refer = (id: string): string | undefined => ids.get(id) ?? (isOwn ? id : undefined);
  const placed: string[] = [];
  for (const list of PLACED) {
    for (const item of fragment[list]) {
      const id = ids.get(item.id) ?? item.id;
      const moved = moveThing({ list, item } as Placed, placing.move);
      placeThing(change, { list, item: rename(moved.item, id, names.get(item.id)) } as Placed, refer);
      placed.push(id);
    }
  }
  for (const group of fragment.groups) {
    const item = rename(group, ids.get(group.id) ?? group.id, names.get(group.id));
    change.add(
      'groups',
      withMembers(item, (id) => ids.get(id), refer),
    );
  }
  return placed.length > 0 ? placed : fragment.groups.map(({ id }) => ids.get(id) ?? id);
}

function rename<Item extends { readonly id: string }>(item: Item, id: string, name: string | undefined): Item {
  return name === undefined ? { ...item, id } : { ...item, id, name };
}

type Refer = (id: string) => string | undefined;

function placeThing(change: Change, thing: Placed, refer: Refer): void {
  switch (thing.list) {
    case 'luminaires':
      change.add('luminaires', withGroup(thing.item, refer));
      return;
    case 'zones':
      change.add('zones', withGroups(thing.item, refer));
      return;
    case 'detectors': {
      // A copy is there to be moved.
      const { locked: _, ...rest } = thing.item;
      change.add('detectors', { ...rest, type: refer(rest.type) ?? rest.type });
      return;
    }
    default:
      change.add(thing.list, thing.item as Items[typeof thing.list]);
  }
}

function withGroup({ group, ...rest }: Items['luminaires'], refer: Refer): Items['luminaires'] {
  const next = group === undefined ? undefined : refer(group);
  return next === undefined ? rest : { ...rest, group: next };
}

function withGroups({ groups, ...rest }: Items['zones'], refer: Refer): Items['zones'] {
  return { ...rest, ...listed('groups', groups, refer) };
}

/** @param member leads to detectors of the group, @param refer to the places it serves */
function withMembers(group: Items['groups'], member: Refer, refer: Refer): Items['groups'] {
  const { extensions, serves, ventilation, main, ...rest } = group;
  return {
    ...rest,
    main: member(main) ?? main,
    ...listed('extensions', extensions, member),
    ...listed('serves', serves, refer),
    ...listed('ventilation', ventilation, refer),
  };
}

/** A list of names that lead somewhere, under its key; nothing when none is left. */
function listed<Key extends string>(
  key: Key,
  ids: readonly string[] | undefined,
  refer: Refer,
): { readonly [Name in Key]?: readonly string[] } {
  const next = (ids ?? []).map(refer).filter((id) => id !== undefined);
  return (next.length === 0 ? {} : { [key]: next }) as unknown as {
    readonly [Name in Key]?: readonly string[];
  };
}

/** A type that the floor has already, but for its id, is that one; another is added. */
function placeTypes(types: Fragment['types'], { change, maker }: Placing, ids: Map<string, string>): void {
  for (const type of types) {
    const same = change.list('types').find((each) => isSame({ ...each, id: type.id }, type));
    if (same !== undefined) {
      ids.set(type.id, same.id);
      continue;
    }
    const id = maker.next('types');
    ids.set(type.id, id);
    change.add('types', { ...type, id, name: maker.freeName('types', type.name) });
  }
}

/** Whether two values of a file say the same, whatever the order of their keys. */
function isSame(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [left, right] = [Object.entries(a), new Map(Object.entries(b))];
  return left.length === right.size && left.every(([key, value]) => right.has(key) && isSame(value, right.get(key)));
}
