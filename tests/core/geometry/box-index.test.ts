import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createBoxIndex } from '../../../src/core/geometry/box-index.ts';
import type { Box } from '../../../src/core/geometry/polygon.ts';

const coordinate = fc.integer({ min: -50, max: 50 });
const size = fc.oneof(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 100 }));
const box = fc
  .tuple(coordinate, coordinate, size, size)
  .map(([minX, minY, width, height]): Box => ({ minX, minY, maxX: minX + width, maxY: minY + height }));

test('an index finds the boxes that meet a box, each once', () => {
  let found = 0;
  fc.assert(
    fc.property(fc.array(box, { maxLength: 700, size: 'max' }), box, (boxes, asked) => {
      const items: number[] = [];
      createBoxIndex(boxes).query(asked, (item) => {
        items.push(item);
        return false;
      });
      const meets = (b: Box): boolean =>
        b.minX <= asked.maxX && b.maxX >= asked.minX && b.minY <= asked.maxY && b.maxY >= asked.minY;
      const expected = boxes.flatMap((b, i) => (meets(b) ? [i] : []));
      found += expected.length;
      expect(items.sort((a, b) => a - b)).toEqual(expected);
    }),
    { seed: 4, numRuns: 300 },
  );
  expect(found).toBeGreaterThan(1_000);
});

test('a query ends when its visitor says so', () => {
  const index = createBoxIndex(Array.from({ length: 100 }, () => ({ minX: 0, minY: 0, maxX: 1, maxY: 1 })));
  let visits = 0;
  const stopped = index.query({ minX: 0, minY: 0, maxX: 1, maxY: 1 }, () => ++visits === 3);
  expect([stopped, visits]).toEqual([true, 3]);
});
