import { describe, expect, test } from 'vitest';
import {
  type Floor,
  type FloorFile,
  findRoomAt,
  headOf,
  isEmpty,
  isOpen,
  lensHeightOf,
  listJoinedRooms,
  type Opening,
  type Room,
  resolveFloor,
  shareOf,
} from '../../../src/core/floor/index.ts';
import { createSampleFloor, type Loose } from './sample-floor.ts';

const resolve = (change: (file: Loose) => void = () => undefined): Floor => {
  const file = createSampleFloor();
  change(file);
  return resolveFloor(file as FloorFile);
};
const opening = (floor: Floor, i: number): Opening => floor.openings[i] as Opening;

describe('the room at a place', () => {
  const { rooms } = resolve();
  test.each([
    [[5, 3], 'r1'],
    [[11, 3], 'r2'],
    [[10.1, 3], undefined],
    [[8.5, 4.5], undefined],
    [[0, 0], 'r1'],
    [[10, 3], undefined],
    [[5, 6], undefined],
  ] as const)('%j is %s', (at, id) => {
    expect(findRoomAt(rooms, at)?.id).toBe(id);
  });

  test('is the first of the file that holds it', () => {
    const two = [{ ...rooms[0], id: 'first' }, rooms[0]] as Room[];
    expect(findRoomAt(two, [5, 3])?.id).toBe('first');
  });

  test('is the same with and without an index, edges between rooms included', () => {
    const cells = Array.from({ length: 400 }, (_, k) => [k % 20, Math.floor(k / 20)] as const);
    const many = cells.map(([i, j]) => ({
      ...(rooms[0] as Room),
      id: `${i} ${j}`,
      holes: [],
      outline: [
        [i, j],
        [i + 1, j],
        [i + 1, j + 1],
        [i, j + 1],
      ],
    })) as unknown as Room[];
    const frozen = Object.freeze([...many]);
    let found = 0;
    for (let x = -0.5; x <= 20.5; x += 0.25) {
      for (let y = -0.5; y <= 20.5; y += 0.25) {
        const room = findRoomAt(frozen, [x, y]);
        expect(room).toBe(findRoomAt(many, [x, y]));
        expect(room?.id).toBe(x >= 0 && x < 20 && y >= 0 && y < 20 ? `${Math.floor(x)} ${Math.floor(y)}` : undefined);
        if (room !== undefined) found++;
      }
    }
    expect(found).toBe(80 * 80);
  });
});

describe('the head of an opening', () => {
  test('is 2.1 m for a door, as stated when stated', () => {
    const floor = resolve((file) => file.openings.push({ ...file.openings[0], id: 'o3', head: 2.4 }));
    expect(headOf(opening(floor, 0), floor)).toBe(2.1);
    expect(headOf(opening(floor, 2), floor)).toBe(2.4);
  });

  test('is the lower of the ceilings a passage joins', () => {
    const floor = resolve();
    expect(
      listJoinedRooms(opening(floor, 1), floor.rooms)
        .map(({ id }) => id)
        .sort(),
    ).toEqual(['r1', 'r2']);
    expect(headOf(opening(floor, 1), floor)).toBe(2.6);
  });

  test('is the one ceiling of a passage that leads out', () => {
    const floor = resolve((file) => Object.assign(file.openings[1], { from: [0, 3], to: [0, 4] }));
    expect(headOf(opening(floor, 1), floor)).toBe(3);
  });

  test('follows the rooms, not the passage', () => {
    const file = createSampleFloor();
    const before = resolveFloor(file as FloorFile);
    const after = resolveFloor({ ...file, rooms: [file.rooms[0], { ...file.rooms[1], ceiling: 2.3 }] } as FloorFile);
    expect(opening(after, 1)).toBe(opening(before, 1));
    expect([headOf(opening(before, 1), before), headOf(opening(after, 1), after)]).toEqual([2.6, 2.3]);
  });

  test('has no room to follow where a passage cuts nothing', () => {
    const floor = resolve((file) => Object.assign(file.openings[1], { from: [50, 3], to: [50, 4] }));
    expect(headOf(opening(floor, 1), floor)).toBe(50);
  });
});

test('a passage is open, a window is not, a door is when it says so or all are', () => {
  const floor = resolve((file) => {
    file.openings.push({ ...file.openings[0], id: 'o3', state: 'closed' });
    file.openings.push({ id: 'o4', kind: 'window', from: [0, 1], to: [0, 2] });
    file.openings.push({ id: 'o5', kind: 'door', from: [0, 3], to: [0, 4] });
  });
  expect(floor.openings.map((each) => isOpen(each, 'stated'))).toEqual([true, true, false, false, false]);
  expect(floor.openings.map((each) => isOpen(each, 'open'))).toEqual([true, true, true, false, true]);
});

describe('the height of a lens', () => {
  const heights = (change?: (file: Loose) => void): number[] => {
    const floor = resolve(change);
    return floor.detectors.map((detector) => lensHeightOf(detector, floor));
  };

  test('is the ceiling of its room less the drop of its type, or as stated', () => {
    expect(heights()).toEqual([3 - 0.03, 2.9, 2.6 - 0.03]);
  });

  test('is 0 outside every room, where nothing is seen', () => {
    expect(heights((file) => Object.assign(file.detectors[0], { at: [-5, 0] }))[0]).toBe(0);
    expect(heights((file) => Object.assign(file.detectors[0], { at: [-5, 0], height: 2.5 }))[0]).toBe(2.5);
  });
});

test('the share of a zone is 0.95, 0 where nobody is to be seen, or as stated', () => {
  const floor = resolve((file) => {
    file.zones.push({ ...file.zones[0], id: 'z2', need: 'nobody' });
    file.zones.push({ ...file.zones[0], id: 'z3', need: 'nobody', share: 0.1 });
    file.zones.push({ ...file.zones[0], id: 'z4', share: 0 });
  });
  expect(floor.zones.map(shareOf)).toEqual([0.95, 0, 0.1, 0]);
});

test('a floor without rooms is empty', () => {
  expect(isEmpty(resolve())).toBe(false);
  expect(isEmpty(resolve((file) => Object.assign(file, { rooms: [] })))).toBe(true);
});
