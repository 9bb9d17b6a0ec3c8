import { expect } from 'vitest';
import { type FloorFile, formatFault, serialiseFloor, validateFloor } from '../../../src/core/floor/index.ts';
import { applyEdit, type Edit, type Planned, type Refused } from '../../../src/editor/edits/edit.ts';
import { edit as commit, undo } from '../../../src/editor/history.ts';
import { createEditorStore, type EditorStore } from '../../../src/editor/store.ts';

/** A store over a file that judges every edit and computes no coverage. */
export function openUncovered(file: FloorFile): EditorStore {
  return createEditorStore(file, {
    createCoverage: () => null,
    updateCoverage: () => {
      throw new Error('There is no coverage to update.');
    },
    findFaults(each) {
      const parsed = validateFloor(each);
      return parsed.ok ? [] : parsed.faults;
    },
    schedule: (work) => work(),
  });
}

/** The edit, which must not be refused. */
export function planned(edit: Edit): Planned {
  if (!edit.ok) throw new Error(`Refused: ${edit.what}. ${edit.remedy}`);
  return edit;
}

/** Why an edit is refused, which it must be, as one line. */
export function refusalOf(edit: Edit | Refused): string {
  if (edit.ok) throw new Error(`Not refused: ${edit.name}`);
  return `${edit.what}. ${edit.remedy}`.trim();
}

/**
 * The floor an edit makes of a file: accepted by the validator, and taken back to the very file it was made on. The file
 * itself stays as it was, to the byte.
 */
export function made(file: FloorFile, edit: Edit): FloorFile {
  const before = serialiseFloor(file);
  const store = openUncovered(file);
  const { name, recipe } = planned(edit);
  const outcome = commit(store, name, recipe);
  if (!outcome.ok) throw new Error(`Faulty: ${outcome.refusal.faults.map(formatFault).join('; ')}`);
  const next = store.getState().file;
  const parsed = validateFloor(next);
  expect(parsed.ok ? [] : parsed.faults).toEqual([]);
  if (next !== file) expect(undo(store)).toBe(true);
  expect(store.getState().file).toBe(file);
  expect(serialiseFloor(file)).toBe(before);
  return next;
}

/** Why the floor an edit would make is refused as a whole, as one line. */
export function faultOf(file: FloorFile, edit: Edit): string {
  const applied = applyEdit(file, planned(edit));
  if (applied.ok) throw new Error('The floor is not faulty.');
  return refusalOf(applied);
}
