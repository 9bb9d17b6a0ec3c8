/** Zones, sources and luminaires put on the floor. */
import type { FloorFile, Point, Ring } from '../../core/floor/index.ts';
import { findRoomAt, resolveFloor } from '../../core/floor/index.ts';
import { tidy, turnInto360 } from '../recipes.ts';
import { createChange } from './change.ts';
import { type Edit, refuse, refuseGone } from './edit.ts';
import { nameThing, nameThings, startSentence } from './fault-words.ts';
import { createIdMaker, type Named } from './ids.ts';
import { findItem, type Items, type Listed } from './lists.ts';
import { findOutlineFault } from './outlines.ts';
import { finePoint } from './plane.ts';

/** What is said of a new thing besides where it is; without a name it gets the next of its kind. */
type Rest<List extends 'zones' | 'sources' | 'luminaires', Given extends string> = Partial<
  Omit<Items[List], 'id' | Given>
>;

/** Draws a zone in which people sit, walk, or are not. */
export function addZone(
  file: FloorFile,
  outline: Ring,
  need: Items['zones']['need'],
  rest: Rest<'zones', 'outline' | 'need'> = {},
): Edit {
  const ring = outline.map(finePoint);
  const fault = findOutlineFault(ring, 'the outline');
  if (fault !== null) return fault;
  const { id, name } = identify(file, 'zones', rest.name, 'Zone');
  return addThing(file, { list: 'zones', item: { ...rest, id, name, outline: ring, need } });
}

/** Sets whose groups are counted in zones: those that serve it, or of a `nobody` zone those that must not see it; null: all. */
export function setZoneGroups(file: FloorFile, ids: readonly string[], groupIds: readonly string[] | null): Edit {
  const zones = ids.map((id) => findItem(file, 'zones', id)).filter((zone) => zone !== undefined);
  if (zones.length === 0) return refuseGone('zone');
  const groups = [...new Set(groupIds ?? [])];
  if (groups.some((id) => findItem(file, 'groups', id) === undefined)) return refuseGone('group');
  const change = createChange(file);
  for (const { groups: _, ...zone } of zones) change.set('zones', groups.length === 0 ? zone : { ...zone, groups });
  return change.plan(
    `Set the groups of ${nameThings(zones.map((item) => ({ list: 'zones', item })))}`,
    zones.map(({ id }) => id),
  );
}

const SOURCE_NAMES: Readonly<Record<Items['sources']['kind'], string>> = {
  heater: 'Heater',
  fan: 'Fan',
  'air outlet': 'Air outlet',
  lamp: 'Lamp',
  machine: 'Machine',
  other: 'Source',
};
/** Metres of the air outlet above which it hangs: in the ceiling. */
const OUTLET_DEPTH = 0.02;
const FLOOR_SOURCE_TOP = 0.6;

/** Places something warm or moving that is not a person. Left out, an air outlet hangs in the ceiling and the rest stands on the floor. */
export function addSource(
  file: FloorFile,
  kind: Items['sources']['kind'],
  at: Point,
  rest: Rest<'sources', 'kind' | 'at'> = {},
): Edit {
  const ceiling = ceilingAt(file, at);
  const hangs = kind === 'air outlet' && ceiling !== undefined;
  const base = tidy(rest.base ?? (hangs ? ceiling - OUTLET_DEPTH : 0));
  const top = tidy(rest.top ?? (hangs ? ceiling : Math.max(FLOOR_SOURCE_TOP, base + FLOOR_SOURCE_TOP)));
  const { id, name } = identify(file, 'sources', rest.name, SOURCE_NAMES[kind]);
  const item = { ...rest, id, name, kind, at: finePoint(at), base, top };
  return refuseOrder(name, base, top) ?? addThing(file, { list: 'sources', item });
}

const LUMINAIRE_DEPTH = 0.02;

/** Places a luminaire, its length along `turn`. Left out, its top is the ceiling of its room. */
export function addLuminaire(
  file: FloorFile,
  at: Point,
  size: Items['luminaires']['size'],
  rest: Rest<'luminaires', 'at' | 'size'> = {},
): Edit {
  const ceiling = ceilingAt(file, at);
  if (rest.top === undefined && ceiling === undefined)
    return refuse('The luminaire hangs in no room', 'Put it into a room, or write its height.');
  if (!size.every((side) => side > 0 && side <= 100))
    return refuse('A luminaire has no size', 'Write a length and a width above 0 and up to 100 m.');
  const top = tidy(rest.top ?? ceiling ?? 0);
  const base = tidy(rest.base ?? Math.max(0, top - LUMINAIRE_DEPTH));
  const { id, name } = identify(file, 'luminaires', rest.name, 'Luminaire');
  const turn = rest.turn === undefined ? {} : { turn: turnInto360(rest.turn) };
  const item = { ...rest, ...turn, id, name, at: finePoint(at), size, base, top };
  return refuseOrder(name, base, top) ?? addThing(file, { list: 'luminaires', item });
}

function refuseOrder(name: string, base: number, top: number): Edit | null {
  return base < top
    ? null
    : refuse(`${startSentence(name)} would reach from ${base} m to ${top} m`, 'The top must be above the base.');
}

function ceilingAt(file: FloorFile, at: Point): number | undefined {
  return findRoomAt(resolveFloor(file).rooms, at)?.ceiling;
}

function identify(
  file: FloorFile,
  list: Named,
  name: string | undefined,
  kind: string,
): { readonly id: string; readonly name: string } {
  const maker = createIdMaker(file);
  return { id: maker.next(list), name: name ?? maker.nextName(list, kind) };
}

function addThing(
  file: FloorFile,
  thing: Extract<Listed, { readonly list: 'zones' | 'sources' | 'luminaires' }>,
): Edit {
  const change = createChange(file);
  if (thing.list === 'zones') change.add('zones', thing.item);
  else if (thing.list === 'sources') change.add('sources', thing.item);
  else change.add('luminaires', thing.item);
  return change.plan(`Added ${nameThing(thing)}`, [thing.item.id]);
}
