import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type FloorFile, serialiseFloor } from '../../../src/core/floor/index.ts';
import { type Copied, copyThings, cutThings, pasteThings, repeatThings } from '../../../src/editor/edits/clipboard.ts';
import { applyEdit } from '../../../src/editor/edits/edit.ts';
import { findItem, LIST_NAMES, listOf } from '../../../src/editor/edits/lists.ts';
import { mutateText } from '../../core/floor/mutate.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

const textOf = (copied: Copied): string => {
  if (!copied.ok) throw new Error(copied.what);
  return copied.text;
};
const copy = (...ids: readonly string[]): string => textOf(copyThings(TRIAL_FLOOR, ids));
const EMPTY: FloorFile = { format: 'lacuna/1', name: 'Other', rooms: [], types: [], detectors: [] };

test('things are pasted under new ids and numbers, by a way or in place', () => {
  expect(copyThings(TRIAL_FLOOR, ['F1', 'W1'])).toMatchObject({ name: 'Copied 2 things' });
  const asked = planned(pasteThings(TRIAL_FLOOR, copy('F1', 'W1'), [0, 1.5]));
  expect(asked).toMatchObject({ name: 'Pasted 2 things', ids: ['F4', 'W3'] });
  const file = made(TRIAL_FLOOR, asked);
  expect(findItem(file, 'furniture', 'F4')).toEqual({
    ...findItem(TRIAL_FLOOR, 'furniture', 'F1'),
    id: 'F4',
    name: 'Desk 2',
    outline: [
      [2, 5.5],
      [3.6, 5.5],
      [3.6, 6.3],
      [2, 6.3],
    ],
  });
  expect(findItem(file, 'workplaces', 'W3')).toEqual({ id: 'W3', name: '3', at: [2.8, 5.15], facing: 90 });
  const inPlace = made(TRIAL_FLOOR, pasteThings(TRIAL_FLOOR, copy('W1')));
  expect(findItem(inPlace, 'workplaces', 'W3')?.at).toEqual([2.8, 3.65]);
});

test('a group goes along with all its detectors, and names the copies', () => {
  const file = made(TRIAL_FLOOR, pasteThings(TRIAL_FLOOR, copy('D1', 'D2', 'R1', 'R2', 'L1'), [20, 0]));
  const [detector, other] = file.detectors.slice(3);
  expect([detector, other]).toMatchObject([
    { id: 'D4', name: 'D4', at: [23, 3.2], type: 'T1' },
    { id: 'D5', name: 'D5', at: [29, 4], type: 'T1' },
  ]);
  expect(file.groups?.[2]).toEqual({
    id: 'G3',
    name: 'Office 2',
    main: 'D4',
    extensions: ['D5'],
    serves: ['R5', 'R6'],
    ventilation: ['R5'],
  });
  expect(file.luminaires?.[1]?.group).toBe('G3');
  expect(file.types).toBe(TRIAL_FLOOR.types);
});

test('what names something that was not copied names it no more', () => {
  const file = made(TRIAL_FLOOR, pasteThings(TRIAL_FLOOR, copy('L1', 'Z1', 'D2')));
  expect(file.luminaires?.[1]).not.toHaveProperty('group');
  expect(file.zones?.[1]).not.toHaveProperty('groups');
  expect(file.groups).toBe(TRIAL_FLOOR.groups);
  // The group of the corridor served a zone that stays behind.
  const corridor = made(TRIAL_FLOOR, pasteThings(TRIAL_FLOOR, copy('R3', 'D3'), [0, -10]));
  expect(corridor.groups?.[2]).toEqual({ id: 'G3', name: 'Corridor 2', main: 'D4' });
});

test('on another floor the type comes along, once', () => {
  const whole = made(EMPTY, pasteThings(EMPTY, copy('R1', 'D1')));
  expect(whole.types).toEqual(TRIAL_FLOOR.types);
  const again = made(whole, pasteThings(whole, copy('R2', 'D2')));
  expect(again.types).toHaveLength(1);
  // Another type of the same id is another type.
  const foreign: FloorFile = { ...whole, types: [{ ...TRIAL_FLOOR.types[0]!, drop: 0.1 }] };
  const mixed = made(foreign, pasteThings(foreign, copy('R2', 'D2')));
  expect(mixed.types.map(({ id, name }) => [id, name])).toEqual([
    ['T1', 'Round 9'],
    ['T2', 'Round 10'],
  ]);
  expect(mixed.detectors[1]?.type).toBe('T2');
  const typeOnly = planned(pasteThings(EMPTY, copy('T1')));
  expect(typeOnly.name).toBe('Pasted Round 9');
  expect(made(EMPTY, typeOnly).types).toHaveLength(1);
});

test('cut things are gone, and can be pasted with what went with them', () => {
  const cut = cutThings(TRIAL_FLOOR, ['R1']);
  if (!cut.ok) throw new Error(cut.what);
  expect(planned(cut.edit).name).toBe('Cut Office, with 1 detector, 1 opening and 1 record');
  const without = made(TRIAL_FLOOR, cut.edit);
  expect(findItem(without, 'rooms', 'R1')).toBeUndefined();
  const back = made(without, pasteThings(without, cut.text));
  expect(back.rooms.at(-1)).toEqual({ ...TRIAL_FLOOR.rooms[0], id: 'R5', name: 'Office' });
  expect(back.detectors.at(-1)).toMatchObject({ at: [3, 3.2], masks: [{ from: 350, to: 370 }] });
  expect(back.openings?.at(-1)).toMatchObject({ kind: 'window', from: [2, 8], to: [4, 8] });
});

test('repeated on the same floor, things go on naming what they named', () => {
  const asked = planned(repeatThings(TRIAL_FLOOR, ['L1'], [0.6, 0], 3));
  expect(asked.name).toBe('Repeated Panel 1 3 times');
  const file = made(TRIAL_FLOOR, asked);
  expect(file.luminaires?.slice(1).map(({ name, at, group }) => [name, at, group])).toEqual([
    ['Panel 2', [3.6, 5], 'G1'],
    ['Panel 3', [4.2, 5], 'G1'],
    ['Panel 4', [4.8, 5], 'G1'],
  ]);
  expect(refusalOf(repeatThings(TRIAL_FLOOR, ['L1'], [1, 0], 5000))).toMatch(/^5000 copies of Panel 1 cannot be set/);
});

test('a copy of a locked detector is free', () => {
  const locked: FloorFile = {
    ...TRIAL_FLOOR,
    detectors: TRIAL_FLOOR.detectors.map((each) => ({ ...each, locked: true })),
  };
  const file = made(locked, repeatThings(locked, ['D2'], [0.6, 0]));
  expect(file.detectors.at(-1)).not.toHaveProperty('locked');
});

test('text from elsewhere is refused, and a damaged text is told as such', () => {
  const paste = (text: string) => refusalOf(pasteThings(TRIAL_FLOOR, text));
  const nothing = 'The clipboard holds nothing from a floor. Copy things on a floor first.';
  for (const text of [
    '',
    'Anna;1;2',
    '[]',
    'null',
    '{"format":"lacuna/1"}',
    serialiseFloor(TRIAL_FLOOR),
    '['.repeat(1e5),
  ])
    expect(paste(text)).toBe(nothing);
  expect(paste('{"format":"lacuna-things/1","rooms":[{}]}')).toBe(
    'The copied things are damaged: rooms[0].id is missing. Copy them again.',
  );
  expect(paste('{"format":"lacuna-things/1","records":[]}')).toMatch(/records is no list of things/);
  expect(paste('{"format":"lacuna-things/1","__proto__":{"furniture":[]}}')).toMatch(/is no list of things/);
  expect(paste('{"format":"lacuna-things/1"}')).toBe('There is nothing to paste. Copy things on a floor first.');
  expect(paste(copy('D1').replace('"type":"T1"', '"type":"T9"'))).toMatch(/names "T9", which is not in the file/);
  expect(paste(copy('F1', 'F2').replace('"F2"', '"F1"'))).toMatch(
    /^The copied things are damaged: furniture\[1\]\.id is "F1"/,
  );
});

test('damaged texts by the hundred are refused or make a valid floor', () => {
  const all = LIST_NAMES.flatMap((list) => listOf(TRIAL_FLOOR, list).map(({ id }) => id as string));
  const text = copy(...all);
  let pasted = 0;
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 1e6 }), (seed) => {
      const edit = pasteThings(TRIAL_FLOOR, mutateText(text, seed), [40, 0]);
      const applied = applyEdit(TRIAL_FLOOR, edit);
      if (applied.ok) pasted++;
      else expect(applied.what).not.toMatch(/undefined/);
      expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
    }),
    { seed: 9, numRuns: 600 },
  );
  expect(pasted).toBeGreaterThan(10);
}, 60_000);
