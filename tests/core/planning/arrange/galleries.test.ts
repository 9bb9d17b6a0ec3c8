/** Floors whose fewest are known: comb, U, ring, cross, corridor; and the answer's own verdict. */
import { describe, expect, test } from 'vitest';
import { check } from '../../../../src/core/coverage/index.ts';
import { type FloorFile, resolveFloor, validateFloor } from '../../../../src/core/floor/index.ts';
import { guardsThatSuffice } from '../../../../src/core/planning/arrange/bounds.ts';
import { rect, row, type XY } from '../../sight/build-floor.ts';
import { arrangeExactly, comb, galleryFloor } from './build-gallery.ts';

const U_ROOM: XY[] = [
  [0, 0],
  [6, 0],
  [6, 6],
  [4, 6],
  [4, 2],
  [2, 2],
  [2, 6],
  [0, 6],
];
const CROSS: XY[] = [
  [2, 0],
  [4, 0],
  [4, 2],
  [6, 2],
  [6, 4],
  [4, 4],
  [4, 6],
  [2, 6],
  [2, 4],
  [0, 4],
  [0, 2],
  [2, 2],
];

async function fewest(file: FloorFile, pitch: number) {
  const arranged = await arrangeExactly(file, { grid: { kind: 'pitch', pitch }, seconds: 60 });
  if (!arranged.ok) throw new Error(arranged.text);
  return arranged;
}

describe('floors with known optima', () => {
  test.each([2, 3, 5])('a comb of %i teeth needs one for each', async (teeth) => {
    const outline = comb(teeth);
    const { result } = await fewest(galleryFloor(outline), 0.5);
    expect(result).toMatchObject({ count: teeth, proved: true, met: true });
    expect(result.count).toBeLessThanOrEqual(guardsThatSuffice(outline.length, 0, false));
  });

  test('the U needs two, the square ring two, the cross one', async () => {
    expect((await fewest(galleryFloor(U_ROOM), 0.5)).result).toMatchObject({ count: 2, proved: true, met: true });
    const ring = galleryFloor(rect(0, 0, 3, 3), [rect(1, 1, 2, 2)], 100, 0.05);
    // Opposite corners see all: places as near to a corner as a lens may hang.
    expect((await fewest(ring, 0.1)).result).toMatchObject({ count: 2, proved: true, met: true });
    expect((await fewest(galleryFloor(CROSS), 0.5)).result).toMatchObject({ count: 1, proved: true, met: true });
  });

  test('a corridor of 24 × 2 m with ranges of 4 m needs four', async () => {
    expect((await fewest(galleryFloor(rect(0, 0, 24, 2), [], 8), 0.5)).result).toMatchObject({
      count: 4,
      proved: true,
    });
  });
});

const OFFICE: FloorFile = {
  ...galleryFloor(rect(0, 0, 12, 8)),
  rooms: [
    { id: 'a', name: 'A', outline: rect(0, 0, 12, 8) as never, ceiling: 2.8 },
    { id: 'b', name: 'B', outline: rect(12, 0, 18, 8) as never, ceiling: 2.8 },
  ],
  zones: [],
  workplaces: [
    { id: 'W1', name: 'W1', at: [2, 2] },
    { id: 'W2', name: 'W2', at: [10, 6] },
    { id: 'W3', name: 'W3', at: [15, 4] },
  ],
  types: [{ id: 't', name: 'Type', ranges: [row('minor', 2.8, 0.8, 9)] }],
};

describe('what an arrangement keeps', () => {
  test('each room has its own: a wall parts what a glass or an open door would join', async () => {
    const { result, proposal } = await fewest(OFFICE, 1);
    expect(result).toMatchObject({ count: 3, proved: true, met: true, workplacesMet: [3, 3] });
    const sizes = proposal.file.groups?.map(({ extensions = [] }) => 1 + extensions.length);
    expect(sizes).toEqual([2, 1]);
    const judged = validateFloor(structuredClone(proposal.file));
    expect(judged.ok).toBe(true);
    expect(check(resolveFloor(proposal.file)).workplacesMet).toEqual([3, 3]);
  });

  test('existing and locked detectors stay and count; others are replaced, with their groups', async () => {
    const hung: FloorFile = {
      ...OFFICE,
      detectors: [
        { id: 'old', name: 'Old', type: 't', at: [2, 2.5], status: 'existing' },
        { id: 'D1', name: 'D1', type: 't', at: [9, 5], locked: true },
        { id: 'gone', name: 'Gone', type: 't', at: [15, 1] },
      ],
      groups: [{ id: 'G', name: 'Small room', main: 'gone', settings: { level: 500 } }],
      luminaires: [{ id: 'L', name: 'L', at: [15, 6], size: [1, 0.2], base: 2.75, top: 2.8, group: 'G' }],
    };
    const { result, proposal } = await fewest(hung, 1);
    expect(result).toMatchObject({ count: 1, staying: 2, replaced: 1, met: true });
    expect(proposal.added).toEqual(['D2']);
    expect(proposal.file.detectors.map(({ id }) => id)).toEqual(['old', 'D1', 'D2']);
    expect(proposal.file.groups).toEqual([
      { id: 'G', name: 'Small room', main: 'D2', extensions: [], settings: { level: 500 } },
    ]);
    expect(proposal.file.luminaires?.[0]?.group).toBe('G');
    const all = await arrangeExactly(hung, { kept: 'all', grid: { kind: 'pitch', pitch: 1 } });
    expect(all.ok && all.result).toMatchObject({ staying: 3, replaced: 0, met: true });
  });

  test('the file that is read is not changed', async () => {
    const before = JSON.stringify(OFFICE);
    await fewest(OFFICE, 1);
    expect(JSON.stringify(OFFICE)).toBe(before);
  });

  test('a zone where nobody may be seen stays dark, or it is said that needs contradict', async () => {
    const dark: FloorFile = {
      ...OFFICE,
      zones: [{ id: 'N', name: 'Dark', outline: rect(4, 0, 5, 8) as never, need: 'nobody' }],
    };
    const { result } = await fewest(dark, 0.5);
    expect(result.zonesMet).toEqual([1, 1]);
    const around: FloorFile = {
      ...OFFICE,
      zones: [{ id: 'N', name: 'Dark', outline: rect(1, 1, 3, 3) as never, need: 'nobody' }],
    };
    const contradicted = await fewest(around, 0.5);
    expect(contradicted.result.met).toBe(false);
    expect(contradicted.result.unmet.map(({ id }) => id)).toEqual(['W1']);
    expect(contradicted.result.unmet[0]?.text).toContain('contradict');
  });

  test('a price for each type: the cheaper of two ways', async () => {
    const two: FloorFile = {
      ...OFFICE,
      types: [...OFFICE.types, { id: 'wide', name: 'Wide', ranges: [row('minor', 2.8, 0.8, 24)] }],
    };
    const types = ['t', 'wide'] as never;
    const grid = { kind: 'pitch', pitch: 1 } as const;
    const count = await arrangeExactly(two, { types, grid });
    expect(count.ok && count.result).toMatchObject({ count: 2, cost: 2, proved: true });
    const dear = await arrangeExactly(two, { types, grid, prices: { wide: 5 } });
    expect(dear.ok && dear.result).toMatchObject({ count: 3, cost: 3, proved: true });
  });

  test('off the grid one is saved, and the answer on the grid is told beside it', async () => {
    const hall = galleryFloor(rect(0, 0, 7.2, 2), [], 8);
    // Two places: off the middle to either side, neither reaches every corner by itself.
    const tiles = { origin: [-0.1, 0.2] as [number, number], pitch: [8, 0.8] as [number, number] };
    const tiled: FloorFile = { ...hall, rooms: hall.rooms.map((each) => ({ ...each, tiles })) };
    const arranged = await arrangeExactly(tiled, { grid: { kind: 'tiles' }, offGrid: true });
    expect(arranged.ok && arranged.result).toMatchObject({ gridCost: 2, cost: 1, count: 1, proved: true, met: true });
  });
});

describe('what cannot be', () => {
  const say = async (file: FloorFile, options: Parameters<typeof arrangeExactly>[1] = {}) => {
    const arranged = await arrangeExactly(file, { grid: { kind: 'pitch', pitch: 1 }, ...options });
    return arranged.ok ? arranged.result.unmet.map(({ text }) => text).join(' ') : arranged.text;
  };

  test('is said in words, with the reason', async () => {
    expect(await say({ ...OFFICE, workplaces: [] })).toContain('asks for nothing');
    expect(await say(OFFICE, { types: [] })).toContain('No detector type');
    expect(await say(OFFICE, { needs: ['X'] })).toContain('There is no workplace or zone X');
    expect(await say(OFFICE, { keepOuts: { wall: 5, outlet: 0, lamp: 0, areas: [] } })).toContain('keep-outs take all');
    expect(await say({ ...OFFICE, rooms: OFFICE.rooms.map((each) => ({ ...each, ceiling: 6 })) })).toContain(
      'The ceiling is 6.00 m high',
    );
    const shelf = {
      id: 'S',
      name: 'Shelf',
      kind: 'shelving',
      outline: rect(1.2, 1.2, 2.8, 2.8) as never,
      top: 0.5,
    } as const;
    expect(await say({ ...OFFICE, furniture: [{ ...shelf, top: 2.5 }] })).toContain('furniture takes all of it');
    const walls = { ...shelf, outline: rect(0.5, 4, 3.5, 4.2) as never, top: 2.8 };
    expect(await say({ ...OFFICE, furniture: [walls] })).toBe('');
  });
});
