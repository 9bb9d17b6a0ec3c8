import type { BufferGeometry } from 'three';
import { expect, test } from 'vitest';
import { type Floor, resolveFloor } from '../../../../src/core/floor/index.ts';
import { computeSignedArea } from '../../../../src/core/geometry/polygon.ts';
import { buildPrisms } from '../../../../src/ui/scene/geometry/prisms.ts';
import {
  buildCeilings,
  buildFloors,
  buildLintels,
  buildSills,
  buildWalls,
} from '../../../../src/ui/scene/geometry/wall-mesh.ts';
import { listWalls } from '../../../../src/ui/scene/geometry/wall-pieces.ts';
import { frameFloor } from '../../../../src/ui/scene/local-frame.ts';
import { SMALL_FLOOR } from '../../../editor/open-floor.ts';
import { generateFloor } from '../../../models/generate-floor.ts';

/** Area in plan of the level faces at height z, m². */
function levelArea(geometry: BufferGeometry, z: number): number {
  const position = geometry.getAttribute('position');
  const index = geometry.getIndex();
  const count = index?.count ?? position.count;
  let twice = 0;
  for (let t = 0; t < count; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => index?.getX(t + k) ?? t + k) as [number, number, number];
    if ([a, b, c].some((v) => Math.abs(position.getZ(v) - z) > 1e-6)) continue;
    const [bx, by] = [position.getX(b) - position.getX(a), position.getY(b) - position.getY(a)];
    const [cx, cy] = [position.getX(c) - position.getX(a), position.getY(c) - position.getY(a)];
    twice += Math.abs(bx * cy - by * cx);
  }
  return twice / 2;
}

const RING_ROOM = {
  id: 'ring',
  name: 'Ring',
  ceiling: 3,
  outline: [
    [100, 50],
    [110, 50],
    [110, 58],
    [100, 58],
  ] as [number, number][],
  holes: [
    [
      [103, 52],
      [106, 52],
      [106, 55],
      [103, 55],
    ] as [number, number][],
  ],
};

const withRooms = (rooms: (typeof RING_ROOM | (typeof SMALL_FLOOR.rooms)[number])[], rest: object = {}): Floor =>
  resolveFloor({ ...SMALL_FLOOR, workplaces: [], detectors: [], furniture: [], rooms, ...rest });

test('floor and ceiling cover a room with a hole exactly', () => {
  const floor = withRooms([RING_ROOM]);
  const frame = frameFloor(floor);
  const walls = listWalls(floor);
  expect(levelArea(buildFloors(floor, walls, frame), 0)).toBeCloseTo(71, 4);
  expect(levelArea(buildCeilings(floor, frame), 3)).toBeCloseTo(71, 4);
});

test('an outer wall closes round its corners, a hole is walled too', () => {
  const floor = withRooms([RING_ROOM]);
  const walls = listWalls(floor);
  const cap = levelArea(
    buildWalls(floor, walls, frameFloor(floor), () => {}),
    3,
  );
  // 0.24 m round 10 by 8 with square corners; round the hole inwards, where the corners overlap.
  expect(cap).toBeCloseTo(0.24 * 36 + 4 * 0.24 ** 2 + 0.24 * 12, 4);
  expect(walls.pieces.every((piece) => piece.free)).toBe(true);
});

test('what lies between two rooms is wall, as thick as they are apart', () => {
  const right = {
    ...RING_ROOM,
    id: 'right',
    holes: [],
    outline: RING_ROOM.outline.map(([x, y]) => [x + 10.1, y] as [number, number]),
  };
  const walls = listWalls(withRooms([{ ...RING_ROOM, holes: [] }, right]));
  const between = walls.pieces.filter((piece) => !piece.free);
  expect(between).toHaveLength(2);
  for (const piece of between) {
    expect(piece.ta).toBeCloseTo(0.1, 6);
    expect(piece.tb).toBeCloseTo(0.1, 6);
  }
  const touching = { ...right, outline: RING_ROOM.outline.map(([x, y]) => [x + 10, y] as [number, number]) };
  const shared = listWalls(withRooms([{ ...RING_ROOM, holes: [] }, touching])).pieces.filter((piece) => !piece.free);
  expect(shared).toHaveLength(2);
  expect(shared[0]?.ta).toBeCloseTo(0.03, 6);
});

test('an opening takes its width out of the wall and lays its ground bare', () => {
  const openings = [
    { id: 'door', kind: 'door', from: [104, 50], to: [105, 50] },
    { id: 'window', kind: 'window', from: [106, 50], to: [108, 50], sill: 0.9 },
  ];
  const floor = withRooms([{ ...RING_ROOM, holes: [] }], { openings });
  const frame = frameFloor(floor);
  const walls = listWalls(floor);
  const inOpenings = walls.pieces.filter((piece) => piece.gap !== null);
  expect(inOpenings.map((piece) => piece.gap?.opening.id).sort()).toEqual(['door', 'window']);
  expect(levelArea(buildFloors(floor, walls, frame), 0)).toBeCloseTo(80 + 3 * 0.24, 4);
  expect(
    levelArea(
      buildWalls(floor, walls, frame, () => {}),
      3,
    ),
  ).toBeCloseTo(0.24 * 33 + 4 * 0.24 ** 2, 4);
  expect(levelArea(buildSills(walls, frame), 0.9)).toBeCloseTo(2 * 0.24, 4);
  expect(levelArea(buildLintels(floor, walls, frame), 3)).toBeCloseTo(3 * 0.24, 4);
});

test('the tops of pieces cover their outlines, sides are closed, glass is apart', () => {
  const floor = resolveFloor(generateFloor({ areaM2: 1_000, seed: 3 }));
  const frame = frameFloor(floor);
  expect(floor.furniture.length).toBeGreaterThan(50);
  for (const height of new Set(floor.furniture.map((piece) => piece.top))) {
    const pieces = floor.furniture.filter((piece) => piece.top === height && piece.base <= 1);
    const area = pieces.reduce((sum, piece) => sum + Math.abs(computeSignedArea(piece.outline)), 0);
    const { solid, glass } = buildPrisms(pieces, 3, frame);
    expect(levelArea(solid, Math.fround(height))).toBeCloseTo(area, 2);
    const sides = pieces.reduce((sum, piece) => sum + (piece.glass ? 0 : piece.outline.length), 0);
    const tops = pieces.reduce((sum, piece) => sum + piece.outline.length - 2, 0);
    expect(solid.getAttribute('position').count).toBe(3 * tops + 6 * sides);
    expect(glass.getAttribute('position').count).toBe(
      6 * pieces.reduce((sum, piece) => sum + (piece.glass ? piece.outline.length : 0), 0),
    );
  }
});
