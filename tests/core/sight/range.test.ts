/** Sizes of ranges by the rows of a type: between rows, below the lowest and above the highest, at other heights. */
import { describe, expect, test } from 'vitest';
import type { Motion } from '../../../src/core/floor/index.ts';
import { type Extent, extentAt, hangRange, rangeAt } from '../../../src/core/sight/index.ts';
import { buildFloor, type Entry, rect, row } from './build-floor.ts';

const floorWith = (ranges: Entry<'types'>['ranges'], rest: Partial<Entry<'detectors'>> = {}) =>
  buildFloor({
    rooms: [{ id: 'R', name: 'R', outline: rect(-9, -9, 9, 9), ceiling: 6 }],
    types: [{ id: 'T', name: 'T', ranges }],
    detectors: [{ id: 'D', name: 'D', type: 'T', at: [0, 0], ...rest }],
  });
const sizeAt = (
  ranges: Entry<'types'>['ranges'],
  motion: Motion,
  lens: number,
  h: number,
  reach = 1,
): Extent | null => {
  const type = floorWith(ranges).types[0]!;
  return extentAt(hangRange(type, motion, lens, reach), lens, h);
};
const diameterAt = (...args: Parameters<typeof sizeAt>): number | null => {
  const extent = sizeAt(...args);
  return extent?.kind === 'round' ? 2 * extent.radius : null;
};

const ROWS = [
  row('minor', 3, 0.8, 8),
  row('minor', 2.5, 0.8, 6),
  row('tangential', 2.5, 1.2, 12),
  row('tangential', 3.5, 1.2, 20),
];

describe('by the height of the lens', () => {
  test.each([
    ['at a row', 'minor', 2.5, 6],
    ['at the other row, whatever their order in the file', 'minor', 3, 8],
    ['between rows, linearly', 'minor', 2.75, 7],
    ['between rows, linearly', 'tangential', 2.7, 13.6],
    ['below the lowest row, along its cone', 'minor', 2, (6 * 1.2) / 1.7],
    ['below the lowest row, along its cone', 'tangential', 1.85, 6],
    ['0.101 m above the highest row, small movements', 'minor', 3.101, 8],
    ['higher, small movements are lost', 'minor', 3.1011, null],
    ['higher, walking sizes stay', 'tangential', 5.9, 20],
    ['at the plane of the rows', 'minor', 0.8, null],
    ['without a row for the motion', 'radial', 2.5, null],
  ] as const)('%s: %s at %d m: %d m', (_, motion, lens, diameter) => {
    const plane = motion === 'minor' ? 0.8 : 1.2;
    const size = diameterAt(ROWS, motion, lens, plane);
    if (diameter === null) expect(size).toBeNull();
    else expect(size).toBeCloseTo(diameter, 12);
  });
});

describe('by the height that is looked at', () => {
  test.each([
    [0.8, 6],
    [0, 6],
    [1.65, 3],
    [2.4999, 6 * (0.0001 / 1.7)],
    [2.5, null],
    [2.6, null],
  ])('at %d m, rows at 0.8 m, lens at 2.5 m: %d m', (h, diameter) => {
    const size = diameterAt(ROWS, 'minor', 2.5, h);
    if (diameter === null) expect(size).toBeNull();
    else expect(size).toBeCloseTo(diameter, 9);
  });
});

test('reach scales every size', () => {
  expect(diameterAt(ROWS, 'minor', 2.75, 0.8, 0.5)).toBeCloseTo(3.5, 12);
  expect(diameterAt(ROWS, 'tangential', 3.5, 1.2, 1.7)).toBeCloseTo(34, 12);
});

test('a rectangle keeps its shape', () => {
  const ranges: Entry<'types'>['ranges'] = [
    { motion: 'radial', mounting: 2.5, plane: 1, length: 10, width: 4 },
    { motion: 'radial', mounting: 3.5, plane: 1, length: 14, width: 5 },
  ];
  expect(sizeAt(ranges, 'radial', 3, 1)).toEqual({
    kind: 'rectangular',
    length: expect.closeTo(12, 12),
    width: expect.closeTo(4.5, 12),
  });
  expect(sizeAt(ranges, 'radial', 3, 2)).toEqual({
    kind: 'rectangular',
    length: expect.closeTo(6, 12),
    width: expect.closeTo(2.25, 12),
  });
});

test('a detector hangs below the ceiling by its drop; one to be removed has no range', () => {
  const ranges = [row('tangential', 3, 0, 9)];
  const hung = floorWith(ranges, { reach: 0.5, height: 3 });
  expect(rangeAt(hung, hung.detectors[0]!, 'tangential', 1)).toEqual({
    kind: 'round',
    radius: expect.closeTo(1.5, 12),
  });
  const removed = floorWith(ranges, { status: 'remove' });
  expect(rangeAt(removed, removed.detectors[0]!, 'tangential', 1)).toBeNull();
});
