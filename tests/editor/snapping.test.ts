import { describe, expect, test } from 'vitest';
import { type Floor, type FloorFile, type Point, resolveFloor } from '../../src/core/floor/index.ts';
import { snapByAnchors } from '../../src/editor/snapping/snap-anchors.ts';
import { SNAP_DEFAULTS, SNAP_KINDS, type SnapKind, type SnapRequest } from '../../src/editor/snapping/snap-kinds.ts';
import { snapPoint, snapToTile } from '../../src/editor/snapping.ts';
import { generateFloor } from '../models/generate-floor.ts';
import { createRandom } from '../models/random.ts';
import { MIXED_FLOOR } from './tools/mixed-floor.ts';

const FLOOR = resolveFloor(MIXED_FLOOR);

function snap(at: Point, rest: Partial<SnapRequest> = {}, floor: Floor = FLOOR) {
  return snapPoint(floor, SNAP_DEFAULTS, { at, metresPerPixel: 0.01, ...rest });
}

const only = (...kinds: SnapKind[]): ReadonlySet<SnapKind> => new Set(kinds);

interface Case {
  readonly what: string;
  readonly at: Point;
  readonly rest?: Partial<SnapRequest>;
  readonly kind: SnapKind | null;
  readonly to: Point;
  readonly words: string;
}

const CASES: readonly Case[] = [
  { what: 'the grid in the open', at: [5.323, 1.321], kind: 'grid', to: [5.3, 1.3], words: '' },
  {
    what: 'nothing without a grid',
    at: [5.523, 1.021],
    rest: { kinds: only() },
    kind: null,
    to: [5.523, 1.021],
    words: '',
  },
  { what: 'a corner of a room', at: [6.96, 5.07], kind: 'corner', to: [7, 5], words: 'corner of Hall' },
  { what: 'a corner of a hole', at: [3.03, 5.98], kind: 'corner', to: [3, 6], words: 'corner of Hall' },
  { what: 'a corner of a piece', at: [4.45, 3.95], kind: 'corner', to: [4.4, 4], words: 'corner of Shelf 1' },
  { what: 'an end of an opening', at: [12.12, 2.05], kind: 'corner', to: [12.1, 2], words: 'corner of the door' },
  { what: 'the middle of a piece', at: [13.83, 2.42], kind: 'corner', to: [13.8, 2.4], words: 'middle of Desk 1' },
  { what: 'a place', at: [8.95, 7.03], kind: 'corner', to: [9, 7], words: '2' },
  {
    what: 'the middle of an edge',
    at: [4.03, 3.05],
    kind: 'midpoint',
    to: [4, 3],
    words: 'middle of an edge of Shelf 1',
  },
  { what: 'an edge, in steps of the grid', at: [4.04, 2.67], kind: 'edge', to: [4, 2.65], words: 'edge of Shelf 1' },
  {
    what: 'an oblique edge, in steps from its corner',
    at: [11, 7.03],
    rest: { kinds: only('edge', 'grid') },
    kind: 'edge',
    to: [10.993769, 7.012461],
    words: 'edge of Store',
  },
  {
    what: 'the crossing of an edge and an alignment',
    at: [6.95, 8.02],
    rest: { kinds: only('edge', 'alignment', 'crossing') },
    kind: 'crossing',
    to: [7, 8],
    words: 'edge of Hall, level with Pendant',
  },
  {
    what: 'a right angle to the last edge',
    at: [6.53, 2.06],
    rest: { origin: [6.5, 1], before: [5, 1], kinds: only('right angle', 'grid') },
    kind: 'right angle',
    to: [6.5, 2.05],
    words: 'at a right angle to the last edge',
  },
  {
    what: 'a right angle to an oblique edge, with a round length',
    at: [8.01, 6.02],
    rest: { origin: [10, 4], before: [7, 1], kinds: only('right angle', 'grid') },
    kind: 'right angle',
    to: [7.984746, 6.015254],
    words: 'at a right angle to the last edge',
  },
  {
    what: 'straight on from the last edge',
    at: [7.2, 1.04],
    rest: { origin: [6.5, 1], before: [5, 1], kinds: only('right angle', 'grid') },
    kind: 'right angle',
    to: [7.2, 1],
    words: 'in line with the last edge',
  },
  {
    what: 'level with the only corner',
    at: [6.53, 2.06],
    rest: { origin: [6.5, 1], kinds: only('right angle', 'grid') },
    kind: 'right angle',
    to: [6.5, 2.05],
    words: 'level with the last corner',
  },
  {
    what: 'the extension of an edge',
    at: [4.43, 4.62],
    rest: { kinds: only('extension', 'grid') },
    kind: 'extension',
    to: [4.4, 4.6],
    words: 'in line with an edge of Shelf 1',
  },
  {
    what: 'the middle lines of a room, where they cross',
    at: [15.07, 2.55],
    rest: { kinds: only('centre line', 'crossing', 'grid') },
    kind: 'crossing',
    to: [15.1, 2.5],
    words: 'middle line of Office, middle line of Office',
  },
  {
    what: 'the middle between the walls beside the place, in an arm of an L',
    at: [5, 7.95],
    rest: { kinds: only('centre line', 'grid') },
    kind: 'grid',
    to: [5, 7.95],
    words: '',
  },
  {
    what: 'level with a corner that is set already',
    at: [5.04, 2.58],
    rest: { own: [[5, 1]], alignWith: new Set(), kinds: only('alignment', 'grid') },
    kind: 'alignment',
    to: [5, 2.6],
    words: 'level with a corner set',
  },
  {
    what: 'the first corner before all else',
    at: [7.02, 5.03],
    rest: { first: [7.05, 5.05] },
    kind: 'first corner',
    to: [7.05, 5.05],
    words: 'the first corner',
  },
  {
    what: 'the middle of a tile',
    at: [12.6, 0.1],
    rest: { tiles: [1, 1] },
    kind: 'tile',
    to: [12.5, 0.3],
    words: 'tile',
  },
  {
    what: 'a joint along two tiles',
    at: [12.75, 0.1],
    rest: { tiles: [2, 1] },
    kind: 'tile',
    to: [12.8, 0.3],
    words: 'tile',
  },
  {
    what: 'no tile where there is none',
    at: [8.02, 6.03],
    rest: { tiles: [1, 1], kinds: only('tile', 'grid') },
    kind: 'grid',
    to: [8, 6.05],
    words: '',
  },
];

describe('a hand comes to rest on', () => {
  test.each(CASES)('$what', ({ at, rest, kind, to, words }) => {
    const found = snap(at, rest);
    expect(found).toMatchObject({ kind, words });
    expect(found.at[0]).toBeCloseTo(to[0], 5);
    expect(found.at[1]).toBeCloseTo(to[1], 5);
  });

  test('what counts more, where two are as near', () => {
    for (const [first, second] of [
      ['corner', 'edge'],
      ['midpoint', 'edge'],
      ['edge', 'extension'],
      ['right angle', 'alignment'],
    ] as const)
      expect(SNAP_KINDS.indexOf(first)).toBeLessThan(SNAP_KINDS.indexOf(second));
    // Beside the corner of the shelf, on its edge too: the corner it is.
    expect(snap([4.05, 2.03]).kind).toBe('corner');
    expect(snap([4.05, 2.13]).kind).toBe('edge');
  });

  test('nothing that is farther than the tolerance in pixels', () => {
    expect(snap([4, 1.91], { kinds: only('corner') }).kind).toBe('corner');
    expect(snap([4, 1.89], { kinds: only('corner') }).kind).toBeNull();
    expect(snap([4, 1.89], { kinds: only('corner'), metresPerPixel: 0.02 }).kind).toBe('corner');
  });

  test('nothing of what is in hand, or hidden', () => {
    expect(snap([4.05, 2.03], { except: new Set(['F1']) }).about).not.toBe('F1');
    const hidden = { ...SNAP_DEFAULTS, hidden: new Set(['furniture' as const]) };
    expect(snapPoint(FLOOR, hidden, { at: [4.05, 2.03], metresPerPixel: 0.01 }).about).not.toBe('F1');
  });
});

test('a snap says where it rests and shows why', () => {
  const found = snap([4.43, 4.62], { kinds: only('extension', 'grid') });
  expect(found.guides).toEqual([
    { kind: 'line', style: 'help', from: [4.4, 4], to: [4.4, 4.6] },
    { kind: 'mark', mark: 'hand', at: [4.4, 4.6], words: 'in line with an edge of Shelf 1' },
  ]);
});

test.each([
  [0, [0.3, 0.3]],
  [90, [-0.3, 0.3]],
  [45, [0, 0.424264]],
] as const)('tiles turned by %d° have their middle at %j', (turn, to) => {
  const at = snapToTile({ origin: [0, 0], pitch: [0.6, 0.6], turn }, [to[0] + 0.05, to[1] - 0.04]);
  expect(at[0]).toBeCloseTo(to[0], 5);
  expect(at[1]).toBeCloseTo(to[1], 5);
});

test('a piece rests by the corner that has something to rest on', () => {
  // A desk of 1.6 m by 0.8 m whose lower left corner comes near the corner of the office.
  const anchors: readonly Point[] = [
    [-0.8, -0.4],
    [0.8, -0.4],
    [0.8, 0.4],
    [-0.8, 0.4],
  ];
  const found = snapByAnchors(FLOOR, SNAP_DEFAULTS, { at: [13.06, 0.45], metresPerPixel: 0.01 }, anchors);
  expect(found).toMatchObject({ at: [13, 0.4], kind: 'corner', words: 'corner of Office' });
});

describe('on 10,000 m²', () => {
  const file: FloorFile = generateFloor({ areaM2: 10_000, seed: 3 });
  const floor = resolveFloor(file);
  const random = createRandom(11);
  const places = Array.from({ length: 400 }, (): Point => {
    const piece = random.pick(floor.furniture);
    const [x, y] = random.pick(piece.outline);
    return [x + random.between(-0.3, 0.3), y + random.between(-0.3, 0.3)];
  });

  test('a query looks at what is near, of 2,000 pieces', () => {
    expect(floor.furniture.length).toBeGreaterThan(2_000);
    for (const metresPerPixel of [0.005, 0.02, 0.1]) {
      const tally = { looked: 0 };
      for (const at of places) snap(at, { metresPerPixel, tally, origin: [at[0] - 2, at[1]] }, floor);
      const all = floor.furniture.length * 9;
      expect(tally.looked).toBeGreaterThan(0);
      expect(tally.looked / places.length).toBeLessThan(all / 20);
    }
  });

  test('a query agrees with looking at every corner', () => {
    const corners = [
      ...floor.rooms.flatMap(({ outline }) => outline),
      ...floor.furniture.flatMap(({ outline }) => outline),
      ...floor.openings.flatMap(({ from, to }) => [from, to]),
    ];
    let met = 0;
    for (const at of places.slice(0, 150)) {
      const found = snap(at, { kinds: only('corner'), metresPerPixel: 0.02 }, floor);
      let least = Infinity;
      for (const [x, y] of corners) least = Math.min(least, (x - at[0]) ** 2 + (y - at[1]) ** 2);
      const nearest = Math.sqrt(least);
      if (nearest > 0.2) continue;
      met += 1;
      expect(Math.hypot(found.at[0] - at[0], found.at[1] - at[1])).toBeLessThanOrEqual(nearest + 1e-9);
    }
    expect(met).toBeGreaterThan(50);
  });
});
