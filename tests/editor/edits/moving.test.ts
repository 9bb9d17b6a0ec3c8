import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { alignThings, distributeThings } from '../../../src/editor/edits/alignment.ts';
import { findItem, findPlaced, LIST_NAMES, listOf } from '../../../src/editor/edits/lists.ts';
import { middleOfThings, mirrorThings, moveThings, placeThing, turnThings } from '../../../src/editor/edits/moving.ts';
import { boxOf, placeOfThing } from '../../../src/editor/edits/rigid-moves.ts';
import { listContents, withContents } from '../../../src/editor/edits/room-contents.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

const EVERYTHING = LIST_NAMES.flatMap((list) => listOf(TRIAL_FLOOR, list).map(({ id }) => id as string));
const placeOf = (file: FloorFile, id: string) => {
  const [thing] = findPlaced(file, [id]);
  return thing === undefined ? undefined : placeOfThing(thing);
};
const boxesOf = (file: FloorFile, ids: readonly string[]) => findPlaced(file, ids).map(boxOf);

test('things are moved together, by name and way', () => {
  const asked = planned(moveThings(TRIAL_FLOOR, ['F1', 'W1', 'F1', 'gone'], [1.2, 0]));
  expect(asked.name).toBe('Moved 2 things by 1.20 m');
  expect(asked.ids).toEqual(['F1', 'W1']);
  const file = made(TRIAL_FLOOR, asked);
  expect(findItem(file, 'furniture', 'F1')?.outline[0]).toEqual([3.2, 4]);
  expect(findItem(file, 'workplaces', 'W1')).toEqual({ id: 'W1', name: '1', at: [4, 3.65], facing: 90 });
  expect(file.rooms).toBe(TRIAL_FLOOR.rooms);
  expect(planned(moveThings(TRIAL_FLOOR, ['F2', 'F3'], [3, 4])).name).toBe('Moved 2 pieces by 5.00 m');
  expect(planned(moveThings(TRIAL_FLOOR, ['D2'], [0, 0.5])).name).toBe('Moved D2 by 0.50 m');
});

test('a room takes along what stands and hangs in it, and the openings in its walls', () => {
  expect(listContents(TRIAL_FLOOR, 'R2')).toEqual(['F2', 'W2', 'Q1', 'D2', 'O2', 'O3']);
  expect(withContents(TRIAL_FLOOR, ['D2', 'R4'])).toEqual(['D2', 'R4', 'O3']);
  const file = made(TRIAL_FLOOR, moveThings(TRIAL_FLOOR, ['R1', 'R2', 'R3', 'R4'], [100, -50]));
  for (const id of EVERYTHING) {
    const [before, after] = [placeOf(TRIAL_FLOOR, id), placeOf(file, id)];
    expect(after).toEqual(before === undefined ? undefined : [before[0] + 100, before[1] - 50]);
  }
  expect(findItem(file, 'rooms', 'R1')).toMatchObject({
    holes: [
      [
        [100.5, -43],
        [101, -43],
        [101, -42.5],
        [100.5, -42.5],
      ],
    ],
    tiles: { origin: [100, -48] },
  });
});

test('what has no place, or is locked, is not moved', () => {
  expect(refusalOf(moveThings(TRIAL_FLOOR, [], [1, 0]))).toBe('Nothing is selected. Select what to move.');
  expect(refusalOf(moveThings(TRIAL_FLOOR, ['G1'], [1, 0]))).toBe(
    'Office has no place of its own. Select things on the floor.',
  );
  const locked: FloorFile = {
    ...TRIAL_FLOOR,
    detectors: TRIAL_FLOOR.detectors.map((each) => (each.id === 'D2' ? { ...each, locked: true } : each)),
  };
  for (const edit of [
    moveThings(locked, ['F1', 'D2'], [1, 0]),
    moveThings(locked, ['R2'], [1, 0]),
    turnThings(locked, ['D2'], 90),
    alignThings(locked, ['D1', 'D2'], 'left'),
  ])
    expect(refusalOf(edit)).toBe('D2 is locked. Unlock it first.');
});

test('one thing is put at a place by its middle', () => {
  expect(findItem(made(TRIAL_FLOOR, placeThing(TRIAL_FLOOR, 'F1', [3, 5])), 'furniture', 'F1')?.outline[0]).toEqual([
    2.2, 4.6,
  ]);
  expect(findItem(made(TRIAL_FLOOR, placeThing(TRIAL_FLOOR, 'D3', [5, 1.25])), 'detectors', 'D3')?.at).toEqual([
    5, 1.25,
  ]);
});

test('things turn about their common middle, with all their directions', () => {
  const ids = ['F1', 'W1'];
  const middle = middleOfThings(TRIAL_FLOOR, ids);
  expect(middle).toEqual([2.8, 3.975]);
  const file = made(TRIAL_FLOOR, turnThings(TRIAL_FLOOR, ids, 90));
  expect(findItem(file, 'workplaces', 'W1')).toMatchObject({ at: [3.125, 3.975], facing: 180 });
  expect(findItem(file, 'furniture', 'F1')?.outline).toEqual([
    [2.775, 3.175],
    [2.775, 4.775],
    [1.975, 4.775],
    [1.975, 3.175],
  ]);
  const zone = made(TRIAL_FLOOR, turnThings(TRIAL_FLOOR, ['Z1', 'L1'], -30, [0, 0]));
  expect(findItem(zone, 'zones', 'Z1')?.heading).toBe(330);
  expect(findItem(zone, 'luminaires', 'L1')?.turn).toBe(330);
});

test('mirrored, left and right are swapped: directions, masks, and the way outlines run', () => {
  const asked = planned(mirrorThings(TRIAL_FLOOR, ['D1', 'W1', 'F1', 'Z1'], 90, [3, 0]));
  expect(asked.name).toBe('Mirrored 4 things');
  const file = made(TRIAL_FLOOR, asked);
  expect(findItem(file, 'detectors', 'D1')).toEqual({
    id: 'D1',
    name: 'D1',
    type: 'T1',
    at: [3, 3.2],
    turn: 180,
    masks: [{ from: 350, to: 370 }],
  });
  expect(findItem(file, 'workplaces', 'W1')).toMatchObject({ at: [3.2, 3.65], facing: 90 });
  expect(findItem(file, 'zones', 'Z1')?.heading).toBe(180);
  expect(findItem(file, 'furniture', 'F1')?.outline).toEqual([
    [2.4, 4],
    [4, 4],
    [4, 4.8],
    [2.4, 4.8],
  ]);
});

test('a mask hides the same side after mirroring', () => {
  const masked: FloorFile = {
    ...TRIAL_FLOOR,
    detectors: [{ id: 'D1', name: 'D1', type: 'T1', at: [3, 3.2], turn: 20, masks: [{ from: 10, to: 50 }] }],
    groups: [],
    luminaires: [],
    zones: [],
  };
  const [detector] = made(masked, mirrorThings(masked, ['D1'], 0)).detectors;
  // It hid 30° to 70°; at a level line that becomes 290° to 330°.
  expect(detector).toMatchObject({ turn: 340, masks: [{ from: 310, to: 350 }] });
});

test('turning all the way round, or mirroring twice, leaves every thing where it was', () => {
  const close = (a: FloorFile, b: FloorFile): void => {
    for (const id of EVERYTHING) {
      const [before, after] = [boxesOf(a, [id])[0], boxesOf(b, [id])[0]];
      if (before === undefined || after === undefined) continue;
      for (const side of ['minX', 'minY', 'maxX', 'maxY'] as const) expect(after[side]).toBeCloseTo(before[side], 4);
    }
  };
  let turned = TRIAL_FLOOR;
  for (let k = 0; k < 24; k++) turned = made(turned, turnThings(turned, ['R1', 'R2', 'R3', 'R4'], 15, [6, 4]));
  close(TRIAL_FLOOR, turned);
  expect(findItem(turned, 'workplaces', 'W1')?.facing).toBe(90);
  fc.assert(
    fc.property(fc.integer({ min: -180, max: 180 }), (axis) => {
      const once = made(TRIAL_FLOOR, mirrorThings(TRIAL_FLOOR, ['R1', 'R2', 'R3', 'R4'], axis, [3, 1]));
      const twice = made(once, mirrorThings(once, ['R1', 'R2', 'R3', 'R4'], axis, [3, 1]));
      close(TRIAL_FLOOR, twice);
      const [before, after] = [TRIAL_FLOOR.detectors[0]?.masks?.[0], findItem(twice, 'detectors', 'D1')?.masks?.[0]];
      expect(after).toEqual(before);
    }),
    { seed: 1, numRuns: 12 },
  );
}, 60_000);

test('things line up on an edge or a middle line of the box around them', () => {
  const ids = ['F1', 'F2', 'L1'];
  const aligned = (alignment: Parameters<typeof alignThings>[2]) =>
    boxesOf(made(TRIAL_FLOOR, alignThings(TRIAL_FLOOR, ids, alignment)), ids);
  expect(aligned('left').map(({ minX }) => minX)).toEqual([2, 2, 2]);
  expect(aligned('right').map(({ maxX }) => maxX)).toEqual([10, 10, 10]);
  expect(aligned('top').map(({ maxY }) => maxY)).toEqual([5.4, 5.4, 5.4]);
  expect(aligned('bottom').map(({ minY }) => minY)).toEqual([4, 4, 4]);
  for (const { minX, maxX } of aligned('middle of x')) expect((minX + maxX) / 2).toBeCloseTo(6, 6);
  for (const { minY, maxY } of aligned('middle of y')) expect((minY + maxY) / 2).toBeCloseTo(4.7, 6);
  expect(planned(alignThings(TRIAL_FLOOR, ids, 'left')).name).toBe('Aligned 3 things on the left');
  expect(refusalOf(alignThings(TRIAL_FLOOR, ['F1'], 'left'))).toMatch(/^One thing has nothing to line up with/);
});

test('things are spread with equal gaps; the first and the last stay', () => {
  const ids = ['F2', 'F1', 'W2', 'L1'];
  const asked = planned(distributeThings(TRIAL_FLOOR, ids, 'x'));
  expect(asked.name).toBe('Spread 4 things evenly along x');
  const file = made(TRIAL_FLOOR, asked);
  const boxes = boxesOf(file, ids).toSorted((a, b) => a.minX - b.minX);
  const gaps = boxes.slice(1).map((box, i) => box.minX - boxes[i]!.maxX);
  for (const gap of gaps) expect(gap).toBeCloseTo(gaps[0]!, 5);
  expect(boxesOf(file, ['F1'])).toEqual(boxesOf(TRIAL_FLOOR, ['F1']));
  expect(refusalOf(distributeThings(TRIAL_FLOOR, ['F1', 'F2'], 'y'))).toMatch(/^Two things have one gap/);
});

test('a room that lines up takes its contents along, and what is selected itself goes its own way', () => {
  const far: FloorFile = made(TRIAL_FLOOR, moveThings(TRIAL_FLOOR, ['R4'], [3, 1]));
  const file = made(far, alignThings(far, ['R4', 'F2', 'R2'], 'top'));
  expect(boxesOf(file, ['R4', 'F2', 'R2']).map(({ maxY }) => maxY)).toEqual([9, 9, 9]);
  expect(placeOf(file, 'D2')).toEqual([9, 5]);
});
