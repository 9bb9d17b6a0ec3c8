/** The group sheet and the cable sheet: what a group serves, how it is wired, and what to look out for. */
import type { Detector } from '../../core/floor/index.ts';
import { CABLE_DEFAULTS, describeCable } from '../../core/planning/groups/cable.ts';
import type { DaylightClass, GroupLimit } from '../../core/planning/groups/group-plan.ts';
import type { HandoverJob } from '../job.ts';
import type { ServedGroup } from '../served-groups.ts';
import type { Cell, Column, Table } from './table.ts';

const COLUMNS = [
  { title: 'Group', width: 24 },
  { title: 'Serves', width: 30 },
  { title: 'Seats', width: 8, decimals: 0 },
  { title: 'Serves m²', width: 11, decimals: 1 },
  { title: 'Nearest m²', width: 11, decimals: 1 },
  { title: 'Area limits', width: 30 },
  { title: 'Daylight', width: 13 },
  { title: 'Main', width: 10 },
  { title: 'Extensions in order', width: 24 },
  { title: 'Count/limit', width: 12 },
  { title: 'Legs', width: 26 },
  { title: 'Plan m', width: 10, decimals: 1 },
  { title: 'Drop m', width: 10, decimals: 1 },
  { title: 'With reserve m', width: 12, decimals: 1 },
  { title: 'Cable/limit', width: 16 },
  { title: 'Supply circuit', width: 14, byHand: true },
  { title: 'Switched circuit', width: 14, byHand: true },
  { title: 'Luminaires', width: 24 },
  { title: 'Load W', width: 10, decimals: 0 },
  { title: 'Inrush class', width: 12, byHand: true },
  { title: 'Load/limit', width: 12, byHand: true },
  { title: 'Wall button', width: 16 },
  { title: 'Ventilation contact to', width: 20 },
  { title: 'Second supply y/n', width: 12, byHand: true },
  { title: 'Emergency luminaires left out', width: 20 },
  { title: 'Cautions', width: 40 },
] as const satisfies readonly Column[];

/** Not a blank: a blank might have been forgotten. */
const NOT_STATED = 'none stated';

const DAYLIGHT: Readonly<Record<DaylightClass, string>> = {
  daylit: 'daylit',
  inner: 'inner',
  mixed: 'mixed',
  'no places': '',
};

/** One row a group, detectors in no group included. */
export function writeGroups(job: HandoverJob): Table {
  const { names } = job;
  const rows = job.groups.map((served): readonly Cell[] => {
    const { plan, group } = served;
    const emergency = served.luminaires.filter((each) => each.emergency);
    const switched = served.luminaires.filter((each) => !each.emergency);
    const isKnown = switched.length > 0 && switched.every((each) => each.watts !== undefined);
    const cable = plan?.cable;
    return [
      served.name,
      served.serves.join(', '),
      served.seats.length,
      served.areaM2,
      plan?.ownM2 ?? null,
      (plan?.limits ?? [])
        .filter((each) => each.kind.endsWith('area'))
        .map(sayAreaLimit)
        .join('; '),
      plan === null ? '' : DAYLIGHT[plan.daylight],
      served.main === undefined ? null : names.numberOf(served.main.id),
      served.extensions.map((each) => names.numberOf(each.id)).join(', '),
      sayLimit(plan?.limits, 'extensions', 0),
      (cable?.legs ?? []).map((leg) => `${names.numberOf(leg.from)}–${names.numberOf(leg.to)}`).join(', '),
      cable?.planM ?? null,
      cable?.dropM ?? null,
      cable?.totalM ?? null,
      sayLimit(plan?.limits, 'cable', 1),
      null,
      null,
      sayRanges(switched.map((each) => each.id)),
      isKnown ? switched.reduce((sum, each) => sum + (each.watts ?? 0), 0) : null,
      null,
      null,
      group?.settings.button ?? NOT_STATED,
      group?.ventilation === undefined ? NOT_STATED : names.listOf(group.ventilation),
      null,
      sayRanges(emergency.map((each) => each.id)),
      listCautions(served).join(' '),
    ];
  });
  return { title: 'Groups', columns: COLUMNS, rows };
}

/** `6/10`; without a limit of the type `6, no limit stated`. */
function sayLimit(limits: readonly GroupLimit[] | undefined, kind: GroupLimit['kind'], decimals: number): string {
  const limit = limits?.find((each) => each.kind === kind);
  if (limit === undefined) return '';
  const value = limit.value.toFixed(decimals);
  return limit.limit === null
    ? `${value}, no limit stated`
    : `${value}/${limit.limit.toFixed(decimals)}${limit.met === false ? ', over' : ''}`;
}

function sayAreaLimit({ kind, limit, met }: GroupLimit): string {
  const what = kind === 'energy area' ? 'energy credit' : 'open plan';
  return `${what} ${limit === null ? '' : limit.toFixed(1)} m²: ${met === false ? 'over' : 'within'}`;
}

/** `L1–L26, L40`: ids that count on are drawn together. */
export function sayRanges(ids: readonly string[]): string {
  const runs: { readonly stem: string; readonly first: number; last: number; readonly text: string }[] = [];
  for (const id of ids) {
    const match = /^(.*?)(\d{1,9})$/u.exec(id);
    const stem = match?.[1] ?? id;
    const number = match === null || (match[2] ?? '').startsWith('0') ? Number.NaN : Number(match[2]);
    const run = runs.at(-1);
    if (run !== undefined && run.stem === stem && number === run.last + 1) run.last = number;
    else runs.push({ stem, first: number, last: number, text: id });
  }
  return runs
    .map(({ stem, first, last, text }) => (first === last || Number.isNaN(first) ? text : `${text}–${stem}${last}`))
    .join(', ');
}

function listCautions({ luminaires, plan, met, main }: ServedGroup): string[] {
  const cautions: string[] = [];
  if (luminaires.some((each) => each.emergency))
    cautions.push('Emergency luminaires stand in this group: presence must never switch them.');
  for (const limit of plan?.limits ?? []) {
    if (limit.met !== false) continue;
    if (limit.kind === 'extensions') cautions.push('More extensions than the type allows.');
    if (limit.kind === 'cable') cautions.push('More cable than the type allows.');
    if (limit.kind === 'energy area') cautions.push('Over the area of the energy credit.');
  }
  if (main === undefined || main.status === 'remove') cautions.push('The main is to be taken down.');
  if (!met) cautions.push('A need that it serves is not met.');
  cautions.push(...(plan?.remarks ?? []));
  return [...new Set(cautions)];
}

/** One row for every leg of every group, in the order in which the cable is pulled. */
export function writeCables({ groups, names }: HandoverJob): Table {
  return {
    title: 'Cables',
    columns: [
      { title: 'Group', width: 40 },
      { title: 'Leg', width: 10, decimals: 0 },
      { title: 'From', width: 20 },
      { title: 'To', width: 20 },
      { title: 'Plan m', width: 16, decimals: 2 },
      { title: 'Drop m', width: 16, decimals: 2 },
      { title: 'With reserve m', width: 20, decimals: 2 },
      { title: 'Pulled', width: 20, byHand: true },
    ],
    rows: groups.flatMap(({ name, plan }) =>
      (plan?.cable.legs ?? []).map((leg, k): readonly Cell[] => [
        name,
        k + 1,
        names.numberOf(leg.from),
        names.numberOf(leg.to),
        leg.planM,
        leg.dropM,
        leg.totalM,
        null,
      ]),
    ),
  };
}

/** What the lengths rest on. */
export function sayCableAssumptions({ groups }: HandoverJob): string {
  return describeCable(groups.find((each) => each.plan !== null)?.plan?.cable.options ?? CABLE_DEFAULTS);
}

/** Sums over the whole floor. */
export function writeTotals({ floor, groups, names }: HandoverJob): Table {
  const kept = floor.detectors.filter((each) => each.status !== 'remove');
  const count = (status: Detector['status']) => floor.detectors.filter((each) => each.status === status).length;
  const byType = floor.types.flatMap((type) => {
    const fitted = kept.filter((each) => each.type === type.id && each.status === 'new').length;
    return fitted === 0 ? [] : [[`New detectors of type ${names.nameOf(type.id)}`, fitted] as const];
  });
  const watts = floor.luminaires.reduce((sum, each) => sum + (each.watts ?? 0), 0);
  const cable = groups.reduce((sum, each) => sum + (each.plan?.cable.totalM ?? 0), 0);
  return {
    title: 'Totals',
    columns: [
      { title: 'What', width: 60 },
      { title: 'Number', width: 20, decimals: 0 },
    ],
    rows: [
      ['Groups', floor.groups.length],
      ['Detectors in no group', groups.filter((each) => each.group === null).length],
      ...byType,
      ['Existing detectors that stay', count('existing')],
      ['Detectors to take down', count('remove')],
      ['Masks to cut', kept.filter((each) => each.masks.length > 0).length],
      // Rounded up: what is ordered is not less than what is laid.
      ['Cable between detectors with reserve, m, rounded up', Math.ceil(cable - 1e-9)],
      ['Luminaires', floor.luminaires.length],
      ...(floor.luminaires.length > 0 ? [['Load of the luminaires whose watts are stated, W', watts] as const] : []),
    ],
  };
}
