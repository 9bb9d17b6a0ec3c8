/** Groups: a main, its extensions, what they serve, and their settings. A detector is in one group at most. */
import type { FloorFile } from '../../core/floor/index.ts';
import { findMember, refuseValue } from './allowed-values.ts';
import { type Change, createChange } from './change.ts';
import { type Edit, type Refused, refuse, refuseGone } from './edit.ts';
import { nameThing, nameThings, startSentence } from './fault-words.ts';
import { groupOf, leaveGroup } from './group-members.ts';
import { createIdMaker } from './ids.ts';
import { findItem, type Items } from './lists.ts';
import { forgetThings } from './removal.ts';

type Group = Items['groups'];
type Settings = NonNullable<Group['settings']>;

/** Makes a group of a main and extensions. Each leaves the group it was in. */
export function addGroup(file: FloorFile, main: string, extensions: readonly string[] = [], name?: string): Edit {
  const members = [...new Set([main, ...extensions])];
  const gone = refuseMissing(file, members);
  if (gone !== null) return gone;
  const change = createChange(file);
  const maker = createIdMaker(file);
  const item: Group = {
    id: maker.next('groups'),
    name: name ?? maker.nextName('groups', 'Group'),
    main,
    ...(members.length > 1 ? { extensions: members.slice(1) } : {}),
  };
  leaveGroups(change, members);
  change.add('groups', item);
  return change.plan(`Added ${nameThing({ list: 'groups', item })}`, [item.id]);
}

/** Adds extensions to a group. Each leaves the group it was in; its own members stay as they are. */
export function addExtensions(file: FloorFile, groupId: string, detectorIds: readonly string[]): Edit {
  const group = findItem(file, 'groups', groupId);
  if (group === undefined) return refuseGone('group');
  const gone = refuseMissing(file, detectorIds);
  if (gone !== null) return gone;
  const members = new Set([group.main, ...(group.extensions ?? [])]);
  const joining = [...new Set(detectorIds)].filter((id) => !members.has(id));
  if (joining.length === 0)
    return refuse(`${nameDetectors(file, detectorIds)} is in ${nameGroup(group)} already`, 'Choose another detector.');
  const change = createChange(file);
  leaveGroups(change, joining);
  change.set('groups', { ...group, extensions: [...(group.extensions ?? []), ...joining] });
  return change.plan(`Added ${nameDetectors(file, joining)} to ${nameGroup(group)}`, [groupId]);
}

/** Takes detectors out of their groups; each is then a group of its own. Where a main goes, the first extension leads. */
export function removeFromGroups(file: FloorFile, detectorIds: readonly string[]): Edit {
  const change = createChange(file);
  const members = [...new Set(detectorIds)].filter((id) => groupOf(change, id) !== undefined);
  if (members.length === 0)
    return refuse(`${nameDetectors(file, detectorIds)} is in no group`, 'Choose another detector.');
  leaveGroups(change, members);
  return change.plan(
    `Took ${nameDetectors(file, members)} out of ${members.length === 1 ? 'its group' : 'their groups'}`,
    members,
  );
}

/** Makes a detector the main of a group; the main before becomes its first extension. */
export function setMain(file: FloorFile, groupId: string, detectorId: string): Edit {
  const group = findItem(file, 'groups', groupId);
  if (group === undefined) return refuseGone('group');
  const gone = refuseMissing(file, [detectorId]);
  if (gone !== null) return gone;
  const { main, extensions = [] } = group;
  const name = nameDetectors(file, [detectorId]);
  if (main === detectorId) return refuse(`${name} leads ${nameGroup(group)} already`, 'Choose another detector.');
  const change = createChange(file);
  if (!extensions.includes(detectorId)) leaveGroups(change, [detectorId]);
  change.set('groups', {
    ...group,
    main: detectorId,
    extensions: [main, ...extensions.filter((id) => id !== detectorId)],
  });
  return change.plan(`${startSentence(name)} leads ${nameGroup(group)}`, [groupId]);
}

/**
 * Says which rooms and zones a group serves, or ventilates.
 * @param ids null: it is not said; a group then serves the rooms in which its detectors hang
 */
export function setServed(
  file: FloorFile,
  groupId: string,
  ids: readonly string[] | null,
  as: 'serves' | 'ventilation' = 'serves',
): Edit {
  const group = findItem(file, 'groups', groupId);
  if (group === undefined) return refuseGone('group');
  for (const id of ids ?? [])
    if (findItem(file, 'rooms', id) === undefined && findItem(file, 'zones', id) === undefined)
      return refuseGone('room or zone');
  const { [as]: _, ...rest } = group;
  const change = createChange(file);
  change.set('groups', ids === null ? rest : { ...rest, [as]: [...new Set(ids)] });
  return change.plan(`Set what ${nameGroup(group)} ${as === 'serves' ? 'serves' : 'ventilates'}`, [groupId]);
}

/** Settings to change; null leaves one out, so that it is not set. */
export type SettingsPatch = { readonly [Key in keyof Omit<Settings, 'notes'>]?: Settings[Key] | null };

/** Changes settings of groups. What the patch does not name stays. */
export function setGroupSettings(file: FloorFile, groupIds: readonly string[], patch: SettingsPatch): Edit {
  const groups = groupIds.map((id) => findItem(file, 'groups', id)).filter((group) => group !== undefined);
  if (groups.length === 0) return refuseGone('group');
  const change = createChange(file);
  for (const group of groups) {
    const settings: Record<string, unknown> = { ...group.settings };
    for (const [key, value] of Object.entries(patch)) {
      if (value === null) delete settings[key];
      else settings[key] = value;
    }
    const member = findMember('groups', 'settings');
    const refused =
      member === undefined ? null : refuseValue(settings, member.shape, `a setting of ${nameGroup(group)}`);
    if (refused !== null) return refused;
    change.set('groups', { ...group, settings: settings as Settings });
  }
  return change.plan(
    `Changed the settings of ${nameThings(groups.map((item) => ({ list: 'groups', item })))}`,
    groups.map(({ id }) => id),
  );
}

/** Takes detectors out of their groups; groups that get empty are forgotten everywhere. */
function leaveGroups(change: Change, detectorIds: readonly string[]): void {
  const gone = new Set<string>();
  for (const id of detectorIds) {
    const group = leaveGroup(change, id);
    if (group !== null) gone.add(group);
  }
  if (gone.size > 0) forgetThings(change, gone);
}

function refuseMissing(file: FloorFile, detectorIds: readonly string[]): Refused | null {
  if (detectorIds.length === 0) return refuse('No detector is chosen', 'Choose at least one.');
  return detectorIds.every((id) => findItem(file, 'detectors', id) !== undefined) ? null : refuseGone('detector');
}

function nameDetectors(file: FloorFile, ids: readonly string[]): string {
  const detectors = ids.map((id) => findItem(file, 'detectors', id)).filter((item) => item !== undefined);
  return nameThings(detectors.map((item) => ({ list: 'detectors', item })));
}

function nameGroup(item: Group): string {
  return nameThing({ list: 'groups', item });
}
