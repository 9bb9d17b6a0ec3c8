import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createCoverage } from '../../src/core/coverage/index.ts';
import { serialiseFloor } from '../../src/core/floor/index.ts';
import {
  beginGesture,
  cancelGesture,
  commitGesture,
  edit,
  MOST_STEPS,
  nudge,
  previewGesture,
  redo,
  undo,
} from '../../src/editor/history.ts';
import {
  addMask,
  moveDetector,
  removeMask,
  setFurnitureTop,
  setMaskPart,
  setName,
  turnDetector,
} from '../../src/editor/recipes.ts';
import { type EditorStore, hasUnsavedChanges, setCoverage } from '../../src/editor/store.ts';
import { openTrial, SMALL_FLOOR } from './open-floor.ts';

/** All numbers a panel or the scene reads, out of the arrays that are changed in place. */
function snapshot(store: EditorStore) {
  const { coverage } = store.getState();
  if (coverage === null) throw new Error('The trial floor has no coverage.');
  return structuredClone({
    seated: coverage.seated,
    walking: coverage.walking,
    areas: coverage.areas,
    workplaces: coverage.workplaces,
  });
}

test('undo gives exactly the file that was there before, redo exactly the one after', () => {
  const { store } = openTrial();
  const files = [store.getState().file];
  const recipes = [
    moveDetector('D1', [3.5, 2]),
    setFurnitureTop('shelf', 1.4),
    addMask('D1', { from: 0, to: 20, inner: 30, outer: 90 }),
    setMaskPart('D1', 1, 'to', 35),
    removeMask('D1', 0),
    setName('detectors', 'D1', 'East'),
  ];
  recipes.forEach((recipe, i) => {
    expect(edit(store, `Step ${i}`, recipe)).toEqual({ ok: true });
    files.push(store.getState().file);
  });
  for (const file of files.slice(0, -1).reverse()) {
    expect(undo(store)).toBe(true);
    expect(store.getState().file).toBe(file);
  }
  expect(undo(store)).toBe(false);
  expect(hasUnsavedChanges(store.getState())).toBe(false);
  expect(serialiseFloor(store.getState().file)).toBe(serialiseFloor(SMALL_FLOOR));
  for (const file of files.slice(1)) {
    expect(redo(store)).toBe(true);
    expect(store.getState().file).toBe(file);
  }
  expect(redo(store)).toBe(false);
});

test('a cancelled gesture leaves file, floor and every number of the coverage as they were', () => {
  const { store, runFrame } = openTrial();
  const before = store.getState();
  const numbers = snapshot(store);
  beginGesture(store, 'Dragging D1');
  for (let x = 0.5; x < 7.5; x += 0.37) {
    if (x > 4.99 && x < 5.41) continue;
    previewGesture(store, moveDetector('D1', [x, 2.2]));
    runFrame();
  }
  expect(snapshot(store)).not.toEqual(numbers);
  cancelGesture(store);
  expect(store.getState().file).toBe(before.file);
  expect(store.getState().floor).toBe(before.floor);
  expect(store.getState().preview).toBeNull();
  expect(store.getState().past).toEqual([]);
  expect(snapshot(store)).toEqual(numbers);
});

test('a gesture is one step however often it was previewed, and one frame takes one preview', () => {
  const { store, runFrame } = openTrial();
  beginGesture(store, 'Dragging D1');
  for (let k = 1; k <= 50; k++) previewGesture(store, moveDetector('D1', [3 + k / 100, 3]));
  const versions = store.getState().coverageVersion;
  expect(runFrame()).toBe(1);
  expect(store.getState().coverageVersion).toBe(versions + 1);
  expect(store.getState().preview?.detectors[0]?.at).toEqual([3.5, 3]);
  commitGesture(store, 'Moved D1', moveDetector('D1', [3.5, 3]));
  expect(store.getState().past.map((step) => step.name)).toEqual(['Moved D1']);
  expect(store.getState().preview).toBeNull();
});

test('a coverage that comes later is shown when it is here and of the floor shown', () => {
  const { store } = openTrial();
  const before = store.getState();
  const { updateCoverage } = store.computation;
  Object.assign(store.computation, { updateCoverage: () => 'later', createCoverage: () => null });
  edit(store, 'Move the detector', moveDetector('D1', [4, 4]));
  const { floor, coverage } = store.getState();
  expect(floor).not.toBe(before.floor);
  expect(coverage).toBeNull();
  setCoverage(store, createCoverage(before.floor));
  expect(store.getState().coverage).toBeNull();
  setCoverage(store, createCoverage(floor));
  expect(store.getState().coverage?.floor).toBe(floor);
  Object.assign(store.computation, { updateCoverage });
  undo(store);
  expect(store.getState().coverage?.floor).toBe(store.getState().floor);
});

test('a frame that comes after its gesture has ended shows nothing', () => {
  const { store, runFrame } = openTrial();
  beginGesture(store, 'Dragging D1');
  previewGesture(store, moveDetector('D1', [1, 1]));
  cancelGesture(store);
  expect(runFrame()).toBe(1);
  expect(store.getState().preview).toBeNull();
  expect(store.getState().coverage?.floor).toBe(store.getState().floor);
});

test('a change that would leave the file faulty is refused with the fault, and nothing happens', () => {
  const { store } = openTrial();
  const before = store.getState();
  const numbers = snapshot(store);
  const outcome = edit(store, 'Moved D1 away', moveDetector('D1', [20, 3]));
  expect(outcome.ok).toBe(false);
  expect(store.getState().refusal?.faults.map((fault) => fault.path)).toEqual(['detectors[0].at']);
  expect(store.getState().file).toBe(before.file);
  expect(store.getState().past).toEqual([]);
  expect(snapshot(store)).toEqual(numbers);

  beginGesture(store, 'Dragging D1');
  expect(commitGesture(store, 'Moved D1 away', moveDetector('D1', [20, 3])).ok).toBe(false);
  expect(store.getState().gesture).toBeNull();
  expect(snapshot(store)).toEqual(numbers);
});

test('arrow keys in a run are one step; another edit between them begins the next', () => {
  const { store } = openTrial();
  const push = () =>
    nudge(
      store,
      'move D1',
      () => 'Moved D1',
      moveDetector('D1', [(store.getState().floor.detectors[0]?.at[0] ?? 0) + 0.1, 3]),
    );
  push();
  push();
  push();
  expect(store.getState().past).toHaveLength(1);
  edit(store, 'Turned D1', turnDetector('D1', 45));
  push();
  expect(store.getState().past.map((step) => step.name)).toEqual(['Moved D1', 'Turned D1', 'Moved D1']);
  undo(store);
  undo(store);
  undo(store);
  expect(store.getState().file).toBe(SMALL_FLOOR);
});

test('after any way of editing, undoing and redoing, the coverage is that of the floor shown', () => {
  const place = fc.tuple(
    fc.double({ min: 0.2, max: 4.8, noNaN: true }),
    fc.double({ min: 0.2, max: 5.8, noNaN: true }),
  );
  const act = fc.oneof(
    place.map((at) => (store: EditorStore) => void edit(store, 'Moved', moveDetector('D1', at))),
    fc
      .double({ min: 0.9, max: 2.9, noNaN: true })
      .map((top) => (store: EditorStore) => void edit(store, 'Top', setFurnitureTop('shelf', top))),
    fc.constant((store: EditorStore) => void undo(store)),
    fc.constant((store: EditorStore) => void redo(store)),
  );
  let edits = 0;
  fc.assert(
    fc.property(fc.array(act, { minLength: 1, maxLength: 8 }), (acts) => {
      const { store } = openTrial();
      for (const each of acts) each(store);
      edits += store.getState().past.length;
      const fresh = createCoverage(store.getState().floor);
      const { areas, workplaces } = snapshot(store);
      expect({ areas, workplaces }).toEqual({ areas: fresh.areas, workplaces: fresh.workplaces });
    }),
    { numRuns: 40, seed: 7 },
  );
  expect(edits).toBeGreaterThan(20);
});

test('the newest steps are kept, so many and no more, and the foot tells when the oldest go', () => {
  expect(MOST_STEPS).toBeGreaterThanOrEqual(10_000);
  const { store } = openTrial();
  const name = (n: number): string => `D1 ${n}`;
  for (let n = 1; n <= MOST_STEPS; n += 1) edit(store, `Step ${n}`, setName('detectors', 'D1', name(n)));
  expect(store.getState().past).toHaveLength(MOST_STEPS);
  expect(store.getState().notice?.text).not.toContain('oldest');
  edit(store, 'One more', setName('detectors', 'D1', 'last'));
  expect(store.getState().past).toHaveLength(MOST_STEPS);
  expect(store.getState().notice?.text).toContain(`${MOST_STEPS} steps are kept; the oldest has gone.`);
  edit(store, 'Another', setName('detectors', 'D1', 'very last'));
  expect(store.getState().notice?.text).toBe('Another. Ctrl Z takes it back.');
  while (undo(store));
  expect(store.getState().file.detectors[0]?.name).toBe(name(2));
  expect(store.getState().notice?.text).toContain('No older step is kept.');
  while (redo(store));
  expect(store.getState().file.detectors[0]?.name).toBe('very last');
});
