import fc from 'fast-check';
import polygonClipping from 'polygon-clipping';
import { describe, expect, test } from 'vitest';
import { createRegion, findCommonPlace, findPlaceOutside, isInRegion } from '../../../src/core/geometry/overlap.ts';
import { computeRingDistance, type PlanPoint, type PlanRing } from '../../../src/core/geometry/polygon.ts';

const DEPTH = 0.001;
const box = (x0: number, y0: number, x1: number, y1: number): PlanPoint[] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];
const turn = (ring: PlanRing, degrees: number): PlanPoint[] => {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return ring.map(([x, y]) => [x * c - y * s, x * s + y * c]);
};
const overlap = (a: PlanRing[], b: PlanRing[]): boolean => {
  const found = findCommonPlace(createRegion(a), createRegion(b), DEPTH) !== undefined;
  expect(findCommonPlace(createRegion(b), createRegion(a), DEPTH) !== undefined).toBe(found);
  return found;
};

describe('regions overlap', () => {
  const base = box(0, 0, 10, 6);
  const cases: readonly (readonly [string, PlanRing[], boolean])[] = [
    ['with a common edge', [box(10, 0, 14, 6)], false],
    ['with part of a common edge', [box(10, 2, 14, 9)], false],
    ['with a common corner', [box(10, 6, 14, 9)], false],
    ['0.9 mm deep', [box(9.9991, 0, 14, 6)], false],
    ['1.1 mm deep', [box(9.9989, 0, 14, 6)], true],
    ['1.1 mm deep, on part of an edge', [box(9.9989, 2, 14, 3)], true],
    ['crosswise', [box(4, -1, 5, 7)], true],
    ['one in the other', [box(4, 2, 5, 3)], true],
    ['one in the corner of the other', [box(0, 0, 2, 2)], true],
    ['the same twice', [base], true],
    ['the same the other way round', [[...base].reverse()], true],
    [
      'the same with other corners',
      [
        [
          [0, 0],
          [5, 0],
          [10, 0],
          [10, 6],
          [3, 6],
          [0, 6],
        ],
      ],
      true,
    ],
    ['the same but for half a millimetre', [box(0.0005, 0.0005, 9.9995, 5.9995)], true],
    ['in a hole', [box(-2, -2, 12, 8), base], false],
    ['in a hole half a millimetre smaller', [box(-2, -2, 12, 8), box(0.0005, 0, 10, 6)], false],
    ['in a hole 2 mm smaller', [box(-2, -2, 12, 8), box(0.002, 0, 10, 6)], true],
    ['apart', [box(20, 0, 30, 6)], false],
  ];
  test.each(cases)('%s', (_, other, expected) => {
    for (const degrees of [0, 90, 31.4]) {
      expect(
        overlap(
          [turn(base, degrees)],
          other.map((ring) => turn(ring, degrees)),
        ),
      ).toBe(expected);
    }
  });

  test('as their common area says, for rectangles turned any way', () => {
    const rectangle = fc
      .tuple(
        fc.integer({ min: -40, max: 40 }),
        fc.integer({ min: -40, max: 40 }),
        fc.integer({ min: 5, max: 60 }),
        fc.integer({ min: 5, max: 60 }),
        fc.integer({ min: 0, max: 17 }),
      )
      .map(([x, y, width, height, tenth]) => turn(box(x / 10, y / 10, (x + width) / 10, (y + height) / 10), tenth * 5));
    let [apart, common] = [0, 0];
    fc.assert(
      fc.property(rectangle, rectangle, (a, b) => {
        const pieces = polygonClipping.intersection([a as [number, number][]], [b as [number, number][]]);
        // The deepest place of the common piece, on a grid: enough to tell a clear overlap from a clear miss.
        const deepest = Math.max(0, ...pieces.map(([ring]) => measureDepth(ring as PlanPoint[])));
        const found = overlap([a], [b]);
        if (pieces.length === 0) {
          apart++;
          expect(found).toBe(false);
        } else if (deepest > 2 * DEPTH) {
          common++;
          expect(found).toBe(true);
        }
      }),
      { seed: 21, numRuns: 1_500 },
    );
    expect(Math.min(apart, common)).toBeGreaterThan(300);
  });
});

/** Metres from the middle of a convex ring to its nearest edge. */
function measureDepth(ring: PlanPoint[]): number {
  const open = ring.slice(0, -1);
  const x = open.reduce((sum, [px]) => sum + px, 0) / open.length;
  const y = open.reduce((sum, [, py]) => sum + py, 0) / open.length;
  return computeRingDistance(open, x, y);
}

describe('a place outside', () => {
  const room = createRegion([box(0, 0, 10, 6)]);
  test.each([
    ['inside', box(1, 1, 2, 2), false],
    ['at the edge', box(0, 1, 2, 2), false],
    ['half a millimetre through it', box(-0.0005, 1, 2, 2), false],
    ['2 mm through it', box(-0.002, 1, 2, 2), true],
    ['outside', box(20, 1, 22, 2), true],
    ['around', box(-1, -1, 11, 7), true],
  ])('of a ring %s', (_, ring, expected) => {
    const place = findPlaceOutside(createRegion([ring]), room, DEPTH);
    expect(place !== undefined).toBe(expected);
    if (place !== undefined) expect(isInRegion(room, place[0], place[1])).toBe(false);
  });
});
