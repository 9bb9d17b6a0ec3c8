import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { FloorFile, Point, Ring } from '../../../src/core/floor/index.ts';
import { computeSignedArea } from '../../../src/core/geometry/polygon.ts';
import { insertCorner, moveCorner, removeCorner } from '../../../src/editor/edits/corners.ts';
import { moveRoomEdge } from '../../../src/editor/edits/edge-moves.ts';
import { applyEdit } from '../../../src/editor/edits/edit.ts';
import { findItem } from '../../../src/editor/edits/lists.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

const outlineOf = (file: FloorFile, id: string): Ring => findItem(file, 'rooms', id)?.outline ?? [];
const openingOf = (file: FloorFile, id: string) => {
  const opening = findItem(file, 'openings', id);
  return [opening?.from, opening?.to];
};
const areaOf = (file: FloorFile): number =>
  file.rooms.reduce(
    (sum, { outline, holes = [] }) =>
      sum +
      Math.abs(computeSignedArea(outline)) -
      holes.reduce((all, hole) => all + Math.abs(computeSignedArea(hole)), 0),
    0,
  );

/** The floor with an opening or two less, so that nothing keeps a wall from moving. */
const BARE: FloorFile = {
  ...TRIAL_FLOOR,
  openings: [],
  detectors: [],
  groups: [],
  zones: [],
  records: [],
  luminaires: [],
};

test('a shared corner takes the other room along, and a straight wall behind it gets corners', () => {
  const asked = planned(moveCorner(BARE, { id: 'R1' }, 1, [6.5, 2.5]));
  expect(asked.name).toBe('Moved a corner of Office by 0.71 m');
  const file = made(BARE, asked);
  expect(outlineOf(file, 'R1')).toEqual([
    [0, 2],
    [6.5, 2.5],
    [6, 8],
    [0, 8],
  ]);
  expect(outlineOf(file, 'R2')).toEqual([
    [6.5, 2.5],
    [12, 2],
    [12, 8],
    [6, 8],
  ]);
  expect(outlineOf(file, 'R3')).toEqual([
    [0, 0],
    [12, 0],
    [12, 2],
    [6.5, 2.5],
    [0, 2],
  ]);
  expect(areaOf(file)).toBeCloseTo(areaOf(BARE), 9);
});

test('alone a corner leaves the other rooms as they are', () => {
  const file = made(BARE, moveCorner(BARE, { id: 'R1' }, 1, [5.5, 2.5], false));
  expect(outlineOf(file, 'R1')[1]).toEqual([5.5, 2.5]);
  expect(file.rooms.slice(1)).toEqual(BARE.rooms.slice(1));
});

test('corners of other rooms along a wall stay on it', () => {
  // Corridor is dragged: Office and Studio meet its long wall in the middle.
  const file = made(BARE, moveCorner(BARE, { id: 'R3' }, 2, [12, 1]));
  expect(outlineOf(file, 'R3')).toEqual([
    [0, 0],
    [12, 0],
    [12, 1],
    [0, 2],
  ]);
  expect(outlineOf(file, 'R1')).toEqual([
    [0, 2],
    [6, 1.5],
    [6, 8],
    [0, 8],
  ]);
  expect(outlineOf(file, 'R2')).toEqual([
    [6, 1.5],
    [12, 1],
    [12, 8],
    [6, 8],
  ]);
  expect(areaOf(file)).toBeCloseTo(areaOf(BARE), 9);
});

test('openings in the walls of a moved corner go along and keep their width', () => {
  const file = made(TRIAL_FLOOR, moveCorner(TRIAL_FLOOR, { id: 'R1' }, 3, [-8, 2 + 6]));
  // The window keeps its distance from the end of its wall that stays.
  expect(openingOf(file, 'O4')).toEqual([
    [2, 8],
    [4, 8],
  ]);
  const turned = made(TRIAL_FLOOR, moveCorner(TRIAL_FLOOR, { id: 'R1' }, 3, [0, 11]));
  const [from = [0, 0], to = [0, 0]] = openingOf(turned, 'O4');
  expect(Math.hypot(to[0] - from[0], to[1] - from[1])).toBeCloseTo(2, 5);
  // On the line from (6, 8) to (0, 11), 2 m and 4 m from (6, 8).
  expect(from[0]).toBeCloseTo(6 - (4 * 2) / Math.sqrt(5), 5);
  expect(to[1]).toBeCloseTo(8 + 2 / Math.sqrt(5), 5);
});

test('an opening slides in from the end of a wall that gets shorter, until it has no room', () => {
  const whole: FloorFile = {
    ...TRIAL_FLOOR,
    rooms: TRIAL_FLOOR.rooms.map(({ holes: _, ...room }) => room),
  };
  const shorter = made(whole, moveCorner(whole, { id: 'R1' }, 3, [3, 8]));
  expect(openingOf(shorter, 'O4')).toEqual([
    [3, 8],
    [5, 8],
  ]);
  expect(refusalOf(moveCorner(TRIAL_FLOOR, { id: 'R1' }, 3, [4.5, 8]))).toBe(
    'Window O4 is 2.00 m wide and its wall would be 1.50 m long. Make the opening narrower, or leave the wall longer.',
  );
});

test('a wall moves with the room behind it, and with the door in it', () => {
  const asked = planned(moveRoomEdge(TRIAL_FLOOR, 'R1', 0, 1, 0.5));
  expect(asked.name).toBe('Moved a wall of Office by 0.50 m');
  const file = made(TRIAL_FLOOR, asked);
  expect(outlineOf(file, 'R1')).toEqual([
    [0, 2],
    [6.5, 2],
    [6.5, 8],
    [0, 8],
  ]);
  expect(outlineOf(file, 'R2')).toEqual([
    [6.5, 2],
    [12, 2],
    [12, 8],
    [6.5, 8],
  ]);
  expect(openingOf(file, 'O2')).toEqual([
    [6.5, 4],
    [6.5, 5.5],
  ]);
  expect(outlineOf(file, 'R3')).toEqual(outlineOf(TRIAL_FLOOR, 'R3'));
  expect(areaOf(file)).toBeCloseTo(areaOf(TRIAL_FLOOR), 9);
});

test('a straight wall behind a shorter one gets a step at its end', () => {
  const file = made(BARE, moveRoomEdge(BARE, 'R1', 0, 0, 0.5));
  expect(outlineOf(file, 'R1')).toEqual([
    [0, 1.5],
    [6, 1.5],
    [6, 8],
    [0, 8],
  ]);
  expect(outlineOf(file, 'R2')).toEqual(outlineOf(BARE, 'R2'));
  expect(outlineOf(file, 'R3')).toEqual([
    [0, 0],
    [12, 0],
    [12, 2],
    [6, 2],
    [6, 1.5],
    [0, 1.5],
  ]);
  expect(areaOf(file)).toBeCloseTo(areaOf(BARE), 9);
  // Pulled back, the step is gone but for its corner on the straight wall.
  const back = made(file, moveRoomEdge(file, 'R1', 0, 0, -0.5));
  expect(outlineOf(back, 'R3')).toEqual([
    [0, 0],
    [12, 0],
    [12, 2],
    [6, 2],
    [0, 2],
  ]);
});

test('a wall of some thickness moves with both its faces and the door between', () => {
  const file = made(TRIAL_FLOOR, moveRoomEdge(TRIAL_FLOOR, 'R2', 0, 1, -0.4));
  expect(outlineOf(file, 'R2')).toEqual([
    [6, 2],
    [11.6, 2],
    [11.6, 8],
    [6, 8],
  ]);
  // Store goes on past Studio: it steps back 0.2 m inside the end of the wall, so that the wall keeps its thickness.
  expect(outlineOf(file, 'R4')).toEqual([
    [12.2, 0],
    [15, 0],
    [15, 8],
    [11.8, 8],
    [11.8, 2.2],
    [12.2, 2.2],
  ]);
  expect(openingOf(file, 'O3')).toEqual([
    [11.7, 3],
    [11.7, 3.9],
  ]);
});

test('alone a wall leaves the room behind it', () => {
  const file = made(BARE, moveRoomEdge(BARE, 'R2', 0, 1, -0.4, false));
  expect(outlineOf(file, 'R4')).toEqual(outlineOf(BARE, 'R4'));
  expect(outlineOf(file, 'R2')[1]).toEqual([11.6, 2]);
});

test('the wall of a hole is pushed into the room', () => {
  const file = made(BARE, moveRoomEdge(BARE, 'R1', 1, 0, -0.25));
  // Out of the room is into the hole, so that drawing back makes the hole larger.
  expect(findItem(file, 'rooms', 'R1')?.holes).toEqual([
    [
      [0.5, 6.75],
      [1, 6.75],
      [1, 7.5],
      [0.5, 7.5],
    ],
  ]);
});

test('a wall is not pushed past the end of the one beside it', () => {
  expect(refusalOf(moveRoomEdge(BARE, 'R1', 0, 1, -6.5))).toMatch(
    /^The wall would pass the end of the one beside it\./,
  );
  expect(refusalOf(moveRoomEdge(BARE, 'R1', 0, 0, 2.5))).toBe(
    'The wall would pass the end of the one beside it. Move it less far, or take a corner out first.',
  );
});

test('slanted side walls keep their line', () => {
  const slanted: FloorFile = {
    ...BARE,
    furniture: [],
    workplaces: [],
    sources: [],
    rooms: [
      {
        id: 'R1',
        name: 'A',
        outline: [
          [0, 0],
          [4, 0],
          [3, 2],
          [1, 2],
        ],
        ceiling: 3,
      },
    ],
  };
  const file = made(slanted, moveRoomEdge(slanted, 'R1', 0, 2, -1));
  expect(outlineOf(file, 'R1')).toEqual([
    [0, 0],
    [4, 0],
    [3.5, 1],
    [0.5, 1],
  ]);
});

test('inner walls moved at random leave the area of all rooms as it was', () => {
  /** The first corner of Office that Studio shares, and the edge of Studio that the two have in common. */
  const find = (file: FloorFile) => {
    const [office, studio] = [outlineOf(file, 'R1'), outlineOf(file, 'R2')];
    const isShared = (corner: Point | undefined, ring: Ring): boolean =>
      corner !== undefined && ring.some((other) => same(corner, other));
    return {
      corner: office.findIndex((corner) => isShared(corner, studio)),
      edge: studio.findIndex(
        (corner, i) => isShared(corner, office) && isShared(studio[(i + 1) % studio.length], office),
      ),
    };
  };
  let made = 0;
  const step = fc.tuple(fc.integer({ min: -900, max: 900 }), fc.integer({ min: -900, max: 900 }), fc.boolean());
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 6 }), (steps) => {
      let file = BARE;
      for (const [dx, dy, asEdge] of steps) {
        const { corner, edge } = find(file);
        const from = outlineOf(file, 'R1')[corner] ?? [0, 0];
        // On the outer wall a corner moves along it only.
        const to: Point = [from[0] + dx / 1000, from[1] + (from[1] < 7 ? dy / 1000 : 0)];
        const next = applyEdit(
          file,
          asEdge ? moveRoomEdge(file, 'R2', 0, edge, dx / 1000) : moveCorner(file, { id: 'R1' }, corner, to),
        );
        if (!next.ok) continue;
        made++;
        file = next.file;
        expect(areaOf(file)).toBeCloseTo(areaOf(BARE), 4);
      }
    }),
    { seed: 20, numRuns: 200 },
  );
  expect(made).toBeGreaterThan(300);
});

const same = (a: Point, b: Point): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < 0.001;

test('a corner is put into an edge and taken out again', () => {
  const put = made(BARE, insertCorner(BARE, { id: 'F1' }, 1, [3.6, 4.4]));
  expect(findItem(put, 'furniture', 'F1')?.outline).toHaveLength(5);
  const moved = made(put, moveCorner(put, { id: 'F1' }, 2, [4, 4.4]));
  expect(findItem(moved, 'furniture', 'F1')?.outline[2]).toEqual([4, 4.4]);
  const out = made(moved, removeCorner(moved, { id: 'F1' }, 2));
  expect(findItem(out, 'furniture', 'F1')?.outline).toEqual(findItem(BARE, 'furniture', 'F1')?.outline);
  const hole = made(BARE, insertCorner(BARE, { id: 'R1', ring: 1 }, 0, [0.75, 6.9]));
  expect(findItem(hole, 'rooms', 'R1')?.holes?.[0]).toHaveLength(5);
});

test('a corner two rooms run through alike goes from both', () => {
  const bent = made(BARE, insertCorner(BARE, { id: 'R1' }, 1, [6, 5]));
  const both = made(bent, insertCorner(bent, { id: 'R2' }, 3, [6, 5]));
  const moved = made(both, moveCorner(both, { id: 'R1' }, 2, [6.5, 5]));
  expect(outlineOf(moved, 'R2')).toHaveLength(5);
  const removed = made(moved, removeCorner(moved, { id: 'R1' }, 2));
  expect(outlineOf(removed, 'R1')).toEqual(outlineOf(BARE, 'R1'));
  expect(outlineOf(removed, 'R2')).toEqual(outlineOf(BARE, 'R2'));
  expect(
    refusalOf(
      removeCorner(
        {
          ...BARE,
          zones: [
            {
              id: 'Z1',
              name: 'Z',
              need: 'walking',
              outline: [
                [0, 0],
                [1, 0],
                [1, 1],
              ],
            },
          ],
        },
        { id: 'Z1' },
        0,
      ),
    ),
  ).toMatch(/three corners cannot lose one/);
});

test('a corner that would cross the outline is refused by the name of the thing', () => {
  expect(refusalOf(moveCorner(BARE, { id: 'F2' }, 0, [9, 6]))).toMatch(
    /^The outline of Shelf 1 crosses itself between corners/,
  );
  expect(refusalOf(moveCorner(BARE, { id: 'R1' }, 0, [3, 9]))).toMatch(/crosses itself/);
  expect(refusalOf(moveCorner(BARE, { id: 'F2' }, 9, [9, 6]))).toBe('The corner is no longer there. Select another.');
});
