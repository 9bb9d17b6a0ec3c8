import { expect, test } from 'vitest';
import { BLIND, headingStep, OUTSIDE, SEEN, TAKEN } from '../../../../src/core/coverage/index.ts';
import {
  type CellSource,
  type CellWindow,
  EVEN,
  joinWindows,
  NO_DETECTOR,
  PLAIN,
  SHIFTS,
  writeCellWords,
} from '../../../../src/ui/scene/field/cell-words.ts';
import { createRandom, type Random } from '../../../models/random.ts';

const bits = (word: number, shift: number, mask: number): number => (word >>> shift) & mask;

function createSource(nx: number, ny: number): CellSource {
  const cells = nx * ny;
  return {
    nx,
    ny,
    across: nx,
    step: 1,
    room: new Int16Array(cells),
    tags: Uint8Array.of(1, 2),
    headings: false,
    field: {
      state: new Uint8Array(cells).fill(SEEN),
      cause: new Uint8Array(cells),
      count: new Uint8Array(cells).fill(1),
      heading: null,
      nearest: new Int16Array(cells).fill(-1),
    },
  };
}

function paint({ nx, field }: CellSource, window: CellWindow, state: number, cause = 0, nearest = -1): void {
  for (let j = window.j0; j < window.j1; j++) {
    for (let i = window.i0; i < window.i1; i++) {
      field.state[j * nx + i] = state;
      field.cause[j * nx + i] = cause;
      field.count[j * nx + i] = state === SEEN ? 1 : 0;
      field.nearest[j * nx + i] = nearest;
    }
  }
}

const whole = ({ nx, ny }: CellSource): CellWindow => ({ i0: 0, j0: 0, i1: nx, j1: ny });

function randomWindow(random: Random, { nx, ny }: CellSource, most: number): CellWindow {
  const i0 = random.whole(0, nx - 1);
  const j0 = random.whole(0, ny - 1);
  return { i0, j0, i1: Math.min(nx, i0 + random.whole(1, most)), j1: Math.min(ny, j0 + random.whole(1, most)) };
}

/** Bits of every cell of a window, 32 a number, whole rows of the grid. */
function markStale({ nx, ny }: CellSource, window: CellWindow): Int32Array {
  const across = Math.ceil(nx / 32);
  const stale = new Int32Array(across * ny);
  for (let j = window.j0; j < window.j1; j++) {
    for (let i = window.i0; i < window.i1; i++) stale[j * across + (i >> 5)]! |= 1 << (i & 31);
  }
  return stale;
}

test('a window brought up to date gives the words of a full rebuild, bit for bit', () => {
  let changed = 0;
  for (let seed = 0; seed < 16; seed++) {
    const random = createRandom(seed);
    const source = createSource(random.whole(5, 90), random.whole(5, 90));
    source.room.fill(-1, 0, source.nx * random.whole(0, 2));
    for (let k = 0; k < source.room.length; k++) if (k % source.nx > source.nx / 2) source.room[k] = 1;
    const words = new Uint32Array(source.nx * source.ny);
    writeCellWords(words, source, whole(source));
    for (let step = 0; step < 12; step++) {
      const window = randomWindow(random, source, 25);
      paint(source, window, random.pick([BLIND, SEEN, TAKEN, OUTSIDE]), random.whole(1, 4), random.whole(-1, 30));
      const before = words.slice();
      // Bits of the stale cells say the same as the whole window.
      const stale = random.chance(0.5) ? markStale(source, window) : null;
      const told = writeCellWords(words, source, window, stale);
      expect(stale?.some((word) => word !== 0) ?? false).toBe(false);
      const anew = new Uint32Array(words.length);
      writeCellWords(anew, source, whole(source));
      expect(
        words.findIndex((word, k) => word !== anew[k]),
        `seed ${seed}, step ${step}`,
      ).toBe(-1);
      const outside = words.findIndex((word, k) => {
        if (word === before[k]) return false;
        changed++;
        const [i, j] = [k % source.nx, Math.floor(k / source.nx)];
        return i < told.i0 || i >= told.i1 || j < told.j0 || j >= told.j1;
      });
      expect(outside, 'a change outside the window told').toBe(-1);
    }
  }
  expect(changed).toBeGreaterThan(10_000);
}, 30_000);

test('a word says state, cause, count, room and nearest lens', () => {
  const source = createSource(9, 9);
  source.field.count[0] = 3;
  source.field.count[1] = 200;
  source.room[2] = 1;
  paint(source, { i0: 4, j0: 4, i1: 5, j1: 5 }, BLIND, 2, 1_999);
  paint(source, { i0: 6, j0: 4, i1: 7, j1: 5 }, BLIND, 3, -1);
  const words = new Uint32Array(81);
  writeCellWords(words, source, whole(source));
  expect(bits(words[0]!, 0, 3)).toBe(SEEN);
  expect(bits(words[0]!, SHIFTS.look, 7)).toBe(3);
  expect(bits(words[1]!, SHIFTS.look, 7)).toBe(5);
  expect(bits(words[0]!, SHIFTS.tag, 15)).toBe(1);
  expect(bits(words[2]!, SHIFTS.tag, 15)).toBe(2);
  const blind = words[4 * 9 + 4]!;
  expect(bits(blind, 0, 3)).toBe(BLIND);
  expect(bits(blind, SHIFTS.look, 7)).toBe(2);
  expect(bits(blind, SHIFTS.nearest, 2047)).toBe(1_999);
  expect(bits(words[4 * 9 + 6]!, SHIFTS.nearest, 2047)).toBe(NO_DETECTOR);
});

test('a strip is narrow along its whole length, the tip of a broad area is not', () => {
  const source = createSource(40, 40);
  paint(source, { i0: 2, j0: 2, i1: 38, j1: 4 }, BLIND, 1, 0);
  for (let j = 0; j < 12; j++) paint(source, { i0: 5, j0: 20 + j, i1: 6 + j, j1: 21 + j }, BLIND, 1, 0);
  const words = new Uint32Array(1_600);
  writeCellWords(words, source, whole(source));
  const breadth = (i: number, j: number) => bits(words[j * 40 + i]!, SHIFTS.breadth, 7);
  for (let i = 2; i < 38; i++) expect(breadth(i, 2)).toBe(2);
  // The wedge begins one cell wide and ends twelve wide.
  expect(breadth(5, 24)).toBeGreaterThan(4);
  expect(breadth(10, 31)).toBe(7);
  expect(breadth(30, 30)).toBe(0);
});

/** Breadth by its rule, cell by cell: the lesser run both ways, lent along the row, then along the column. */
function breadthsOf({ nx, ny, field }: CellSource): number[] {
  const blind = (i: number, j: number) => i >= 0 && i < nx && j >= 0 && j < ny && field.state[j * nx + i] === BLIND;
  const along = (i: number, j: number, di: number, dj: number, most: number, visit: (i: number, j: number) => void) => {
    for (let n = 1; n <= most && blind(i + n * di, j + n * dj); n++) visit(i + n * di, j + n * dj);
  };
  const each = (value: (i: number, j: number) => number) =>
    Array.from({ length: nx * ny }, (_, k) =>
      blind(k % nx, Math.floor(k / nx)) ? value(k % nx, Math.floor(k / nx)) : 0,
    );
  const run = (i: number, j: number, di: number, dj: number) => {
    let length = 1;
    for (const way of [-1, 1]) along(i, j, way * di, way * dj, Infinity, () => length++);
    return Math.min(7, length);
  };
  const lend = (values: readonly number[], di: number, dj: number) =>
    each((i, j) => {
      let most = values[j * nx + i]!;
      for (const way of [-1, 1])
        along(i, j, way * di, way * dj, 7, (u, v) => {
          most = Math.max(most, values[v * nx + u]!);
        });
      return most;
    });
  return lend(
    lend(
      each((i, j) => Math.min(run(i, j, 1, 0), run(i, j, 0, 1))),
      1,
      0,
    ),
    0,
    1,
  );
}

test('breadth follows its rule on random areas, at the borders of words too', () => {
  const met = new Map<number, number>();
  for (let seed = 0; seed < 20; seed++) {
    const random = createRandom(900 + seed);
    const source = createSource(random.whole(20, 110), random.whole(20, 60));
    for (let k = 0; k < 90; k++)
      paint(source, randomWindow(random, source, 14), random.pick([BLIND, BLIND, SEEN]), 1, 0);
    const words = new Uint32Array(source.nx * source.ny);
    writeCellWords(words, source, whole(source));
    const got = Array.from(words, (word) => bits(word, SHIFTS.breadth, 7));
    expect(got, `seed ${seed}`).toEqual(breadthsOf(source));
    for (const breadth of got) met.set(breadth, (met.get(breadth) ?? 0) + 1);
  }
  expect(met.size).toBe(8);
  expect(Math.min(...met.values())).toBeGreaterThan(50);
});

test('softness never turns a cell into what it is not', () => {
  let soft = 0;
  for (let seed = 0; seed < 20; seed++) {
    const random = createRandom(500 + seed);
    const source = createSource(30, 30);
    for (let k = 0; k < 60; k++) paint(source, randomWindow(random, source, 4), random.pick([BLIND, SEEN]), 1, 0);
    const words = new Uint32Array(900);
    writeCellWords(words, source, whole(source));
    for (const word of words) {
      const q = bits(word, SHIFTS.soft, 15) / 32;
      const value = bits(word, 0, 3) === BLIND ? 0.53125 + q : q;
      expect(value > 0.5).toBe(bits(word, 0, 3) === BLIND);
      if (value > 0 && value < 1) soft++;
    }
  }
  expect(soft).toBeGreaterThan(1_000);
});

test('even and plain tell where a shader need not look round', () => {
  const source = createSource(20, 20);
  paint(source, { i0: 10, j0: 0, i1: 20, j1: 20 }, BLIND, 1, 0);
  source.field.count[5 * 20 + 3] = 4;
  paint(source, { i0: 3, j0: 15, i1: 4, j1: 16 }, TAKEN);
  const words = new Uint32Array(400);
  writeCellWords(words, source, whole(source));
  const at = (i: number, j: number) => words[j * 20 + i]!;
  expect(at(2, 10) & PLAIN).toBe(PLAIN);
  expect(at(9, 10) & EVEN).toBe(0);
  expect(at(10, 10) & EVEN).toBe(0);
  expect(at(12, 10) & EVEN).toBe(EVEN);
  // Beside a cell that more detectors see: the blind view has nothing to draw there, the amounts have.
  expect(at(4, 5) & EVEN).toBe(EVEN);
  expect(at(4, 5) & PLAIN).toBe(0);
  // Under furniture nothing is known, so nothing changes there.
  expect(at(4, 15) & PLAIN).toBe(PLAIN);
  expect(at(3, 15) & EVEN).toBe(0);
});

test('headings come in five equal steps', () => {
  expect([0, 1e-9, 0.2, 0.21, 0.4, 0.6, 0.75, 0.8, 0.81, 1].map(headingStep)).toEqual([0, 1, 1, 2, 2, 3, 4, 4, 5, 5]);
});

test('two windows join to the smallest that holds both', () => {
  const a = { i0: 2, j0: 3, i1: 5, j1: 9 };
  expect(joinWindows(null, a)).toEqual(a);
  expect(joinWindows({ i0: 4, j0: 0, i1: 9, j1: 4 }, a)).toEqual({ i0: 2, j0: 0, i1: 9, j1: 9 });
});

test('in the headings view too few headings are an amount, in the others they are blind', () => {
  const source = createSource(9, 9);
  const heading = new Float32Array(81).fill(1);
  heading[40] = 0.5;
  paint(source, { i0: 4, j0: 4, i1: 5, j1: 5 }, BLIND, 4, 3);
  const words = new Uint32Array(81);
  const field = { ...source.field, heading };
  writeCellWords(words, { ...source, field }, whole(source));
  expect(bits(words[40]!, 0, 3)).toBe(BLIND);
  writeCellWords(words, { ...source, field, headings: true }, whole(source));
  expect(bits(words[40]!, 0, 3)).toBe(SEEN);
  expect(bits(words[40]!, SHIFTS.step, 7)).toBe(3);
  expect(words[31]! & EVEN).toBe(EVEN);
});
