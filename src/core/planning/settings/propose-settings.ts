/** Settings of a group from the use of the rooms it serves, each value with its reason. */

import type { Coverage } from '../../coverage/index.ts';
import type { ServingGroup } from '../../coverage/serving.ts';
import type { Floor, Group, GroupId, Room } from '../../floor/index.ts';
import { nameOf } from '../../floor/index.ts';
import { servedRooms } from '../groups/group-plan.ts';
import type { Sourced } from '../sourced.ts';
import { findUse, type SwitchOn, type Use } from './uses.ts';

/** The settings that follow from a use: keys of the floor file. Minutes, lux, per cent. */
export interface SettingValues {
  readonly switchOn: SwitchOn;
  readonly level: number;
  readonly delay: number;
  readonly ventilationDelay: number;
  readonly background: number;
}

export type SettingName = keyof SettingValues;

export interface SettingProposal<Name extends SettingName = SettingName> {
  readonly name: Name;
  /** As the file has it; undefined: not set. */
  readonly now: SettingValues[Name] | undefined;
  readonly proposed: Sourced<SettingValues[Name]>;
  /** The use of which it is: the one that asks for most. */
  readonly use: string;
}

export interface GroupSettings {
  readonly id: GroupId;
  /** Uses taken, by room: with the words of the file. */
  readonly uses: readonly { readonly room: Room['id']; readonly words: string; readonly use: string | null }[];
  /** Empty where no use is known. */
  readonly settings: readonly SettingProposal[];
  /** What could not be told, and what was decided between several uses; plain words. */
  readonly remarks: readonly string[];
}

export const SETTING_WORDS: { readonly [Name in SettingName]: { readonly label: string; readonly unit: string } } = {
  switchOn: { label: 'switches on', unit: '' },
  level: { label: 'light level', unit: 'lx' },
  delay: { label: 'delay', unit: 'min' },
  ventilationDelay: { label: 'ventilation delay', unit: 'min' },
  background: { label: 'background light', unit: '%' },
};

/** Proposes settings for every group of the file, in its order. */
export function proposeSettings(coverage: Coverage): GroupSettings[] {
  return coverage.serving.groups.flatMap((serving) =>
    serving.group === null ? [] : [proposeFor(coverage.floor, serving, serving.group)],
  );
}

/** Proposes settings for one group; undefined when the floor has none of that id. */
export function proposeSettingsOf(coverage: Coverage, id: string): GroupSettings | undefined {
  const serving = coverage.serving.groups.find((each) => each.group?.id === id);
  return serving?.group ? proposeFor(coverage.floor, serving, serving.group) : undefined;
}

function proposeFor(floor: Floor, serving: ServingGroup, group: Group): GroupSettings {
  const rooms = servedRooms(floor, serving);
  const remarks: string[] = [];
  if (rooms.length === 0) remarks.push('It serves no room, so no use is known. Say what it serves.');
  const read = rooms.map((room) => ({ room, found: findUse(room.use ?? '') }));
  for (const { room, found } of read) {
    const name = nameOf(room);
    if (room.use === undefined || room.use.trim() === '')
      remarks.push(`${name} states no use. Give it one, such as office, meeting or corridor.`);
    else if (found === undefined)
      remarks.push(`The use “${room.use}” of ${name} is not in the table. Nothing is proposed from it.`);
    else if (found.isGuess) remarks.push(`The use “${room.use}” of ${name} is read as ${found.use.name}.`);
  }
  const uses = [...new Set(read.flatMap(({ found }) => (found === undefined ? [] : [found.use])))];
  if (uses.length > 1)
    remarks.push(
      `It serves several uses (${uses.map(({ name }) => name).join(', ')}): of each setting the one that asks for most is taken.`,
    );
  return {
    id: group.id,
    uses: read.map(({ room, found }) => ({ room: room.id, words: room.use ?? '', use: found?.use.name ?? null })),
    settings: uses.length === 0 ? [] : listSettings(uses, group),
    remarks,
  };
}

function listSettings(uses: readonly Use[], group: Group): readonly SettingProposal[] {
  const { settings } = group;
  const most = (read: (use: Use) => number) => uses.reduce((a, b) => (read(b) > read(a) ? b : a));
  // Light that comes by itself in a room where people should switch is a nuisance; the other way it is dark.
  const switching = uses.find((use) => use.switchOn.value === 'automatic') ?? uses[0]!;
  const level = most((use) => use.level.value);
  const delay = most((use) => use.delay.value);
  const background = most((use) => use.background.value);
  const airy = uses.filter((use) => use.ventilationDelay !== null);
  const air = airy.length === 0 ? null : airy.reduce((a, b) => (airOf(b) > airOf(a) ? b : a));
  const proposals: SettingProposal[] = [
    { name: 'switchOn', now: settings.switchOn, proposed: switching.switchOn, use: switching.name },
    { name: 'level', now: settings.level, proposed: level.level, use: level.name },
    { name: 'delay', now: settings.delay, proposed: delay.delay, use: delay.name },
    { name: 'background', now: settings.background, proposed: background.background, use: background.name },
  ];
  if (air?.ventilationDelay)
    proposals.push({
      name: 'ventilationDelay',
      now: settings.ventilationDelay,
      proposed: air.ventilationDelay,
      use: air.name,
    });
  return proposals;
}

function airOf(use: Use): number {
  return use.ventilationDelay?.value ?? 0;
}

/** Does the file differ from what is proposed? Background light that is not set is none. */
export function differsFromProposal({ name, now, proposed }: SettingProposal): boolean {
  return (now ?? (name === 'background' ? 0 : undefined)) !== proposed.value;
}
