import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { check, createCoverage } from '../../src/core/coverage/index.ts';
import {
  type FloorFile,
  findRoomAt,
  formatFault,
  parseFloor,
  resolveFloor,
  serialiseFloor,
} from '../../src/core/floor/index.ts';
import { COMMITTED_FLOORS } from './committed-floors.ts';
import { readDetectorTypes } from './detector-types.ts';
import { turnedBox, type XY } from './floor-draft.ts';
import { listUnreachable } from './reachable.ts';

const FLOORS = new URL('../../models/floors/', import.meta.url);
const readFloor = (name: string): FloorFile => {
  const parsed = parseFloor(readFileSync(new URL(name, FLOORS), 'utf8'));
  if (!parsed.ok) throw new Error(`${name}: ${parsed.faults.map(formatFault).join(' ')}`);
  return parsed.file;
};

const shoelace = (ring: readonly (readonly [number, number])[]): number => {
  let twice = 0;
  ring.forEach(([x, y], index) => {
    const [nx, ny] = ring[(index + 1) % ring.length] ?? [0, 0];
    twice += x * ny - nx * y;
  });
  return Math.abs(twice) / 2;
};
const areaOf = (file: FloorFile): number =>
  file.rooms.reduce(
    (sum, { outline, holes = [] }) => sum + shoelace(outline) - holes.reduce((all, hole) => all + shoelace(hole), 0),
    0,
  );

/** Where somebody comes onto each floor: the lifts, the outer doors. */
const ENTRIES: Readonly<Record<string, readonly XY[]>> = {
  'archive.json': [[29.5, 1.1]],
  'desk-island.json': [[0.5, 6.9]],
  'open-plan-office.json': [[17, 18.2]],
  'small-rooms.json': [[0.5, 5.7]],
};
const NAMES = Object.keys(COMMITTED_FLOORS);

test('every floor in models/floors has a composer, and every composer a file', () => {
  expect(
    readdirSync(FLOORS)
      .filter((name) => name.endsWith('.json'))
      .sort(),
  ).toEqual([...NAMES].sort());
});

describe.each(NAMES)('%s', (name) => {
  const file = readFloor(name);

  test('is what its composer makes (npx vitest run tests/models -u writes it again)', async () => {
    await expect(serialiseFloor(COMMITTED_FLOORS[name]!())).toMatchFileSnapshot(fileURLToPath(new URL(name, FLOORS)));
  });

  test('says that it is invented, and so do its detector types', () => {
    expect(String(file.notes)).toMatch(/invented/i);
    for (const type of file.types) {
      expect(type.origin).toBe('invented');
      expect(String(type.notes)).toMatch(/invented/i);
    }
  });

  test('has doors 0.9 to 1.0 m wide', () => {
    const widths = (file.openings ?? [])
      .filter(({ kind }) => kind === 'door')
      .map(({ from, to }) => Math.hypot(to[0] - from[0], to[1] - from[1]));
    expect(widths.length).toBeGreaterThan(1);
    for (const width of widths) {
      expect(width).toBeGreaterThan(0.899);
      expect(width).toBeLessThan(1.001);
    }
  });

  test('has its workplaces in rooms, each within a walk of the entrance', () => {
    const { rooms } = resolveFloor(file);
    for (const { at } of file.workplaces ?? []) expect(findRoomAt(rooms, [at[0], at[1]])).toBeDefined();
    expect(listUnreachable(file, ENTRIES[name]!)).toEqual([]);
  });

  test('has every piece and luminaire wholly in one room', () => {
    const { rooms, furniture, luminaires } = resolveFloor(file);
    const flat = luminaires.map(({ id, at, size, turn }) => ({ id, outline: turnedBox(...at, ...size, turn) }));
    for (const { id, outline } of [...furniture, ...flat]) {
      const cx = outline.reduce((sum, [x]) => sum + x, 0) / outline.length;
      const cy = outline.reduce((sum, [, y]) => sum + y, 0) / outline.length;
      // A hair inwards, so that a piece may stand against its wall.
      const held = outline.map(([x, y]) => findRoomAt(rooms, [x + (cx - x) * 0.01, y + (cy - y) * 0.01])?.id);
      expect(new Set(held), id).toEqual(new Set([findRoomAt(rooms, [cx, cy])?.id]));
      expect(held[0], id).toBeDefined();
    }
  });

  test('meets most workplaces and misses some', () => {
    const { workplaces } = createCoverage(resolveFloor(file));
    const met = workplaces.filter((workplace) => workplace.met).length;
    expect(met).toBeGreaterThanOrEqual(0.7 * workplaces.length);
    expect(met).toBeLessThan(workplaces.length);
  });
});

test('between them the floors give rise to findings of every common kind', () => {
  const codes = new Set(NAMES.flatMap((name) => check(resolveFloor(readFloor(name))).findings.map(({ code }) => code)));
  for (const code of [
    'workplace-hidden',
    'workplace-out-of-range',
    'wrong-group',
    'range-margin',
    'outside-table',
    'late-entrance',
    'end-on',
    'heat-near',
    'spill',
    'zone-blind',
    'nobody-seen',
    'assumed-input',
    'serves-unknown',
    'opening-cuts-nothing',
    'hung-near-lens',
    'group-limit',
    'emergency-in-group',
  ]) {
    expect([...codes]).toContain(code);
  }
});

test('a workplace walled in by shelves is unreachable', () => {
  const file = structuredClone(readFloor('desk-island.json')) as FloorFile;
  const [seat] = file.workplaces!;
  const [x, y] = seat!.at;
  const ring = ([dx, dy, w, h]: readonly [number, number, number, number]): XY[] => [
    [x + dx, y + dy],
    [x + dx + w, y + dy],
    [x + dx + w, y + dy + h],
    [x + dx, y + dy + h],
  ];
  const walls = (
    [
      [-0.8, -0.8, 1.6, 0.1],
      [-0.8, 0.7, 1.6, 0.1],
      [-0.8, -0.8, 0.1, 1.6],
      [0.7, -0.8, 0.1, 1.6],
    ] as const
  ).map((wall, index) => ({
    id: `cage-${index}`,
    kind: 'shelving' as const,
    name: 'Shelf',
    outline: ring(wall),
    top: 2.2,
  }));
  expect(listUnreachable({ ...file, furniture: walls }, ENTRIES['desk-island.json']!)).toEqual([seat!.id]);
});

test('lenses sit in the middle of a ceiling tile, save those over partitions', () => {
  const lenses = NAMES.flatMap((name) => {
    const { rooms, detectors } = resolveFloor(readFloor(name));
    return detectors.flatMap(({ at }) => {
      const tiles = findRoomAt(rooms, at)?.tiles;
      if (tiles === undefined) return [];
      const offset = [0, 1].map(
        (axis) => Math.abs((((((at[axis]! - tiles.origin[axis]!) / 0.6) % 1) + 1) % 1) - 0.5) * 0.6,
      );
      return [Math.max(...offset) < 0.002];
    });
  });
  expect(lenses.length).toBeGreaterThan(50);
  expect(lenses.filter((centred) => centred).length / lenses.length).toBeGreaterThan(0.8);
});

describe('sizes', () => {
  test('the open-plan office is of about 1,000 m², with 100 workplaces, 25 detectors, 400 pieces and walls', () => {
    const file = readFloor('open-plan-office.json');
    expect(areaOf(file)).toBeGreaterThan(950);
    expect(areaOf(file)).toBeLessThan(1050);
    expect(file.workplaces!.length).toBeGreaterThanOrEqual(100);
    expect(file.detectors.length).toBeGreaterThanOrEqual(25);
    const wallEdges = file.rooms.reduce((sum, { outline }) => sum + outline.length, 0);
    expect(file.furniture!.length + file.luminaires!.length + wallEdges).toBeGreaterThanOrEqual(400);
    expect(file.revision!.length).toBeGreaterThan(0);
  });

  test('the desk island is of about 100 m², the archive of more than 400 m²', () => {
    expect(areaOf(readFloor('desk-island.json'))).toBeCloseTo(100, -1);
    expect(areaOf(readFloor('archive.json'))).toBeGreaterThan(400);
  });
});

describe('detector types', () => {
  const types = readDetectorTypes();

  test('there are at least nine, all invented, and a floor made of all of them is valid', () => {
    expect(types.length).toBeGreaterThanOrEqual(9);
    for (const type of types) expect(type.origin).toBe('invented');
    const rooms = [
      {
        id: 'room',
        name: 'Room',
        outline: [
          [0, 0],
          [4, 0],
          [4, 4],
          [0, 4],
        ] as XY[],
        ceiling: 3,
      },
    ];
    const parsed = parseFloor(JSON.stringify({ format: 'lacuna/1', name: 'All types', rooms, types, detectors: [] }));
    expect(parsed.ok ? [] : parsed.faults.map(formatFault)).toEqual([]);
  });

  test('rows of one motion rise with the mounting height, and so do their sizes', () => {
    let pairs = 0;
    for (const { ranges } of types) {
      ranges.forEach((row, index) => {
        const next = ranges[index + 1];
        if (next?.motion !== row.motion) return;
        pairs += 1;
        expect(next.mounting).toBeGreaterThan(row.mounting);
        for (const size of ['diameter', 'length', 'width'] as const) {
          if (size in row) expect(sizeOf(next, size)).toBeGreaterThanOrEqual(sizeOf(row, size));
        }
      });
    }
    expect(pairs).toBeGreaterThan(40);
  });

  test('walking past reaches further than walking at it, and that further than small movements', () => {
    let compared = 0;
    for (const { ranges } of types) {
      for (const row of ranges) {
        const weaker = row.motion === 'tangential' ? 'radial' : row.motion === 'radial' ? 'minor' : undefined;
        const other = ranges.find(({ motion, mounting }) => motion === weaker && mounting === row.mounting);
        if (other === undefined) continue;
        compared += 1;
        for (const size of ['diameter', 'length', 'width'] as const) {
          if (size in row) expect(sizeOf(row, size)).toBeGreaterThan(sizeOf(other, size));
        }
      }
    }
    expect(compared).toBeGreaterThan(40);
  });
});

type Row = FloorFile['types'][number]['ranges'][number];
function sizeOf(row: Row, size: 'diameter' | 'length' | 'width'): number {
  const value = (row as Partial<Record<typeof size, number>>)[size];
  if (value === undefined) throw new Error(`a row of ${row.motion} at ${row.mounting} m has no ${size}`);
  return value;
}

test('the furniture catalogue holds pieces that a floor may hold, each with the standing of its sizes', () => {
  interface CataloguePiece {
    readonly id: string;
    readonly length: number;
    readonly width: number;
    readonly standing: Record<string, string>;
  }
  const text = readFileSync(new URL('../../models/furniture/catalogue.json', import.meta.url), 'utf8');
  const { pieces, notes } = JSON.parse(text) as { pieces: readonly CataloguePiece[]; notes: string };
  expect(notes).toMatch(/invented/i);
  const furniture = pieces.map(({ length, width, standing, ...piece }, index) => {
    expect(Object.keys(standing).length).toBeGreaterThan(0);
    const y = index * 2;
    return {
      ...piece,
      outline: [
        [0, y],
        [length, y],
        [length, y + width],
        [0, y + width],
      ],
    };
  });
  const rooms = [
    {
      id: 'room',
      name: 'Room',
      outline: [
        [0, 0],
        [9, 0],
        [9, 99],
        [0, 99],
      ],
      ceiling: 7,
    },
  ];
  const parsed = parseFloor(
    JSON.stringify({ format: 'lacuna/1', name: 'Catalogue', rooms, furniture, types: [], detectors: [] }),
  );
  expect(parsed.ok ? [] : parsed.faults.map(formatFault)).toEqual([]);
});

test.each(['scenario-a.json', 'scenario-b.json'])('%s is a valid floor', (name) => {
  const parsed = parseFloor(readFileSync(new URL(name, import.meta.url), 'utf8'));
  expect(parsed.ok ? [] : parsed.faults.map(formatFault)).toEqual([]);
});
