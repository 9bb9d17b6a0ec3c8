import { create } from 'mutative';
import { expect, test } from 'vitest';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { createChange } from '../../../src/editor/edits/change.ts';
import { countThings, describeFault, nameThing, nameThings, showText } from '../../../src/editor/edits/fault-words.ts';
import { createIdMaker } from '../../../src/editor/edits/ids.ts';
import { findAllListed, findListed } from '../../../src/editor/edits/lists.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

test('ids count on from the highest of their letter in the whole file', () => {
  const file: FloorFile = {
    ...TRIAL_FLOOR,
    sources: [{ id: 'F12', name: 'Fan', kind: 'fan', at: [1, 3], base: 1, top: 2 }],
    workplaces: [
      { id: 'W007', name: '', at: [1, 1] },
      { id: 'W99999999999', name: '', at: [1, 2] },
    ],
  };
  const maker = createIdMaker(file);
  expect([maker.next('furniture'), maker.next('furniture'), maker.next('workplaces'), maker.next('zones')]).toEqual([
    'F13',
    'F14',
    'W8',
    'Z2',
  ]);
  expect(createIdMaker(file).next('furniture')).toBe('F13');
});

test('names count on from the highest of their like', () => {
  const named: FloorFile = {
    ...TRIAL_FLOOR,
    furniture: ['Shelf', 'Shelf 4', 'Desk', 'S7', '12'].map((name, i) => ({
      ...TRIAL_FLOOR.furniture![0]!,
      id: `F${i}`,
      name,
    })),
  };
  const maker = createIdMaker(named);
  const next = (like: string): string => maker.nextName('furniture', like);
  expect([next('Shelf 4'), next('Shelf'), next('Desk'), next('S7'), next('Column'), next('Column'), next('')]).toEqual([
    'Shelf 5',
    'Shelf 6',
    'Desk 2',
    'S8',
    'Column 1',
    'Column 2',
    '13',
  ]);
  expect([maker.freeName('furniture', 'Sofa'), maker.freeName('furniture', 'Sofa')]).toEqual(['Sofa', 'Sofa 2']);
  expect(maker.nextName('rooms', '𝕏'.repeat(500)).length).toBeLessThanOrEqual(1000);
});

test('things are named one by one, or counted', () => {
  const all = (...ids: readonly string[]) => nameThings(findAllListed(TRIAL_FLOOR, ids));
  expect([all('F1'), all('F1', 'F2'), all('F1', 'W1'), all('O1'), all()]).toEqual([
    'Desk 1',
    '2 pieces',
    '2 things',
    'door O1',
    'nothing',
  ]);
  expect(countThings('types', 1)).toBe('1 detector type');
  expect(nameThing({ list: 'zones', item: { ...TRIAL_FLOOR.zones![0]!, name: ' ' } })).toBe('zone Z1');
  expect(showText(`a\u0000b\r\n\u202Ec${'x'.repeat(100)}`)).toMatch(/^a b {3}cx{53}…$/);
});

test('faults of a whole floor are told by the names of things', () => {
  const describe = (path: string, what: string, remedy = ''): string =>
    describeFault(TRIAL_FLOOR, { path, what, remedy }).what;
  expect(describe('furniture[1].top', 'is 0.7')).toBe('The top of Shelf 1 is 0.7');
  expect(describe('rooms[1].outline', 'overlaps rooms[0]')).toBe('The outline of Studio overlaps Office');
  expect(describe('rooms[0].holes[0]', 'overlaps holes[1]')).toBe('Hole 1 of Office overlaps hole 2');
  expect(describe('detectors[2].at', 'is outside')).toBe('D3 is outside');
  expect(describe('types[0].ranges[2].plane', 'is 3')).toBe('The plane of row 3 of Round 9 is 3');
  expect(describe('analysis.cell', 'is 0.001')).toBe('The cell of the analysis is 0.001');
  expect(describe('', 'The file is an object')).toBe('The file is an object');
  expect(describe('rooms[0].name', 'is "rooms[1]"')).toBe('The name of Office is "rooms[1]"');
  expect(describe('revision[0].text', 'is odd')).toBe('The text of revision 1 is odd');
});

test('a change reads back what it will make, and makes it on a draft', () => {
  const change = createChange(TRIAL_FLOOR);
  const shelf = findListed(TRIAL_FLOOR, 'F2');
  if (shelf?.list !== 'furniture') throw new Error('F2 is no piece.');
  change.set('furniture', { ...shelf.item, top: 1 });
  change.add('furniture', { ...shelf.item, id: 'F9' });
  change.set('furniture', { ...shelf.item, id: 'F9', top: 3 });
  change.remove('furniture', 'F1');
  change.add('sources', { id: 'Q9', name: '', kind: 'fan', at: [0, 0], base: 0, top: 1 });
  change.remove('sources', 'Q9');
  expect(change.get('furniture', 'F1')).toBeUndefined();
  expect(change.get('furniture', 'F9')?.top).toBe(3);
  const file = create(TRIAL_FLOOR, change.plan('Test', []).recipe);
  expect(file.furniture?.map(({ id, top }) => [id, top])).toEqual([
    ['F2', 1],
    ['F3', 1.4],
    ['F9', 3],
  ]);
  expect(file.furniture).toEqual(change.list('furniture'));
  expect(file.sources).toEqual(TRIAL_FLOOR.sources);
  expect(file.rooms).toBe(TRIAL_FLOOR.rooms);
});
