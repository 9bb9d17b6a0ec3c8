import { expect, test } from 'vitest';
import type { FloorFile, Ring } from '../../../src/core/floor/index.ts';
import { findItem } from '../../../src/editor/edits/lists.ts';
import {
  addHole,
  addRectangularRoom,
  addRoom,
  removeHole,
  setCeilings,
  setTiles,
} from '../../../src/editor/edits/rooms.ts';
import { faultOf, made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

const EMPTY: FloorFile = { format: 'lacuna/1', name: 'New', rooms: [], types: [], detectors: [] };
const L_SHAPE: Ring = [
  [0, 0],
  [4, 0],
  [4, 2],
  [2, 2],
  [2, 5],
  [0, 5],
];

test('a room drawn on an empty floor gets an id, a name and an assumed ceiling', () => {
  const asked = planned(addRoom(EMPTY, L_SHAPE));
  expect(asked.name).toBe('Added Room 1');
  expect(asked.ids).toEqual(['R1']);
  expect(made(EMPTY, asked).rooms).toEqual([
    { id: 'R1', name: 'Room 1', outline: L_SHAPE, ceiling: 2.8, ceilingFrom: 'assumed' },
  ]);
});

test('a further room takes the ceiling of the last one and the next free number', () => {
  const file = made(
    TRIAL_FLOOR,
    addRoom(
      TRIAL_FLOOR,
      [
        [20, 0],
        [24, 0],
        [24, 3],
      ],
      { name: 'Attic', use: 'store' },
    ),
  );
  expect(file.rooms.at(-1)).toEqual({
    id: 'R5',
    name: 'Attic',
    use: 'store',
    outline: [
      [20, 0],
      [24, 0],
      [24, 3],
    ],
    ceiling: 2.8,
    ceilingFrom: 'assumed',
  });
});

test('a stated ceiling is drawn, not assumed', () => {
  const [room] = made(EMPTY, addRectangularRoom(EMPTY, [5.4, 8.1], [0, 0], { ceiling: 3.2 })).rooms;
  expect(room).toEqual({
    id: 'R1',
    name: 'Room 1',
    outline: [
      [0, 0],
      [5.4, 0],
      [5.4, 8.1],
      [0, 8.1],
    ],
    ceiling: 3.2,
  });
});

test('an outline that cannot stand is refused before anything is committed', () => {
  expect(
    refusalOf(
      addRoom(EMPTY, [
        [0, 0],
        [1, 0],
      ]),
    ),
  ).toBe('The outline has 2 corners. An outline has at least three.');
  expect(
    refusalOf(
      addRoom(EMPTY, [
        [0, 0],
        [4, 0],
        [0, 4],
        [4, 4],
      ]),
    ),
  ).toBe('The outline crosses itself between corners 2 and 4. Move one of them.');
  expect(refusalOf(addRectangularRoom(EMPTY, [0, 0], [0, 4]))).toMatch(/^The outline has corners 1 and 2 in one place/);
  expect(
    refusalOf(
      addRoom(EMPTY, [
        [0, 0],
        [4, 0],
        [20_000, 4],
      ]),
    ),
  ).toMatch(/10000 m from the origin/);
});

test('a room over another is refused with both names', () => {
  expect(faultOf(TRIAL_FLOOR, addRectangularRoom(TRIAL_FLOOR, [5, 5], [7, 7]))).toBe(
    'The outline of Room 1 overlaps Office by more than 0.001 m, at [6, 6]. Move one of them so that they share an edge at most.',
  );
});

test('holes are cut and closed', () => {
  const hole: Ring = [
    [9, 6],
    [9.5, 6],
    [9.5, 6.3],
  ];
  const cut = made(TRIAL_FLOOR, addHole(TRIAL_FLOOR, 'R2', hole));
  expect(findItem(cut, 'rooms', 'R2')?.holes).toEqual([hole]);
  expect(findItem(made(cut, removeHole(cut, 'R2', 0)), 'rooms', 'R2')?.holes).toEqual([]);
  expect(refusalOf(removeHole(TRIAL_FLOOR, 'R2', 0))).toBe('The hole is no longer there. Select another.');
  expect(
    faultOf(
      TRIAL_FLOOR,
      addHole(TRIAL_FLOOR, 'R2', [
        [11, 5],
        [13, 5],
        [13, 6],
      ]),
    ),
  ).toMatch(/^Hole 1 of Studio leaves the outline of its room/);
});

test('ceilings of several rooms are set at once, with how they are known', () => {
  const asked = planned(setCeilings(TRIAL_FLOOR, ['R2', 'R4'], { height: 3.4004, from: 'measured' }));
  expect(asked.name).toBe('Ceiling of 2 rooms is 3.40 m');
  const file = made(TRIAL_FLOOR, asked);
  expect(findItem(file, 'rooms', 'R4')).toMatchObject({ ceiling: 3.4, ceilingFrom: 'measured' });
  expect(findItem(file, 'rooms', 'R1')).toBe(TRIAL_FLOOR.rooms[0]);
  expect(refusalOf(setCeilings(TRIAL_FLOOR, ['R2'], { height: 0 }))).toMatch(/above 0 and up to 50 m/);
  expect(faultOf(TRIAL_FLOOR, setCeilings(TRIAL_FLOOR, ['R2'], { height: 2.5 }))).toBe(
    'The height of D2 is 2.7 and the ceiling of its room is 2.5. A lens hangs at or below the ceiling.',
  );
});

test('a ceiling grid is laid, changed and taken away', () => {
  const laid = made(TRIAL_FLOOR, setTiles(TRIAL_FLOOR, 'R2', { turn: -45 }));
  expect(findItem(laid, 'rooms', 'R2')?.tiles).toEqual({ origin: [6, 2], turn: 315 });
  const changed = made(laid, setTiles(laid, 'R2', { pitch: [0.625, 0.6], origin: [6.1, 2] }));
  expect(findItem(changed, 'rooms', 'R2')?.tiles).toEqual({ origin: [6.1, 2], pitch: [0.625, 0.6], turn: 315 });
  expect(findItem(made(changed, setTiles(changed, 'R2', null)), 'rooms', 'R2')).toEqual(TRIAL_FLOOR.rooms[1]);
  expect(refusalOf(setTiles(TRIAL_FLOOR, 'R2', { pitch: [0, 0.6] }))).toMatch(/^A tile has no size/);
});
