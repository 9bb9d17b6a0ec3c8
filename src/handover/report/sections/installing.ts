/** What the fitter works from: the schedule, labels, groups with their connection, settings and masks, and the cautions. */
import type { PdfContent, PdfNode } from 'pdfmake/build/pdfmake.js';
import type { HandoverJob } from '../../job.ts';
import { printedArea, toPoints } from '../../paper/sizes.ts';
import { COLOUR } from '../../plan/paper.ts';
import { sayCableAssumptions, writeCables, writeGroups, writeTotals } from '../../tables/groups.ts';
import { writeMasks } from '../../tables/masks.ts';
import { DUTY_COLUMNS, PLACE_COLUMNS, writeLabels, writeSchedule } from '../../tables/schedule.ts';
import { LIGHT_SPOT, writeSettings, writeSettingsSheet } from '../../tables/settings.ts';
import { type Cell, keepColumns } from '../../tables/table.ts';
import { CONDUCTOR_WORDS, connectionHeight, drawConnection } from '../connection.ts';
import { headingOne, headingTwo, listOf, paragraph, type Setter, tableOf, titledTable } from '../setter.ts';

const SHORT_CAUTION =
  'Mains wiring is for licensed electricians under local rules. Isolate, secure and prove dead first; see the cautions.';

export function writeSchedulePages(job: HandoverJob, setter: Setter): PdfContent[] {
  const width = printedArea(job.paper, 'landscape').width;
  const schedule = writeSchedule(job);
  if (schedule.rows.length === 0)
    return [headingOne('Detector schedule', 'portrait'), paragraph(setter, 'No detector is placed on this floor.')];
  return [
    headingOne('Detector schedule', 'landscape'),
    paragraph(
      setter,
      `${SHORT_CAUTION} Grey cells under “on site” are filled in there. Walls are measured square, to 10 mm; tiles count column/row from the lower left of the room.`,
    ),
    ...titledTable(setter, keepColumns(schedule, 'Where each goes', PLACE_COLUMNS), width, ''),
    ...titledTable(setter, keepColumns(schedule, 'What each does', DUTY_COLUMNS), width, ''),
    ...writeLabelStrip(job, setter),
  ];
}

/** Labels a row, mm. */
const LABELS_A_ROW = 4;

function writeLabelStrip(job: HandoverJob, setter: Setter): PdfContent[] {
  const { rows } = writeLabels(job);
  if (rows.length === 0) return [];
  const width = printedArea(job.paper, 'portrait').width;
  const cells = rows.map(
    ([number, group, , mask]): PdfNode => ({
      stack: [
        {
          columns: [
            setter.say(String(number ?? ''), { bold: true, fontSize: 15, width: '*' }),
            setter.say(String(mask ?? ''), { fontSize: 7, bold: true, width: 'auto', margin: [0, 6, 0, 0] }),
          ],
        },
        setter.say(String(group ?? ''), { fontSize: 7 }),
        { text: 'Circuit', fontSize: 6.5, color: COLOUR.ink2, margin: [0, 3, 0, 0] },
      ],
    }),
  );
  const body: PdfNode[][] = [];
  for (let k = 0; k < cells.length; k += LABELS_A_ROW) {
    const row = cells.slice(k, k + LABELS_A_ROW);
    body.push([...row, ...Array.from({ length: LABELS_A_ROW - row.length }, (): PdfNode => ({ text: ' ' }))]);
  }
  return [
    headingOne('Label strip', 'portrait'),
    paragraph(setter, 'Cut out and fix beside the lens or on its base. The circuit is written on by hand.'),
    {
      table: {
        widths: Array.from({ length: LABELS_A_ROW }, () => toPoints(width / LABELS_A_ROW) - 12),
        dontBreakRows: true,
        body,
      },
      layout: {
        hLineWidth: () => 0.4,
        vLineWidth: () => 0.4,
        hLineColor: () => COLOUR.ink3,
        vLineColor: () => COLOUR.ink3,
        paddingLeft: () => 5,
        paddingRight: () => 5,
        paddingTop: () => 3,
        paddingBottom: () => 5,
      },
    },
  ];
}

/** Columns of the group sheet by what they speak of: three tables of one width. */
const GROUP_PARTS: readonly (readonly [title: string, columns: readonly string[]])[] = [
  [
    'What each group serves',
    ['Group', 'Serves', 'Seats', 'Serves m²', 'Nearest m²', 'Area limits', 'Daylight', 'Cautions'],
  ],
  [
    'Members, cable and limits',
    [
      'Group',
      'Main',
      'Extensions in order',
      'Count/limit',
      'Legs',
      'Plan m',
      'Drop m',
      'With reserve m',
      'Cable/limit',
      'Wall button',
      'Ventilation contact to',
    ],
  ],
  [
    'Circuits and loads',
    [
      'Group',
      'Supply circuit',
      'Switched circuit',
      'Luminaires',
      'Load W',
      'Inrush class',
      'Load/limit',
      'Second supply y/n',
      'Emergency luminaires left out',
    ],
  ],
];

export function writeGroupPages(job: HandoverJob, setter: Setter): PdfContent[] {
  const width = printedArea(job.paper, 'landscape').width;
  const groups = writeGroups(job);
  const upright = printedArea(job.paper, 'portrait').width;
  const served = job.groups;
  if (served.length === 0)
    return [
      headingOne('Groups and cables', 'portrait'),
      paragraph(setter, 'No detector is placed, so there is no group.'),
    ];
  return [
    headingOne('Groups and cables', 'landscape'),
    paragraph(
      setter,
      `${SHORT_CAUTION} Nearest m² is what lies nearer to the group’s detectors than to another group serving it. The energy credit up to 30 m² is of EN 15193, from memory: check it before use.`,
    ),
    ...GROUP_PARTS.flatMap(([title, columns]) => titledTable(setter, keepColumns(groups, title, columns), width, '')),
    ...titledTable(setter, writeCables(job), width, 'No cable runs between detectors.'),
    paragraph(setter, sayCableAssumptions(job)),
    headingOne('Connection by function', 'portrait'),
    paragraph(
      setter,
      'By function, not by terminals: the maker’s instructions say which terminal is which. Colours by IEC 60445 (from a public summary); check local rules.',
    ),
    listOf(setter, CONDUCTOR_WORDS, false),
    ...served.map(
      (group): PdfNode => ({
        unbreakable: true,
        stack: [
          headingTwo(setter, group.name),
          setter.drawing(drawConnection(job, group, upright), upright, connectionHeight(group)),
        ],
      }),
    ),
    ...titledTable(setter, writeTotals(job), upright, ''),
  ];
}

export function writeSettingsPages(job: HandoverJob, setter: Setter): PdfContent[] {
  const width = printedArea(job.paper, 'landscape').width;
  const reasons = keepColumns(writeSettings(job), 'Reasons', ['Group', 'Setting', 'Planned', 'Why']);
  return [
    headingOne('Settings and masks', 'landscape'),
    paragraph(
      setter,
      'Grey cells are filled in on site. Found is what the detector held before; set is what it holds when you leave. Empty planned values are agreed on before commissioning or read on site.',
    ),
    tableOf(setter, writeSettingsSheet(job), width, { isTitled: true, isForm: true }),
    ...titledTable(setter, { ...reasons, rows: joinSame(reasons.rows) }, width, 'There is no group to set.'),
    ...titledTable(setter, writeMasks(job), width, 'No detector wears a mask.'),
  ];
}

/**
 * Rows that differ in their group alone as one, naming all its groups; rows without a planned value are on the sheet. Each
 * group has a light spot of its own: the sheet says where, so that one reason need not be said as often.
 */
function joinSame(rows: readonly (readonly Cell[])[]): readonly (readonly Cell[])[] {
  const joined = new Map<string, { groups: string[]; rest: readonly Cell[] }>();
  for (const [group, ...rest] of rows) {
    if (rest[1] === '') continue;
    if (rest[0] === LIGHT_SPOT) rest[1] = 'see the sheet';
    const key = JSON.stringify(rest);
    const known = joined.get(key);
    if (known === undefined) joined.set(key, { groups: [String(group)], rest });
    else known.groups.push(String(group));
  }
  return [...joined.values()].map(({ groups, rest }) => [groups.join('; '), ...rest]);
}

/** EN 50110-1, in this order and lifted in reverse. From published summaries of the rules. */
const FIVE_RULES = [
  'Disconnect completely, all poles.',
  'Secure against re-connection: lock and tag.',
  'Verify that the installation is dead, all poles, with a tester proved before and after.',
  'Earth and short-circuit, earth first. In low-voltage systems this is usually waived unless back-feed is possible: local rules decide.',
  'Protect against adjacent live parts.',
];

const CAUTIONS = [
  'Work only by electrically skilled or instructed persons; mains wiring by licensed electricians under the local wiring rules. This folder is no electrical design approval.',
  'Switching a wall switch off is not isolation. Identify the circuit, isolate it, lock it, prove it dead.',
  'A detector may be fed from one circuit and switch another: check for a second supply, control voltage and a borrowed neutral.',
  'Respect the rating of the contact. Drivers of LED luminaires draw a high inrush: check the permitted lamp load, and whether a contactor is needed.',
  'Keep mains and extra-low-voltage control cores apart, or use cable insulated for the highest voltage present.',
  'Do not mask a lens with anything that conducts or burns. Let hot luminaires cool. Check the ceiling for hidden services, asbestos and fire barriers before cutting.',
  'Presence detection must never switch off emergency lighting, nor lighting that is needed for safe movement around dangerous machines.',
  'Initial verification follows IEC 60364 part 6 (from memory): continuity, insulation, polarity, automatic disconnection.',
];

const AT_HEIGHT = [
  'Avoid work at height where you can, prevent a fall where you cannot, lessen its distance and consequence else. No height is too low to count.',
  'Ladders and steps only for short work of low risk after an assessment: not more than 30 minutes at a time as a guide, three points of contact, a leaning ladder at 1 in 4.',
  'Above about 3.5 to 4 m plan a tower or a platform (common practice, no source).',
];

export function writeCautions(setter: Setter): PdfContent[] {
  return [
    headingOne('Cautions', 'portrait'),
    paragraph(setter, 'This is a coverage estimate under the assumptions above. It is not an approval of any design.', {
      bold: true,
    }),
    headingTwo(setter, 'The five safety rules, in this order (EN 50110-1)'),
    listOf(setter, FIVE_RULES, true),
    paragraph(setter, 'Lift the measures in reverse order before re-energising.'),
    headingTwo(setter, 'Electricity'),
    listOf(setter, CAUTIONS, false),
    headingTwo(setter, 'Work at height'),
    listOf(setter, AT_HEIGHT, false),
    paragraph(
      setter,
      'Sources: published summaries of EN 50110-1 and IEC 60445; public guidance on falls from height. The standards themselves and local rules come first.',
      { color: COLOUR.ink2 },
    ),
  ];
}
