import { expect, test } from 'vitest';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { findItem } from '../../../src/editor/edits/lists.ts';
import { deleteThings } from '../../../src/editor/edits/removal.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

const gone = (...ids: readonly string[]): FloorFile => made(TRIAL_FLOOR, deleteThings(TRIAL_FLOOR, ids));

test('things that nothing names are deleted, and nothing else is touched', () => {
  const asked = planned(deleteThings(TRIAL_FLOOR, ['F1', 'W1', 'Q1']));
  expect(asked).toMatchObject({ name: 'Deleted 3 things', ids: [] });
  const file = made(TRIAL_FLOOR, asked);
  expect([file.furniture?.length, file.workplaces?.length, file.sources?.length]).toEqual([2, 1, 0]);
  for (const list of ['rooms', 'openings', 'zones', 'types', 'detectors', 'groups'] as const)
    expect(file[list]).toBe(TRIAL_FLOOR[list]);
});

test('a main that goes is followed by its first extension, and its records go with it', () => {
  const asked = planned(deleteThings(TRIAL_FLOOR, ['D1']));
  expect(asked.name).toBe('Deleted D1, with 1 record');
  const file = made(TRIAL_FLOOR, asked);
  expect(findItem(file, 'groups', 'G1')).toMatchObject({ main: 'D2', extensions: [] });
  expect(file.records).toEqual([]);
});

test('a group without detectors goes, and what named it no longer does', () => {
  const file = gone('D2', 'D1');
  expect(file.groups?.map(({ id }) => id)).toEqual(['G2']);
  expect(file.luminaires?.[0]).not.toHaveProperty('group');
  expect(file.zones?.[0]).not.toHaveProperty('groups');
});

test('deleted rooms and zones are served by nobody; a group that named nothing else serves as if it had not said', () => {
  const file = gone('R2', 'Z1');
  expect(findItem(file, 'groups', 'G1')).toMatchObject({ main: 'D1', serves: ['R1'], ventilation: ['R1'] });
  expect(findItem(file, 'groups', 'G2')).toEqual({ id: 'G2', name: 'Corridor', main: 'D3' });
});

test('with a room go the detectors in it and the openings that are in no wall any more', () => {
  const asked = planned(deleteThings(TRIAL_FLOOR, ['R1']));
  expect(asked.name).toBe('Deleted Office, with 1 detector, 1 opening and 1 record');
  const file = made(TRIAL_FLOOR, asked);
  expect(file.detectors.map(({ id }) => id)).toEqual(['D2', 'D3']);
  // The window was in its outer wall; the doors are in the walls of its neighbours too.
  expect(file.openings?.map(({ id }) => id)).toEqual(['O1', 'O2', 'O3']);
  expect(file.furniture).toBe(TRIAL_FLOOR.furniture);
});

test('a type in use and a locked detector are not deleted', () => {
  expect(refusalOf(deleteThings(TRIAL_FLOOR, ['T1']))).toBe(
    'Round 9 is the type of D1, D2 and D3. Give them another type first, or delete them too.',
  );
  const file = gone('T1', 'D1', 'D2', 'D3');
  expect([file.types, file.detectors, file.groups]).toEqual([[], [], []]);
  const locked: FloorFile = {
    ...TRIAL_FLOOR,
    detectors: TRIAL_FLOOR.detectors.map((each) => (each.id === 'D1' ? { ...each, locked: true } : each)),
  };
  for (const id of ['D1', 'R1']) expect(refusalOf(deleteThings(locked, [id]))).toBe('D1 is locked. Unlock it first.');
  expect(refusalOf(deleteThings(TRIAL_FLOOR, ['gone']))).toBe('Nothing is selected. Select what to delete.');
});

test('a deleted group leaves its detectors, each for itself', () => {
  const file = gone('G1');
  expect(file.detectors).toBe(TRIAL_FLOOR.detectors);
  expect(file.luminaires?.[0]).not.toHaveProperty('group');
});

test('every thing alone, and all of them together, can be deleted from a floor', () => {
  for (const list of [
    'rooms',
    'openings',
    'furniture',
    'luminaires',
    'workplaces',
    'zones',
    'sources',
    'detectors',
    'groups',
  ] as const)
    for (const { id } of TRIAL_FLOOR[list] ?? []) expect(findItem(gone(id), list, id)).toBeUndefined();
  const all = Object.values(TRIAL_FLOOR).flatMap((value) =>
    Array.isArray(value) ? value.flatMap((each: { readonly id?: string }) => each.id ?? []) : [],
  );
  const empty = gone(...all);
  expect([empty.rooms, empty.types, empty.detectors, empty.groups, empty.records]).toEqual([[], [], [], [], []]);
});
