/**
 * The walk-test record: numbered test points in one walking route with what is expected, and room for what is found.
 * Entrances first, then seats (the risky ones before the rest), then places that must not switch anything.
 */
import type { EntranceResult, WorkplaceResult } from '../../core/coverage/index.ts';
import type { Point } from '../../core/floor/index.ts';
import type { HandoverJob } from '../job.ts';
import { formatShare } from '../plan/words.ts';
import type { ServedGroup } from '../served-groups.ts';
import type { Cell, Column, Table } from './table.ts';
import { walkRoute } from './walk-route.ts';

/** Metres a person may walk in the dark after an entrance. Common practice, no source. */
export const ALLOWED_DARK_M = 1;

/** A test point before it has its number. */
interface TestPoint {
  readonly part: 1 | 2 | 3;
  readonly at: Point;
  readonly rank: number;
  readonly place: string;
  readonly room: string;
  readonly group: string;
  readonly expected: string;
  /** The cells that the table of its part shows after the number. */
  readonly cells: readonly Cell[];
}

interface NumberedPoint extends TestPoint {
  readonly no: string;
}

/** The whole record as tables, and all points of its first three parts as one list. */
export interface WalkTest {
  readonly route: Table;
  readonly parts: readonly Table[];
  readonly points: readonly { readonly no: string; readonly at: Point }[];
}

const BY_HAND = { byHand: true } as const;

export function writeWalkTest(job: HandoverJob): WalkTest {
  const groups = job.groups;
  const entrances = listEntrances(job, groups);
  const start: Point = entrances[0]?.at ?? job.floor.rooms[0]?.outline[0] ?? [0, 0];
  let last = start;
  const number = (points: readonly TestPoint[], letter: string): NumberedPoint[] => {
    const route = walkRoute(points, last);
    last = route.at(-1)?.at ?? last;
    return route.map((point, index) => ({ ...point, no: `${letter}${index + 1}` }));
  };
  const first = number(entrances, 'E');
  const second = number(listSeats(job, groups), 'S');
  const third = number(listQuietPlaces(job), 'N');
  const points = [...first, ...second, ...third];
  const toTable = (title: string, columns: readonly Column[], rows: readonly NumberedPoint[]): Table => ({
    title,
    columns: [{ title: 'Point', width: 9 }, ...columns],
    rows: rows.map(({ no, cells }) => [no, ...cells]),
  });
  return {
    points: points.map(({ no, at }) => ({ no, at })),
    route: writeRoute(points),
    parts: [
      toTable('Part 1: entrances', ENTRANCE_COLUMNS, first),
      toTable('Part 2: seats', SEAT_COLUMNS, second),
      toTable('Part 3: what must not switch', QUIET_COLUMNS, third),
      writeLimits(job, groups),
      writeAsBuilt(job),
      SIGN_OFF,
    ],
  };
}

const PARTS = { 1: 'entrance', 2: 'seat', 3: 'must not switch' } as const;

function writeRoute(points: readonly NumberedPoint[]): Table {
  return {
    title: 'Walk-test route',
    columns: [
      { title: 'Point', width: 8 },
      { title: 'Part', width: 14 },
      { title: 'Place', width: 30 },
      { title: 'Room', width: 24 },
      { title: 'x m', width: 10, decimals: 2 },
      { title: 'y m', width: 10, decimals: 2 },
      { title: 'Group', width: 22 },
      { title: 'Expected', width: 40 },
      { title: 'Found', width: 16, ...BY_HAND },
      { title: 'Pass', width: 10, ...BY_HAND },
      { title: 'Date, initials', width: 16, ...BY_HAND },
    ],
    rows: points.map((each) => [
      each.no,
      PARTS[each.part],
      each.place,
      each.room,
      each.at[0],
      each.at[1],
      each.group,
      each.expected,
      null,
      null,
      null,
    ]),
  };
}

const ENTRANCE_COLUMNS: readonly Column[] = [
  { title: 'Opening', width: 20 },
  { title: 'Into', width: 28 },
  { title: 'Group', width: 28 },
  { title: 'Predicted m', width: 13 },
  { title: 'Allowed m', width: 12, decimals: 1 },
  { title: 'Found m', width: 14, ...BY_HAND },
  { title: 'Pass', width: 10, ...BY_HAND },
];

function listEntrances({ floor, result, names }: HandoverJob, groups: readonly ServedGroup[]): TestPoint[] {
  return result.entrances.flatMap((entrance): TestPoint[] => {
    const opening = floor.openings.find((each) => each.id === entrance.id);
    if (opening === undefined) return [];
    const room = names.nameOf(entrance.room);
    const group = serving(groups, room);
    const place = `${opening.kind} ${names.nameOf(opening.id)}`;
    const predicted = sayFirstSeen(entrance);
    return [
      {
        part: 1,
        at: [(opening.from[0] + opening.to[0]) / 2, (opening.from[1] + opening.to[1]) / 2],
        rank: 0,
        place,
        room,
        group,
        expected: entrance.firstSeenM === null ? 'never seen: not met' : `light after ${predicted} m`,
        cells: [place, room, group, predicted, ALLOWED_DARK_M, null, null],
      },
    ];
  });
}

function sayFirstSeen({ firstSeenM }: EntranceResult): string {
  return firstSeenM === null ? 'never' : firstSeenM.toFixed(2);
}

/** Names of the groups that serve a room, by its name. */
function serving(groups: readonly ServedGroup[], room: string): string {
  return groups
    .filter((each) => each.serves.includes(room))
    .map((each) => each.name)
    .join(', ');
}

const SEAT_COLUMNS: readonly Column[] = [
  { title: 'Seat', width: 16 },
  { title: 'Room', width: 24 },
  { title: 'Seen by', width: 26 },
  { title: 'Seen', width: 11 },
  { title: 'Level', width: 13 },
  { title: 'Lost at 0.8', width: 11 },
  { title: 'Small movement seen y/n', width: 15, ...BY_HAND },
  { title: 'Holds for the delay y/n', width: 15, ...BY_HAND },
  { title: 'Pass', width: 9, ...BY_HAND },
];

function listSeats({ floor, coverage, result, names }: HandoverJob, groups: readonly ServedGroup[]): TestPoint[] {
  const verdicts = new Map<string, WorkplaceResult>(result.workplaces.map((each) => [each.id, each]));
  const marginal = new Set(
    result.findings.filter((each) => each.code === 'range-margin').flatMap((each) => each.about),
  );
  const groupsBySeat = new Map<string, string[]>();
  for (const group of groups) {
    for (const seat of group.seats) groupsBySeat.set(seat.id, [...(groupsBySeat.get(seat.id) ?? []), group.name]);
  }
  const { lattice, room: roomOfCell } = coverage.grid;
  return floor.workplaces.flatMap((seat): TestPoint[] => {
    const verdict = verdicts.get(seat.id);
    if (verdict === undefined) return [];
    const i = Math.floor((seat.at[0] - lattice.x0) / lattice.cell);
    const j = Math.floor((seat.at[1] - lattice.y0) / lattice.cell);
    const room =
      floor.rooms[i >= 0 && j >= 0 && i < lattice.nx && j < lattice.ny ? (roomOfCell[j * lattice.nx + i] ?? -1) : -1];
    const roomName = room === undefined ? '' : names.nameOf(room.id);
    const seenBy = verdict.seenBy.map(names.numberOf).join(', ');
    const isMarginal = marginal.has(seat.id);
    return [
      {
        part: 2,
        at: seat.at,
        rank: riskOf(verdict, isMarginal),
        place: names.numberOf(seat.id),
        room: roomName,
        group: (groupsBySeat.get(seat.id) ?? []).join(', '),
        expected: verdict.met
          ? `small movements seen by ${seenBy}${verdict.level === 'body' ? '' : `, ${verdict.level} only`}`
          : `not met: ${formatShare(verdict.share)} seen`,
        cells: [
          names.numberOf(seat.id),
          roomName,
          seenBy,
          formatShare(verdict.share),
          verdict.met ? verdict.level : `${verdict.level}, not met`,
          isMarginal ? 'yes' : verdict.met ? 'no' : '',
          null,
          null,
          null,
        ],
      },
    ];
  });
}

/** Not met, then only the shoulders, then lost with less range, then seen by one lens alone, then the rest. */
function riskOf(verdict: WorkplaceResult, isMarginal: boolean): number {
  if (!verdict.met) return 0;
  if (verdict.level !== 'body') return 1;
  if (isMarginal) return 2;
  return verdict.seenBy.length === 1 ? 3 : 4;
}

const QUIET_COLUMNS: readonly Column[] = [
  { title: 'Place', width: 34 },
  { title: 'Group or detectors', width: 30 },
  { title: 'Predicted', width: 40 },
  { title: 'Found', width: 16, ...BY_HAND },
  { title: 'Cure', width: 18, ...BY_HAND },
  { title: 'Pass', width: 9, ...BY_HAND },
];

function listQuietPlaces({ floor, result, names }: HandoverJob): TestPoint[] {
  const spill = result.spill.flatMap((each): TestPoint[] => {
    const room = floor.rooms.find((one) => one.id === each.room);
    if (room === undefined) return [];
    const group = names.nameOf(each.group);
    return [
      quiet(
        middleOf(room.outline),
        names.nameOf(room.id),
        group,
        `${each.areaM2.toFixed(2)} m² seen with every door open`,
      ),
    ];
  });
  const sources = result.sources.flatMap((each): TestPoint[] => {
    const source = floor.sources.find((one) => one.id === each.id);
    if (source === undefined || (each.seenBy.length === 0 && !each.near)) return [];
    const seenBy = each.seenBy.map(names.numberOf).join(', ');
    const said = [each.seenBy.length > 0 ? 'can be seen' : '', each.near ? 'too near to a lens' : ''];
    return [quiet(source.at, names.nameOf(source.id), seenBy, said.filter((one) => one !== '').join(', '))];
  });
  const zones = result.zones.flatMap((each): TestPoint[] => {
    const zone = floor.zones.find((one) => one.id === each.id);
    if (zone === undefined || zone.need !== 'nobody') return [];
    const groups = (zone.groups ?? []).map(names.nameOf).join(', ');
    const said = each.met ? 'nobody seen' : `${formatShare(each.share)} of it seen: not met`;
    return [quiet(middleOf(zone.outline), names.nameOf(zone.id), groups, said)];
  });
  return [...spill, ...zones, ...sources];
}

function quiet(at: Point, place: string, group: string, expected: string): TestPoint {
  return { part: 3, at, rank: 0, place, room: '', group, expected, cells: [place, group, expected, null, null, null] };
}

/** The mean of the corners: near enough to find the place. */
function middleOf(outline: readonly Point[]): Point {
  const [x, y] = outline.reduce<Point>(([sx, sy], [px, py]) => [sx + px, sy + py], [0, 0]);
  return [x / outline.length, y / outline.length];
}

function writeLimits({ names }: HandoverJob, groups: readonly ServedGroup[]): Table {
  const rows = groups.flatMap((group): Cell[][] => {
    const tests = [
      'Warm-up seen, then ready',
      ...group.extensions
        .filter((each) => each.status !== 'remove')
        .map((each) => `Extension ${names.numberOf(each.id)} proved at its main`),
      'Button does what is set',
      group.group?.settings.level === undefined
        ? 'Light level reached'
        : `Light level reached: ${group.group.settings.level} lx`,
      ...(group.group?.ventilation === undefined ? [] : ['Ventilation contact proved at the damper']),
    ];
    return tests.map((test) => [group.name, test, null, null, null]);
  });
  return {
    title: 'Part 4: limits',
    columns: [
      { title: 'Group', width: 34 },
      { title: 'Proof', width: 50 },
      { title: 'Found', width: 24, ...BY_HAND },
      { title: 'Pass', width: 10, ...BY_HAND },
      { title: 'Date, initials', width: 20, ...BY_HAND },
    ],
    rows,
  };
}

/** Empty rows for changes found on site, after those the file records already. */
const AS_BUILT_ROWS = 12;

function writeAsBuilt({ floor, names }: HandoverJob): Table {
  const recorded = floor.records.map((record): Cell[] => [
    names.numberOf(record.about),
    record.text,
    record.pass === null ? 'open' : record.pass ? 'passed' : 'not passed',
    `${record.date} ${record.by}`.trim(),
  ]);
  return {
    title: 'Part 5: changes as built',
    columns: [
      { title: 'Detector or place', width: 24 },
      { title: 'Moved by, reason', width: 60 },
      { title: 'Verdict checked again', width: 34 },
      { title: 'Date, name', width: 26 },
    ],
    rows: [...recorded, ...Array.from({ length: AS_BUILT_ROWS }, (): Cell[] => [null, null, null, null])],
  };
}

/** The record cannot be closed while a row above is open. */
const SIGN_OFF: Table = {
  title: 'Part 6: closing',
  columns: [
    { title: 'What', width: 70 },
    { title: 'Done y/n', width: 14, ...BY_HAND },
    { title: 'Name', width: 26, ...BY_HAND },
    { title: 'Date', width: 18, ...BY_HAND },
    { title: 'Signature', width: 30, ...BY_HAND },
  ],
  rows: [
    'Test mode is off at every detector',
    'Delays are set back to the planned values',
    'File and prints are left on site',
    'Instruction is given to the user',
    'No row of this record is open, or each open one is listed with a date',
    'Tested by',
    'Accepted by',
  ].map((what): Cell[] => [what, null, null, null, null]),
};
