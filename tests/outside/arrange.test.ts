/**
 * Three trial floors whose fewest detectors were proved by an independent set-cover model (stated with the files: every
 * cell of 0.5 m that some place sees, a grid of 1.2 m, no keep-outs), and art-gallery polygons whose published optimal
 * numbers of guards no arrangement may fall below.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { type FloorFile, parseFloor } from '../../src/core/floor/index.ts';
import { ARRANGE_DEFAULTS, arrange } from '../../src/core/planning/arrange/index.ts';
import { loadSolver } from '../../src/workers/highs-solver.ts';
import { arrangeExactly, galleryFloor } from '../core/planning/arrange/build-gallery.ts';
import type { XY } from '../core/sight/build-floor.ts';
import { findOutsideFolder } from './visibility-files.ts';

vi.setConfig({ testTimeout: 600_000 });

function readTrial(name: string): FloorFile {
  const parsed = parseFloor(readFileSync(join(findOutsideFolder('floors'), name), 'utf8'));
  if (!parsed.ok) throw new Error(`${name} is no floor`);
  return parsed.file;
}

describe('trial floors', () => {
  test.each([
    ['arrange-250-r4.json', 10, 15],
    ['arrange-1000-r6.json', 21, 33],
  ])('%s: %i are proved fewest, greedy takes at most %i', async (name, fewest, greedy) => {
    const arranged = await arrangeExactly(readTrial(name), { grid: { kind: 'pitch', pitch: 1.2 }, seconds: 300 });
    expect(arranged.ok && arranged.result).toMatchObject({ count: fewest, bound: fewest, proved: true });
    expect(arranged.ok && arranged.result.greedyCost).toBeLessThanOrEqual(greedy);
  });

  test('arrange-1000-r4.json: the proved fewest, 38, are found, and no bound passes them', async () => {
    const file = readTrial('arrange-1000-r4.json');
    const solver = await loadSolver();
    // The proof alone takes most of a minute: it is left to the speed table.
    let isNear = false;
    const types = file.types.map(({ id }) => id) as never;
    const keepOuts = { ...ARRANGE_DEFAULTS.keepOuts, wall: 0 };
    const arranged = arrange(
      file,
      { ...ARRANGE_DEFAULTS, types, keepOuts, grid: { kind: 'pitch', pitch: 1.2 }, seconds: 300 },
      {
        solver,
        now: () => performance.now(),
        shouldStop: () => isNear,
        onNews: ({ best, bound }) => {
          isNear ||= best !== null && best.count <= 38 && bound >= 36;
        },
      },
    );
    expect(arranged.ok && arranged.result).toMatchObject({ count: 38, met: true });
    expect(arranged.ok && arranged.result.bound).toBeGreaterThanOrEqual(36);
    expect(arranged.ok && arranged.result.bound).toBeLessThanOrEqual(38);
  });
});

describe('art galleries', () => {
  interface Polygon {
    readonly outer: readonly XY[];
    readonly holes: readonly (readonly XY[])[];
  }
  const folder = () => findOutsideFolder('geometry', 'agplib');
  const guards = () =>
    JSON.parse(readFileSync(join(folder(), 'published_guards.json'), 'utf8')) as Record<
      string,
      { publishedGuards: number | null }
    >;

  /** Scaled into a square of 24 m, so that ranges have no end. */
  function readGallery(name: string): FloorFile {
    const { outer, holes } = JSON.parse(readFileSync(join(folder(), `${name}.json`), 'utf8')) as Polygon;
    const xs = outer.map(([x]) => x);
    const ys = outer.map(([, y]) => y);
    const [x0, y0] = [Math.min(...xs), Math.min(...ys)];
    const scale = 24 / Math.max(Math.max(...xs) - x0, Math.max(...ys) - y0);
    const scaled = (ring: readonly XY[]): XY[] => ring.map(([x, y]) => [(x - x0) * scale, (y - y0) * scale]);
    return galleryFloor(scaled(outer), holes.map(scaled), 100, 0.1);
  }

  test.each(['randsimple-60-1', 'randsimple-60-2', 'randsimple-60-3', 'randsimple-60-4'])(
    '%s: never fewer than published, at most one more from places every 0.3 m',
    async (name) => {
      const published = guards()[name]?.publishedGuards;
      if (typeof published !== 'number') throw new Error(`${name} has no published number.`);
      const arranged = await arrangeExactly(readGallery(name), { grid: { kind: 'pitch', pitch: 0.3 }, seconds: 120 });
      if (!arranged.ok) throw new Error(arranged.text);
      const { count, proved } = arranged.result;
      expect(proved).toBe(true);
      expect([count - published >= 0, count - published <= 1]).toEqual([true, true]);
    },
  );
});
