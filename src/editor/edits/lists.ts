/** The lists of a floor file whose members have ids, and their members as written. */
import type { FloorFile } from '../../core/floor/index.ts';
import { indexOfId } from '../things.ts';

/** Every list with ids, in the order of the format. */
export const LIST_NAMES = [
  'rooms',
  'openings',
  'furniture',
  'luminaires',
  'workplaces',
  'zones',
  'sources',
  'types',
  'detectors',
  'groups',
] as const satisfies readonly (keyof FloorFile)[];

export type ListName = (typeof LIST_NAMES)[number];

/** One member of each list, as written. */
export type Items = { readonly [List in ListName]: NonNullable<FloorFile[List]>[number] };

/** A member of some list, and which list it is. */
export type Listed = { readonly [List in ListName]: { readonly list: List; readonly item: Items[List] } }[ListName];

/** What stands somewhere on the floor: everything but detector types and groups. */
export type Placed = Exclude<Listed, { readonly list: 'types' | 'groups' }>;

const NOTHING: readonly never[] = [];

/** A list of the file; one that is left out is empty. */
export function listOf<List extends ListName>(file: FloorFile, list: List): readonly Items[List][] {
  return (file[list] ?? NOTHING) as readonly Items[List][];
}

export function findItem<List extends ListName>(file: FloorFile, list: List, id: string): Items[List] | undefined {
  const items = listOf(file, list);
  return items[indexOfId(items, id)];
}

/** The member of any list with this id. */
export function findListed(file: FloorFile, id: string): Listed | undefined {
  for (const list of LIST_NAMES) {
    const item = findItem(file, list, id);
    if (item !== undefined) return { list, item } as Listed;
  }
  return undefined;
}

/** The members with these ids, in their order; ids that are gone, and repeated ones, are left out. */
export function findAllListed(file: FloorFile, ids: readonly string[]): readonly Listed[] {
  return [...new Set(ids)].map((id) => findListed(file, id)).filter((listed) => listed !== undefined);
}

/** Of the members with these ids those that stand somewhere. */
export function findPlaced(file: FloorFile, ids: readonly string[]): readonly Placed[] {
  return findAllListed(file, ids).filter(isPlaced);
}

function isPlaced(listed: Listed): listed is Placed {
  return listed.list !== 'types' && listed.list !== 'groups';
}
