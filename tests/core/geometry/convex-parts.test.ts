import { describe, expect, test } from 'vitest';
import { cutIntoConvexParts } from '../../../src/core/geometry/convex-parts.ts';
import { computeSignedArea, isInRing, type PlanPoint } from '../../../src/core/geometry/polygon.ts';
import { createRandom, type Random } from '../../models/random.ts';
import { randomOutline } from '../../models/random-outlines.ts';

const pairs = (xy: readonly number[]): PlanPoint[] =>
  Array.from({ length: xy.length / 2 }, (_, k) => [xy[2 * k]!, xy[2 * k + 1]!]);
const counterClockwise = (ring: readonly PlanPoint[]): PlanPoint[] =>
  computeSignedArea(ring) > 0 ? [...ring] : [...ring].reverse();
const outlineOf = (random: Random): PlanPoint[] =>
  counterClockwise(
    randomOutline(random, {
      point: () => [random.between(-50, 50), random.between(-50, 50)],
      size: () => random.between(0.1, 20),
    }),
  );
const isConvex = (ring: readonly PlanPoint[]): boolean =>
  ring.every(([ax, ay], k) => {
    const [bx, by] = ring[(k + 1) % ring.length]!;
    const [cx, cy] = ring[(k + 2) % ring.length]!;
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax) >= -1e-9;
  });

describe('convex parts', () => {
  test('are convex, counter-clockwise, cover the outline and do not overlap, for random outlines', () => {
    const random = createRandom(5);
    let cut = 0;
    for (let round = 0; round < 500; round++) {
      const outline = outlineOf(random);
      const parts = cutIntoConvexParts(outline.flat()).map(pairs);
      if (parts.length > 1) cut++;
      for (const part of parts) {
        expect(isConvex(part)).toBe(true);
        expect(computeSignedArea(part)).toBeGreaterThan(0);
      }
      const whole = computeSignedArea(outline);
      const sum = parts.reduce((area, part) => area + computeSignedArea(part), 0);
      expect(Math.abs(sum - whole)).toBeLessThan(1e-9 * Math.max(1, whole));
      // Of a point inside exactly one part takes hold, by the half-open rule.
      for (let k = 0; k < 20; k++) {
        const [[ax, ay], [bx, by]] = [random.pick(outline), random.pick(outline)];
        const t = random.between(-0.2, 1.2);
        const [x, y] = [ax + t * (bx - ax) + random.between(-0.1, 0.1), ay + t * (by - ay) + random.between(-0.1, 0.1)];
        const held = parts.filter((part) => isInRing(part, x, y)).length;
        expect(held).toBe(isInRing(outline, x, y) ? 1 : 0);
      }
    }
    expect(cut).toBeGreaterThan(100);
  });

  test('a convex outline stays as it is', () => {
    const square = [0, 0, 2, 0, 2, 2, 0, 2];
    expect(cutIntoConvexParts(square)).toEqual([square]);
    // With a corner in the middle of a straight edge as well.
    expect(cutIntoConvexParts([0, 0, 1, 0, 2, 0, 2, 2, 0, 2])).toHaveLength(1);
  });

  test('an L comes in two parts, a U in three', () => {
    expect(cutIntoConvexParts([0, 0, 3, 0, 3, 1, 1, 1, 1, 3, 0, 3])).toHaveLength(2);
    const u = cutIntoConvexParts([0, 0, 4, 0, 4, 3, 3, 3, 3, 1, 1, 1, 1, 3, 0, 3]);
    expect(u.length).toBeLessThanOrEqual(4);
    expect(u.length).toBeGreaterThanOrEqual(3);
  });
});
