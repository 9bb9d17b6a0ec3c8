/**
 * The history of a floor as it is kept: its oldest file, the steps that lead on from it, and where in them the floor
 * stands. Steps before the cursor can be taken back, steps after it done again.
 */
import type { FloorFile } from '../../core/floor/index.ts';
import type { EditorState, Step } from '../store.ts';
import { applyPatch, findPatch, type Patch } from './patch.ts';

export interface Line {
  /** One more than there are steps. */
  readonly files: readonly FloorFile[];
  readonly steps: readonly KeptStep[];
  /** Index of the open file. */
  readonly cursor: number;
  /** Index of the file last opened or saved; null when it is not in the line any more. */
  readonly saved: number | null;
}

export interface KeptStep {
  readonly name: string;
  readonly patch: Patch;
}

export type History = Pick<EditorState, 'file' | 'past' | 'future' | 'savedFile'>;

/** What leads from one line to the next: the first `keep` steps stay, the others give way to these. */
export interface LineChange {
  readonly keep: number;
  readonly steps: readonly KeptStep[];
  readonly cursor: number;
  readonly saved: number | null;
}

/** Steps kept to either side of the open file when a line is written anew. */
export const KEPT_STEPS = 500;

/** The line of a history, at most `KEPT_STEPS` to either side. */
export function toLine(history: History): Line {
  const all = listFiles(history);
  const from = Math.max(0, all.cursor - KEPT_STEPS);
  const files = all.files.slice(from, all.cursor + KEPT_STEPS + 1);
  const steps = files
    .slice(1)
    .map((file, i) => ({ name: all.names[from + i] ?? '', patch: patchBetween(files[i], file) }));
  return { files, steps, cursor: all.cursor - from, saved: findSaved(files, history) };
}

/**
 * The change that brings a line up to a history; null when it does not begin there, as after more steps were taken
 * back than are kept.
 */
export function findLineChange(line: Line, history: History): LineChange | null {
  const all = listFiles(history);
  const from = all.files.indexOf(line.files[0] as FloorFile);
  if (from < 0 || all.cursor < from) return null;
  const files = all.files.slice(from);
  const names = all.names.slice(from);
  let keep = 0;
  while (
    keep < names.length &&
    keep < line.steps.length &&
    line.steps[keep]?.name === names[keep] &&
    line.files[keep + 1] === files[keep + 1]
  )
    keep += 1;
  const steps = names
    .slice(keep)
    .map((name, i) => ({ name, patch: patchBetween(files[keep + i], files[keep + i + 1]) }));
  return { keep, steps, cursor: all.cursor - from, saved: findSaved(files, history) };
}

/**
 * The line after a change; files that are at hand are taken instead of made, so that identity goes on.
 * Throws when the change is of another line.
 */
export function applyLineChange(line: Line, change: LineChange, history?: History): Line {
  const files = line.files.slice(0, change.keep + 1);
  const known = history === undefined ? [] : listFiles(history).files;
  const from = known.indexOf(files[0] as FloorFile);
  for (const step of change.steps) {
    const made = from < 0 ? undefined : known[from + files.length];
    files.push(made ?? (applyPatch(files.at(-1), step.patch) as FloorFile));
  }
  const steps = [...line.steps.slice(0, change.keep), ...change.steps];
  if (files.length !== steps.length + 1 || !(change.cursor >= 0 && change.cursor < files.length))
    throw new Error('A change met a line it does not belong to.');
  return { files, steps, cursor: change.cursor, saved: change.saved };
}

/** The line without its first `count` steps. */
export function dropSteps(line: Line, count: number): Line {
  const saved = line.saved === null || line.saved < count ? null : line.saved - count;
  return {
    files: line.files.slice(count),
    steps: line.steps.slice(count),
    cursor: line.cursor - count,
    saved,
  };
}

/** The history a line stands for. */
export function toHistory(line: Line): History {
  const { files, steps, cursor, saved } = line;
  const past: Step[] = [];
  const future: Step[] = [];
  steps.forEach(({ name }, i) => {
    if (i < cursor) past.push({ name, file: fileAt(files, i) });
    else future.unshift({ name, file: fileAt(files, i + 1) });
  });
  return { file: fileAt(files, cursor), past, future, savedFile: saved === null ? null : fileAt(files, saved) };
}

function fileAt(files: readonly FloorFile[], index: number): FloorFile {
  const file = files[index];
  if (file === undefined) throw new Error(`A line of ${files.length} files has no file ${index}.`);
  return file;
}

function listFiles({ file, past, future }: History) {
  const after = future.toReversed();
  return {
    files: [...past.map((step) => step.file), file, ...after.map((step) => step.file)],
    names: [...past, ...after].map((step) => step.name),
    cursor: past.length,
  };
}

/** Two files that hold the same need a step all the same, since the step has a name. */
function patchBetween(before: FloorFile | undefined, after: FloorFile | undefined): Patch {
  return findPatch(before, after) ?? { members: [], drop: [] };
}

function findSaved(files: readonly FloorFile[], { savedFile }: History): number | null {
  const index = savedFile === null ? -1 : files.indexOf(savedFile);
  return index < 0 ? null : index;
}
