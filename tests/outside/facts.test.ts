/**
 * Check values T01 to T25 and T61 to T63 of the collected facts. Each is named with where it comes from and its standing:
 * "derived" (by formula there, reproducible), "found" (in a published text), "memory" (not re-checked).
 *
 * Not here: T26 to T32 (configuration factors), T33 to T38 (guards, set cover), T39 to T51 (energy, codes, walk tests),
 * T52 to T60 and T64 to T75 (body tables, radiation, installation practice): nothing in sight or coverage computes them, and
 * a constant is not tested against itself.
 */
import { describe, expect, test } from 'vitest';
import { createCoverage } from '../../src/core/coverage/index.ts';
import type { Doors, Floor, Motion } from '../../src/core/floor/index.ts';
import type { Layer } from '../../src/core/sight/index.ts';
import { compileScene, countCells, extentAt, hangRange, traceSight } from '../../src/core/sight/index.ts';
import { buildFloor, type Entry, FAR_TYPE, rect, row, type XY } from '../core/sight/build-floor.ts';
import { createRandom } from '../models/random.ts';
import { bisect } from './bisect.ts';

const CELL = 0.02;

type Furniture = Entry<'furniture'>;
const piece = (outline: readonly XY[], top: number, base = 0, rest: Partial<Furniture> = {}): Furniture => ({
  id: 'piece',
  kind: 'screen',
  name: 'Piece',
  outline,
  base,
  top,
  ...rest,
});

/** One room with one lens and perhaps a piece; planes are over 0, so the floor itself is asked a micrometre above it. */
function roomWith(
  outline: readonly XY[],
  lenses: readonly XY[],
  height: number,
  given: { type?: Entry<'types'>; furniture?: Furniture[]; holes?: XY[][]; plane?: number; masks?: Mask[] } = {},
): Floor {
  const { type = FAR_TYPE, furniture = [], holes = [], plane = 0.8, masks = [] } = given;
  return buildFloor({
    rooms: [{ id: 'room', name: 'Room', outline, holes, ceiling: height }],
    furniture,
    types: [type],
    detectors: lenses.map((at, k) => ({ id: `D${k}`, name: `D${k}`, type: type.id, at, height, masks })),
    analysis: { cell: CELL, seatedPlane: plane === 0 ? 1e-6 : plane },
  });
}
type Mask = NonNullable<Entry<'detectors'>['masks']>[number];

/** Answers the plain sight line along +x from the lens at the origin. */
function lookAlong(floor: Floor, motion: Motion = 'tangential', doors: Doors = 'stated') {
  const scene = compileScene(floor);
  return (x: number, h: number, y = 0) => traceSight(scene, 0, { x, y, h }, motion, doors);
}

/** Square metres in range that are not seen. */
const unseenArea = (layer: Layer): number => (countCells(layer.inRange) - countCells(layer.seen)) * CELL ** 2;
const seenArea = (layer: Layer): number => countCells(layer.seen) * CELL ** 2;

const cone = (diameter: number): Entry<'types'> => ({
  id: 'cone',
  name: 'Cone',
  ranges: [row('minor', 3, 0, diameter)],
});

describe('cones (derived from similar triangles, facts 8.1)', () => {
  test.each([
    ['T01', 8, 3, 0.75, 6],
    ['T02', 8, 3, 1.25, 4.666667],
    ['T03', 8, 2.5, 0, 6.666667],
    ['T04', 24, 3, 1.7, 10.4],
  ])('%s: %d m stated at 3 m, hung at %d m, at %d m: %d m', (_, stated, lensHeight, h, expected) => {
    const type = roomWith(rect(-20, -20, 20, 20), [[0, 0]], 3, { type: cone(stated) }).types[0]!;
    const extent = extentAt(hangRange(type, 'minor', lensHeight, 1), lensHeight, h);
    if (extent?.kind !== 'round') throw new Error('the range is not round');
    expect(Math.abs(2 * extent.radius - expected)).toBeLessThan(1e-6);
  });

  test('T05: the edge of a cone of 24 m at 3 m lies 75.963757° from straight down at every height', () => {
    const look = lookAlong(roomWith(rect(-20, -20, 20, 20), [[0, 0]], 3, { type: cone(24) }), 'minor');
    for (const h of [0, 0.8, 1.7, 2.9]) {
      const edge = bisect((x) => look(x, h).seen, 0, 19);
      expect(Math.abs((Math.atan2(edge, 3 - h) * 180) / Math.PI - 75.963757)).toBeLessThan(1e-5);
    }
  });
});

describe('shadows of screens and prisms (derived, facts 8.2 and 8.3; T09 and T10 also by Monte Carlo there)', () => {
  test.each([
    ['T06', 2, 3, 1.6, 0.75, 3.214286],
    ['T07', 4, 2.5, 2, 0, 20],
  ])(
    '%s: a screen %d m away, lens %d m, top %d m, at %d m: the shadow ends at %d m',
    (_, a, lens, top, h, expected) => {
      const furniture = [piece(rect(a - 0.01, -2, a, 2), top)];
      const look = lookAlong(roomWith(rect(-1, -3, 30, 3), [[0, 0]], lens, { furniture }));
      const end = bisect((x) => !look(x, h).seen, a + 0.001, 29);
      expect(Math.abs(end - expected)).toBeLessThan(1e-6);
    },
  );

  // A screen of no thickness cannot be drawn: 1 mm is the thinnest, and its own 0.002 m² are taken off.
  test.each([
    { id: 'T08', outline: rect(1.999, -1, 2, 1), base: 0, top: 1.6, plane: 0.75, own: 0.002, expected: 3.165816 },
    { id: 'T09', outline: rect(2, -0.5, 3, 0.5), base: 0, top: 1.5, plane: 0, own: 0, expected: 7 },
    { id: 'T10', outline: rect(2, -0.5, 3, 0.5), base: 1, top: 1.5, plane: 0, own: 0, expected: 5.75 },
  ])('$id: the shadow measures $expected m²', ({ outline, base, top, plane, own, expected }) => {
    const furniture = [piece(outline, top, base)];
    const { layers } = createCoverage(roomWith(rect(-1, -3, 8, 3), [[0, 0]], 3, { furniture, plane }));
    expect(Math.abs(unseenArea(layers[0]!.minor!) - own - expected)).toBeLessThan(0.01 * expected);
  });

  test('T11: beside an oblique box 2.688232 m² are blind', () => {
    const furniture = [piece(rect(1, 1, 2, 2.5), 1.4)];
    const { areas } = createCoverage(roomWith(rect(-1, -1, 5, 5), [[0, 0]], 3, { furniture, plane: 0.75 }));
    expect(Math.abs(areas.seated.hiddenM2 - 2.688232)).toBeLessThan(0.01 * 2.688232);
  });

  test.each([
    ['T12', 3.5, 0.088889],
    ['T13', 4.5, 0.666667],
  ])(
    '%s: behind a screen of 1.4 m at 3 m, at %d m, %d of a torso from 0.5 to 1.25 m is seen (derived, 8.4)',
    (_, x, share) => {
      const furniture = [piece(rect(2.99, -2, 3, 2), 1.4)];
      const look = lookAlong(roomWith(rect(-1, -3, 8, 3), [[0, 0]], 2.7, { furniture }));
      const lowest = bisect((h) => look(x, h).seen, 1.25, 0.5);
      expect(Math.abs((1.25 - lowest) / 0.75 - share)).toBeLessThan(1e-5);
    },
  );
});

describe('rooms with walls of full height and unlimited range (derived, facts 8.5)', () => {
  const lShape: XY[] = [
    [0, 0],
    [6, 0],
    [6, 3],
    [3, 3],
    [3, 6],
    [0, 6],
  ];
  test.each([
    ['T14 beside', [1.5, 1.5], 27],
    ['T14', [4.5, 1.5], 22.5],
    ['T15', [5, 1.5], 21.375],
  ] as const)('%s: in the L-room from %j %d m² are seen', (_, at, expected) => {
    const { layers } = createCoverage(roomWith(lShape, [at], 2.8));
    expect(Math.abs(seenArea(layers[0]!.minor!) - expected)).toBeLessThan(0.003 * expected);
  });

  test('T16: in the square ring one outer corner sees 68.75 %, two opposite ones all', () => {
    // A lens keeps 5 mm from a wall, which widens its view by less than the 1 % that a grid may stray.
    const holes = [rect(1, 1, 2, 2)];
    const corners: XY[] = [
      [0.005, 0.005],
      [2.995, 2.995],
    ];
    const one = createCoverage(roomWith(rect(0, 0, 3, 3), corners.slice(0, 1), 2.8, { holes }));
    expect(one.areas.seated.areaM2).toBeCloseTo(8, 6);
    expect(Math.abs(one.areas.seated.seenM2 / one.areas.seated.areaM2 - 0.6875)).toBeLessThan(0.006875);
    const two = createCoverage(roomWith(rect(0, 0, 3, 3), corners, 2.8, { holes }));
    expect(two.areas.seated.seenM2).toBe(two.areas.seated.areaM2);
  });
});

describe('discs (derived, facts 8.6)', () => {
  const disc = (radius: number): Entry<'types'> => ({
    id: 'disc',
    name: 'Disc',
    ranges: [row('minor', 2.8, 0.8, 2 * radius)],
  });

  test.each([
    ['T17', 8, 8, 4, 0.785398],
    ['T18', 8, 8, 5, 0.971714],
    ['T19', 8, 5, 4, 0.930418],
  ])('%s: in a room of %d × %d m a disc of %d m covers %d', (_, length, width, radius, expected) => {
    const outline = rect(0, 0, length, width);
    const { areas } = createCoverage(roomWith(outline, [[length / 2, width / 2]], 2.8, { type: disc(radius) }));
    expect(Math.abs(areas.seated.seenM2 / areas.seated.areaM2 - expected)).toBeLessThan(0.001);
  });

  test('T20: two discs of 4 m, 4 m apart, share 19.653914 m² and together cover 80.8770 m²', () => {
    const lenses: XY[] = [
      [5, 5],
      [9, 5],
    ];
    const { areas } = createCoverage(roomWith(rect(0, 0, 14, 10), lenses, 2.8, { type: disc(4) }));
    expect(Math.abs(areas.seated.byCount[1]! - 19.653914)).toBeLessThan(0.02);
    expect(Math.abs(areas.seated.seenM2 - 80.877)).toBeLessThan(0.08);
  });

  // The count and the spacings themselves are formulas that coverage does not compute; that they hold, it does.
  test('T21: a corridor of 24 × 2 m is seen whole by 4 discs of 4 m and not by 3', () => {
    const seenBy = (count: number) => {
      const lenses = Array.from({ length: count }, (_, k): XY => [(24 / count) * (k + 0.5), 1]);
      const { areas } = createCoverage(roomWith(rect(0, 0, 24, 2), lenses, 2.8, { type: disc(4) }));
      return areas.seated.seenM2 / areas.seated.areaM2;
    };
    expect(seenBy(4)).toBe(1);
    expect(seenBy(3)).toBeLessThan(0.999);
  });

  test('T22: discs of 4 m leave no gap up to a spacing of 5.656854 m in squares, 6.928203 m in triangles', () => {
    const holdsMiddle = (lenses: readonly XY[]) => {
      const scene = compileScene(roomWith(rect(-10, -10, 10, 10), lenses, 2.8, { type: disc(4) }));
      return lenses.some((_, index) => traceSight(scene, index, { x: 0, y: 0, h: 0.8 }, 'minor', 'stated').seen);
    };
    const around = (corners: number, spacing: number) => {
      const reach = spacing / (2 * Math.sin(Math.PI / corners));
      return Array.from({ length: corners }, (_, k): XY => {
        const angle = (2 * Math.PI * (k + 0.5)) / corners;
        return [reach * Math.cos(angle), reach * Math.sin(angle)];
      });
    };
    expect(Math.abs(bisect((spacing) => holdsMiddle(around(4, spacing)), 5, 6) - 5.656854)).toBeLessThan(1e-6);
    expect(Math.abs(bisect((spacing) => holdsMiddle(around(3, spacing)), 6, 7) - 6.928203)).toBeLessThan(1e-6);
  });
});

describe('solid angles, sight lines counted over directions (derived, facts 8.7)', () => {
  /** Steradians of the half-space below in which the floor is seen; one jittered direction per cell of equal solid angle. */
  function measureSolidAngle(height: number, range: Entry<'types'>['ranges'][number]): number {
    const type = { id: 'T', name: 'T', ranges: [range] };
    const look = lookAlong(roomWith(rect(-20, -20, 20, 20), [[0, 0]], height, { type }), 'minor');
    const random = createRandom(23);
    const [down, round] = [300, 600];
    let seen = 0;
    for (let i = 0; i < down; i++) {
      for (let k = 0; k < round; k++) {
        const cosine = (i + random.next()) / down;
        const angle = (2 * Math.PI * (k + random.next())) / round;
        const reach = (height * Math.sqrt(1 - cosine ** 2)) / cosine;
        if (look(reach * Math.cos(angle), 0, reach * Math.sin(angle)).seen) seen++;
      }
    }
    return (2 * Math.PI * seen) / (down * round);
  }

  test('T23: a cone of 53.1301°: 2.513274 sr', () => {
    expect(Math.abs(measureSolidAngle(3, row('minor', 3, 0, 8)) - 2.513274)).toBeLessThan(0.003);
  });

  test.each([
    ['T24', 2, 2, 1, 2.094395],
    ['T25', 6, 4, 2.5, 2.002181],
  ])('%s: a rectangle of %d × %d m from %d m: %d sr', (_, length, width, mounting, expected) => {
    const solid = measureSolidAngle(mounting, { motion: 'minor', mounting, plane: 0, length, width });
    expect(Math.abs(solid - expected)).toBeLessThan(0.003);
  });
});

describe('masks and glass', () => {
  test('T61: a body of 0.45 m fills a beam of 5.7° at 4.523 m (derived, 7.3): as wide is the arc of such a mask', () => {
    const masks = [{ from: 0, to: 5.7 }];
    const look = lookAlong(roomWith(rect(-9, -9, 9, 9), [[0, 0]], 3, { masks }));
    const isMasked = (reach: number, angle: number) => {
      const sight = look(reach * Math.cos(angle), 1, reach * Math.sin(angle));
      return !sight.seen && sight.why === 'masked';
    };
    const arcAt = (reach: number) => {
      const last = bisect((angle) => isMasked(reach, angle), 0.05, 1);
      const first = bisect((angle) => isMasked(reach, angle), 0.05, -1);
      return reach * (last - first);
    };
    const filled = bisect((reach) => arcAt(reach) < 0.45, 1, 8);
    expect(Math.abs(filled - 4.523)).toBeLessThan(0.001 * 4.523);
  });

  test.each([
    [15, 0.536],
    [30, 1.155],
    [45, 2],
    [55, 2.856],
    [63, 3.925],
  ])('T62: a ring from %d° down, 2 m below the lens, begins and ends at %d m (derived, 7.3)', (nadir, radius) => {
    for (const masks of [[{ from: 0, to: 360, inner: nadir }], [{ from: 0, to: 360, outer: nadir }]]) {
      const look = lookAlong(roomWith(rect(-9, -9, 9, 9), [[0, 0]], 3, { masks }));
      const inside = look(0.01, 1).seen;
      const edge = bisect((x) => look(x, 1).seen === inside, 0.01, 8);
      expect(Math.abs(edge - radius)).toBeLessThan(0.001);
    }
  });

  test('T63: glass is opaque to long-wave infrared (found: 4 mm float glass transmits 0.02)', () => {
    const glassWall = (glass: boolean) =>
      lookAlong(
        roomWith(rect(-1, -3, 8, 3), [[0, 0]], 3, { furniture: [piece(rect(2, -3, 2.01, 3), 3, 0, { glass })] }),
      );
    for (const look of [glassWall(true), glassWall(false)]) {
      expect(look(1.9, 1)).toEqual({ seen: true });
      expect(look(4, 1)).toMatchObject({ seen: false, why: 'hidden', by: 'piece' });
    }
  });
});
