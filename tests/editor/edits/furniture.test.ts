import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { FloorFile, Point, Ring } from '../../../src/core/floor/index.ts';
import { AISLE, addFurnitureBlock } from '../../../src/editor/edits/furniture-blocks.ts';
import {
  addFurniture,
  type CatalogueEntry,
  measurePiece,
  resizePiece,
  setPieceHeights,
} from '../../../src/editor/edits/furniture-pieces.ts';
import { findItem } from '../../../src/editor/edits/lists.ts';
import { turnThings } from '../../../src/editor/edits/moving.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

const { pieces } = JSON.parse(readFileSync('models/furniture/catalogue.json', 'utf8')) as {
  readonly pieces: readonly (CatalogueEntry & { readonly id: string })[];
};
const entry = (id: string): CatalogueEntry => {
  const found = pieces.find((piece) => piece.id === id);
  if (found === undefined) throw new Error(`The catalogue has no ${id}.`);
  return found;
};
const pieceOf = (file: FloorFile, id: string) => findItem(file, 'furniture', id);
const seatOf = (file: FloorFile, id: string) => findItem(file, 'workplaces', id);

test('every piece of the catalogue can be set down as it is listed', () => {
  for (const each of pieces) {
    const file = made(TRIAL_FLOOR, addFurniture(TRIAL_FLOOR, each, { at: [40, 40], turn: 0 }));
    const piece = pieceOf(file, 'F4');
    expect(piece).toMatchObject({ kind: each.kind, top: each.top });
    expect([piece?.base ?? 0, piece?.glass ?? false, piece?.raised ?? 0, piece?.movable ?? false]).toEqual([
      each.base,
      each.glass ?? false,
      each.raised ?? 0,
      each.movable ?? false,
    ]);
    const size = measurePiece(piece?.outline ?? []);
    expect([size.length, size.width]).toEqual([expect.closeTo(each.length, 6), expect.closeTo(each.width, 6)]);
    expect(file.workplaces?.length).toBe(each.kind === 'desk' ? 3 : 2);
  }
});

test('a desk brings a workplace at its front, facing it', () => {
  const asked = planned(addFurniture(TRIAL_FLOOR, entry('desk-160'), { at: [9, 4], turn: 90 }));
  expect(asked.name).toBe('Added Desk 2');
  expect(asked.ids).toEqual(['F4', 'W3']);
  const file = made(TRIAL_FLOOR, asked);
  expect(pieceOf(file, 'F4')).toEqual({
    id: 'F4',
    kind: 'desk',
    name: 'Desk 2',
    outline: [
      [9.4, 3.2],
      [9.4, 4.8],
      [8.6, 4.8],
      [8.6, 3.2],
    ],
    base: 0.7,
    top: 0.74,
  });
  expect(seatOf(file, 'W3')).toEqual({ id: 'W3', name: '3', at: [9.75, 4], facing: 180 });
});

test('at a high table one stands, and a piece without a seat brings none', () => {
  const high = made(TRIAL_FLOOR, addFurniture(TRIAL_FLOOR, entry('high-table'), { at: [9, 4], turn: 0 }));
  expect(seatOf(high, 'W3')).toMatchObject({ posture: 'standing', facing: 90 });
  const table = made(TRIAL_FLOOR, addFurniture(TRIAL_FLOOR, entry('meeting-table'), { at: [9, 4], turn: 0 }, false));
  expect(table.workplaces).toBe(TRIAL_FLOOR.workplaces);
});

test('impossible sizes are refused', () => {
  const bad = (change: Partial<CatalogueEntry>) =>
    refusalOf(addFurniture(TRIAL_FLOOR, { ...entry('desk-160'), ...change }, { at: [9, 4], turn: 0 }));
  expect(bad({ length: 0 })).toBe('Desk 1.6 m would be 0 m long or wide. Write a size from 0.01 to 100 m.');
  expect(bad({ top: 0.5 })).toBe(
    'The top of Desk 1.6 m would be 0.50 m and its base 0.70 m. The top must be above the base.',
  );
  expect(bad({ top: 51 })).toMatch(/Heights lie from 0 to 50 m\.$/);
});

test('a row of mirrored pairs with screens between has its backs to the screens and its chairs outside', () => {
  const asked = planned(
    addFurnitureBlock(
      TRIAL_FLOOR,
      entry('desk-160'),
      { at: [20, 20], turn: 0 },
      {
        count: 2,
        pitch: 1.7,
        mirrored: true,
        screen: entry('screen-140'),
      },
    ),
  );
  expect(asked.name).toBe('Added 6 pieces and 4 workplaces');
  const file = made(TRIAL_FLOOR, asked);
  const added = asked.ids.map((id) => pieceOf(file, id) ?? seatOf(file, id));
  const places = added.map((each) => (each === undefined ? null : 'at' in each ? each.at : middle(each.outline)));
  expect(places.map((each) => each?.map((value) => Math.round(value * 1000) / 1000))).toEqual([
    [20, 20],
    [20, 19.25],
    [20, 20.84],
    [20, 21.59],
    [20, 20.42],
    [21.7, 20],
    [21.7, 19.25],
    [21.7, 20.84],
    [21.7, 21.59],
    [21.7, 20.42],
  ]);
  expect(asked.ids.map((id) => seatOf(file, id)?.facing).filter((facing) => facing !== undefined)).toEqual([
    90, 270, 90, 270,
  ]);
  expect(file.furniture?.slice(3).map(({ name }) => name)).toEqual([
    'Desk 2',
    'Desk 3',
    'Desk screen 1',
    'Desk 4',
    'Desk 5',
    'Desk screen 2',
  ]);
});

const middle = (ring: Ring): Point => [
  ring.reduce((sum, [x]) => sum + x, 0) / ring.length,
  ring.reduce((sum, [, y]) => sum + y, 0) / ring.length,
];

test('a block has rows at a pitch, to the left of its direction', () => {
  const asked = planned(
    addFurnitureBlock(
      TRIAL_FLOOR,
      entry('shelving-220'),
      { at: [20, 20], turn: 90 },
      { count: 3, rows: 2, pitch: 1.5 },
    ),
  );
  expect(asked.name).toBe('Added 6 pieces');
  const file = made(TRIAL_FLOOR, asked);
  const { width } = entry('shelving-220');
  expect(file.furniture?.slice(3).map(({ outline }) => middle(outline))).toEqual(
    [20, 20 - width - AISLE].flatMap((x) => [20, 21.5, 23].map((y) => [expect.closeTo(x, 6), expect.closeTo(y, 6)])),
  );
});

test('blocks that cannot be are refused', () => {
  const bad = (options: Parameters<typeof addFurnitureBlock>[3]) =>
    refusalOf(addFurnitureBlock(TRIAL_FLOOR, entry('desk-160'), { at: [0, 0], turn: 0 }, options));
  expect(bad({ count: 0 })).toBe('A block of 0 cannot be set. Write a whole number from 1 to 1000.');
  expect(bad({ count: 2.5 })).toMatch(/^A block of 2\.5/);
  expect(bad({ count: 600, mirrored: true })).toMatch(/^1200 pieces at once are too many/);
  expect(bad({ count: 3, pitch: 0 })).toMatch(/^A pitch of 0 m leaves no room/);
  expect(bad({ count: 3, gap: -1, mirrored: true })).toMatch(/^A gap of -1 m/);
});

test('a piece is resized about a corner or its middle', () => {
  const resized = (anchor: 'middle' | 0 | 1 | 2 | 3) => {
    const file = made(TRIAL_FLOOR, resizePiece(TRIAL_FLOOR, 'F1', { length: 2, width: 1 }, anchor));
    return pieceOf(file, 'F1')?.outline;
  };
  expect(resized(0)).toEqual([
    [2, 4],
    [4, 4],
    [4, 5],
    [2, 5],
  ]);
  expect(resized(2)).toEqual([
    [1.6, 3.8],
    [3.6, 3.8],
    [3.6, 4.8],
    [1.6, 4.8],
  ]);
  expect(resized('middle')).toEqual([
    [1.8, 3.9],
    [3.8, 3.9],
    [3.8, 4.9],
    [1.8, 4.9],
  ]);
  expect(planned(resizePiece(TRIAL_FLOOR, 'F1', { length: 2 })).name).toBe('Resized Desk 1 to 2.00 m × 0.80 m');
  expect(refusalOf(resizePiece(TRIAL_FLOOR, 'F1', { width: 0 }))).toMatch(/^Desk 1 would be 0 m long or wide/);
});

test('turned rectangles stay rectangles of their size, however often they are turned and resized', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: -179, max: 180 }), { minLength: 1, maxLength: 8 }),
      fc.integer({ min: 200, max: 4000 }),
      fc.constantFrom('middle', 0, 1, 2, 3),
      (turns, length, anchor) => {
        let file: FloorFile = TRIAL_FLOOR;
        for (const degrees of turns) {
          const turned = planned(turnThings(file, ['F1'], degrees));
          file = made(file, turned);
          file = made(file, resizePiece(file, 'F1', { length: length / 1000 }, anchor as 'middle' | 0 | 1 | 2 | 3));
        }
        const ring = pieceOf(file, 'F1')?.outline ?? [];
        const side = (i: number): Point => [ring[(i + 1) % 4]![0] - ring[i]![0], ring[(i + 1) % 4]![1] - ring[i]![1]];
        for (let i = 0; i < 4; i++) {
          const [a, b] = [side(i), side((i + 1) % 4)];
          expect(Math.abs(a[0] * b[0] + a[1] * b[1])).toBeLessThan(2e-5);
          expect(Math.hypot(...a)).toBeCloseTo(i % 2 === 0 ? length / 1000 : 0.8, 4);
        }
      },
    ),
    { seed: 3, numRuns: 15 },
  );
}, 60_000);

test('heights of several pieces are set at once; a base above its top is refused by name', () => {
  const asked = planned(setPieceHeights(TRIAL_FLOOR, ['F2', 'F3'], { top: 1.96 }));
  expect(asked.name).toBe('Set top 1.96 m of 2 pieces');
  expect(pieceOf(made(TRIAL_FLOOR, asked), 'F3')).toMatchObject({ top: 1.96, from: 'assumed' });
  expect(refusalOf(setPieceHeights(TRIAL_FLOOR, ['F2', 'F1'], { top: 0.6 }))).toBe(
    'The top of Desk 1 would be 0.60 m and its base 0.70 m. The top must be above the base.',
  );
});
