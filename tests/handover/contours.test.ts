import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Holds, type Loop, smoothLoop, traceLoops } from '../../src/handover/plan/contours.ts';

const areaOf = (loop: Loop): number => {
  let twice = 0;
  for (let k = 0; k < loop.length; k += 2) {
    const [x0, y0, x1, y1] = [loop[k]!, loop[k + 1]!, loop[(k + 2) % loop.length]!, loop[(k + 3) % loop.length]!];
    twice += x0 * y1 - x1 * y0;
  }
  return twice / 2;
};

/** Rows from the top down, `#` for a cell that belongs. */
const grid = (...rows: string[]): { nx: number; ny: number; holds: Holds } => ({
  nx: rows[0]!.length,
  ny: rows.length,
  holds: (i, j) => rows[rows.length - 1 - j]?.[i] === '#',
});

const isInside = (loops: readonly Loop[], x: number, y: number): boolean => {
  let inside = false;
  for (const loop of loops) {
    for (let k = 0; k < loop.length; k += 2) {
      const [x0, y0, x1, y1] = [loop[k]!, loop[k + 1]!, loop[(k + 2) % loop.length]!, loop[(k + 3) % loop.length]!];
      if (y0 > y !== y1 > y && x < x0 + ((x1 - x0) * (y - y0)) / (y1 - y0)) inside = !inside;
    }
  }
  return inside;
};

describe('traceLoops', () => {
  test('one cell is a square, counter-clockwise', () => {
    const { nx, ny, holds } = grid('...', '.#.', '...');
    const loops = traceLoops(nx, ny, holds);
    expect(loops).toHaveLength(1);
    expect(loops[0]).toHaveLength(8);
    expect(areaOf(loops[0]!)).toBe(1);
  });

  test('a hole runs clockwise', () => {
    const { nx, ny, holds } = grid('####', '#..#', '####');
    expect(
      traceLoops(nx, ny, holds)
        .map(areaOf)
        .sort((a, b) => a - b),
    ).toEqual([-2, 12]);
  });

  test('cells that share only a corner are two areas, and holes that do are two holes', () => {
    const { nx, ny, holds } = grid('.#', '#.');
    expect(traceLoops(nx, ny, holds).map(areaOf)).toEqual([1, 1]);
    const holes = grid('####', '#.##', '##.#', '####');
    const areas = traceLoops(holes.nx, holes.ny, holes.holds).map(areaOf);
    // Through the shared corner both are walked round at once, or each by itself: together they hold two cells.
    expect(areas.reduce((sum, area) => sum + area, 0)).toBe(14);
  });

  test('nothing gives nothing', () => {
    expect(traceLoops(4, 4, () => false)).toEqual([]);
  });

  test('the loops hold exactly the cells that belong, whatever they are', () => {
    const cells = fc
      .integer({ min: 1, max: 9 })
      .chain((nx) =>
        fc
          .integer({ min: 1, max: 9 })
          .chain((ny) =>
            fc.array(fc.boolean(), { minLength: nx * ny, maxLength: nx * ny }).map((bits) => ({ nx, ny, bits })),
          ),
      );
    fc.assert(
      fc.property(cells, ({ nx, ny, bits }) => {
        const holds: Holds = (i, j) => i >= 0 && j >= 0 && i < nx && j < ny && bits[j * nx + i] === true;
        const loops = traceLoops(nx, ny, holds);
        expect(loops.reduce((sum, loop) => sum + areaOf(loop), 0)).toBe(bits.filter(Boolean).length);
        for (let j = 0; j < ny; j++) {
          for (let i = 0; i < nx; i++) expect(isInside(loops, i + 0.5, j + 0.5)).toBe(holds(i, j));
        }
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});

describe('smoothLoop', () => {
  test('a rectangle keeps its corners', () => {
    const { nx, ny, holds } = grid('.....', '.####', '.####', '.####', '.....');
    const [loop] = traceLoops(nx, ny, holds);
    expect(smoothLoop(loop!)).toEqual(loop);
  });

  test('an L of long sides keeps its six corners', () => {
    const { nx, ny, holds } = grid(
      '####....',
      '####....',
      '####....',
      '####....',
      '########',
      '########',
      '########',
      '########',
    );
    const [loop] = traceLoops(nx, ny, holds);
    expect(smoothLoop(loop!)).toHaveLength(12);
    expect(areaOf(smoothLoop(loop!))).toBe(48);
  });

  test.each([30, 18.4, 45, 7])('the stairs of a line at %f° become one line within a cell of it', (degrees) => {
    const slope = Math.tan((degrees * Math.PI) / 180);
    const holds: Holds = (i, j) => i >= 0 && j >= 0 && i < 60 && j + 0.5 < 2 + slope * (i + 0.5);
    const [loop] = traceLoops(60, 70, holds);
    const smooth = smoothLoop(loop!);
    expect(smooth.length / 2).toBeLessThanOrEqual(8);
    for (let k = 0; k < smooth.length; k += 2) {
      const [x, y] = [smooth[k]!, smooth[k + 1]!];
      if (y === 0 || x === 0 || x > 58) continue;
      expect(Math.abs(y - (2 + slope * x)) * Math.cos(Math.atan(slope))).toBeLessThan(1);
    }
  });

  test('the area of a round blob stays within the width of half a cell round its rim', () => {
    const holds: Holds = (i, j) => Math.hypot(i + 0.5 - 30, j + 0.5 - 30) < 21;
    const loops = traceLoops(60, 60, holds);
    const cells = loops.reduce((sum, loop) => sum + areaOf(loop), 0);
    const smooth = loops.map(smoothLoop).reduce((sum, loop) => sum + areaOf(loop), 0);
    expect(loops).toHaveLength(1);
    expect(Math.abs(smooth - cells)).toBeLessThan(2 * Math.PI * 21 * 0.5);
  });
});
