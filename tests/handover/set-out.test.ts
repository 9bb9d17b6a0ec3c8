import { describe, expect, test } from 'vitest';
import type { FloorFile } from '../../src/core/floor/index.ts';
import { createSetOut, findTile, sayMeasure, sayTile, windOf } from '../../src/handover/set-out.ts';
import { jobOf } from './paper-platform.ts';

const floorOf = (change: Partial<FloorFile>): FloorFile => ({
  format: 'lacuna/1',
  name: 'Set out',
  rooms: [
    {
      id: 'R' as never,
      name: 'Room',
      outline: [
        [0, 0],
        [8, 0],
        [8, 6],
        [4, 6],
        [4, 3],
        [0, 3],
      ],
      ceiling: 3,
      tiles: { origin: [0.3, 0] },
    },
  ],
  types: [{ id: 'T' as never, name: 'T', ranges: [] }],
  detectors: [{ id: 'D' as never, name: 'D', type: 'T' as never, at: [5.2, 4.5] }],
  ...change,
});

const measure = (file: FloorFile) => {
  const { floor } = jobOf(file);
  return createSetOut(floor)(floor.detectors[0]!).map(({ metres, side }) => [Number(metres.toFixed(3)), side]);
};

describe('two walls', () => {
  test('are the nearest, and the nearest that crosses it', () => {
    expect(measure(floorOf({}))).toEqual([
      [1.2, 'west'],
      [1.5, 'north'],
    ]);
  });

  test('are named by the north of the floor', () => {
    expect(measure(floorOf({ north: 180 }))).toEqual([
      [1.2, 'north'],
      [1.5, 'east'],
    ]);
    expect(windOf(1, 1, 90)).toBe('north-east');
  });

  test('are not measured where a door cuts them', () => {
    const door = { id: 'O' as never, kind: 'door' as const, from: [4, 4] as const, to: [4, 5] as const };
    expect(measure(floorOf({ openings: [door] }))).toEqual([
      [1.5, 'north'],
      [2.8, 'east'],
    ]);
  });

  test('are the line of a wall at an opening only where no other wall is left, and that is said', () => {
    // Both walls that cross the nearer one are open just beside the lens.
    const doors = [
      { id: 'O' as never, kind: 'door' as const, from: [4, 4] as const, to: [4, 5] as const },
      { id: 'P' as never, kind: 'passage' as const, from: [8, 4] as const, to: [8, 5] as const },
    ];
    const { floor } = jobOf(floorOf({ openings: doors }));
    const [first, second] = createSetOut(floor)(floor.detectors[0]!);
    expect([first?.isAtOpening, second?.isAtOpening]).toEqual([false, true]);
    expect([sayMeasure(first), sayMeasure(second)]).toEqual(['1.50 north', '1.20 west, wall line at an opening']);
  });

  test('are never measured through another wall', () => {
    // West of the corner at (4, 3) the outer wall at x = 0 lies behind the room's own edge.
    expect(
      measure(floorOf({ detectors: [{ id: 'D' as never, name: 'D', type: 'T' as never, at: [7, 3.5] }] })),
    ).toEqual([
      [1, 'east'],
      [2.5, 'north'],
    ]);
  });

  test('on slanted walls are measured square to them', () => {
    const rooms = [
      {
        id: 'R' as never,
        name: 'Slanted',
        outline: [
          [0, 0],
          [4, 4],
          [0, 8],
          [-4, 4],
        ] as [number, number][],
        ceiling: 3,
      },
    ];
    const [first, second] = measure(
      floorOf({ rooms, detectors: [{ id: 'D' as never, name: 'D', type: 'T' as never, at: [1, 4] }] }),
    );
    expect(first![0]).toBeCloseTo(3 / Math.SQRT2, 3);
    expect(second![0]).toBeCloseTo(3 / Math.SQRT2, 3);
  });
});

test('tiles are counted from the first of the room, with what is off the middle', () => {
  const { floor } = jobOf(floorOf({}));
  const room = floor.rooms[0]!;
  expect(sayTile(findTile(room, [0.6, 0.3]))).toBe('2/1');
  expect(sayTile(findTile(room, [0.15, 0.3]))).toBe('1/1 +0.15/+0.00');
  expect(sayTile(findTile(room, [1.1, 0.25]))).toBe('3/1 −0.10/−0.05');
  expect(sayTile(null)).toBeNull();
});
