import { expect, test } from 'vitest';
import type { Point } from '../../../../src/core/floor/index.ts';
import { drawAngles } from '../../../../src/ui/scene/geometry/guide-angles.ts';
import { crossSegments, isSameGuides } from '../../../../src/ui/scene/geometry/guide-shapes.ts';

test('a right angle has a square in it, the last other one its degrees', () => {
  const path: Point[] = [
    [0, 0],
    [4, 0],
    [4, 3],
    [0, 5],
  ];
  const [right, last, ...more] = drawAngles(path, false, 0.01);
  expect(more).toEqual([]);
  expect(right?.at).toEqual([4, 0]);
  expect(right?.text).toBeNull();
  expect(right?.lines).toHaveLength(2);
  // The corner of the square lies inside the angle.
  expect(right?.lines[0]?.[1]).toEqual([4 - 0.08, 0.08]);
  expect(last?.at).toEqual([4, 3]);
  expect(last?.text).toBe('116.6°');
  expect(last?.towards[0]).toBeLessThan(0);
});

test('a closed outline has an angle at every corner, a path none at its ends', () => {
  const square: Point[] = [
    [0, 0],
    [4, 0],
    [4, 4],
    [0, 4],
  ];
  expect(drawAngles(square, true, 0.01).map(({ at }) => at)).toEqual(square);
  expect(drawAngles(square, false, 0.01).map(({ at }) => at)).toEqual(square.slice(1, 3));
  expect(drawAngles(square.slice(0, 2), false, 0.01)).toEqual([]);
});

test('an edge shorter than the sign shows none, and so does a straight corner', () => {
  const short: Point[] = [
    [0, 0],
    [4, 0],
    [4, 0.1],
  ];
  expect(drawAngles(short, false, 0.01)).toEqual([]);
  expect(drawAngles(short, false, 0.001)).toHaveLength(1);
  const straight: Point[] = [
    [0, 0],
    [4, 0],
    [8, 0],
  ];
  expect(drawAngles(straight, false, 0.01)).toEqual([]);
});

test('segments cross where both are, and only there', () => {
  expect(crossSegments([0, 0], [4, 4], [0, 4], [4, 0])).toEqual([2, 2]);
  expect(crossSegments([0, 0], [1, 1], [0, 4], [4, 0])).toBeNull();
  expect(crossSegments([0, 0], [4, 0], [0, 1], [4, 1])).toBeNull();
});

test('guides that look the same are the same, whoever made them', () => {
  const mark = (x: number, words?: string) =>
    ({ kind: 'mark', mark: 'corner', at: [x, 0], ...(words === undefined ? {} : { words }) }) as const;
  expect(isSameGuides([mark(1)], [mark(1)])).toBe(true);
  expect(isSameGuides([mark(1)], [mark(2)])).toBe(false);
  expect(isSameGuides([mark(1)], [mark(1, 'corner of a shelf')])).toBe(false);
  expect(isSameGuides([mark(1)], [])).toBe(false);
});
