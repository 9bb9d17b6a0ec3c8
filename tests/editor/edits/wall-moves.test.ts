import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { FloorFile, Point, Ring } from '../../../src/core/floor/index.ts';
import { moveCorner } from '../../../src/editor/edits/corners.ts';
import { moveRoomEdge } from '../../../src/editor/edits/edge-moves.ts';
import { applyEdit } from '../../../src/editor/edits/edit.ts';
import { findItem } from '../../../src/editor/edits/lists.ts';
import { areaOf, BARE, openingOf, outlineOf } from './bare-floor.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

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
    { seed: 20, numRuns: 150 },
  );
  expect(made).toBeGreaterThan(200);
}, 60_000);

const same = (a: Point, b: Point): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < 0.001;
