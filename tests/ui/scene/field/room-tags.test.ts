import { expect, test } from 'vitest';
import { resolveFloor } from '../../../../src/core/floor/index.ts';
import { MOST_TAGS, tagRooms } from '../../../../src/ui/scene/field/room-tags.ts';
import { SMALL_FLOOR } from '../../../editor/open-floor.ts';

test('rooms that touch have different tags, a hundred rooms need few', () => {
  const rooms = Array.from({ length: 100 }, (_, k) => {
    const [x, y] = [(k % 10) * 4, Math.floor(k / 10) * 5];
    return {
      id: `r${k}`,
      name: `Room ${k}`,
      ceiling: 3,
      outline: [
        [x, y],
        [x + 4, y],
        [x + 4, y + 5],
        [x, y + 5],
      ] as [number, number][],
    };
  });
  const tags = tagRooms(resolveFloor({ ...SMALL_FLOOR, rooms, detectors: [], workplaces: [], furniture: [] }));
  expect(tags).toHaveLength(100);
  expect(Math.min(...tags)).toBe(1);
  expect(Math.max(...tags)).toBeLessThan(MOST_TAGS);
  for (let k = 0; k < 100; k++) {
    if (k % 10 < 9) expect(tags[k]).not.toBe(tags[k + 1]);
    if (k < 90) expect(tags[k]).not.toBe(tags[k + 10]);
  }
});
