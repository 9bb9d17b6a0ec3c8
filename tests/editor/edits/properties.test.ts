import { expect, test } from 'vitest';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { findItem } from '../../../src/editor/edits/lists.ts';
import { readProperty, renameThing, setLocked, setProperty } from '../../../src/editor/edits/properties.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

test('a property is read over many things, with defaults, and passes over those that have none', () => {
  expect(readProperty(TRIAL_FLOOR, ['F2', 'F3'], 'top')).toEqual({ kind: 'mixed', values: [2.2, 1.4] });
  expect(readProperty(TRIAL_FLOOR, ['F1', 'F2', 'W1'], 'from')).toEqual({ kind: 'same', value: 'drawn' });
  expect(readProperty(TRIAL_FLOOR, ['F1', 'Q1', 'F2'], 'base')).toEqual({ kind: 'mixed', values: [0.7, 0] });
  expect(readProperty(TRIAL_FLOOR, ['D1', 'D3'], 'height')).toEqual({ kind: 'same', value: undefined });
  expect(readProperty(TRIAL_FLOOR, ['D1', 'D2'], 'height')).toEqual({ kind: 'mixed', values: [undefined, 2.7] });
  expect(readProperty(TRIAL_FLOOR, ['W1', 'gone'], 'top')).toEqual({ kind: 'none' });
  // Places and lists are no single values.
  expect(readProperty(TRIAL_FLOOR, ['W1'], 'at')).toEqual({ kind: 'none' });
});

test('a property is set on every thing that has it, whatever its kind', () => {
  const asked = planned(setProperty(TRIAL_FLOOR, ['F2', 'Q1', 'W1'], 'top', 1.6004));
  expect(asked.name).toBe('Set the top of 2 things to 1.6');
  expect(asked.ids).toEqual(['F2', 'Q1']);
  const file = made(TRIAL_FLOOR, asked);
  expect([findItem(file, 'furniture', 'F2')?.top, findItem(file, 'sources', 'Q1')?.top]).toEqual([1.6, 1.6]);
  expect(file.workplaces).toBe(TRIAL_FLOOR.workplaces);
});

test('kind, glass, raised, movable and standing of pieces are set', () => {
  let file: FloorFile = TRIAL_FLOOR;
  for (const [key, value] of [
    ['kind', 'cabinet'],
    ['glass', true],
    ['raised', 0.45],
    ['movable', true],
    ['from', 'measured'],
  ] as const)
    file = made(file, setProperty(file, ['F1', 'F3'], key, value));
  expect(findItem(file, 'furniture', 'F3')).toMatchObject({
    kind: 'cabinet',
    glass: true,
    raised: 0.45,
    movable: true,
    from: 'measured',
  });
});

test('null gives a default back, and what is needed cannot be left out', () => {
  const asked = planned(setProperty(TRIAL_FLOOR, ['D2'], 'height', null));
  expect(asked.name).toBe('Took the height of D2 back to its default');
  expect(findItem(made(TRIAL_FLOOR, asked), 'detectors', 'D2')).not.toHaveProperty('height');
  expect(refusalOf(setProperty(TRIAL_FLOOR, ['F1'], 'top', null))).toBe(
    'The top of Desk 1 cannot be left out. Give one.',
  );
});

test('values that do not fit are refused with what would be right, and nothing is set', () => {
  expect(refusalOf(setProperty(TRIAL_FLOOR, ['F2', 'F3'], 'top', 60))).toBe(
    'The top of Shelf 1 is 60. Give a number from 0 to 50.',
  );
  expect(refusalOf(setProperty(TRIAL_FLOOR, ['F2', 'F1'], 'top', 0.5))).toBe(
    'Desk 1 would reach from 0.7 m to 0.5 m. The top must be above the base.',
  );
  expect(refusalOf(setProperty(TRIAL_FLOOR, ['F2'], 'kind', 'shelf'))).toMatch(
    /^The kind of Shelf 1 is the text "shelf"\. Write "partition", .* or "other"\.$/,
  );
  expect(refusalOf(setProperty(TRIAL_FLOOR, ['W1'], 'top', 1))).toBe('1 cannot have the top. Select others.');
  expect(refusalOf(setProperty(TRIAL_FLOOR, ['D1'], 'type', 'T9'))).toBe(
    'The detector type is no longer there. Select another.',
  );
  expect(refusalOf(setProperty(TRIAL_FLOOR, ['L1'], 'group', 'G9'))).toBe(
    'The group is no longer there. Select another.',
  );
  expect(refusalOf(setProperty(TRIAL_FLOOR, ['D1'], 'reach', Number.NaN))).toMatch(
    /Give a number above 0 and up to 2\.$/,
  );
});

test('directions are brought round, and a window has no state', () => {
  expect(findItem(made(TRIAL_FLOOR, setProperty(TRIAL_FLOOR, ['D1'], 'turn', -90)), 'detectors', 'D1')?.turn).toBe(270);
  const doors = planned(setProperty(TRIAL_FLOOR, ['O1', 'O3', 'O4'], 'state', 'open'));
  expect(doors.ids).toEqual(['O1', 'O3']);
  expect(refusalOf(setProperty(TRIAL_FLOOR, ['O4'], 'state', 'open'))).toBe(
    'Window O4 cannot have the state. Select others.',
  );
  const window = made(TRIAL_FLOOR, setProperty(TRIAL_FLOOR, ['O1'], 'kind', 'window'));
  expect(findItem(window, 'openings', 'O1')).not.toHaveProperty('state');
});

test('things are renamed and locked', () => {
  const asked = planned(renameThing(TRIAL_FLOOR, 'R1', ' <b>Atelier</b>\u202E '));
  expect(asked.name).toBe('Renamed Office to <b>Atelier</b>');
  expect(findItem(made(TRIAL_FLOOR, asked), 'rooms', 'R1')?.name).toBe('<b>Atelier</b>\u202E');
  expect(refusalOf(renameThing(TRIAL_FLOOR, 'R1', 'x'.repeat(1001)))).toMatch(/a text of at most 1000 characters\.$/);
  const locked = made(TRIAL_FLOOR, setLocked(TRIAL_FLOOR, ['D1', 'F1'], true));
  expect(findItem(locked, 'detectors', 'D1')?.locked).toBe(true);
  expect(planned(setLocked(locked, ['D1'], false)).name).toBe('Unlocked D1');
});

test('drop, limits and the rest of a detector type are set', () => {
  let file: FloorFile = TRIAL_FLOOR;
  for (const [key, value] of [
    ['drop', 0.05],
    ['lightSensor', false],
    ['extensionLimit', 10],
    ['cableLimit', 250],
    ['lensDiameter', 0.04],
    ['origin', 'sheet 7'],
  ] as const)
    file = made(file, setProperty(file, ['T1'], key, value));
  expect(findItem(file, 'types', 'T1')).toMatchObject({
    drop: 0.05,
    lightSensor: false,
    extensionLimit: 10,
    cableLimit: 250,
    lensDiameter: 0.04,
    origin: 'sheet 7',
  });
  expect(refusalOf(setProperty(file, ['T1'], 'extensionLimit', 1.5))).toMatch(/Give a whole number from 0 to 2000\.$/);
});
