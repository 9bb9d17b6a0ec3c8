import fc from 'fast-check';
import polygonClipping from 'polygon-clipping';
import { expect, test } from 'vitest';
import { type FloorFile, type Point, type Ring, validateFloor } from '../../../src/core/floor/index.ts';
import { computeSignedArea } from '../../../src/core/geometry/polygon.ts';
import { applyEdit } from '../../../src/editor/edits/edit.ts';
import { findItem, type Items } from '../../../src/editor/edits/lists.ts';
import { mergeRooms } from '../../../src/editor/edits/room-merge.ts';
import { splitRoom } from '../../../src/editor/edits/room-split.ts';
import { createRandom } from '../../models/random.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

const areaOf = ({ outline, holes = [] }: Pick<Items['rooms'], 'outline' | 'holes'>): number =>
  Math.abs(computeSignedArea(outline)) - holes.reduce((sum, hole) => sum + Math.abs(computeSignedArea(hole)), 0);

const floorOf = (...rooms: readonly (readonly [Ring, ...Ring[]])[]): FloorFile => ({
  format: 'lacuna/1',
  name: 'Trial',
  rooms: rooms.map(([outline, ...holes], i) => ({
    id: `R${i + 1}`,
    name: `Room ${i + 1}`,
    outline,
    holes,
    ceiling: 3,
  })),
  types: [],
  detectors: [],
});

const box = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

test('a room is split along a line; both parts are served as it was, and nothing in it is touched', () => {
  const asked = planned(splitRoom(TRIAL_FLOOR, 'R1', [-1, 5.5], [7, 5.5]));
  expect(asked.name).toBe('Split Office');
  expect(asked.ids).toEqual(['R1', 'R5']);
  const file = made(TRIAL_FLOOR, asked);
  const [larger, smaller] = [findItem(file, 'rooms', 'R1'), findItem(file, 'rooms', 'R5')];
  expect(larger).toMatchObject({ name: 'Office', tiles: { origin: [0, 2] }, ceiling: 3 });
  expect(larger).not.toHaveProperty('holes');
  expect(smaller).toMatchObject({ name: 'Office 2', tiles: { origin: [0, 2] }, ceiling: 3 });
  expect(new Set(larger?.outline.map(String))).toEqual(new Set(['0,2', '6,2', '6,5.5', '0,5.5']));
  expect(smaller?.holes).toHaveLength(1);
  expect(file.groups?.[0]).toMatchObject({ serves: ['R1', 'R5', 'R2'], ventilation: ['R1', 'R5'] });
  for (const list of ['workplaces', 'furniture', 'detectors', 'openings'] as const)
    expect(file[list]).toBe(TRIAL_FLOOR[list]);
});

test('a line through a hole cuts both sides of it', () => {
  const file = floorOf([box(0, 0, 10, 4), box(4, 1, 6, 3)]);
  const split = made(file, splitRoom(file, 'R1', [-1, 2], [11, 2]));
  expect(split.rooms).toHaveLength(2);
  for (const room of split.rooms) {
    expect(areaOf(room)).toBeCloseTo(18, 9);
    expect(room.outline).toHaveLength(8);
    expect(room).not.toHaveProperty('holes');
  }
  expect(refusalOf(splitRoom(file, 'R1', [-1, 2], [5, 2]))).toBe(
    'The line does not part Room 1. Draw it from wall to wall.',
  );
});

test('of a bent room only the stretch that the line passes is cut', () => {
  const bent: Ring = [
    [0, 0],
    [10, 0],
    [10, 6],
    [7, 6],
    [7, 2],
    [3, 2],
    [3, 6],
    [0, 6],
  ];
  const file = floorOf([bent]);
  const split = made(file, splitRoom(file, 'R1', [-1, 4], [4, 4]));
  expect(split.rooms.map(areaOf).toSorted((a, b) => a - b)).toEqual([6, 38]);
  expect(refusalOf(splitRoom(file, 'R1', [-1, 4], [11, 4]))).toBe(
    'The line cuts Room 1 into 3 parts. Draw it through one stretch of the room only.',
  );
});

test('a line from corner to corner, along a wall or beside the room', () => {
  const file = floorOf([box(0, 0, 4, 4)]);
  const split = made(file, splitRoom(file, 'R1', [0, 0], [4, 4]));
  expect(split.rooms.map(({ outline }) => outline.length)).toEqual([3, 3]);
  for (const [from, to] of [
    [
      [-1, 0],
      [5, 0],
    ],
    [
      [-1, 9],
      [5, 9],
    ],
  ] as const)
    expect(refusalOf(splitRoom(file, 'R1', from, to))).toMatch(/does not part Room 1/);
  expect(refusalOf(splitRoom(file, 'R1', [1, 1], [1, 1]))).toMatch(/^The line has no length/);
});

test('two rooms are merged across the wall they share; the first takes the place of the second', () => {
  const served: FloorFile = {
    ...TRIAL_FLOOR,
    records: [{ date: '', by: '', kind: '', about: 'R2', expected: 1, found: 1, pass: true, text: '' }],
    detectors: TRIAL_FLOOR.detectors.map(({ height: _, ...rest }) => rest),
  };
  const asked = planned(mergeRooms(served, 'R1', 'R2'));
  expect(asked.name).toBe('Merged Office and Studio');
  const file = made(served, asked);
  expect(file.rooms.map(({ id }) => id)).toEqual(['R1', 'R3', 'R4']);
  expect(new Set(findItem(file, 'rooms', 'R1')?.outline.map(String))).toEqual(new Set(['0,2', '12,2', '12,8', '0,8']));
  expect(findItem(file, 'rooms', 'R1')).toMatchObject({ name: 'Office', ceiling: 3 });
  expect(findItem(file, 'rooms', 'R1')?.holes).toHaveLength(1);
  // The passage between the two is gone; the doors to others stay.
  expect(file.openings?.map(({ id }) => id)).toEqual(['O1', 'O3', 'O4']);
  expect(file.groups?.[0]).toMatchObject({ serves: ['R1'], ventilation: ['R1'] });
  expect(file.records?.[0]?.about).toBe('R1');
});

test('a wall shared in part, without corners in common, is taken out in part', () => {
  const file = floorOf([box(0, 0, 10, 2)], [box(3, 2, 6, 5)]);
  const [room] = made(file, mergeRooms(file, 'R1', 'R2')).rooms;
  expect(new Set(room?.outline.map(String))).toEqual(
    new Set(['0,0', '10,0', '10,2', '6,2', '6,5', '3,5', '3,2', '0,2']),
  );
});

test('a ring that closes makes a hole, and a room that fills a hole closes it', () => {
  const bracket: Ring = [
    [0, 0],
    [9, 0],
    [9, 9],
    [0, 9],
    [0, 7],
    [7, 7],
    [7, 2],
    [0, 2],
  ];
  const closing = floorOf([bracket], [box(0, 2, 1, 7)]);
  const [ring] = made(closing, mergeRooms(closing, 'R1', 'R2')).rooms;
  expect(ring?.holes).toHaveLength(1);
  expect(ring === undefined ? 0 : areaOf(ring)).toBeCloseTo(81 - 30, 9);
  const filling = floorOf([box(0, 0, 9, 9), box(3, 3, 6, 6)], [box(3, 3, 6, 6)]);
  const [whole] = made(filling, mergeRooms(filling, 'R2', 'R1')).rooms;
  expect(whole).toMatchObject({ id: 'R2', holes: [] });
  expect(whole?.outline).toHaveLength(4);
});

test('rooms that share no wall are not merged, and the reason says how far they are apart', () => {
  expect(refusalOf(mergeRooms(TRIAL_FLOOR, 'R2', 'R4'))).toBe(
    'Studio and Store are 0.20 m apart. Move a wall of one onto the other, then merge them.',
  );
  const touching = floorOf([box(0, 0, 1, 1)], [box(1, 1, 2, 2)]);
  expect(refusalOf(mergeRooms(touching, 'R1', 'R2'))).toMatch(/^Room 1 and Room 2 only touch/);
  expect(refusalOf(mergeRooms(TRIAL_FLOOR, 'R1', 'R1'))).toBe('One room cannot be merged with itself. Select two.');
  // Their common outline would touch itself in the corner where the second ends.
  const pinched = floorOf(
    [
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 4],
        [2, 2],
        [0, 2],
      ],
    ],
    [
      [
        [0, 2],
        [1, 2],
        [2, 4],
        [0, 4],
      ],
    ],
  );
  expect(refusalOf(mergeRooms(pinched, 'R1', 'R2'))).toMatch(/common outline/);
});

/** A room of random corners round a centre, with a hole in it now and then. */
function randomRoom(seed: number): FloorFile {
  const random = createRandom(seed);
  const count = random.whole(3, 9);
  const outline = Array.from({ length: count }, (_, i): Point => {
    const angle = ((i + random.between(0.1, 0.9)) / count) * 2 * Math.PI;
    const reach = random.between(3, 9);
    return [Math.round(reach * Math.cos(angle) * 1000) / 1000, Math.round(reach * Math.sin(angle) * 1000) / 1000];
  });
  return random.chance(0.5) ? floorOf([outline, box(-0.5, -0.5, 0.5, 0.4)]) : floorOf([outline]);
}

test('random rooms split along random lines: the parts make up the whole, and merged they are it again', () => {
  let split = 0;
  const coordinate = fc.integer({ min: -10_000, max: 10_000 }).map((each) => each / 1000);
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 1e6 }),
      fc.tuple(coordinate, coordinate, coordinate, coordinate),
      (seed, line) => {
        const file = randomRoom(seed);
        // A hole that leaves the outline is no room to begin with.
        if (!validateFloor(file).ok) return;
        const [before] = file.rooms;
        const applied = applyEdit(file, splitRoom(file, 'R1', [line[0], line[1]], [line[2], line[3]]));
        if (!applied.ok || before === undefined) return;
        split++;
        const [first, second] = applied.file.rooms;
        if (first === undefined || second === undefined) throw new Error('A part is missing.');
        expect(areaOf(first) + areaOf(second)).toBeCloseTo(areaOf(before), 4);
        expect(areaOf(first)).toBeGreaterThanOrEqual(areaOf(second));
        const merged = applyEdit(applied.file, mergeRooms(applied.file, 'R1', second.id));
        if (!merged.ok) throw new Error(`${merged.what}: ${JSON.stringify(applied.file.rooms)}`);
        const [after] = merged.file.rooms;
        expect(after === undefined ? 0 : areaOf(after)).toBeCloseTo(areaOf(before), 4);
        expect(after?.holes ?? []).toHaveLength(before.holes?.length ?? 0);
      },
    ),
    { seed: 7, numRuns: 400 },
  );
  expect(split).toBeGreaterThan(100);
}, 60_000);

test('merging rooms of a random grid gives what an independent union gives', () => {
  let merged = 0;
  fc.assert(
    fc.property(
      fc.array(fc.boolean(), { minLength: 20, maxLength: 20 }),
      fc.integer({ min: 0, max: 1e6 }),
      (cells, seed) => {
        const random = createRandom(seed);
        const rows = [0, 1, 2.5, 3.1, 5];
        const columns = [0, 1.2, 2, 4.05, 5, 7.7];
        const rooms = cells.flatMap((has, k): (readonly [Ring])[] => {
          const [i, j] = [k % 5, Math.floor(k / 5)];
          return has ? [[box(columns[i]!, rows[j]!, columns[i + 1]!, rows[j + 1]!)]] : [];
        });
        if (rooms.length < 2) return;
        let file = floorOf(...rooms);
        // Rooms are merged one after the other, each pair at random, until nothing goes any more.
        for (let tries = 0; tries < 30 && file.rooms.length > 1; tries++) {
          const [first, second] = [random.pick(file.rooms), random.pick(file.rooms)];
          const next = applyEdit(file, mergeRooms(file, first.id, second.id));
          if (!next.ok) continue;
          merged++;
          const union = polygonClipping.union(
            ...([first, second].map(({ outline, holes = [] }) => [outline, ...holes]) as unknown as Parameters<
              typeof polygonClipping.union
            >),
          );
          const expected = union
            .flat()
            .reduce((sum, ring, k) => sum + (k === 0 ? 1 : -1) * areaOf({ outline: ring.slice(0, -1) }), 0);
          const room = findItem(next.file, 'rooms', first.id);
          expect(union).toHaveLength(1);
          expect(room === undefined ? 0 : areaOf(room)).toBeCloseTo(expected, 9);
          expect(room?.holes ?? []).toHaveLength((union[0]?.length ?? 1) - 1);
          file = next.file;
        }
      },
    ),
    { seed: 11, numRuns: 80 },
  );
  expect(merged).toBeGreaterThan(250);
}, 60_000);
