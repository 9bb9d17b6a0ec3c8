/** The settings sheet: planned, found and set side by side; and the masks with what they hide and cost. */
import type { Group } from '../../core/floor/index.ts';
import type { HandoverJob } from '../job.ts';
import { listServedGroups } from './groups-of.ts';
import type { Cell, Column, Table } from './table.ts';

const COLUMNS = [
  { title: 'Group', width: 24 },
  { title: 'Main', width: 9 },
  { title: 'Setting', width: 22 },
  { title: 'Planned', width: 16 },
  { title: 'Why', width: 46 },
  { title: 'Found', width: 13, byHand: true },
  { title: 'Set', width: 13, byHand: true },
  { title: 'Date, initials', width: 17, byHand: true },
] as const satisfies readonly Column[];

const STATED = 'As the floor file states it.';
const OPEN = 'Not stated: to be agreed before commissioning.';

/** One row for every setting of every group. */
export function writeSettings(job: HandoverJob): Table {
  const rows = listServedGroups(job).flatMap((served) =>
    planSettings(served.group, served.main?.reach, served.main?.locked).map(
      ([setting, planned, why]): readonly Cell[] => [
        served.name,
        served.main === undefined ? null : job.names.numberOf(served.main.id),
        setting,
        planned,
        why,
        null,
        null,
        null,
      ],
    ),
  );
  return { title: 'Settings', columns: COLUMNS, rows };
}

function planSettings(
  group: Group | null,
  reach: number | undefined,
  locked: boolean | undefined,
): readonly (readonly [setting: string, planned: string, why: string])[] {
  const settings = group?.settings;
  const row = (setting: string, value: string | number | undefined, unit: string) =>
    [setting, value === undefined ? '' : `${value}${unit}`, value === undefined ? OPEN : STATED] as const;
  return [
    row('Mode', settings?.switchOn === undefined ? undefined : `${settings.switchOn} on, automatic off`, ''),
    row('Switching level', settings?.level, ' lx'),
    row('Switch-off delay', settings?.delay, ' min'),
    row('Background light', settings?.background, ' %'),
    row('Background time', undefined, ' min'),
    row('Ventilation delay', settings?.ventilationDelay, ' min'),
    row('Reach', reach === undefined ? undefined : Math.round(reach * 100), ' %'),
    row('Button', settings?.button, ''),
    ['Place fixed', locked === true ? 'yes' : 'no', STATED],
    ['Light spot of the sensor (x, y, under what)', '', 'To be named on site: what the sensor measures.'],
    ['Desk reading by day', '', 'A meter at the desk, lx.'],
    ['Desk reading, blinds shut', '', 'A meter at the desk, lx.'],
  ];
}
