/** What belongs to the floor as a whole: its name, its north, how it is analysed, its revisions. */
import type { FloorFile } from '../../core/floor/index.ts';
import { floorSchema } from '../../core/floor/schema.ts';
import { readShape } from '../../core/floor/shape.ts';
import { turnInto360 } from '../recipes.ts';
import { refuseValue } from './allowed-values.ts';
import { createChange } from './change.ts';
import { type Edit, type Refused, refuseGone } from './edit.ts';
import { showText } from './fault-words.ts';

type WholeKey = 'name' | 'north' | 'analysis' | 'revision';

export function setFloorName(file: FloorFile, name: string): Edit {
  return putWhole(file, 'name', name.trim(), 'the name', `Named the floor ${showText(name)}`);
}

/** Sets which way north is, degrees counter-clockwise from +x. */
export function setNorth(file: FloorFile, degrees: number): Edit {
  return putWhole(file, 'north', turnInto360(degrees), 'north', `Set north to ${turnInto360(degrees)}°`);
}

type Analysis = NonNullable<FloorFile['analysis']>;
/** Analysis settings to change; null: the default counts again. */
export type AnalysisPatch = { readonly [Key in keyof Omit<Analysis, 'notes'>]?: Analysis[Key] | null };

const ANALYSIS_WORDS: Readonly<Record<keyof AnalysisPatch, string>> = {
  cell: 'cell size',
  seatedPlane: 'seated plane',
  walkingPlane: 'walking plane',
  crossingAngle: 'crossing angle',
  headings: 'share of headings',
  workplaceShare: 'share of a workplace',
};

/** Changes how the floor is analysed. What the patch does not name stays. */
export function setAnalysis(file: FloorFile, patch: AnalysisPatch): Edit {
  const analysis: Record<string, unknown> = { ...file.analysis };
  for (const [key, value] of Object.entries(patch)) {
    if (value === null) delete analysis[key];
    else analysis[key] = value;
  }
  const words = (Object.keys(patch) as (keyof AnalysisPatch)[]).map((key) => ANALYSIS_WORDS[key]);
  const word = words.length === 1 ? `the ${words[0]}` : 'the analysis';
  return putWhole(file, 'analysis', analysis as Analysis, word, `Changed ${word}`);
}

/** One entry of the list of revisions. */
export type Revision = NonNullable<FloorFile['revision']>[number];

export function addRevision(file: FloorFile, revision: Revision): Edit {
  return putRevisions(file, [...(file.revision ?? []), revision], `Added revision ${showText(revision.no)}`);
}

export function changeRevision(file: FloorFile, index: number, patch: Partial<Omit<Revision, 'notes'>>): Edit {
  const before = file.revision?.[index];
  if (before === undefined) return refuseGone('revision');
  const revisions = (file.revision ?? []).map((each, i) => (i === index ? { ...each, ...patch } : each));
  return putRevisions(file, revisions, `Changed revision ${showText(before.no)}`);
}

export function removeRevision(file: FloorFile, index: number): Edit {
  const before = file.revision?.[index];
  if (before === undefined) return refuseGone('revision');
  const revisions = (file.revision ?? []).filter((_, i) => i !== index);
  return putRevisions(file, revisions, `Removed revision ${showText(before.no)}`);
}

function putRevisions(file: FloorFile, revisions: readonly Revision[], name: string): Edit {
  return putWhole(file, 'revision', revisions, 'the revision', name);
}

function putWhole<Key extends WholeKey>(
  file: FloorFile,
  key: Key,
  value: FloorFile[Key],
  subject: string,
  name: string,
): Edit {
  const refused = refuseWhole(key, value, subject);
  if (refused !== null) return refused;
  const change = createChange(file);
  change.put(key, value);
  return change.plan(name, []);
}

function refuseWhole(key: WholeKey, value: unknown, subject: string): Refused | null {
  const shape = readShape(floorSchema);
  const member = shape.kind === 'object' ? shape.byKey.get(key) : undefined;
  return member === undefined ? null : refuseValue(value, member.shape, subject);
}
