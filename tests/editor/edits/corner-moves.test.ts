import { expect, test } from 'vitest';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { findNearestEdge, insertCorner, moveCorner, removeCorner } from '../../../src/editor/edits/corners.ts';
import { findItem } from '../../../src/editor/edits/lists.ts';
import { areaOf, BARE, openingOf, outlineOf } from './bare-floor.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

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

test('a corner is put into an edge and taken out again', () => {
  expect(findNearestEdge(BARE, { id: 'F1' }, [3.5, 4.4])).toBe(1);
  expect(findNearestEdge(BARE, { id: 'R1', ring: 1 }, [0.75, 7.6])).toBe(2);
  expect(findNearestEdge(BARE, { id: 'W1' }, [0, 0])).toBe(-1);
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
