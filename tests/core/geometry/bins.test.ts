import { expect, test } from 'vitest';
import { createBins, queryBins } from '../../../src/core/geometry/bins.ts';
import { createRandom } from '../../models/random.ts';

test('a query finds every box that touches the rectangle, each once', () => {
  let found = 0;
  let asked = 0;
  for (let seed = 0; seed < 60; seed++) {
    const random = createRandom(seed);
    const spread = random.pick([1, 30, 2_000]);
    const count = random.whole(0, 400);
    const boxes = Float64Array.from(
      Array.from({ length: count }, () => {
        const [x, y] = [random.between(-spread, spread), random.between(-spread, spread)];
        const size = random.pick([0, 0.1, 1, spread]);
        return [x, y, x + random.between(0, size), y + random.between(0, size)];
      }).flat(),
    );
    const bins = createBins(boxes);
    const out = new Int32Array(count);
    for (let query = 0; query < 20; query++) {
      const [x, y] = [random.between(-1.5 * spread, 1.5 * spread), random.between(-1.5 * spread, 1.5 * spread)];
      const [x1, y1] = [x + random.between(0, spread), y + random.between(0, spread)];
      const written = queryBins(bins, x, y, x1, y1, out);
      const items = [...out.subarray(0, written)];
      expect(new Set(items).size).toBe(written);
      const touching = Array.from({ length: count }, (_, k) => k).filter(
        (k) => boxes[4 * k]! <= x1 && boxes[4 * k + 2]! >= x && boxes[4 * k + 1]! <= y1 && boxes[4 * k + 3]! >= y,
      );
      for (const k of touching) expect(items).toContain(k);
      found += touching.length;
      asked++;
    }
  }
  expect(asked).toBe(1_200);
  expect(found).toBeGreaterThan(10_000);
});

test('a query in a wide floor looks at few of its boxes', () => {
  const boxes = Float64Array.from(
    Array.from({ length: 10_000 }, (_, k) => {
      const [x, y] = [3 * (k % 100), 3 * Math.floor(k / 100)];
      return [x, y, x + 1, y + 1];
    }).flat(),
  );
  const written = queryBins(createBins(boxes), 100, 100, 110, 110, new Int32Array(10_000));
  expect(written).toBeGreaterThanOrEqual(9);
  expect(written).toBeLessThan(60);
});
