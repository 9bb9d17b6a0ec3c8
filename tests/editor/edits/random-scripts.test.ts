import { expect, test } from 'vitest';
import { type FloorFile, formatFault, parseFloor, serialiseFloor } from '../../../src/core/floor/index.ts';
import { applyEdit, type Edit } from '../../../src/editor/edits/edit.ts';
import { LIST_NAMES, listOf } from '../../../src/editor/edits/lists.ts';
import { moveThings } from '../../../src/editor/edits/moving.ts';
import { setLocked } from '../../../src/editor/edits/properties.ts';
import { deleteThings } from '../../../src/editor/edits/removal.ts';
import { addRectangularRoom } from '../../../src/editor/edits/rooms.ts';
import { edit, redo, undo } from '../../../src/editor/history.ts';
import { createRandom, type Random } from '../../models/random.ts';
import { openUncovered } from './made.ts';
import { RANDOM_EDITS } from './random-edits.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

/** Things of one kind above which some are deleted again, so that the floor stays small. */
const MOST = 12;

/** Freezes what is new of a file, so that an edit that writes to it throws. */
function freeze(value: unknown): void {
  if (typeof value !== 'object' || value === null || Object.isFrozen(value)) return;
  Object.freeze(value);
  for (const each of Object.values(value)) freeze(each);
}

/** What keeps the floor small and yet worth editing, by the recipe that does it; null: nothing has to be done. */
function keepSmall(file: FloorFile, random: Random): readonly [string, Edit] | null {
  if (file.rooms.length < 3) {
    const [x, y] = [random.whole(0, 4) * 3, random.whole(0, 2) * 3];
    const asked = addRectangularRoom(file, [x, y], [x + 3, y + 3]);
    return applyEdit(file, asked).ok
      ? ['addRectangularRoom', asked]
      : ['moveThings', moveThings(file, allRooms(file), [20, 0])];
  }
  const used = new Set(file.detectors.map(({ type }) => type as string));
  const excess = LIST_NAMES.flatMap((list) => {
    const items = listOf(file, list);
    return items.length > MOST ? items.slice(MOST / 2).map(({ id }) => id as string) : [];
  }).filter((id) => !used.has(id));
  if (excess.length === 0) return null;
  const locked = file.detectors.filter((detector) => detector.locked === true);
  if (locked.length === 0) return ['deleteThings', deleteThings(file, excess)];
  return [
    'setLocked',
    setLocked(
      file,
      locked.map(({ id }) => id),
      false,
    ),
  ];
}

function allRooms(file: FloorFile): readonly string[] {
  return file.rooms.map(({ id }) => id);
}

test.each([[1]])(
  'random edit scripts of 10,000 steps leave a valid floor after each, and go back to the first byte: seed %i',
  (seed) => {
    const random = createRandom(seed);
    const store = openUncovered(structuredClone(TRIAL_FLOOR) as FloorFile);
    freeze(store.getState().file);
    const first = serialiseFloor(store.getState().file);
    const counts = new Map(RANDOM_EDITS.map(([name]) => [name, { made: 0, refused: 0, faulty: 0 }]));
    let steps = 0;
    while (steps < 10_000) {
      const { file } = store.getState();
      const kept = keepSmall(file, random);
      const [picked, make] = random.pick(RANDOM_EDITS);
      const [name, asked] = kept ?? [picked, make(file, random)];
      const count = counts.get(name);
      if (count === undefined) throw new Error(`${name} is not counted.`);
      steps++;
      if (!asked.ok) {
        count.refused++;
        expect(asked.what).not.toMatch(/undefined|NaN|\.$/);
        expect(asked.remedy).toMatch(/\.$/);
        continue;
      }
      expect(asked.name).not.toMatch(/undefined|NaN/);
      const outcome = edit(store, asked.name, asked.recipe);
      const next = store.getState().file;
      if (!outcome.ok) {
        // Refused as a whole: nothing has happened, and the reason names things.
        count.faulty++;
        expect(next).toBe(file);
        const applied = applyEdit(file, asked);
        expect(applied.ok ? '' : applied.what).not.toMatch(/^$|undefined|\w\[\d+\]/);
        continue;
      }
      count.made++;
      for (const id of asked.ids)
        expect(LIST_NAMES.some((list) => listOf(next, list).some((item) => item.id === id))).toBe(true);
      freeze(next);
      if (steps % 200 === 0) {
        const parsed = parseFloor(serialiseFloor(next));
        expect(parsed.ok ? [] : parsed.faults.map(formatFault)).toEqual([]);
      }
    }
    // Each recipe was made, not only asked for.
    expect([...counts].filter(([, { made }]) => made === 0).map(([name]) => name)).toEqual([]);
    if (process.env.LACUNA_COUNTS !== undefined) console.table(Object.fromEntries(counts));
    const last = serialiseFloor(store.getState().file);
    const made = store.getState().past.length;
    let undone = 0;
    while (undo(store)) undone++;
    expect(undone).toBe(made);
    expect(serialiseFloor(store.getState().file)).toBe(first);
    while (redo(store));
    expect(serialiseFloor(store.getState().file)).toBe(last);
  },
  240_000,
);
