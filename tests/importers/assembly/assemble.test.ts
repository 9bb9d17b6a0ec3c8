import { describe, expect, test } from 'vitest';
import { check } from '../../../src/core/coverage/index.ts';
import { type FloorFile, parseFloor, resolveFloor, serialiseFloor } from '../../../src/core/floor/index.ts';
import { computeSignedArea } from '../../../src/core/geometry/polygon.ts';
import { cutEdge, listGaps, listWallEdges } from '../../../src/core/sight/walls.ts';
import type { ImportAnswers } from '../../../src/importers/assembly/answers.ts';
import { assembleFloor } from '../../../src/importers/assembly/assemble.ts';
import { writeReport } from '../../../src/importers/assembly/report.ts';
import type { DrawnStorey } from '../../../src/importers/storey.ts';
import { line, lines, opening, piece, rectangle, room, SOURCE, storey, TWO_ROOM_WALLS, wall } from './drawn.ts';

const assemble = (drawn: DrawnStorey, answers: ImportAnswers = {}) => {
  const { floor, report } = assembleFloor(drawn, answers, SOURCE);
  const parsed = parseFloor(serialiseFloor(floor));
  expect(parsed.ok ? [] : parsed.faults).toEqual([]);
  return { floor, report, remarks: report.remarks.map(({ fate, what, count }) => `${fate} ${count} ${what}`) };
};

const areasOf = (floor: FloorFile): number[] =>
  floor.rooms.map(({ outline, holes = [] }) =>
    Number(
      (
        Math.abs(computeSignedArea(outline)) - holes.reduce((sum, hole) => sum + Math.abs(computeSignedArea(hole)), 0)
      ).toFixed(3),
    ),
  );

/** How many room edges each opening cuts. */
const cutsOf = (file: FloorFile): number[] => {
  const floor = resolveFloor(file);
  const edges = listWallEdges(floor);
  return listGaps(floor).map(
    (gap) => new Set(edges.filter((edge) => cutEdge(gap, edge) !== null).map(({ room }) => room)).size,
  );
};

describe('rooms from walls', () => {
  test('footprints with a door between them enclose two rooms, to the inner faces', () => {
    const door = opening('door', [4.1, 1], [4.1, 2], { depth: 0.2 });
    const { floor } = assemble(storey({ walls: TWO_ROOM_WALLS, openings: [door] }));
    expect(areasOf(floor)).toEqual([16, 16]);
    expect(floor.rooms[0]?.outline).toEqual(expect.arrayContaining([...rectangle(0, 0, 4, 4)]));
    expect(cutsOf(floor)).toEqual([2]);
    expect(floor.openings?.[0]).toMatchObject({ kind: 'door', from: [4.1, 1], to: [4.1, 2], depth: 0.24 });
    expect(floor.openings?.[0]?.state).toBeUndefined();
  });

  test('without the door the gap joins both into one room, and a gap as wide as that parts them again', () => {
    expect(areasOf(assemble(storey({ walls: TWO_ROOM_WALLS })).floor)).toEqual([32.2]);
    expect(areasOf(assemble(storey({ walls: TWO_ROOM_WALLS }), { gap: 1.1 }).floor)).toHaveLength(2);
  });

  test('loose lines enclose their faces; the outer face and the inside of walls are no rooms', () => {
    const walls = [
      ...lines('outer', -0.2, -0.2, 8.4, 4.2),
      ...lines('left', 0, 0, 4, 4),
      ...lines('right', 4.2, 0, 8.2, 4),
    ];
    const { floor } = assemble(storey({ walls }));
    expect(areasOf(floor)).toEqual([16, 16]);
  });

  test('a gap of drafting is closed up to its width and not beyond', () => {
    const [a, b, c] = [line('a', [0, 0], [4, 0]), line('b', [4, 0], [4, 4]), line('c', [4, 4], [0, 4])];
    const open = storey({ walls: [a, b, c, line('d', [0, 3.96], [0, 0])] });
    expect(areasOf(assemble(open).floor)).toEqual([16]);
    expect(areasOf(assemble(open, { gap: 0.02 }).floor)).toEqual([]);
  });

  test('a room in a room makes a hole; what stands free in a room is a partition; a stub line is one too', () => {
    const core = [
      wall('core s', rectangle(3, 3, 6, 3.2)),
      wall('core n', rectangle(3, 5.8, 6, 6)),
      wall('core w', rectangle(3, 3.2, 3.2, 5.8)),
      wall('core e', rectangle(5.8, 3.2, 6, 5.8)),
    ];
    const around = lines('hall', 0, 0, 12, 9);
    const { floor } = assemble(
      storey({ walls: [...around, ...core, wall('free', rectangle(8, 2, 8.1, 6)), line('stub', [10, 9], [10, 7])] }),
    );
    expect(areasOf(floor).toSorted((x, y) => x - y)).toEqual(
      [2.6 * 2.6, 12 * 9 - 9].map((area) => Number(area.toFixed(3))),
    );
    const partitions = floor.furniture?.map(({ kind, notes }) => [kind, (notes as { source: string }).source]);
    expect(partitions).toHaveLength(2);
    expect(partitions).toContainEqual(['partition', 'free']);
    expect(floor.furniture?.every(({ top }) => top === 2.8)).toBe(true);
  });

  test('words in a found room are its name, sizes beside it are not', () => {
    const labels = [
      { key: 'l1', text: 'Meeting', at: [2, 2.2] as const },
      { key: 'l2', text: '16.00 m²', at: [2, 1.8] as const },
    ];
    expect(assemble(storey({ walls: lines('w', 0, 0, 4, 4), labels })).floor.rooms[0]?.name).toBe('Meeting');
  });
});

describe('rooms as drawn', () => {
  test('a crossing outline is mended, a repeated corner dropped, one without area left out and told', () => {
    const { floor, remarks } = assemble(
      storey({
        rooms: [
          room('twice', [
            [0, 0],
            [4, 0],
            [4, 0],
            [4, 4],
            [0, 4],
            [0, 0.0004],
          ]),
          room('bow', [
            [10, 0],
            [14, 4],
            [14, 0],
            [10, 4],
          ]),
          room('flat', [
            [20, 0],
            [24, 0],
            [22, 0],
          ]),
        ],
      }),
    );
    expect(floor.rooms.map(({ name }) => name)).toEqual(['twice', 'bow']);
    expect(floor.rooms[0]?.outline).toHaveLength(4);
    expect(remarks).toContain('left out 1 rooms');
  });

  test('the larger of two overlapping rooms gives way, and a room drawn twice stands once', () => {
    const { floor, remarks } = assemble(
      storey({
        rooms: [
          room('hall', rectangle(0, 0, 10, 10)),
          room('closet', rectangle(8, 8, 11, 11)),
          room('island', rectangle(2, 2, 4, 4)),
          room('again', rectangle(8, 8, 11, 11)),
        ],
      }),
    );
    expect(areasOf(floor)).toEqual([100 - 4 - 4, 9, 4]);
    expect(floor.rooms[0]?.holes).toHaveLength(1);
    expect(remarks).toContain('left out 1 rooms');
    expect(remarks).toContain('guessed 1 rooms');
  });

  test('rooms that share an edge, or overlap by less than a millimetre, stay as drawn', () => {
    const { floor, remarks } = assemble(
      storey({ rooms: [room('a', rectangle(0, 0, 4, 4)), room('b', rectangle(3.9995, 0, 8, 4))] }),
    );
    expect(floor.rooms).toHaveLength(2);
    expect(remarks).toEqual([]);
  });

  test('a wall across a drawn room is a partition; the walls around it are not', () => {
    const { floor } = assemble(
      storey({
        rooms: [room('all', rectangle(0, 0, 8.2, 4))],
        walls: TWO_ROOM_WALLS.map((each) => (each.kind === 'footprint' ? { ...each, top: 3 } : each)),
      }),
    );
    expect(floor.furniture?.map(({ kind, top, notes }) => [kind, top, (notes as { source: string }).source])).toEqual([
      ['partition', 3, 'middle high'],
      ['partition', 3, 'middle low'],
    ]);
  });

  test('a wall that ends below the ceiling is a partition with its own top, also where rooms come from walls', () => {
    const walls = [...TWO_ROOM_WALLS.slice(0, 4), wall('low', rectangle(4, 0, 4.2, 4), 0, 1.5)];
    const { floor } = assemble(storey({ walls }));
    expect(areasOf(floor)).toEqual([32.8]);
    expect(floor.furniture).toMatchObject([{ kind: 'partition', top: 1.5 }]);
  });
});

describe('openings', () => {
  const rooms = [room('a', rectangle(0, 0, 4, 4)), room('b', rectangle(4.3, 0, 8, 4))];
  test.each([
    ['on the middle line', 4.15, 0.3],
    ['on one face of the wall', 4, 0.1],
    ['off the wall by a hand', 3.9, null],
    ['without a thickness', 4.15, null],
  ] as const)('a door %s cuts both rooms', (_, x, depth) => {
    const { floor } = assemble(storey({ rooms, openings: [opening('d', [x, 1], [x, 2], { depth })] }));
    expect(cutsOf(floor)).toEqual([2]);
    expect(floor.openings?.[0]?.depth).toBeCloseTo(0.34, 5);
  });

  test('an outer door cuts its one room, and never the wall across a narrow room', () => {
    const narrow = [room('n', rectangle(0, 0, 0.8, 4)), room('m', rectangle(1, 0, 3, 4))];
    const { floor } = assemble(
      storey({
        rooms: narrow,
        openings: [
          opening('d', [-0.1, 1], [-0.1, 2], { depth: 0.2 }),
          opening('e', [0.9, 1], [0.9, 2], { depth: 0.2 }),
        ],
      }),
    );
    expect(cutsOf(floor)).toEqual([1, 2]);
    expect(floor.openings?.map(({ depth }) => depth)).toEqual([0.24, 0.24]);
  });

  test('one that no wall runs along, and one across a wall, are left out and told', () => {
    const { floor, report } = assemble(
      storey({ rooms, openings: [opening('far', [30, 1], [30, 2]), opening('across', [3.7, 2], [4.6, 2])] }),
    );
    expect(floor.openings).toEqual([]);
    expect(report.remarks).toMatchObject([{ fate: 'left out', what: 'doors', count: 2 }]);
    expect(report.remarks[0]?.places.map(({ key }) => key)).toEqual(['far', 'across']);
  });

  test('a wall at an angle and a door on it', () => {
    const turn = ([x, y]: readonly [number, number]): [number, number] => [x * 0.8 - y * 0.6, x * 0.6 + y * 0.8];
    const { floor } = assemble(
      storey({
        rooms: rooms.map((each) => ({ ...each, outline: each.outline.map(turn) })),
        openings: [opening('d', turn([4.1, 1]), turn([4.1, 2]), { depth: 0.2 })],
      }),
    );
    expect(cutsOf(floor)).toEqual([2]);
  });
});

describe('furniture and workplaces', () => {
  const rooms = [room('a', rectangle(0, 0, 8, 6), { ceiling: null })];
  test('heights nobody states are assumed by kind, marked, and told with a place', () => {
    const pieces = (['desk', 'screen', 'shelving', 'cabinet', 'column', 'hanging', 'other'] as const).map((kind, i) =>
      piece(kind, kind, rectangle(1 + i, 1, 1.6 + i, 1.6), { base: null, top: null }),
    );
    const { floor, report } = assemble(storey({ rooms, pieces }), { ceiling: 3.2, heights: { shelving: 1.8 } });
    const heights = Object.fromEntries(
      floor.furniture?.map(({ kind, base = 0, top, from }) => [kind, [base, top, from]]) ?? [],
    );
    expect(heights).toEqual({
      desk: [0.7, 0.74, 'assumed'],
      screen: [0, 1.4, 'assumed'],
      shelving: [0, 1.8, 'assumed'],
      cabinet: [0, 1.1, 'assumed'],
      column: [0, 3.2, 'assumed'],
      hanging: [2.8, 3.2, 'assumed'],
      other: [0, 0.9, 'assumed'],
    });
    expect(floor.rooms[0]).toMatchObject({ ceiling: 3.2, ceilingFrom: 'assumed' });
    expect(report.remarks.find(({ what, fate }) => what === 'shelving' && fate === 'guessed')?.places[0]?.at).toEqual([
      3.3, 1.3,
    ]);
  });

  test('stated heights stay as they are; what is outside, above the ceiling or below the floor is told', () => {
    const { floor, remarks } = assemble(
      storey({
        rooms: [room('a', rectangle(0, 0, 8, 6))],
        pieces: [
          piece('in', 'cabinet', rectangle(1, 1, 2, 2), { top: 1.93 }),
          piece('out', 'cabinet', rectangle(11, 1, 12, 2)),
          piece('high', 'hanging', rectangle(1, 1, 2, 2), { base: 3.1, top: 3.4 }),
          piece('low', 'other', rectangle(1, 1, 2, 2), { base: -0.5, top: -0.1 }),
        ],
      }),
    );
    expect(floor.furniture).toMatchObject([{ id: 'F1', name: 'in', top: 1.93 }]);
    expect(floor.furniture?.[0]?.from).toBeUndefined();
    expect(remarks).toEqual(['left out 1 cabinets', 'left out 1 hanging things', 'left out 1 other pieces']);
  });

  test('a chair is a workplace that faces its desk; a desk without one brings it on its freer side', () => {
    const { floor, report } = assemble(
      storey({
        rooms,
        pieces: [
          piece('with', 'desk', rectangle(1, 2, 2.6, 2.8), { base: 0.7, top: 0.74 }),
          piece('without', 'desk', rectangle(4, 5.2, 5.6, 6), { base: 0.7, top: 0.74 }),
        ],
        workplaces: [{ key: 'chair', name: '', at: [1.8, 1.7], facing: null, standing: 'guessed' }],
      }),
    );
    expect(floor.workplaces).toMatchObject([
      { id: 'W1', name: '1', at: [1.8, 1.7], facing: 90 },
      { id: 'W2', name: '2', at: [4.8, 4.85], facing: 90 },
    ]);
    expect(report.counts.workplaces).toBe(2);
    expect(
      assemble(storey({ rooms, pieces: [piece('d', 'desk', rectangle(4, 5.2, 5.6, 6))] }), { seats: false }).floor
        .workplaces,
    ).toEqual([]);
  });
});

test('the floor keeps its account in short, and check runs on it', () => {
  const door = opening('door', [4.1, 1], [4.1, 2], { depth: 0.2 });
  const { floor, report } = assemble(storey({ walls: TWO_ROOM_WALLS, openings: [door], north: 450 }));
  expect(floor.north).toBe(90);
  expect((floor.notes as { import: unknown }).import).toMatchObject({
    source: 'hand.dxf',
    storey: 'Ground',
    counts: { rooms: 2, doors: 1 },
  });
  expect(check(resolveFloor(floor)).planes.walking.areaM2).toBe(32);
  const text = writeReport(report);
  expect(text).toContain('Import of hand.dxf, storey Ground');
  expect(text).toMatch(/ceilings \(2\): The source does not state them: 2\.8 m is taken\. Measure them\./);
});

test('names of the source are text: controls and line ends cannot forge a line of the report', () => {
  const { report } = assemble(storey({ rooms: [room('a\nLeft out\u202e', rectangle(0, 0, 4, 4), { ceiling: null })] }));
  expect(
    writeReport(report)
      .split('\n')
      .filter((each) => each.startsWith('Left out')),
  ).toEqual([]);
});
