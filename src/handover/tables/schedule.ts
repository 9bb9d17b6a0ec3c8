/** The detector schedule, and the strip of labels made from the same rows. */
import { type Detector, findRoomAt, lensHeightOf } from '../../core/floor/index.ts';
import type { HandoverJob } from '../job.ts';
import { cleanText } from '../plan/svg.ts';
import { groupByDetector } from '../served-groups.ts';
import { createSetOut, findTile, sayMeasure, sayTile } from '../set-out.ts';
import type { Cell, Column, Table } from './table.ts';

/**
 * The schedule's columns. What the floor file has no key for stands under `notes` of the detector, else of its type
 * (`mounting`, `hole` in millimetres, `circuit`); what stands nowhere is filled in by hand.
 */
const COLUMNS = [
  { title: 'No.', width: 9 },
  { title: 'Type', width: 19 },
  { title: 'Room', width: 22 },
  { title: 'x m', width: 10, decimals: 3 },
  { title: 'y m', width: 10, decimals: 3 },
  { title: 'From wall 1 m', width: 18 },
  { title: 'From wall 2 m', width: 18 },
  { title: 'Tile', width: 14 },
  { title: 'Ceiling m', width: 10, decimals: 2 },
  { title: 'Lens m', width: 10, decimals: 2 },
  { title: 'Mounting kind', width: 13, byHand: true },
  { title: 'Hole mm', width: 10, byHand: true },
  { title: 'Turn °', width: 9, decimals: 1 },
  { title: 'Tilt °', width: 8, decimals: 0 },
  { title: 'Reach', width: 9, decimals: 2 },
  { title: 'Mask', width: 8 },
  { title: 'Template', width: 12 },
  { title: 'Group', width: 31 },
  { title: 'Role', width: 12 },
  { title: 'Circuit', width: 14, byHand: true },
  { title: 'Status', width: 12 },
  { title: 'Places it serves', width: 27 },
  { title: 'Seats only it sees', width: 30 },
  { title: 'Seated m²', width: 12, decimals: 2 },
  { title: 'Walking m²', width: 12, decimals: 2 },
  { title: 'Alone m²', width: 12, decimals: 2 },
  { title: 'Remarks', width: 26 },
  { title: 'Installed, initials', width: 15, byHand: true },
] as const satisfies readonly Column[];

/** Columns of the schedule that say where a detector goes, and those that say what it does: two tables of the report. */
export const PLACE_COLUMNS: readonly string[] = [
  'No.',
  'Type',
  'Room',
  'x m',
  'y m',
  'From wall 1 m',
  'From wall 2 m',
  'Tile',
  'Ceiling m',
  'Lens m',
  'Mounting kind',
  'Hole mm',
  'Turn °',
  'Tilt °',
  'Reach',
  'Installed, initials',
];
export const DUTY_COLUMNS: readonly string[] = [
  'No.',
  'Group',
  'Role',
  'Circuit',
  'Status',
  'Mask',
  'Template',
  'Places it serves',
  'Seats only it sees',
  'Seated m²',
  'Walking m²',
  'Alone m²',
  'Remarks',
];

/** Every detector with all columns, in the order of the file. */
export function writeSchedule(job: HandoverJob): Table {
  const { floor, result, names } = job;
  const groups = groupByDetector(job.groups);
  const measure = createSetOut(floor);
  const verdicts = new Map<string, (typeof result.detectors)[number]>(result.detectors.map((each) => [each.id, each]));
  const rows = floor.detectors.map((detector): readonly Cell[] => {
    const room = findRoomAt(floor.rooms, detector.at);
    const group = groups.get(detector.id);
    const verdict = verdicts.get(detector.id);
    const [first, second] = measure(detector);
    const hasMask = detector.masks.length > 0;
    return [
      names.numberOf(detector.id),
      sayType(job, detector),
      room === undefined ? 'outside every room' : names.nameOf(room.id),
      detector.at[0],
      detector.at[1],
      sayMeasure(first),
      sayMeasure(second),
      room === undefined ? null : sayTile(findTile(room, detector.at)),
      room?.ceiling ?? null,
      lensHeightOf(detector, floor),
      readNote(job, detector, 'mounting'),
      readNote(job, detector, 'hole'),
      detector.turn,
      0,
      detector.reach,
      hasMask ? 'yes' : 'no',
      hasMask ? sayTemplate(job, detector) : null,
      group === undefined ? null : group.name,
      detector.status === 'remove' ? null : roleOf(detector, group?.group ?? null),
      readNote(job, detector, 'circuit'),
      detector.status,
      group === undefined ? null : group.serves.join(', '),
      listAlone(job, detector).join(', '),
      verdict?.seatedM2 ?? null,
      verdict?.walkingM2 ?? null,
      verdict?.aloneM2 ?? null,
      remarkOn(detector),
      null,
    ];
  });
  return { title: 'Detector schedule', columns: COLUMNS, rows };
}

/** A word or number that the notes of a detector, else of its type, hold under a name. Anything else there is left aside. */
function readNote({ floor }: HandoverJob, detector: Detector, name: 'mounting' | 'hole' | 'circuit'): string | null {
  const type = floor.types.find((each) => each.id === detector.type);
  for (const { notes } of type === undefined ? [detector] : [detector, type]) {
    const value = typeof notes === 'object' && Object.hasOwn(notes, name) ? notes[name] : undefined;
    if (typeof value === 'string' && value.trim() !== '') return value.trim();
    if (typeof value === 'number' && Number.isFinite(value)) return String(value);
  }
  return null;
}

/** The name of a type; with its id only where another has the same name. */
function sayType({ floor, names }: HandoverJob, { type: id }: Detector): string {
  const said = floor.types.find((each) => each.id === id)?.name ?? '';
  const isAlone = floor.types.filter((each) => each.name === said).length === 1;
  return isAlone && cleanText(said) !== '' ? cleanText(said) : names.nameOf(id);
}

/** `M-D4`; where the type states no lens diameter there is no template, and that is said. */
function sayTemplate({ floor, names }: HandoverJob, detector: Detector): string {
  const type = floor.types.find((each) => each.id === detector.type);
  return type?.lensDiameter === undefined ? 'none: lens diameter not stated' : `M-${names.numberOf(detector.id)}`;
}

function roleOf(detector: Detector, group: { readonly main: string } | null): string {
  if (group === null) return 'on its own';
  return group.main === detector.id ? 'main' : 'extension';
}

/** Numbers of the workplaces that no other serving detector sees. */
function listAlone({ result, names }: HandoverJob, { id }: Detector): string[] {
  return result.workplaces
    .filter((each) => each.seenBy.length === 1 && each.seenBy[0] === id)
    .map((each) => names.numberOf(each.id));
}

function remarkOn(detector: Detector): string {
  const remarks = [
    detector.locked ? 'place is fixed' : '',
    detector.status === 'existing' ? 'stays' : '',
    detector.status === 'remove' ? 'take down' : '',
  ];
  return remarks.filter((each) => each !== '').join('; ');
}

/** One label a detector: its number, its group and role, its circuit, and whether it wears a mask. */
export function writeLabels(job: HandoverJob): Table {
  const groups = groupByDetector(job.groups);
  return {
    title: 'Labels',
    columns: [
      { title: 'Number', width: 12 },
      { title: 'Group, role', width: 30 },
      { title: 'Circuit', width: 14, byHand: true },
      { title: 'Mask', width: 12 },
    ],
    rows: job.floor.detectors
      .filter((detector) => detector.status !== 'remove')
      .map((detector) => {
        const group = groups.get(detector.id);
        return [
          job.names.numberOf(detector.id),
          group === undefined ? null : `${group.name}, ${roleOf(detector, group.group)}`,
          readNote(job, detector, 'circuit'),
          detector.masks.length > 0 ? 'mask' : '',
        ];
      }),
  };
}
