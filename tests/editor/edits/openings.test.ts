import { expect, test } from 'vitest';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { findItem } from '../../../src/editor/edits/lists.ts';
import {
  addOpening,
  flipDoors,
  moveOpening,
  setOpeningHeights,
  setOpeningKind,
  setOpeningWidth,
  slideOpening,
} from '../../../src/editor/edits/openings.ts';
import { findOpeningPlace, findWall, findWallNear } from '../../../src/editor/edits/walls.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

/** Walls of the trial floor: where Office meets Corridor, where Studio faces Store, and the outer wall of Office. */
const SOUTH = { roomId: 'R1', ring: 0, edge: 0 };
const EAST = { roomId: 'R2', ring: 0, edge: 1 };
const WEST = { roomId: 'R1', ring: 0, edge: 3 };

const openingOf = (file: FloorFile, id: string) => findItem(file, 'openings', id);

test('a door in a shared wall lies on it and cuts both rooms', () => {
  const asked = planned(addOpening(TRIAL_FLOOR, SOUTH, { kind: 'door', along: 3, width: 0.9, state: 'closed' }));
  expect(asked.name).toBe('Added door O5');
  expect(openingOf(made(TRIAL_FLOOR, asked), 'O5')).toEqual({
    id: 'O5',
    kind: 'door',
    from: [3, 2],
    to: [3.9, 2],
    depth: 0.2,
    state: 'closed',
  });
});

test('a door in a wall of some thickness lies in its middle, deep enough for both faces', () => {
  const file = made(TRIAL_FLOOR, addOpening(TRIAL_FLOOR, EAST, { kind: 'passage', along: 4, width: 1.2 }));
  expect(openingOf(file, 'O5')).toEqual({ id: 'O5', kind: 'passage', from: [12.1, 6], to: [12.1, 7.2], depth: 0.4 });
});

test('a window in an outer wall has a sill, and the depth of its kind', () => {
  const file = made(TRIAL_FLOOR, addOpening(TRIAL_FLOOR, WEST, { kind: 'window', along: 1, width: 2, head: 2.4 }));
  expect(openingOf(file, 'O5')).toEqual({ id: 'O5', kind: 'window', from: [0, 7], to: [0, 5], sill: 0.9, head: 2.4 });
});

test('what does not fit its wall is refused with what would', () => {
  const add = (along: number, width: number) => addOpening(TRIAL_FLOOR, SOUTH, { kind: 'door', along, width });
  expect(refusalOf(add(5.5, 0.9))).toBe(
    'The wall is 6.00 m long, and the opening would end at 6.40 m. There is room for 0.50 m here.',
  );
  expect(refusalOf(add(5.95, 0.9))).toMatch(/Put it nearer to the start of the wall\.$/);
  expect(refusalOf(add(-0.5, 0.9))).toMatch(/^The opening would begin before its wall/);
  expect(refusalOf(add(1, 0.05))).toBe('An opening of 0.05 m is too narrow. Write at least 0.1 m.');
  expect(refusalOf(addOpening(TRIAL_FLOOR, SOUTH, { kind: 'window', along: 1, width: 1, state: 'open' }))).toMatch(
    /^A window never opens for sight/,
  );
  expect(
    refusalOf(addOpening(TRIAL_FLOOR, { roomId: 'R9', ring: 0, edge: 0 }, { kind: 'door', along: 1, width: 1 })),
  ).toBe('The wall is no longer there. Select another.');
});

test('an opening slides along its wall and stops at the ends', () => {
  const asked = planned(slideOpening(TRIAL_FLOOR, 'O1', 2.5));
  expect(asked.name).toBe('Moved door O1 by 1.50 m');
  expect(openingOf(made(TRIAL_FLOOR, asked), 'O1')).toMatchObject({ from: [2.5, 2], to: [3.4, 2], state: 'open' });
  expect(openingOf(made(TRIAL_FLOOR, slideOpening(TRIAL_FLOOR, 'O1', 99)), 'O1')?.to).toEqual([6, 2]);
  // Between two faces it keeps to the middle.
  expect(openingOf(made(TRIAL_FLOOR, slideOpening(TRIAL_FLOOR, 'O3', 0)), 'O3')).toMatchObject({
    from: [12.1, 2],
    to: [12.1, 2.9],
  });
});

test('an opening is widened about its middle, as far as its wall goes', () => {
  const wide = made(TRIAL_FLOOR, setOpeningWidth(TRIAL_FLOOR, 'O4', 3));
  expect(openingOf(wide, 'O4')).toMatchObject({ from: [1.5, 8], to: [4.5, 8] });
  expect(refusalOf(setOpeningWidth(TRIAL_FLOOR, 'O4', 7))).toBe(
    'Window O4 would be wider than its wall. Write at most 6.00 m, or move it away from the corner.',
  );
});

test('an opening is moved to another wall, and cuts both its faces', () => {
  const file = made(TRIAL_FLOOR, moveOpening(TRIAL_FLOOR, 'O1', EAST, 1));
  expect(openingOf(file, 'O1')).toEqual({ id: 'O1', kind: 'door', from: [12.1, 3], to: [12.1, 3.9], state: 'open' });
  expect(refusalOf(moveOpening(TRIAL_FLOOR, 'O4', { roomId: 'R1', ring: 1, edge: 0 }, 0))).toMatch(/0\.50 m long/);
});

test('doors are opened and closed; windows and passages are not', () => {
  const closed = made(TRIAL_FLOOR, flipDoors(TRIAL_FLOOR, ['O1']));
  expect(openingOf(closed, 'O1')?.state).toBe('closed');
  const asked = planned(flipDoors(TRIAL_FLOOR, ['O1', 'O3', 'O4']));
  expect(asked.name).toBe('Opened 2 openings');
  expect(made(TRIAL_FLOOR, asked).openings?.map(({ state }) => state)).toEqual(['open', undefined, 'open', undefined]);
  expect(refusalOf(flipDoors(TRIAL_FLOOR, ['O2']))).toBe('A passage is always open. Only a door is open or closed.');
});

test('a door made a window loses its state; sill and head keep their order', () => {
  expect(openingOf(made(TRIAL_FLOOR, setOpeningKind(TRIAL_FLOOR, 'O1', 'window')), 'O1')).not.toHaveProperty('state');
  const low = made(TRIAL_FLOOR, setOpeningHeights(TRIAL_FLOOR, 'O4', { sill: 0.4, head: null, depth: 0.3 }));
  expect(openingOf(low, 'O4')).toEqual({ id: 'O4', kind: 'window', from: [2, 8], to: [4, 8], sill: 0.4, depth: 0.3 });
  expect(refusalOf(setOpeningHeights(TRIAL_FLOOR, 'O4', { sill: 2.2 }))).toBe(
    'The head of window O4 would be 2.10 m and its sill 2.20 m. The head must be above the sill.',
  );
});

test('the wall nearest to a place is found, and where an opening lies in one', () => {
  const near = findWallNear(TRIAL_FLOOR, [2.5, 8.2], 0.5);
  expect(near).toMatchObject({ wall: { roomId: 'R1', ring: 0, edge: 2, length: 6, outward: [0, 1] }, along: 3.5 });
  expect(findWallNear(TRIAL_FLOOR, [3, 5], 0.5)).toBeUndefined();
  expect(findWall(TRIAL_FLOOR, { roomId: 'R1', ring: 1, edge: 0 })).toMatchObject({ outward: [-0, 1], length: 0.5 });
  const door = TRIAL_FLOOR.openings?.[2];
  const place = door === undefined ? undefined : findOpeningPlace(TRIAL_FLOOR, door);
  expect(place?.wall).toMatchObject({ roomId: 'R2', edge: 1 });
  expect(place?.along).toBeCloseTo(1, 9);
  expect(place?.off).toBeCloseTo(0.1, 9);
});
