/** Blind areas with their cause, workplaces, zones, entrances, spill and sources: every verdict as a table. */
import type { PdfContent } from 'pdfmake/build/pdfmake.js';
import { ALLOWED_DARK_M } from '../../../core/planning/walk-test/test-points.ts';
import type { HandoverJob } from '../../job.ts';
import { printedArea } from '../../paper/sizes.ts';
import { formatShare, sayFirstSeen } from '../../plan/words.ts';
import type { Table } from '../../tables/table.ts';
import { headingOne, paragraph, type Setter, tableOf, titledTable } from '../setter.ts';

const CAUSES = {
  hidden: 'hidden',
  masked: 'masked',
  range: 'out of range',
  headings: 'too few headings',
} as const;

/** Blind areas, the largest first. */
export function writeBlindTable({ result, names }: HandoverJob): Table {
  const areas = [...result.blind].sort((a, b) => b.areaM2 - a.areaM2);
  return {
    title: 'Blind areas',
    columns: [
      { title: 'Plane', width: 20 },
      { title: 'm²', width: 14, decimals: 2 },
      { title: 'x m', width: 16, decimals: 2 },
      { title: 'y m', width: 16, decimals: 2 },
      { title: 'Cause', width: 30 },
      { title: 'By', width: 60 },
    ],
    rows: areas.map((each) => [
      each.plane,
      each.areaM2,
      each.at[0],
      each.at[1],
      CAUSES[each.cause],
      each.by === null ? '' : names.nameOf(each.by),
    ]),
  };
}

export function writeWorkplaceTable({ floor, result, names }: HandoverJob): Table {
  const seats = new Map<string, (typeof floor.workplaces)[number]>(floor.workplaces.map((each) => [each.id, each]));
  const sorted = [...result.workplaces].sort((a, b) => Number(a.met) - Number(b.met));
  return {
    title: 'Workplaces',
    columns: [
      { title: 'Workplace', width: 36 },
      { title: 'x m', width: 12, decimals: 2 },
      { title: 'y m', width: 12, decimals: 2 },
      { title: 'Seen', width: 13 },
      { title: 'Level', width: 16 },
      { title: 'Verdict', width: 14 },
      { title: 'Seen by', width: 26 },
      { title: 'Seen by others', width: 20 },
      { title: 'Hidden by', width: 34 },
    ],
    rows: sorted.map((each) => {
      const seat = seats.get(each.id);
      return [
        names.nameOf(each.id),
        seat?.at[0] ?? null,
        seat?.at[1] ?? null,
        formatShare(each.share),
        each.level,
        each.met ? 'met' : 'not met',
        each.seenBy.map(names.numberOf).join(', '),
        each.seenByOther.map(names.numberOf).join(', '),
        names.listOf(each.hiddenBy.slice(0, 6)),
      ];
    }),
  };
}

function writeZoneTable({ result, names }: HandoverJob): Table {
  return {
    title: 'Zones',
    columns: [
      { title: 'Zone', width: 70 },
      { title: 'Need', width: 24 },
      { title: 'Seen', width: 20 },
      { title: 'Verdict', width: 20 },
    ],
    rows: result.zones.map((each) => [
      names.nameOf(each.id),
      each.need,
      formatShare(each.share),
      each.met ? 'met' : 'not met',
    ]),
  };
}

function writeEntranceTable({ floor, result, names }: HandoverJob): Table {
  const openings = new Map<string, (typeof floor.openings)[number]>(floor.openings.map((each) => [each.id, each]));
  return {
    title: 'Entrances',
    columns: [
      { title: 'Opening', width: 24 },
      { title: 'Kind', width: 18 },
      { title: 'Into', width: 60 },
      { title: 'First seen after m', width: 24 },
      { title: 'Allowed m', width: 18, decimals: 1 },
    ],
    rows: [...result.entrances]
      .sort((a, b) => (b.firstSeenM ?? Number.POSITIVE_INFINITY) - (a.firstSeenM ?? Number.POSITIVE_INFINITY))
      .map((each) => [
        names.nameOf(each.id),
        openings.get(each.id)?.kind ?? '',
        names.nameOf(each.room),
        sayFirstSeen(each.firstSeenM),
        ALLOWED_DARK_M,
      ]),
  };
}

function writeSpillTable({ result, names }: HandoverJob): Table {
  return {
    title: 'Spill, doors open',
    columns: [
      { title: 'Group', width: 60 },
      { title: 'Sees of', width: 60 },
      { title: 'm²', width: 20, decimals: 2 },
    ],
    rows: result.spill.map((each) => [names.nameOf(each.group), names.nameOf(each.room), each.areaM2]),
  };
}

function writeSourceTable({ floor, result, names }: HandoverJob): Table {
  const sources = new Map<string, (typeof floor.sources)[number]>(floor.sources.map((each) => [each.id, each]));
  return {
    title: 'Sources',
    columns: [
      { title: 'Source', width: 34 },
      { title: 'Kind', width: 18 },
      { title: 'Can be seen by', width: 34 },
      { title: 'Near a lens', width: 16 },
      { title: 'Masks that would hide it', width: 66 },
    ],
    rows: result.sources.map((each) => [
      names.nameOf(each.id),
      sources.get(each.id)?.kind ?? '',
      each.seenBy.map(names.numberOf).join(', ') || 'none',
      each.near ? 'too near' : 'no',
      each.masks
        .map((mask) => `${names.numberOf(mask.detector)} ${mask.from}–${mask.to}°, nadir ${mask.inner}–${mask.outer}°`)
        .join('; '),
    ]),
  };
}

export function writeFindingPages(job: HandoverJob, setter: Setter): PdfContent[] {
  const width = printedArea(job.paper, 'portrait').width;
  const blind = writeBlindTable(job);
  const seats = writeWorkplaceTable(job);
  const entrances = writeEntranceTable(job);
  const sources = writeSourceTable(job);
  const orSay = (table: Table, empty: string): PdfContent =>
    table.rows.length === 0 ? paragraph(setter, empty) : tableOf(setter, table, width);
  return [
    headingOne('Blind areas', 'portrait'),
    paragraph(
      setter,
      'A blind area is where a circle of 0.5 m fits and nobody is seen. Its place is the middle of the largest circle in it, its cause that of most of its cells.',
    ),
    orSay(blind, 'No blind area is as large as a circle of 0.5 m.'),
    headingOne('Workplaces and zones', 'portrait'),
    orSay(seats, 'No workplace is drawn.'),
    ...(job.result.zones.length === 0 ? [] : titledTable(setter, writeZoneTable(job), width, '')),
    headingOne('Entrances and spill', 'portrait'),
    paragraph(
      setter,
      'Metres walked in the dark on the worst of three lines, every door open, seen by a group that serves the room. More than 1.0 m is late, more than 2.0 m fails (common practice, no source).',
    ),
    orSay(entrances, 'No entrance is drawn.'),
    ...titledTable(setter, writeSpillTable(job), width, 'No group sees a room that it does not serve.'),
    headingOne('Sources', 'portrait'),
    paragraph(
      setter,
      'What is warm or moves and is no person. Keep air outlets 1.5 m, heaters 2.0 m, lamps and luminaires 1.0 m away from a lens in plan (common practice, no source).',
    ),
    orSay(sources, 'No source is drawn.'),
  ];
}
