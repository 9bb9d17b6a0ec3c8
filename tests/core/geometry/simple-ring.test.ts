import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { PlanPoint } from '../../../src/core/geometry/polygon.ts';
import { findCrossing, findCrossingByPairs, findNearCorners } from '../../../src/core/geometry/simple-ring.ts';

/** A star of many spokes: simple, and far from convex. */
const star = (count: number, radius: (i: number) => number): PlanPoint[] =>
  Array.from({ length: count }, (_, i) => {
    const angle = (2 * Math.PI * i) / count;
    return [radius(i) * Math.cos(angle), radius(i) * Math.sin(angle)];
  });

/** Teeth along one side, all edges straight: many edges on common lines, many upright ones. */
const comb = (teeth: number): PlanPoint[] => [
  ...Array.from({ length: teeth }, (_, i): PlanPoint[] => [
    [2 * i, 0],
    [2 * i, 1],
    [2 * i + 1, 1],
    [2 * i + 1, 0],
  ]).flat(),
  [2 * teeth, 0],
  [2 * teeth, -1],
  [0, -1],
];

describe('a crossing', () => {
  test.each([
    [
      'a square',
      [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 1],
      ],
    ],
    [
      'a corner in a straight edge',
      [
        [0, 0],
        [1, 0],
        [2, 0],
        [2, 2],
        [0, 2],
      ],
    ],
    ['a comb', comb(40)],
    ['a turned comb', comb(40).map(([x, y]) => [y, x])],
    ['a comb aslant', comb(40).map(([x, y]) => [x * 0.8 - y * 0.6, x * 0.6 + y * 0.8])],
    ['a star', star(101, (i) => (i % 2 === 0 ? 10 : 0.5))],
  ] as const)('is not found in %s', (_, ring) => {
    expect(findCrossing(ring as readonly PlanPoint[])).toBe(undefined);
  });

  test.each([
    [
      'edges that cross',
      [
        [0, 0],
        [2, 2],
        [2, 0],
        [0, 2],
      ],
      [0, 2],
    ],
    [
      'a corner on an edge',
      [
        [0, 0],
        [4, 0],
        [4, 2],
        [2, 0],
        [0, 2],
      ],
      [0, 2],
    ],
    [
      'a spike',
      [
        [0, 0],
        [4, 0],
        [2, 0],
        [2, 3],
      ],
      [0, 1],
    ],
    [
      'edges on each other',
      [
        [0, 0],
        [4, 0],
        [4, 1],
        [3, 0],
        [1, 0],
        [0, 1],
      ],
      [0, 2],
    ],
    [
      'a corner met twice',
      [
        [0, 0],
        [1, 1],
        [0, 2],
        [4, 2],
        [1, 1],
        [4, 0],
      ],
      [0, 3],
    ],
  ] as const)('is found in %s', (_, ring, pair) => {
    expect(findCrossing(ring)).toEqual(pair);
  });

  test('is found by the sweep exactly where comparing all pairs finds one', () => {
    const coordinate = fc.oneof(fc.integer({ min: 0, max: 12 }), fc.double({ min: 0, max: 12, noNaN: true }));
    const anyRing = fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 24 });
    // Rings that are simple, and the same with one corner moved: near the border between the two answers.
    const bentRing = fc
      .tuple(
        fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 3, maxLength: 60 }),
        fc.nat(),
        coordinate,
        coordinate,
        fc.boolean(),
      )
      .map(([radii, at, x, y, isBent]) => {
        const ring = star(radii.length, (i) => radii[i] ?? 1);
        return isBent ? ring.with(at % ring.length, [x - 6, y - 6]) : ring;
      });
    const bentComb = fc
      .tuple(
        fc.integer({ min: 4, max: 12 }),
        fc.nat(),
        fc.integer({ min: 0, max: 24 }),
        fc.integer({ min: -1, max: 1 }),
        fc.boolean(),
      )
      .map(([teeth, at, x, y, isBent]) => (isBent ? comb(teeth).with(at % (4 * teeth), [x, y]) : comb(teeth)));
    let [crossing, simple] = [0, 0];
    fc.assert(
      fc.property(fc.oneof(anyRing, bentRing, bentComb), (ring) => {
        fc.pre(ring.every((corner, i) => String(corner) !== String(ring.at(i - 1))));
        const found = findCrossing(ring);
        const expected = findCrossingByPairs(ring);
        if (expected === undefined) simple++;
        else crossing++;
        expect(found === undefined).toBe(expected === undefined);
        if (found !== undefined) expect(found[0]).toBeLessThan(found[1]);
      }),
      { seed: 3, numRuns: 6_000 },
    );
    expect(Math.min(simple, crossing)).toBeGreaterThan(1_500);
  });

  test('is looked for in 5,000 corners a hundred times without squaring them', () => {
    const rings = [comb(1_249), star(4_999, (i) => (i % 2 === 0 ? 10 : 5))];
    // Every edge under the sweep at once, the worst it can meet.
    const zigzag: PlanPoint[] = Array.from({ length: 2_499 }, (_, i): PlanPoint => [i % 2 === 0 ? 0 : 100, i]);
    rings.push([...zigzag, [200, 2_500], [200, -1]]);
    for (const ring of rings) {
      let read = 0;
      const counted = new Proxy(ring, {
        get: (target, key) => {
          read++;
          return Reflect.get(target, key);
        },
      });
      expect(findCrossing(counted)).toBe(undefined);
      expect(read / ring.length).toBeLessThan(400);
    }
  });
});

describe('corners too near to each other', () => {
  test('are found whether they are neighbours or not', () => {
    const ring = star(40, () => 5);
    expect(findNearCorners(ring, 0.01)).toBe(undefined);
    const [x, y] = ring[7] as PlanPoint;
    expect(findNearCorners(ring.toSpliced(8, 0, [x + 0.005, y]), 0.01)).toEqual([7, 8]);
    expect(findNearCorners(ring.toSpliced(30, 0, [x, y - 0.005]), 0.01)).toEqual([7, 30]);
    expect(
      findNearCorners(
        [
          [0, 0],
          [1, 0],
          [1, 1],
          [0, 0.009],
        ],
        0.01,
      ),
    ).toEqual([0, 3]);
  });

  test('are those that comparing all pairs finds', () => {
    const corner = fc.tuple(fc.integer({ min: 0, max: 50 }), fc.integer({ min: 0, max: 50 }));
    let found = 0;
    fc.assert(
      fc.property(fc.array(corner, { minLength: 3, maxLength: 40 }), (ring) => {
        const expected = ring.some(([ax, ay], i) =>
          ring.some(([bx, by], j) => i < j && Math.hypot(ax - bx, ay - by) < 1.9),
        );
        const pair = findNearCorners(ring, 1.9);
        expect(pair !== undefined).toBe(expected);
        if (pair === undefined) return;
        found++;
        const [a, b] = [ring[pair[0]]!, ring[pair[1]]!];
        expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeLessThan(1.9);
      }),
      { seed: 8, numRuns: 3_000 },
    );
    expect(found).toBeGreaterThan(300);
  });
});
