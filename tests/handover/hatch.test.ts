import { describe, expect, test } from 'vitest';
import { hatchArcs, hatchDots, hatchRays, type Patches } from '../../src/handover/plan/hatch.ts';

const NX = 60;
const NY = 40;
const WHOLE = { i0: 0, j0: 0, i1: NX, j1: NY };
const whole: Patches = { nx: NX, ny: NY, patch: new Int32Array(NX * NY) };

/** A patch 0 that is the columns from 30 on. */
const half: Patches = {
  nx: NX,
  ny: NY,
  patch: Int32Array.from({ length: NX * NY }, (_, k) => (k % NX >= 30 ? 0 : -1)),
};

describe('hatchRays', () => {
  const lens = { x: 20, y: 20 };

  test('lines stay between 0.7 and 2.9 spacings apart at any distance', () => {
    const rays = hatchRays(whole, 0, WHOLE, lens, 2);
    expect(rays.length).toBeGreaterThan(50);
    for (const radius of [5, 9, 14, 18]) {
      const angles = rays
        .filter((ray) => ray.near <= radius && ray.far >= radius)
        .map((ray) => ray.angle)
        .sort((a, b) => a - b);
      const gaps = angles.map((angle, k) => ((angles[k + 1] ?? angle + 2 * Math.PI) - angle) * radius);
      expect(angles.length).toBeGreaterThan(4);
      expect(Math.min(...gaps.slice(0, -1))).toBeGreaterThan(2 * 0.7);
      expect(Math.max(...gaps.slice(0, -1))).toBeLessThan(2 * 2.9);
    }
  });

  test('lines lie in their patch, to a step at both ends', () => {
    const rays = hatchRays(half, 0, WHOLE, lens, 2);
    expect(rays.length).toBeGreaterThan(10);
    for (const { angle, near, far } of rays) {
      expect(far).toBeGreaterThan(near);
      const inside = lens.x + (near + 0.35) * Math.cos(angle);
      expect(inside).toBeGreaterThanOrEqual(29.9);
    }
  });

  test('another patch gets none', () => {
    expect(hatchRays(whole, 1, WHOLE, lens, 2)).toEqual([]);
  });
});

describe('hatchArcs', () => {
  test('arcs are whole multiples of the spacing away, and end where the patch ends', () => {
    const lens = { x: 20, y: 20 };
    const arcs = hatchArcs(half, 0, { ...WHOLE, i0: 30 }, lens, 3);
    expect(arcs.length).toBeGreaterThan(8);
    for (const { radius, from, to } of arcs) {
      expect(radius % 3).toBe(0);
      expect(to).toBeGreaterThan(from);
      expect(lens.x + radius * Math.cos((from + to) / 2)).toBeGreaterThan(29);
    }
  });

  test('round a lens inside its patch there are full circles', () => {
    const circles = hatchArcs(whole, 0, WHOLE, { x: 30, y: 20 }, 4).filter(({ radius }) => radius < 19);
    expect(circles).toHaveLength(4);
    for (const { from, to } of circles) expect(to - from).toBeCloseTo(2 * Math.PI, 6);
  });
});

describe('hatchDots', () => {
  test('dots lie in the patch, evenly', () => {
    const dots = hatchDots(half, 0, { ...WHOLE, i0: 30 }, 3);
    expect(dots.every(({ x, y }) => x >= 30 && x < NX && y >= 0 && y < NY)).toBe(true);
    const perDot = (30 * NY) / dots.length;
    expect(perDot).toBeGreaterThan(4);
    expect(perDot).toBeLessThan(7);
  });
});
