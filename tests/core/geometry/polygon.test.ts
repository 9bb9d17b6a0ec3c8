import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  computeBox,
  computeRingDistance,
  computeSegmentDistance,
  computeSignedArea,
  isInRing,
  type PlanPoint,
} from '../../../src/core/geometry/polygon.ts';

const square: PlanPoint[] = [
  [0, 0],
  [2, 0],
  [2, 2],
  [0, 2],
];

describe('the area of a ring', () => {
  test('is above 0 counter-clockwise and below clockwise', () => {
    expect(computeSignedArea(square)).toBe(4);
    expect(computeSignedArea([...square].reverse())).toBe(-4);
    expect(computeSignedArea([])).toBe(0);
  });

  test('keeps its digits far from the origin', () => {
    const far = [
      [0, 0],
      [0.05, 0],
      [0.05, 0.02],
      [0, 0.02],
    ].map(([x, y]): PlanPoint => [9_999 + x!, -9_999 + y!]);
    expect(computeSignedArea(far)).toBeCloseTo(0.001, 12);
  });
});

describe('a ring holds a point', () => {
  test.each([
    [1, 1, true],
    [0, 0, true],
    [0, 1, true],
    [1, 0, true],
    [2, 1, false],
    [1, 2, false],
    [2, 2, false],
    [3, 1, false],
  ])('at %d, %d: %s (half open)', (x, y, inside) => {
    expect(isInRing(square, x, y)).toBe(inside);
    expect(isInRing([...square].reverse(), x, y)).toBe(inside);
  });

  test('exactly once when two rings share a slanted edge', () => {
    const number = fc.double({ min: -10, max: 10, noNaN: true });
    fc.assert(
      fc.property(number, number, number, number, fc.double({ min: 0, max: 1, noNaN: true }), (ax, ay, bx, by, t) => {
        // Points on the edge, as near as numbers get, of two triangles on either side of it within one box.
        const [x, y] = [ax + t * (bx - ax), ay + t * (by - ay)];
        fc.pre(Math.abs(by - ay) > 1e-6);
        const a: PlanPoint = [ax, ay];
        const b: PlanPoint = [bx, by];
        const [low, high] = ay < by ? [a, b] : [b, a];
        const left: PlanPoint[] = [low, high, [-100, high[1]], [-100, low[1]]];
        const right: PlanPoint[] = [high, low, [100, low[1]], [100, high[1]]];
        fc.pre(y >= low[1] && y < high[1]);
        expect(Number(isInRing(left, x, y)) + Number(isInRing(right, x, y))).toBe(1);
      }),
      { seed: 2, numRuns: 5_000 },
    );
  });
});

test('the box of a ring holds all of it, that of nothing holds nothing', () => {
  expect(computeBox(square)).toEqual({ minX: 0, minY: 0, maxX: 2, maxY: 2 });
  expect(computeBox([])).toEqual({ minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity });
});

test('distances are to the nearest point of a segment or ring', () => {
  expect(computeSegmentDistance([0, 0], [4, 0], 2, 3)).toBe(3);
  expect(computeSegmentDistance([0, 0], [4, 0], 7, 4)).toBe(5);
  expect(computeSegmentDistance([1, 1], [1, 1], 4, 5)).toBe(5);
  expect(computeRingDistance(square, 1, 0.5)).toBe(0.5);
  expect(computeRingDistance(square, 5, 6)).toBe(5);
  expect(computeRingDistance([], 0, 0)).toBe(Infinity);
});
