import { expect, test } from 'vitest';
import { resolveFloor } from '../../../../src/core/floor/index.ts';
import { findNearestWalls } from '../../../../src/ui/scene/pointer/nearest-walls.ts';
import { SMALL_FLOOR } from '../../../editor/open-floor.ts';

test('the nearest wall is found along either axis, that of a hole too', () => {
  const [room] = resolveFloor(SMALL_FLOOR).rooms;
  if (room === undefined) throw new Error('The small floor has no room.');
  const measure = (at: readonly [number, number], of = room) =>
    findNearestWalls(of, at).map(({ axis, distance }) => [axis, Math.round(distance * 1e6) / 1e6]);
  expect(measure([6.5, 2])).toEqual([
    [0, 1.5],
    [1, 2],
  ]);
  const hole = [
    [4, 2],
    [5, 2],
    [5, 4],
    [4, 4],
  ] as const;
  expect(measure([3.5, 3], { ...room, holes: [hole] })).toEqual([
    [0, 0.5],
    [1, 3],
  ]);
});
