/** A day of editing on the large floor: what an edit and taking it back cost the page, and what they leave in memory. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { createCoverage, updateCoverage } from '../../src/core/coverage/index.ts';
import { type FloorFile, validateFloor } from '../../src/core/floor/index.ts';
import { edit, type Recipe, redo, undo } from '../../src/editor/history.ts';
import { moveDetector, setFurnitureTop } from '../../src/editor/recipes.ts';
import { type Computation, createEditorStore } from '../../src/editor/store.ts';
import { generateFloor } from '../models/generate-floor.ts';
import type { Clock } from './clock.ts';
import { quantile } from './timing.ts';

export interface EditRecord {
  readonly case: string;
  readonly detectors: number;
  readonly pieces: number;
  readonly edits: number;
  readonly editMs: number;
  readonly editMostMs: number;
  readonly undoMs: number;
  readonly undoP95Ms: number;
  readonly undoMostMs: number;
  readonly goalMs: number;
  /** Megabytes in use after 1,000 edits, after all of them are taken back, and after doing both once more; from before the first. */
  readonly afterEditsMB: number;
  readonly afterUndoMB: number;
  readonly afterSecondMB: number;
}

const EDITS = 1_000;
const UNDO_GOAL = 50;

/** Edits and their undoing, twice over: what the second time adds is what leaks. */
export function runEditCase(clock: Clock, tell: (what: string) => void): EditRecord {
  tell('editing');
  const file = generateFloor({ areaM2: 10_000, seed: 7 });
  const store = createEditorStore(file, COMPUTATION);
  const first = store.getState().file;
  const collect = exposeCollector();
  const used = (): number => {
    collect();
    return process.memoryUsage().heapUsed / 2 ** 20 + process.memoryUsage().arrayBuffers / 2 ** 20;
  };
  const before = used();
  const edits = timeEach(EDITS, clock, (index) => mustChange(edit(store, 'Edit', recipeOf(file, index)).ok));
  const afterEdits = used();
  const undos = timeEach(EDITS, clock, () => mustChange(undo(store)));
  const afterUndo = used();
  if (store.getState().file !== first) throw new Error('Undoing all edits does not give the first file back.');
  // Once more: what that adds is what leaks.
  for (let count = 0; count < EDITS; count++) mustChange(redo(store));
  for (let count = 0; count < EDITS; count++) mustChange(undo(store));
  const afterSecond = used();
  return {
    case: 'editing, 10,000 m²',
    detectors: file.detectors?.length ?? 0,
    pieces: file.furniture?.length ?? 0,
    edits: EDITS,
    editMs: quantile(edits, 0.5),
    editMostMs: Math.max(...edits),
    undoMs: quantile(undos, 0.5),
    undoP95Ms: quantile(undos, 0.95),
    undoMostMs: Math.max(...undos),
    goalMs: UNDO_GOAL,
    afterEditsMB: afterEdits - before,
    afterUndoMB: afterUndo - before,
    afterSecondMB: afterSecond - before,
  };
}

const COMPUTATION: Computation = {
  createCoverage,
  updateCoverage,
  findFaults(file) {
    const parsed = validateFloor(file);
    return parsed.ok ? [] : parsed.faults;
  },
  schedule: (work) => work(),
};

/** In turns a detector goes 1 cm aside and a piece grows by 1 cm, another each time. */
function recipeOf({ detectors = [], furniture = [] }: FloorFile, index: number): Recipe {
  const round = Math.floor(index / 2);
  if (index % 2 === 0) {
    const { id, at } = detectors[round % detectors.length]!;
    return moveDetector(id, [at[0] + 0.01 * (1 + Math.floor(round / detectors.length)), at[1]]);
  }
  const { id, top } = furniture[(7 * round) % furniture.length]!;
  return setFurnitureTop(id, top + 0.01);
}

function mustChange(did: boolean): void {
  if (!did) throw new Error('An edit, or its undoing, changed nothing.');
}

function timeEach(count: number, clock: Clock, work: (index: number) => void): number[] {
  return Array.from({ length: count }, (_, index) => {
    const start = clock.now();
    work(index);
    return clock.now() - start;
  });
}

/** The garbage collector, to be run before memory is read. */
function exposeCollector(): () => void {
  setFlagsFromString('--expose-gc');
  return runInNewContext('gc') as () => void;
}
