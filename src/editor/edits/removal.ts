/** Things deleted, and everything that named them put right. */
import { listWords } from '../../core/coverage/findings/wording.ts';
import { type FloorFile, findRoomAt, resolveFloor } from '../../core/floor/index.ts';
import { type Change, createChange } from './change.ts';
import { type Edit, type Refused, refuse } from './edit.ts';
import { countThings, nameThing, nameThings, startSentence } from './fault-words.ts';
import { leaveGroup } from './group-members.ts';
import { findAllListed, findListed, type Listed, listOf } from './lists.ts';
import { refuseLocked } from './moving.ts';
import { isLocked } from './rigid-moves.ts';
import { isInWallOf } from './room-contents.ts';

/**
 * Deletes things. A group whose main goes is led by its first extension, or goes too. With a room go the detectors that
 * hang in it and the openings that are then in no wall. What named a deleted thing no longer does; records about it go.
 * A detector type that is still in use, and a locked detector, are not deleted.
 */
export function deleteThings(file: FloorFile, ids: readonly string[]): Edit {
  const things = findAllListed(file, ids);
  if (things.length === 0) return refuse('Nothing is selected', 'Select what to delete.');
  const followers = listFollowers(file, things);
  const all = [...things, ...followers];
  const refused = refuseDeletion(file, all);
  if (refused !== null) return refused;
  const change = createChange(file);
  const records = removeThings(
    change,
    all.map(({ item }) => item.id),
  );
  const also = [
    ...(['detectors', 'openings'] as const).map((list) => {
      const count = followers.filter((thing) => thing.list === list).length;
      return count === 0 ? '' : countThings(list, count);
    }),
    records === 0 ? '' : records === 1 ? '1 record' : `${records} records`,
  ].filter((part) => part !== '');
  const name = `Deleted ${nameThings(things)}${also.length === 0 ? '' : `, with ${listWords(also)}`}`;
  return change.plan(name, []);
}

/** What cannot stay without the rooms that are deleted. */
export function listFollowers(file: FloorFile, things: readonly Listed[]): readonly Listed[] {
  const gone = new Set(things.map(({ item }) => item.id));
  const rooms = listOf(file, 'rooms').filter(({ id }) => gone.has(id));
  if (rooms.length === 0) return [];
  const resolved = resolveFloor(file).rooms;
  const detectors = listOf(file, 'detectors').filter(({ at }) => gone.has(findRoomAt(resolved, at)?.id ?? ''));
  const left = listOf(file, 'rooms').filter(({ id }) => !gone.has(id));
  const openings = listOf(file, 'openings').filter(
    (opening) => rooms.some((room) => isInWallOf(opening, room)) && !left.some((room) => isInWallOf(opening, room)),
  );
  const followers: readonly Listed[] = [
    ...detectors.map((item) => ({ list: 'detectors', item }) as const),
    ...openings.map((item) => ({ list: 'openings', item }) as const),
  ];
  return followers.filter(({ item }) => !gone.has(item.id));
}

function refuseDeletion(file: FloorFile, things: readonly Listed[]): Refused | null {
  const gone = new Set(things.map(({ item }) => item.id));
  for (const thing of things) {
    if (thing.list === 'detectors' && isLocked(thing)) return refuseLocked(thing);
    if (thing.list !== 'types') continue;
    const users = listOf(file, 'detectors').filter(({ type, id }) => type === thing.item.id && !gone.has(id));
    if (users.length > 0) {
      const names = listWords(
        users.map((item) => nameThing({ list: 'detectors', item })),
        4,
      );
      return refuse(
        `${startSentence(nameThing(thing))} is the type of ${names}`,
        'Give them another type first, or delete them too.',
      );
    }
  }
  return null;
}

/**
 * Takes things out of a change, and out of everything that names them.
 * @returns how many records about them went too
 */
export function removeThings(change: Change, ids: readonly string[]): number {
  const gone = new Set(ids);
  for (const id of gone) {
    const thing = findListed(change.file, id);
    if (thing === undefined) continue;
    if (thing.list === 'detectors') {
      const group = leaveGroup(change, id);
      if (group !== null) gone.add(group);
    }
    change.remove(thing.list, id);
  }
  return forgetThings(change, gone);
}

/**
 * Takes things that are gone out of everything that names them, and the records about them away.
 * @returns how many records that were
 */
export function forgetThings(change: Change, gone: ReadonlySet<string>): number {
  forgetReferences(change, gone);
  const records = change.whole('records') ?? [];
  const kept = records.filter(({ about }) => !gone.has(about));
  if (kept.length < records.length) change.put('records', kept);
  return records.length - kept.length;
}

/** Takes ids out of every list that names things. A list that gets empty is left out: it then means what it meant unsaid. */
function forgetReferences(change: Change, gone: ReadonlySet<string>): void {
  const without = (ids: readonly string[]): readonly string[] => ids.filter((id) => !gone.has(id));
  const names = (ids: readonly string[] | undefined): boolean => ids?.some((id) => gone.has(id)) === true;
  for (const luminaire of change.list('luminaires')) {
    if (luminaire.group === undefined || !gone.has(luminaire.group)) continue;
    const { group: _, ...rest } = luminaire;
    change.set('luminaires', rest);
  }
  for (const zone of change.list('zones')) {
    if (!names(zone.groups)) continue;
    const { groups = [], ...rest } = zone;
    const left = without(groups);
    change.set('zones', left.length === 0 ? rest : { ...rest, groups: left });
  }
  for (const group of change.list('groups')) {
    if (!names(group.serves) && !names(group.ventilation)) continue;
    const { serves = [], ventilation = [], ...rest } = group;
    const [served, ventilated] = [without(serves), without(ventilation)];
    change.set('groups', {
      ...rest,
      ...(served.length === 0 ? {} : { serves: served }),
      ...(ventilated.length === 0 ? {} : { ventilation: ventilated }),
    });
  }
}
