/**
 * Judging a file that differs in little from one found sound: what an edit leaves alone need not be read again, since
 * nothing of a file is changed in place. Only soundness is told here; what is wrong is told by judging everything.
 */
import { checkLenses } from './check-lenses.ts';
import { checkOutlines } from './check-outlines.ts';
import { checkReferences } from './check-references.ts';
import { checkShape } from './check-shape.ts';
import { checkSizes } from './check-sizes.ts';
import { createFaultList } from './fault.ts';
import { resolveFloor } from './resolve.ts';
import { type Floor, type FloorFile, floorSchema } from './schema.ts';
import { readShape } from './shape.ts';
import { surveyValue } from './survey.ts';

/** With more members that differ than this everything is judged. */
const MOST_CHANGED = 100;

/** The lists whose members may differ; a floor that differs in anything else is judged as a whole. */
const LISTS = ['rooms', 'openings', 'furniture', 'luminaires', 'workplaces', 'zones', 'sources', 'detectors'] as const;
type ListName = (typeof LISTS)[number];

type Member = { readonly id: string } & Readonly<Record<string, unknown>>;

/** What each kind of member refers to, besides its own id. */
const REFERENCES: { readonly [list in ListName]?: string } = {
  luminaires: 'group',
  zones: 'groups',
  detectors: 'type',
};

/** The file that was last found sound, and its floor. */
let last: { readonly file: FloorFile; readonly floor: Floor } | null = null;

export function keepSound(file: FloorFile, floor: Floor): void {
  last = { file, floor };
}

/** The floor of a file that is sound by what it shares with the last; null: it has to be judged as a whole. */
export function findStillSound(value: unknown): Floor | null {
  if (last === null || typeof value !== 'object' || value === null) return null;
  const file = value as FloorFile;
  const before = last.file;
  const keys = Object.keys(file) as (keyof FloorFile)[];
  if (keys.length !== Object.keys(before).length) return null;
  const changed: { [list in ListName]?: readonly number[] } = {};
  let count = 0;
  for (const key of keys) {
    if (file[key] === before[key]) continue;
    const list = LISTS.find((each) => each === key);
    const differing = list && findDiffering(file[list], before[list]);
    if (list === undefined || !differing) return null;
    changed[list] = differing;
    count += differing.length;
  }
  if (count > MOST_CHANGED) return null;

  const faults = createFaultList();
  const pick = (from: Pick<Floor | FloorFile, ListName>) =>
    Object.fromEntries(
      LISTS.map((list) => [list, (changed[list] ?? []).map((index) => from[list]?.[index])]),
    ) as unknown as Pick<Floor, ListName>;
  const part = { ...file, ...pick(file), types: [], groups: [], records: [], revision: [] };
  surveyValue(part, faults);
  if (faults.count === 0) checkShape(part, readShape(floorSchema), faults);
  if (faults.count > 0) return null;

  const floor = resolveFloor(file);
  const few = pick(floor);
  // Rooms decide how high a passage is.
  const openings = changed.rooms === undefined ? few.openings : floor.openings;
  checkSizes({ ...floor, ...few, rooms: floor.rooms, openings, types: [] }, faults);
  if (!keepsReferences(file, before, changed)) checkReferences(floor, faults);
  const isPlain = checkOutlines({ ...floor, ...few, rooms: floor.rooms }, faults);
  if (isPlain && faults.count === 0) checkLenses(floor, faults);
  return faults.count === 0 ? floor : null;
}

/** Places at which two lists of the same length differ; null for other lists, and for things of no kind of ours. */
function findDiffering(now: unknown, before: unknown): number[] | null {
  if (!Array.isArray(now) || !Array.isArray(before) || now.length !== before.length) return null;
  const differing: number[] = [];
  for (let i = 0; i < now.length; i++) {
    if (now[i] === before[i]) continue;
    if (differing.push(i) > MOST_CHANGED) return null;
  }
  return differing;
}

/** Whether every member that differs has the id it had and names what it named. */
function keepsReferences(
  file: FloorFile,
  before: FloorFile,
  changed: { readonly [list in ListName]?: readonly number[] },
): boolean {
  return LISTS.every((list) =>
    (changed[list] ?? []).every((index) => {
      const now = file[list]?.[index] as unknown as Member;
      const was = before[list]?.[index] as unknown as Member;
      const named = REFERENCES[list];
      return now.id === was.id && (named === undefined || now[named] === was[named]);
    }),
  );
}
