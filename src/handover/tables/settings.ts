/** The settings sheet: every value with its reason, and planned, found and set under one another for each group. */
import { lensHeightOf } from '../../core/floor/index.ts';
import { proposeSettings, type SettingName } from '../../core/planning/settings/propose-settings.ts';
import { type Sourced, STANDING_WORDS } from '../../core/planning/sourced.ts';
import type { HandoverJob } from '../job.ts';
import type { ServedGroup } from '../served-groups.ts';
import type { Cell, Table } from './table.ts';

/** A value of a group as it is planned. */
interface Planned {
  readonly setting: string;
  /** Empty: to be agreed or found on site. */
  readonly value: string;
  readonly why: string;
}

/** The setting of which every group has a value of its own. */
export const LIGHT_SPOT = 'Light spot';

const OPEN = 'Not stated, and no use tells it: agree on it before commissioning.';

/** One row for every setting of every group, with its reason. */
export function writeSettings(job: HandoverJob): Table {
  return {
    title: 'Settings',
    columns: [
      { title: 'Group', width: 26 },
      { title: 'Main', width: 9 },
      { title: 'Setting', width: 22 },
      { title: 'Planned', width: 26 },
      { title: 'Why', width: 64 },
      { title: 'Found', width: 13, byHand: true },
      { title: 'Set', width: 13, byHand: true },
      { title: 'Date, initials', width: 17, byHand: true },
    ],
    rows: planAll(job).flatMap(({ served, planned }) =>
      planned.map(({ setting, value, why }): readonly Cell[] => [
        served.name,
        numberOfMain(job, served),
        setting,
        value,
        why,
        null,
        null,
        null,
      ]),
    ),
  };
}

/** Three rows a group: what is planned, what was found in the detector, what it is set to. */
export function writeSettingsSheet(job: HandoverJob): Table {
  const width = (setting: string) => (setting === LIGHT_SPOT ? 30 : setting === 'Mode' ? 18 : 12);
  const plans = planAll(job);
  const settings = plans[0]?.planned.map((each) => each.setting) ?? [];
  return {
    title: 'Planned, found, set',
    columns: [
      { title: 'Group', width: 26 },
      { title: '', width: 13 },
      ...settings.map((setting) => ({ title: setting, width: width(setting) })),
      { title: 'Date, initials', width: 15, byHand: true },
    ],
    rows: plans.flatMap(({ served, planned }): readonly (readonly Cell[])[] => [
      [
        `${served.name}, main ${numberOfMain(job, served) ?? 'none'}`,
        'planned',
        ...planned.map((each) => each.value),
        null,
      ],
      ['', 'found', ...planned.map(() => null), null],
      ['', 'set', ...planned.map(() => null), null],
    ]),
  };
}

function numberOfMain({ names }: HandoverJob, { main }: ServedGroup): string | null {
  return main === undefined ? null : names.numberOf(main.id);
}

function planAll(job: HandoverJob): readonly { readonly served: ServedGroup; readonly planned: readonly Planned[] }[] {
  const proposals = new Map<string, ReturnType<typeof proposeSettings>[number]>(
    proposeSettings(job.coverage).map((each) => [each.id, each]),
  );
  return job.groups.map((served) => ({ served, planned: planGroup(job, served, proposals.get(served.key)) }));
}

function planGroup(
  job: HandoverJob,
  served: ServedGroup,
  proposal: ReturnType<typeof proposeSettings>[number] | undefined,
): readonly Planned[] {
  const stated = served.group?.settings;
  const pick = (
    setting: string,
    name: SettingName,
    unit: string,
    say = (value: string | number) => `${value}${unit}`,
  ): Planned => {
    const proposed = proposal?.settings.find((each) => each.name === name);
    const value = stated?.[name];
    if (value === undefined && proposed === undefined) return { setting, value: '', why: OPEN };
    if (value === undefined && proposed !== undefined)
      return {
        setting,
        value: `${say(proposed.proposed.value)}, proposed`,
        why: `Not stated. For ${proposed.use}: ${sayStanding(proposed.proposed)}.`,
      };
    const why =
      proposed === undefined
        ? 'As the floor file states it.'
        : value === proposed.proposed.value
          ? `As stated; for ${proposed.use}: ${sayStanding(proposed.proposed)}.`
          : `As stated. For ${proposed.use} ${say(proposed.proposed.value)} would be proposed: ${sayStanding(proposed.proposed)}.`;
    return { setting, value: say(value ?? ''), why };
  };
  const mode = (value: string | number) => `${value} on, automatic off`;
  return [
    pick('Mode', 'switchOn', '', mode),
    pick('Level', 'level', ' lx'),
    pick('Delay', 'delay', ' min'),
    pick('Background', 'background', ' %'),
    {
      setting: 'Background time',
      value: '',
      why: 'The floor file holds none: agree on it where background light is used.',
    },
    pick('Ventilation delay', 'ventilationDelay', ' min'),
    {
      setting: 'Reach',
      value: served.main === undefined ? '' : `${Math.round(served.main.reach * 100)} %`,
      why: 'As the verdicts take it: ranges are declared at full sensitivity.',
    },
    {
      setting: 'Button',
      value: stated?.button ?? '',
      why: stated?.button === undefined ? 'No action is stated.' : 'As the floor file states it.',
    },
    {
      setting: 'Locked',
      value: '',
      why: 'Lock the values after the walk test, so that nobody changes them by chance.',
    },
    planSpot(job, served),
    { setting: 'Desk by day', value: '', why: 'A meter at the desk, lx.' },
    { setting: 'Desk, blinds shut', value: '', why: 'A meter at the desk, lx.' },
  ];
}

function sayStanding({ source, standing }: Sourced<unknown>): string {
  return `${source} (${STANDING_WORDS[standing]})`;
}

/** Where the main measures light, and what falsifies it there. */
function planSpot({ floor, names }: HandoverJob, { plan, main }: ServedGroup): Planned {
  const setting = LIGHT_SPOT;
  const spot = plan?.spot;
  if (spot === undefined || spot === null || main === undefined)
    return { setting, value: '', why: 'The main has no light sensor, or stands in no group.' };
  const faults = spot.faults.map((each) => names.nameOf(each.id)).slice(0, 4);
  return {
    setting,
    value: `${spot.at[0].toFixed(2)}, ${spot.at[1].toFixed(2)}, ⌀ ${(2 * spot.radius).toFixed(1)} m`,
    why:
      faults.length === 0
        ? `Under a lens at ${lensHeightOf(main, floor).toFixed(2)} m, half angle 30° (common practice, no source); nothing stands in it.`
        : `In it ${faults.length === 1 ? 'stands' : 'stand'} ${faults.join(', ')}: check what is measured.`,
  };
}
