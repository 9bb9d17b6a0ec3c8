/** The group sheet: what a group serves, how it is wired, and what to look out for. */
import type { Detector } from '../../core/floor/index.ts';
import { computeSegmentDistance } from '../../core/geometry/polygon.ts';
import type { HandoverJob } from '../job.ts';
import { listServedGroups, type ServedGroup } from './groups-of.ts';
import type { Cell, Column, Table } from './table.ts';

/** A group over this area loses the energy credit of switching by presence. EN 15193, from memory: check it before use. */
export const GROUP_AREA_M2 = 30;
/** Depth of the daylit strip behind a window. UK compliance guide, section 12: within 6 m of a window wall. */
const DAYLIT_M = 6;

const COLUMNS = [
  { title: 'Group', width: 24 },
  { title: 'Serves', width: 30 },
  { title: 'Seats', width: 8, decimals: 0 },
  { title: 'Serves m²', width: 11, decimals: 1 },
  { title: 'Area limit m²', width: 11, decimals: 0 },
  { title: 'Within it', width: 10 },
  { title: 'Daylight', width: 16 },
  { title: 'Main', width: 10 },
  { title: 'Extensions in order', width: 24 },
  { title: 'Extensions', width: 10, decimals: 0 },
  { title: 'Limit of extensions', width: 10, decimals: 0 },
  { title: 'Cable limit m', width: 10, decimals: 1 },
  { title: 'Supply circuit', width: 14, byHand: true },
  { title: 'Switched circuit', width: 14, byHand: true },
  { title: 'Luminaires', width: 24 },
  { title: 'Load W', width: 10, decimals: 0 },
  { title: 'Inrush class', width: 12, byHand: true },
  { title: 'Load limit', width: 12, byHand: true },
  { title: 'Wall button', width: 16 },
  { title: 'Ventilation contact to', width: 20 },
  { title: 'Second supply y/n', width: 12, byHand: true },
  { title: 'Emergency luminaires left out', width: 20 },
  { title: 'Cautions', width: 40 },
] as const satisfies readonly Column[];

/** One row a group, detectors in no group included. */
export function writeGroups(job: HandoverJob): Table {
  const rows = listServedGroups(job).map((served): readonly Cell[] => {
    const { names } = job;
    const type = job.floor.types.find((each) => each.id === served.main?.type);
    const emergency = served.luminaires.filter((each) => each.emergency);
    const switched = served.luminaires.filter((each) => !each.emergency);
    const isKnown = switched.length > 0 && switched.every((each) => each.watts !== undefined);
    return [
      served.name,
      served.serves.join(', '),
      served.seats.length,
      served.areaM2,
      GROUP_AREA_M2,
      served.areaM2 <= GROUP_AREA_M2 + 1e-9 ? 'yes' : 'no',
      daylightOf(job, served),
      served.main === undefined ? null : names.numberOf(served.main.id),
      served.extensions.map((each) => names.numberOf(each.id)).join(', '),
      served.extensions.length,
      type?.extensionLimit ?? null,
      type?.cableLimit ?? null,
      null,
      null,
      switched.map((each) => names.nameOf(each.id)).join(', '),
      isKnown ? switched.reduce((sum, each) => sum + (each.watts ?? 0), 0) : null,
      null,
      null,
      served.group?.settings.button ?? '',
      served.group?.ventilation === undefined ? '' : names.listOf(served.group.ventilation),
      null,
      emergency.map((each) => names.nameOf(each.id)).join(', '),
      cautionsOn(served, type?.extensionLimit).join(' '),
    ];
  });
  return { title: 'Groups', columns: COLUMNS, rows };
}

/** Whether a group's detectors stand in the daylit strip behind windows. How much of the wall is glass is not looked at. */
function daylightOf({ floor }: HandoverJob, { main, extensions }: ServedGroup): string {
  const windows = floor.openings.filter((each) => each.kind === 'window');
  const isDaylit = ({ at }: Detector) =>
    windows.some(({ from, to }) => computeSegmentDistance(from, to, at[0], at[1]) <= DAYLIT_M);
  const lit = [main, ...extensions].flatMap((each) => (each === undefined ? [] : [isDaylit(each)]));
  if (lit.length === 0) return '';
  if (lit.every((each) => each)) return 'daylit';
  return lit.some((each) => each) ? 'mixed' : 'not daylit';
}

function cautionsOn({ luminaires, extensions, areaM2, met, main }: ServedGroup, limit: number | undefined): string[] {
  const cautions: string[] = [];
  if (luminaires.some((each) => each.emergency))
    cautions.push('Emergency luminaires stand in this group: presence must never switch them.');
  if (limit !== undefined && extensions.length > limit)
    cautions.push(`${extensions.length} extensions, ${limit} are allowed by the type.`);
  if (areaM2 > GROUP_AREA_M2) cautions.push(`Over ${GROUP_AREA_M2} m²: the energy credit is lost.`);
  if (main === undefined || main.status === 'remove') cautions.push('The main is to be taken down.');
  if (!met) cautions.push('A need that it serves is not met.');
  return cautions;
}

/** Sums over the whole floor. */
export function writeTotals(job: HandoverJob): Table {
  const groups = listServedGroups(job);
  const { floor } = job;
  const kept = floor.detectors.filter((each) => each.status !== 'remove');
  const count = (status: Detector['status']) => floor.detectors.filter((each) => each.status === status).length;
  const byType = floor.types.flatMap((type) => {
    const fitted = kept.filter((each) => each.type === type.id && each.status === 'new').length;
    return fitted === 0 ? [] : [[`New detectors of type ${job.names.nameOf(type.id)}`, fitted] as const];
  });
  const watts = floor.luminaires.reduce((sum, each) => sum + (each.watts ?? 0), 0);
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
      ['Luminaires', floor.luminaires.length],
      ...(floor.luminaires.length > 0 ? [['Load of the luminaires whose watts are stated, W', watts] as const] : []),
    ],
  };
}
