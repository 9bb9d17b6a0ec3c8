/**
 * The walk-test record: numbered test points in one walking route with what is expected, and room for what is found.
 * Entrances first, then seats (the risky ones before the rest), then places that must not switch anything.
 */
import type { WorkplaceResult } from '../../core/coverage/index.ts';
import type { Point } from '../../core/floor/index.ts';
import { ALLOWED_DARK_M, listTestPoints, type TestPoint } from '../../core/planning/walk-test/test-points.ts';
import {
  readRecords,
  sayDisagreement,
  type TestRecord,
  WALK_TEST,
} from '../../core/planning/walk-test/test-records.ts';
import type { HandoverJob } from '../job.ts';
import { AT_ONCE, formatShare, sayFirstSeen } from '../plan/words.ts';
import type { ServedGroup } from '../served-groups.ts';
import type { Cell, Column, Table } from './table.ts';

/** A test point as paper says it. */
interface WrittenPoint {
  readonly point: TestPoint;
  readonly place: string;
  readonly room: string;
  readonly group: string;
  readonly expected: string;
  /** The newest finding at it; null: it is still to be walked. */
  readonly record: TestRecord | null;
  /** The cells that the table of its part shows after the number. */
  readonly cells: readonly Cell[];
}

/** The whole record as tables, and all points of its first three parts as one list. */
export interface WalkTest {
  readonly route: Table;
  readonly parts: readonly Table[];
  readonly points: readonly { readonly no: string; readonly at: Point }[];
}

const BY_HAND = { byHand: true } as const;

export function writeWalkTest(job: HandoverJob): WalkTest {
  const { floor, result, groups } = job;
  const points = listTestPoints(floor, result);
  const records = readRecords(floor, points);
  const write = createWriter(job);
  const written = points.map((point): WrittenPoint => write(point, records.get(point.no) ?? null));
  const toTable = (title: string, columns: readonly Column[], part: TestPoint['part']): Table => ({
    title,
    columns: [{ title: 'Point', width: 9 }, ...columns],
    rows: written.filter(({ point }) => point.part === part).map(({ point, cells }) => [point.no, ...cells]),
  });
  return {
    points: points.map(({ no, at }) => ({ no, at })),
    route: writeRoute(written),
    parts: [
      ...(records.size === 0 ? [] : [writeDisagreements(written, records.size)]),
      toTable('Part 1: entrances', ENTRANCE_COLUMNS, 'entrance'),
      toTable('Part 2: seats', SEAT_COLUMNS, 'seat'),
      toTable('Part 3: what must not switch', QUIET_COLUMNS, 'quiet'),
      writeLimits(job, groups),
      writeAsBuilt(job),
      SIGN_OFF,
    ],
  };
}

/** Where what was found is not what was predicted, and by how much. */
function writeDisagreements(points: readonly WrittenPoint[], walked: number): Table {
  const rows = points.flatMap(({ point, place, room, record }): Cell[][] => {
    const said = record === null ? null : sayDisagreement(point, record);
    if (record === null || said === null) return [];
    return [[point.no, place, room, said, record.pass ? 'passed' : 'not passed', record.note]];
  });
  return {
    title: `Found on site: ${walked} of ${points.length} points walked, ${rows.length} not as predicted`,
    columns: [
      { title: 'Point', width: 9 },
      { title: 'Place', width: 24 },
      { title: 'Room', width: 24 },
      { title: 'Predicted and found', width: 52 },
      { title: 'Verdict', width: 14 },
      { title: 'Note', width: 36 },
    ],
    rows,
  };
}

/** What was found, in a word for the record. */
function sayFound({ point }: Pick<WrittenPoint, 'point'>, record: TestRecord | null): Cell {
  if (record === null) return null;
  const { seen, metres } = record.found;
  if (point.part === 'quiet') return seen ? 'switched' : 'stayed dark';
  if (!seen) return 'not seen';
  if (metres === undefined) return 'seen';
  const said = sayFirstSeen(metres);
  return said === AT_ONCE ? said : `after ${said} m`;
}

function sayPass(record: TestRecord | null): Cell {
  return record === null ? null : record.pass ? 'yes' : 'no';
}

function saySigned(record: TestRecord | null): Cell {
  return record === null ? null : `${record.date} ${record.by}`.trim();
}

const PARTS = { entrance: 'entrance', seat: 'seat', quiet: 'must not switch' } as const;

function writeRoute(points: readonly WrittenPoint[]): Table {
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
      each.point.no,
      PARTS[each.point.part],
      each.place,
      each.room,
      each.point.at[0],
      each.point.at[1],
      each.group,
      each.expected,
      sayFound(each, each.record),
      sayPass(each.record),
      saySigned(each.record),
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

/** Names of the groups that serve a room, by its name. */
function serving(groups: readonly ServedGroup[], room: string): string {
  return groups
    .filter((each) => each.serves.includes(room))
    .map((each) => each.name)
    .join(', ');
}

const SEAT_COLUMNS: readonly Column[] = [
  { title: 'Seat', width: 29 },
  { title: 'Room', width: 29 },
  { title: 'Seen by', width: 18 },
  { title: 'Seen', width: 11 },
  { title: 'Level', width: 13 },
  { title: 'Lost at 0.8', width: 11 },
  { title: 'Small movement y/n', width: 15, ...BY_HAND },
  { title: 'Holds delay y/n', width: 15, ...BY_HAND },
  { title: 'Pass', width: 12, ...BY_HAND },
];

const QUIET_COLUMNS: readonly Column[] = [
  { title: 'Place', width: 34 },
  { title: 'Group or detectors', width: 30 },
  { title: 'Predicted', width: 40 },
  { title: 'Found', width: 16, ...BY_HAND },
  { title: 'Cure', width: 18, ...BY_HAND },
  { title: 'Pass', width: 9, ...BY_HAND },
];

/** How the points of a floor are said on paper. */
function createWriter(job: HandoverJob): (point: TestPoint, record: TestRecord | null) => WrittenPoint {
  const { floor, coverage, result, names, groups } = job;
  const verdicts = new Map<string, WorkplaceResult>(result.workplaces.map((each) => [each.id, each]));
  const groupsBySeat = new Map<string, string[]>();
  for (const group of groups) {
    for (const seat of group.seats) groupsBySeat.set(seat.id, [...(groupsBySeat.get(seat.id) ?? []), group.name]);
  }
  const { lattice, room: roomOfCell } = coverage.grid;
  const roomAt = ([x, y]: Point): string => {
    const i = Math.floor((x - lattice.x0) / lattice.cell);
    const j = Math.floor((y - lattice.y0) / lattice.cell);
    const holds = i >= 0 && j >= 0 && i < lattice.nx && j < lattice.ny;
    const room = floor.rooms[holds ? (roomOfCell[j * lattice.nx + i] ?? -1) : -1];
    return room === undefined ? '' : names.nameOf(room.id);
  };
  const quiet = (
    point: TestPoint,
    record: TestRecord | null,
    [place, group, expected]: readonly [string, string, string],
  ): WrittenPoint => {
    const cells = [place, group, expected, sayFound({ point }, record), record?.note ?? null, sayPass(record)];
    return { point, record, place, room: '', group, expected, cells };
  };
  return (point, record) => {
    const { predicted, about } = point;
    switch (predicted.kind) {
      case 'entrance': {
        const room = names.nameOf(point.room ?? '');
        const group = serving(groups, room);
        const kind = floor.openings.find((each) => each.id === about)?.kind ?? 'opening';
        const place = `${kind} ${names.nameOf(about)}`;
        const { firstSeenM } = predicted;
        const metres = sayFirstSeen(firstSeenM);
        const expected =
          firstSeenM === null
            ? 'never seen: not met'
            : metres === AT_ONCE
              ? `light ${AT_ONCE}`
              : `light after ${metres} m`;
        const found = sayFound({ point }, record);
        const cells = [place, room, group, metres, ALLOWED_DARK_M, found, sayPass(record)];
        return { point, record, place, room, group, expected, cells };
      }
      case 'seat': {
        const verdict = verdicts.get(about);
        const room = roomAt(point.at);
        const seenBy = (verdict?.seenBy ?? []).map(names.numberOf).join(', ');
        const level = verdict?.level ?? 'none';
        const place = names.nameOf(about);
        const expected = predicted.met
          ? `small movements seen by ${seenBy}${level === 'body' ? '' : `, ${level} only`}`
          : `not met: ${formatShare(predicted.share)} seen`;
        const seen = record === null ? null : record.found.seen ? 'yes' : 'no';
        const cells = [
          place,
          room,
          seenBy,
          formatShare(predicted.share),
          predicted.met ? level : `${level}, not met`,
          predicted.lostAtLessRange ? 'yes' : predicted.met ? 'no' : '',
          seen,
          null,
          sayPass(record),
        ];
        return { point, record, place, room, group: (groupsBySeat.get(about) ?? []).join(', '), expected, cells };
      }
      case 'spill':
        return quiet(point, record, [
          names.nameOf(point.room ?? ''),
          names.nameOf(about),
          `${predicted.areaM2.toFixed(2)} m² seen with every door open`,
        ]);
      case 'zone': {
        const zone = floor.zones.find((each) => each.id === about);
        const said = predicted.met ? 'nobody seen' : `${formatShare(predicted.share)} of it seen: not met`;
        return quiet(point, record, [names.nameOf(about), (zone?.groups ?? []).map(names.nameOf).join(', '), said]);
      }
      case 'source': {
        const source = result.sources.find((each) => each.id === about);
        const said = [predicted.isSeen ? 'can be seen' : '', predicted.near ? 'too near to a lens' : ''];
        return quiet(point, record, [
          names.nameOf(about),
          (source?.seenBy ?? []).map(names.numberOf).join(', '),
          said.filter((each) => each !== '').join(', '),
        ]);
      }
    }
  };
}

function writeLimits({ names }: HandoverJob, groups: readonly ServedGroup[]): Table {
  const rows = groups.flatMap((group): Cell[][] => {
    const extensions = group.extensions
      .filter((each) => each.status !== 'remove')
      .map((each) => names.numberOf(each.id));
    const level = group.group?.settings.level;
    const tests = [
      'Warm-up seen, then ready; button does what is set',
      `Light level reached${level === undefined ? '' : `: ${level} lx`}`,
      ...(extensions.length === 0 ? [] : [`Each extension proved at its main, tick: ${extensions.join(', ')}`]),
      ...(group.group?.ventilation === undefined ? [] : ['Ventilation contact proved at the damper']),
    ];
    return tests.map((test, k) => [k === 0 ? group.name : '', test, null, null, null]);
  });
  return {
    title: 'Part 4: limits',
    columns: [
      { title: 'Group', width: 30 },
      { title: 'Proof', width: 62 },
      { title: 'Found', width: 22, ...BY_HAND },
      { title: 'Pass', width: 10, ...BY_HAND },
      { title: 'Date, initials', width: 20, ...BY_HAND },
    ],
    rows,
  };
}

/** Empty rows for changes found on site, after those the file records already. */
const AS_BUILT_ROWS = 12;

function writeAsBuilt({ floor, names }: HandoverJob): Table {
  const recorded = floor.records
    .filter(({ kind }) => kind !== WALK_TEST)
    .map((record): Cell[] => [
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
