/** The first pages: what the job is, how it stands, and under which assumptions that is said. */
import type { PdfContent } from 'pdfmake/build/pdfmake.js';
import type { RangeRow } from '../../../core/floor/index.ts';
import type { HandoverJob } from '../../job.ts';
import { FACES } from '../../paper/fonts.ts';
import { printedArea } from '../../paper/sizes.ts';
import { COLOUR } from '../../plan/paper.ts';
import { ASSUMPTIONS, formatArea, formatShare, writeHeadline } from '../../plan/words.ts';
import type { Table } from '../../tables/table.ts';
import { headingOne, headingTwo, ledgerOf, listOf, paragraph, type Setter, tableOf, titledTable } from '../setter.ts';

export function writeTitlePage(job: HandoverJob, setter: Setter): PdfContent[] {
  const { floor, result } = job;
  const width = printedArea(job.paper, 'portrait').width;
  const last = floor.revision.at(-1);
  return [
    setter.say('Presence detectors: hand-over', { fontSize: 10, color: COLOUR.ink2, margin: [0, 26, 0, 6] }),
    setter.say(floor.name || 'Floor without a name', {
      font: FACES.reading,
      fontSize: 28,
      lineHeight: 1.05,
      margin: [0, 0, 0, 14],
    }),
    setter.say(writeHeadline(floor, result).join(' '), {
      font: FACES.reading,
      fontSize: 13.5,
      lineHeight: 1.15,
      margin: [0, 0, 0, 4],
    }),
    setter.say(ASSUMPTIONS, { color: COLOUR.ink2, margin: [0, 0, 0, 16] }),
    ledgerOf(
      setter,
      [
        ['Revision', last === undefined ? 'none stated' : `${last.no}, ${last.date}, ${last.by}: ${last.text}`],
        [
          'Rooms, workplaces, entrances',
          `${floor.rooms.length}, ${floor.workplaces.length}, ${result.entrances.length}`,
        ],
        ['Detectors, groups', `${floor.detectors.length}, ${floor.groups.length}`],
        ['Verdict', result.met ? 'Every need is met.' : `Not met: ${countFails(job)}`],
      ],
      width,
    ),
    { toc: { title: { text: 'Contents', bold: true, fontSize: 11, margin: [0, 8, 0, 6] } } },
  ];
}

function countFails({ result }: HandoverJob): string {
  const fails = result.findings.filter((each) => each.level === 'fail').length;
  return `${fails} ${fails === 1 ? 'finding' : 'findings'} of level fail, see the verdict.`;
}

export function writeJob(job: HandoverJob, setter: Setter): PdfContent[] {
  const { floor, names } = job;
  const { analysis } = floor;
  const width = printedArea(job.paper, 'portrait').width;
  const assumedRooms = floor.rooms.filter((room) => room.ceilingFrom === 'assumed');
  const assumedPieces = floor.furniture.filter((piece) => piece.from === 'assumed');
  const reduced = floor.detectors.filter((each) => each.reach !== 1);
  const types: Table = {
    title: 'Detector types and their declared ranges',
    columns: [
      { title: 'Type', width: 26 },
      { title: 'Origin', width: 18 },
      { title: 'Drop m', width: 10, decimals: 2 },
      { title: 'Lens mm', width: 10, decimals: 0 },
      { title: 'Motion', width: 22 },
      { title: 'At plane m', width: 12, decimals: 2 },
      { title: 'Size m, by the height it hangs at', width: 60 },
    ],
    rows: floor.types.flatMap((type) =>
      (Object.keys(MOTIONS) as (keyof typeof MOTIONS)[])
        .map((motion) => type.ranges.filter((row) => row.motion === motion).sort((a, b) => a.mounting - b.mounting))
        .filter((rows) => rows.length > 0)
        .map((rows, k) => [
          k === 0 ? names.nameOf(type.id) : '',
          k === 0 ? type.origin : '',
          k === 0 ? type.drop : null,
          k === 0 && type.lensDiameter !== undefined ? type.lensDiameter * 1000 : null,
          MOTIONS[rows[0]?.motion ?? 'minor'],
          rows[0]?.plane ?? null,
          rows.map((row) => `${sizeOf(row)} at ${row.mounting.toFixed(2)}`).join('; '),
        ]),
    ),
  };
  const revisions: Table = {
    title: 'Revisions',
    columns: [
      { title: 'No.', width: 10 },
      { title: 'Date', width: 18 },
      { title: 'By', width: 30 },
      { title: 'What changed', width: 90 },
    ],
    rows: floor.revision.map((each) => [each.no, each.date, each.by, each.text]),
  };
  return [
    headingOne('Job and assumptions', 'portrait'),
    paragraph(
      setter,
      'This folder says which presence detectors go where on one floor, who is seen by them and who is not, how they are grouped and set, and how the result is tested on site. Every number in it comes from one computation over the floor file.',
    ),
    headingTwo(setter, 'What the verdicts assume'),
    listOf(
      setter,
      [
        ASSUMPTIONS,
        `People who sit are looked for at ${analysis.seatedPlane.toFixed(2)} m, people who walk at ${analysis.walkingPlane.toFixed(2)} m above the floor. Areas count cells of ${analysis.cell} m.`,
        `A workplace is met when ${Math.round(analysis.workplaceShare * 1000) / 10} % of its disc is seen at body height, or at 1.0 m with a note. A head alone is not enough.`,
        `Walking counts as seen when ${Math.round(analysis.headings * 1000) / 10} % of headings are; walking past counts from ${analysis.crossingAngle}° off the sight line.`,
        'Glass hides like a wall: it is opaque to the heat of a body. Doors are judged as stated for coverage and open for entrances and spill.',
        'Only detectors of a group that serves a place count there. What others see is spill.',
        reduced.length === 0
          ? 'Every detector is taken at its full declared range (reach 1).'
          : `Reach is reduced at ${reduced
              .map((each) => `${names.numberOf(each.id)} (${each.reach})`)
              .slice(0, 20)
              .join(', ')}.`,
        assumedRooms.length === 0
          ? 'No ceiling height is marked as assumed.'
          : `Ceiling heights are assumed in ${assumedRooms
              .map((room) => names.nameOf(room.id))
              .slice(0, 20)
              .join(', ')}: measure them before ordering.`,
        ...(assumedPieces.length === 0 ? [] : [`Heights of ${assumedPieces.length} pieces of furniture are assumed.`]),
        'Real detectors have gaps between their beams, and ranges are declared on an open floor (IEC 63180): the walk test decides.',
      ],
      false,
    ),
    ...(types.rows.length === 0 ? [] : titledTable(setter, types, width, '')),
    ...(revisions.rows.length === 0 ? [] : titledTable(setter, revisions, width, '')),
  ];
}

const MOTIONS = {
  minor: 'small movements',
  tangential: 'walking past',
  radial: 'walking at it',
} as const;

function sizeOf(row: RangeRow): string {
  return 'diameter' in row ? `⌀ ${row.diameter.toFixed(2)}` : `${row.length.toFixed(2)} × ${row.width.toFixed(2)}`;
}

export function writeVerdict(job: HandoverJob, setter: Setter): PdfContent[] {
  const { floor, result, names } = job;
  const width = printedArea(job.paper, 'portrait').width;
  const met = (isMet: boolean) => (isMet ? 'met' : 'not met');
  const [seats, allSeats] = result.workplacesMet;
  const zonesMet = result.zones.filter((each) => each.met).length;
  const groupsMet = result.groups.filter((each) => each.met).length;
  const { seated, walking } = result.planes;
  const verdict: Table = {
    title: 'In numbers',
    columns: [
      { title: 'Need', width: 50 },
      { title: 'Result', width: 80 },
      { title: 'Verdict', width: 20 },
    ],
    rows: [
      ['Workplaces', `${seats} of ${allSeats} met`, met(seats === allSeats)],
      ...(result.zones.length === 0
        ? []
        : [['Zones', `${zonesMet} of ${result.zones.length} met`, met(zonesMet === result.zones.length)]]),
      ['Groups', `${groupsMet} of ${result.groups.length} met`, met(groupsMet === result.groups.length)],
      [
        'Small movements, seated',
        `${formatArea(seated.seenM2)} of ${formatArea(seated.areaM2)} m² at ${seated.height.toFixed(2)} m seen, ${formatShare(seated.share)}`,
        '',
      ],
      [
        'Walking',
        `${formatArea(walking.seenM2)} of ${formatArea(walking.areaM2)} m² at ${walking.height.toFixed(2)} m seen, ${formatShare(walking.share)}; every heading on ${formatArea(walking.everyHeadingM2)} m²`,
        '',
      ],
      ['The floor', result.met ? 'no finding of level fail' : countFails(job), met(result.met)],
    ],
  };
  const findings: Table = {
    title: 'Findings',
    columns: [
      { title: 'Level', width: 12 },
      { title: 'Finding', width: 138 },
      { title: 'At x, y m', width: 22 },
    ],
    rows: result.findings.map((each) => [
      each.level,
      each.text,
      each.at === null ? '' : `${each.at[0].toFixed(2)}, ${each.at[1].toFixed(2)}`,
    ]),
  };
  const rooms: Table = {
    title: 'Rooms',
    columns: [
      { title: 'Room', width: 60 },
      { title: 'Use', width: 40 },
      { title: 'Ceiling m', width: 18, decimals: 2 },
      { title: 'Ceiling is', width: 22 },
      { title: 'Seated', width: 18 },
      { title: 'Walking', width: 18 },
    ],
    rows: result.rooms.map((each) => {
      const room = floor.rooms.find((one) => one.id === each.id);
      return [
        names.nameOf(each.id),
        room?.use ?? '',
        room?.ceiling ?? null,
        room?.ceilingFrom ?? '',
        formatShare(each.seated),
        formatShare(each.walking),
      ];
    }),
  };
  return [
    headingOne('Verdict', 'portrait'),
    setter.say(writeHeadline(floor, result).join(' '), {
      font: FACES.reading,
      fontSize: 12.5,
      lineHeight: 1.15,
      margin: [0, 0, 0, 8],
    }),
    tableOf(setter, verdict, width),
    ...titledTable(setter, findings, width, 'Nothing was found.'),
    ...titledTable(setter, rooms, width, 'No room is drawn.'),
  ];
}
