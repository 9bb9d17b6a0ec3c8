/** Drawings written for one trap of shape each: blocks, doors, walls, rooms; with the storey they must become. */
import { describe, expect, test } from 'vitest';
import type { Ring } from '../../../src/core/floor/index.ts';
import { arc, fileOf, type Group, insert, line, polyline, readSource, readStorey, rectangle } from './write-dxf.ts';

const boxOf = (ring: Ring) => {
  const xs = ring.map(([x]) => x);
  const ys = ring.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)].map(
    (value) => Math.round(value * 1000) / 1000,
  );
};
const room = rectangle('ROOM', 0, 0, 8, 6);

describe('blocks', () => {
  const desk = { DESK: rectangle('0', 0, 0, 1.6, 0.8) };
  const outlines = (entities: readonly Group[], blocks: Record<string, readonly Group[]> = desk) =>
    readStorey({ blocks, entities: [...room, ...entities] }).pieces.map(({ outline }) => boxOf(outline));

  test('turned, mirrored and scaled uses', () => {
    expect(outlines(insert('FURN', 'DESK', 2, 1))).toEqual([[2, 1, 3.6, 1.8]]);
    expect(outlines(insert('FURN', 'DESK', 2, 1, [[50, 90]]))).toEqual([[1.2, 1, 2, 2.6]]);
    expect(outlines(insert('FURN', 'DESK', 2, 1, [[41, -1]]))).toEqual([[0.4, 1, 2, 1.8]]);
    // Seen from below: x runs the other way, the place too.
    expect(
      outlines(
        insert('FURN', 'DESK', -2, 1, [
          [210, 0],
          [220, 0],
          [230, -1],
        ]),
      ),
    ).toEqual([[0.4, 1, 2, 1.8]]);
    expect(
      outlines(
        insert('FURN', 'DESK', 2, 1, [
          [41, 1.25],
          [42, 0.5],
        ]),
      ),
    ).toEqual([[2, 1, 4, 1.4]]);
  });

  test('a block in a block, turned and mirrored, ends where both maps put it', () => {
    const blocks = { ...desk, PAIR: [...insert('0', 'DESK', 0, 0), ...insert('0', 'DESK', 0, 0, [[42, -1]])] };
    // A quarter turn of the pair (0…1.6, −0.8…0.8) about (4, 3).
    const found = outlines(insert('FURN', 'PAIR', 4, 3, [[50, 90]]), blocks);
    expect(found).toHaveLength(2);
    expect(found).toContainEqual([3.2, 3, 4, 4.6]);
    expect(found).toContainEqual([4, 3, 4.8, 4.6]);
  });

  test('rows and columns', () => {
    const array: Group[] = [
      [70, 3],
      [71, 2],
      [44, 2],
      [45, 1.5],
    ];
    const found = outlines(insert('FURN', 'DESK', 1, 1, array));
    expect(found).toHaveLength(6);
    expect(found).toContainEqual([5, 2.5, 6.6, 3.3]);
  });

  test('a block that holds itself is left out and told', () => {
    const blocks = { A: [...insert('0', 'B', 0, 0), ...line('0', 0, 0, 1, 0)], B: insert('0', 'A', 1, 1) };
    const source = readSource(fileOf({ blocks, entities: [...room, ...insert('0', 'A', 0, 0)] }));
    expect(source.remarks).toContainEqual(
      expect.objectContaining({ what: 'uses of blocks', reason: 'the block holds itself', count: 1 }),
    );
  });

  test('blocks that multiply without end stop at a limit', () => {
    const blocks: Record<string, Group[]> = { L0: line('0', 0, 0, 1, 0) };
    for (let i = 1; i <= 12; i++)
      blocks[`L${i}`] = insert('0', `L${i - 1}`, 0, 0, [
        [70, 100],
        [71, 100],
        [44, 1],
        [45, 1],
      ]);
    const source = readSource(fileOf({ blocks, entities: [...room, ...insert('WALL', 'L12', 0, 0)] }));
    expect(source.remarks.find(({ what }) => what === 'repeated blocks')?.reason).toContain('300,000 uses');
  });

  test('an outline that is no rectangle stays one', () => {
    const corner = polyline('0', [
      [0, 0],
      [2, 0],
      [2, 0.8],
      [0.8, 0.8],
      [0.8, 2],
      [0, 2],
    ]);
    const storey = readStorey({ blocks: { DESK: corner }, entities: [...room, ...insert('FURN', 'DESK', 1, 1)] });
    expect(storey.pieces[0]?.outline).toHaveLength(6);
  });
});

describe('doors', () => {
  // A wall of 0.2 m along x, faces at y 0 and 0.2, broken from x 3 to x 4.
  const walls = [
    ...line('A-WALL', 0, 0, 3, 0),
    ...line('A-WALL', 4, 0, 8, 0),
    ...line('A-WALL', 0, 0.2, 3, 0.2),
    ...line('A-WALL', 4, 0.2, 8, 0.2),
  ];
  const openings = (entities: readonly Group[], blocks: Record<string, readonly Group[]> = {}) =>
    readStorey({ blocks, entities: [...walls, ...entities] }).openings;
  const leaf = [...arc('A-DOOR', 3, 0.2, 1, 0, 90), ...line('A-DOOR', 3, 0.2, 3, 1.2)];

  test('a swing with its leaf stands from hinge to jamb, in the middle of its wall', () => {
    const found = openings(leaf);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ kind: 'door', standing: 'read' });
    expect(found[0]?.from[0]).toBeCloseTo(3, 9);
    expect(found[0]?.from[1]).toBeCloseTo(0.1, 9);
    expect(found[0]?.to[0]).toBeCloseTo(4, 9);
    expect(found[0]?.depth).toBeCloseTo(0.2, 9);
  });

  test('without a leaf the wall that runs on says where the jamb is', () => {
    const found = openings(arc('A-DOOR', 3, 0.2, 1, 0, 90));
    expect(found).toHaveLength(1);
    expect(found[0]?.to[0]).toBeCloseTo(4, 6);
    expect(found[0]?.standing).toBe('guessed');
  });

  test('two leaves that meet are one door', () => {
    const pair = [
      ...arc('A-DOOR', 3, 0.2, 0.5, 0, 90),
      ...line('A-DOOR', 3, 0.2, 3, 0.7),
      ...arc('A-DOOR', 4, 0.2, 0.5, 90, 180),
      ...line('A-DOOR', 4, 0.2, 4, 0.7),
    ];
    const found = openings(pair);
    expect(found).toHaveLength(1);
    expect(Math.hypot((found[0]?.to[0] ?? 0) - (found[0]?.from[0] ?? 0), 0)).toBeCloseTo(1, 6);
  });

  test('a door block, mirrored, turned, with its leaf as one polyline with a bulge', () => {
    // Leaf up from the hinge, swing down to the jamb: a quarter circle clockwise.
    const blocks = {
      T1: polyline(
        '0',
        [
          [0, 0],
          [0, 1, -Math.tan(Math.PI / 8)],
          [1, 0],
        ],
        false,
      ),
    };
    for (const use of [
      insert('0', 'T1', 3, 0.2),
      insert('0', 'T1', 4, 0.2, [[41, -1]]),
      insert('0', 'T1', 4, 0, [[50, 180]]),
    ]) {
      const found = openings(use, blocks);
      expect(found).toHaveLength(1);
      const xs = [found[0]?.from[0] ?? 0, found[0]?.to[0] ?? 0].sort();
      expect(xs[0]).toBeCloseTo(3, 9);
      expect(xs[1]).toBeCloseTo(4, 9);
      expect(found[0]?.from[1]).toBeCloseTo(0.1, 9);
    }
  });

  test('windows: lines across the gap, and a block without a swing', () => {
    const loose = [0, 0.1, 0.2].flatMap((y) => line('A-GLAZ', 3, y, 4, y));
    expect(openings(loose)[0]).toMatchObject({ kind: 'window', depth: expect.closeTo(0.2, 9) });
    const found = openings(insert('0', 'Fenster 100', 3, 0), { 'Fenster 100': rectangle('0', 0, 0, 1, 0.2) });
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ kind: 'window', name: 'Fenster 100' });
    expect(found[0]?.from[1]).toBeCloseTo(0.1, 9);
  });
});

describe('walls, rooms and pieces', () => {
  test('thin closed outlines are footprints, wide ones lines, wide polylines bands', () => {
    const storey = readStorey({
      entities: [
        ...rectangle('WAND', 0, 0, 8, 0.24),
        ...rectangle('WAND', 0, 2, 8, 8),
        ...polyline(
          'WAND',
          [
            [0, 10],
            [8, 10],
          ],
          false,
          [[43, 0.3]],
        ),
      ],
    });
    const footprints = storey.walls.filter((wall) => wall.kind === 'footprint');
    expect(footprints.map((wall) => wall.kind === 'footprint' && boxOf(wall.outline))).toEqual([
      [0, 0, 8, 0.24],
      [-0.15, 9.85, 8.15, 10.15],
    ]);
    expect(storey.walls.filter(({ kind }) => kind === 'line')).toHaveLength(4);
  });

  test('a line drawn twice is one', () => {
    const storey = readStorey({
      entities: [...line('WALL', 0, 0, 8, 0), ...line('WALL', 8, 0, 0, 0), ...line('WALL', 8, 0, 8, 6)],
    });
    expect(storey.walls).toHaveLength(2);
  });

  test('loose lines with small gaps close to a room', () => {
    const gap = 0.03;
    const lines = [
      ...line('RAUM', 0, 0, 8 - gap, 0),
      ...line('RAUM', 8, 0, 8, 6 - gap),
      ...line('RAUM', 8, 6, gap, 6),
      ...line('RAUM', 0, 6, 0, gap),
    ];
    expect(readStorey({ entities: lines }).rooms.map(({ outline }) => outline.length)).toEqual([4]);
    expect(() => readStorey({ entities: lines }, { gapM: 0.001 })).toThrow(/Nothing in this drawing/);
  });

  test('a room in a room is its hole, an outline round all rooms is none', () => {
    const storey = readStorey({
      entities: [
        ...rectangle('ROOM', 0, 0, 10, 8),
        ...rectangle('ROOM', 4, 3, 6, 5),
        ...rectangle('ROOM', 10, 0, 20, 8),
        ...rectangle('ROOM', -1, -1, 21, 9),
      ],
    });
    expect(storey.rooms).toHaveLength(3);
    expect(storey.rooms.map(({ holes }) => holes.length).sort()).toEqual([0, 0, 1]);
    expect(storey.remarks).toContainEqual(expect.objectContaining({ what: 'outlines round other rooms', count: 1 }));
  });

  test('chairs face their desks', () => {
    const blocks = {
      DESK: rectangle('0', 0, 0, 1.6, 0.8),
      CHAIR: [
        [0, 'CIRCLE'],
        [8, '0'],
        [10, 0],
        [20, 0],
        [40, 0.25],
      ] as Group[],
    };
    const storey = readStorey({
      blocks,
      entities: [...room, ...insert('FURN', 'DESK', 2, 2), ...insert('FURN', 'CHAIR', 2.8, 1.6)],
    });
    expect(storey.workplaces).toEqual([expect.objectContaining({ name: 'CHAIR', facing: 90 })]);
    expect(storey.workplaces[0]?.at[0]).toBeCloseTo(2.8, 2);
  });

  test('circles, ellipses, splines and hatches are outlines too', () => {
    const circle: Group[] = [
      [0, 'CIRCLE'],
      [8, 'COLUMN'],
      [10, 1],
      [20, 1],
      [40, 0.2],
    ];
    const ellipse: Group[] = [
      [0, 'ELLIPSE'],
      [8, 'TISCH'],
      [10, 4],
      [20, 3],
      [11, 1],
      [21, 0],
      [31, 0],
      [40, 0.5],
      [41, 0],
      [42, 2 * Math.PI],
    ];
    const hatch: Group[] = [
      [0, 'HATCH'],
      [8, 'COLUMN'],
      [10, 0],
      [20, 0],
      [30, 0],
      [2, 'SOLID'],
      [70, 1],
      [71, 0],
      [91, 1],
      [92, 3],
      [72, 0],
      [73, 1],
      [93, 4],
      [10, 6],
      [20, 1],
      [10, 6.4],
      [20, 1],
      [10, 6.4],
      [20, 1.4],
      [10, 6],
      [20, 1.4],
      [97, 0],
      [75, 0],
      [76, 1],
      [98, 1],
      [10, 6.2],
      [20, 1.2],
    ];
    // A clamped quadratic spline of one span: a parabola from (0, 5) by way of (1, 7) to (2, 5); its top is at 6.
    const spline: Group[] = [
      [0, 'SPLINE'],
      [8, 'WALL'],
      [70, 8],
      [71, 2],
      [72, 6],
      [73, 3],
      [74, 0],
      ...[0, 0, 0, 1, 1, 1].map((knot): Group => [40, knot]),
      ...(
        [
          [0, 5],
          [1, 7],
          [2, 5],
        ] as const
      ).flatMap(([x, y]): Group[] => [
        [10, x],
        [20, y],
      ]),
    ];
    const { pieces, walls } = readStorey({ entities: [...room, ...circle, ...ellipse, ...hatch, ...spline] });
    expect(pieces.filter(({ kind }) => kind === 'column').map(({ outline }) => boxOf(outline))).toEqual([
      [0.8, 0.8, 1.2, 1.2],
      [6, 1, 6.4, 1.4],
    ]);
    expect(pieces.filter(({ kind }) => kind === 'desk').map(({ outline }) => boxOf(outline))).toEqual([
      [3, 2.5, 5, 3.5],
    ]);
    const tops = walls.flatMap((wall) => (wall.kind === 'line' ? [wall.from[1], wall.to[1]] : []));
    expect(Math.max(...tops)).toBeCloseTo(6, 9);
  });

  test('heights answered are taken', () => {
    const storey = readStorey(
      { blocks: { REGAL: rectangle('0', 0, 0, 2, 0.4) }, entities: [...room, ...insert('0', 'REGAL', 1, 1)] },
      { heights: { shelving: { top: 1.8 } }, ceiling: 3.1 },
    );
    expect(storey.pieces[0]).toMatchObject({ kind: 'shelving', top: 1.8, base: null });
    expect(storey.rooms[0]?.ceiling).toBe(3.1);
  });
});
