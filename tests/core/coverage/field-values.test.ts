/** Every value of the fields, worked out again cell by cell from what each detector sees. */
import { afterAll, describe, expect, test } from 'vitest';
import { computeHeadingShare, crosses } from '../../../src/core/coverage/headings.ts';
import type { Coverage } from '../../../src/core/coverage/index.ts';
import { createCoverage, updateCoverage } from '../../../src/core/coverage/index.ts';
import type { FloorFile, Motion, Point } from '../../../src/core/floor/index.ts';
import { findRoomAt } from '../../../src/core/floor/index.ts';
import { isInRing } from '../../../src/core/geometry/polygon.ts';
import { hasCell } from '../../../src/core/sight/index.ts';
import { createRandom } from '../../models/random.ts';
import { randomFloor } from '../../models/random-floor.ts';
import { FAR_TYPE, readFloor, rect } from '../sight/build-floor.ts';
import { listServing } from './serving-by-rule.ts';

const OUTSIDE = 0;
const TAKEN = 1;
const BLIND = 2;
const SEEN = 3;
const [HIDDEN, MASKED, RANGE, HEADINGS] = [1, 2, 3, 4];

const tally = { cells: 0, blind: 0, mixed: 0 };
afterAll(() => {
  console.info(
    `field values: ${tally.cells} occupiable cells, ${tally.blind} of them blind, ${tally.mixed} with some of the headings`,
  );
});

/** Share of headings that some sight line crosses, by asking 3,600 of them. */
function sampleHeadingShare(directions: readonly number[], crossingAngle: number): number {
  let seen = 0;
  for (let k = 0; k < 3600; k++) {
    const heading = (k + 0.5) / 20;
    if (directions.some((direction) => crosses(heading, direction, crossingAngle))) seen++;
  }
  return seen / 3600;
}

interface Wanted {
  readonly count: number;
  readonly state: number;
  readonly cause: number;
  readonly nearest: number;
  /** Walking only. */
  readonly heading: number;
}

/** The values of one cell by the rules, from the layers of the detectors that serve it. */
function judgeCell(coverage: Coverage, i: number, j: number, serving: readonly number[], walking: boolean): Wanted {
  const { layers, floor, scene, grid } = coverage;
  const { x0, y0, cell } = grid.lattice;
  const [x, y] = [x0 + (i + 0.5) * cell, y0 + (j + 0.5) * cell];
  const motions: readonly Motion[] = walking ? ['tangential', 'radial'] : ['minor'];
  const has = (d: number, motion: Motion, what: 'seen' | 'inRange' | 'masked') => {
    const raster = layers[d]![motion]?.[what];
    return raster ? hasCell(raster, i, j) : false;
  };
  const away = (d: number) => Math.hypot(x - scene.lenses[d]!.x, y - scene.lenses[d]!.y);
  const nearestOf = (those: readonly number[]) => those.reduce((a, b) => (away(b) < away(a) ? b : a), those[0] ?? -1);
  const seeing = serving.filter((d) => motions.some((motion) => has(d, motion, 'seen')));
  let heading = seeing.length > 0 ? 1 : 0;
  if (walking && seeing.length > 0) {
    const everyWay = seeing.some((d) => has(d, 'radial', 'seen') || away(d) <= 0.5 + 1e-9);
    const directions = seeing.map((d) => (Math.atan2(y - scene.lenses[d]!.y, x - scene.lenses[d]!.x) * 180) / Math.PI);
    if (!everyWay) heading = computeHeadingShare(directions, floor.analysis.crossingAngle);
  }
  const enough = walking ? heading > 1e-9 && heading >= floor.analysis.headings - 1e-9 : seeing.length > 0;
  const found = { count: seeing.length, heading };
  if (enough) return { ...found, state: SEEN, cause: 0, nearest: -1 };
  if (seeing.length > 0) return { ...found, state: BLIND, cause: HEADINGS!, nearest: nearestOf(seeing) };
  const misses = (d: number, motion: Motion) => has(d, motion, 'inRange') && !has(d, motion, 'seen');
  const hidden = serving.filter((d) => motions.some((m) => misses(d, m) && !has(d, m, 'masked')));
  if (hidden.length > 0) return { ...found, state: BLIND, cause: HIDDEN!, nearest: nearestOf(hidden) };
  const masked = serving.filter((d) => motions.some((m) => misses(d, m)));
  if (masked.length > 0) return { ...found, state: BLIND, cause: MASKED!, nearest: nearestOf(masked) };
  return { ...found, state: BLIND, cause: RANGE!, nearest: -1 };
}

function compareFields(file: FloorFile): void {
  const floor = readFloor(file);
  const coverage = createCoverage(floor);
  const { grid } = coverage;
  const { x0, y0, cell, nx, ny } = grid.lattice;
  const sums = { seated: Array.from({ length: 6 }, () => 0), walking: Array.from({ length: 6 }, () => 0) };
  for (let k = 0; k < nx * ny; k++) {
    const [i, j] = [k % nx, Math.floor(k / nx)];
    const at: Point = [x0 + (i + 0.5) * cell, y0 + (j + 0.5) * cell];
    const room = findRoomAt(floor.rooms, at);
    expect(grid.room[k]).toBe(room ? floor.rooms.indexOf(room) : -1);
    const serving = listServing(floor, at);
    for (const plane of ['seated', 'walking'] as const) {
      const field = coverage[plane];
      const taken = floor.furniture.some(
        ({ base, top, outline }) =>
          isInRing(outline, ...at) &&
          (plane === 'seated' ? base <= field.height && field.height < top : base < 1.8 && top > 0.1),
      );
      const got = { count: field.count[k], state: field.state[k], cause: field.cause[k], nearest: field.nearest[k] };
      if (!room || taken) {
        expect(got).toEqual({ count: 0, state: room ? TAKEN : OUTSIDE, cause: 0, nearest: -1 });
        continue;
      }
      const { heading, ...wanted } = judgeCell(coverage, i, j, serving, plane === 'walking');
      if (plane === 'walking') {
        // Single precision, and a share just at the bound may go either way.
        expect(Math.abs(field.heading![k]! - heading)).toBeLessThan(1e-6);
        if (heading > 0 && heading < 1) tally.mixed++;
      }
      expect(got, `${floor.name}, ${plane}, ${at}`).toEqual(wanted);
      tally.cells++;
      if (wanted.state === BLIND) tally.blind++;
      sums[plane][wanted.cause]! += cell ** 2;
      if (plane === 'walking' && heading >= 1 - 1e-9) sums.walking[5]! += cell ** 2;
    }
  }
  for (const plane of ['seated', 'walking'] as const) {
    const { seenM2, hiddenM2, maskedM2, rangeM2, headingsM2, everyHeadingM2, areaM2, byCount } = coverage.areas[plane];
    [seenM2, hiddenM2, maskedM2, rangeM2, headingsM2, everyHeadingM2].forEach((area, k) => {
      expect(area).toBeCloseTo(sums[plane][k]!, 9);
    });
    expect(areaM2).toBeCloseTo(
      sums[plane].slice(0, 5).reduce((a, b) => a + b, 0),
      9,
    );
    for (const [n, area] of byCount.entries()) {
      const cells = coverage[plane].count.filter((count) => (n < 4 ? count === n + 1 : count >= 5)).length;
      expect(area).toBeCloseTo(cells * cell ** 2, 9);
    }
  }
}

describe('fields of random floors', () => {
  test.each(Array.from({ length: 16 }, (_, k) => 700 + k))('random floor %i', (seed) => {
    const file = randomFloor(seed);
    const random = createRandom(seed);
    // Without rows for walking at it, headings matter in most cells; many crossing angles, on both sides of 45°.
    const types = random.chance(0.7)
      ? file.types.map((type) => ({ ...type, ranges: type.ranges.filter(({ motion }) => motion !== 'radial') }))
      : file.types;
    const crossingAngle = random.pick([0, 10, 30, 45, 45, 46, 60, 80, 89]);
    const headings = random.pick([0.2, 0.5, 0.75, 1]);
    compareFields({ ...file, types, analysis: { cell: 0.17, crossingAngle, headings } });
  });

  test('blind, half seen and seen cells were among them', () => {
    expect(tally.cells).toBeGreaterThan(20_000);
    expect(tally.blind).toBeGreaterThan(2_000);
    expect(tally.cells - tally.blind).toBeGreaterThan(2_000);
    expect(tally.mixed).toBeGreaterThan(1_000);
  });
});

test('255 stands for 255 detectors or more, and fewer are counted again', () => {
  // The rest of the file stays the same, so that only detectors are taken off and added.
  const rest = {
    rooms: [{ id: 'R', name: 'R', outline: rect(0, 0, 10, 10), ceiling: 2.8 }],
    types: [FAR_TYPE],
    analysis: { cell: 0.5 },
  };
  const file = (used: number): FloorFile => ({
    format: 'lacuna/1',
    name: 'Many',
    ...rest,
    detectors: Array.from({ length: 300 }, (_, k) => ({
      id: `D${k}`,
      name: '',
      type: 'far',
      at: [0.5 + 0.5 * (k % 17), 0.5 + 0.5 * Math.floor(k / 17)] as const,
      status: k < used ? ('new' as const) : ('remove' as const),
    })),
  });
  const coverage = createCoverage(readFloor(file(300)));
  for (const [used, count] of [
    [300, 255],
    [256, 255],
    [255, 255],
    [254, 254],
    [9, 9],
    [8, 8],
    [7, 7],
    [0, 0],
    [260, 255],
  ] as const) {
    updateCoverage(coverage, readFloor(file(used)));
    for (const field of [coverage.seated, coverage.walking]) {
      expect(new Set(field.count), `${used} detectors`).toEqual(new Set([count]));
    }
    const most = used === 0 ? 0 : 100;
    expect(coverage.areas.seated.seenM2).toBe(most);
    expect(coverage.areas.seated.byCount.reduce((a, b) => a + b)).toBe(most);
    if (used >= 5) expect(coverage.areas.seated.byCount[4]).toBe(100);
  }
});

describe('the share of headings', () => {
  test('is what asking every heading gives, for random sets of directions', () => {
    const random = createRandom(45);
    let between = 0;
    for (let round = 0; round < 1_000; round++) {
      const directions = Array.from({ length: random.whole(1, 6) }, () => random.between(-400, 400));
      const crossingAngle = random.pick([0, 1, 15, 30, 44, 45, 46, 60, 75, 88, 89, random.between(0, 89)]);
      const share = computeHeadingShare(directions, crossingAngle);
      if (share > 0 && share < 1) between++;
      expect(Math.abs(share - sampleHeadingShare(directions, crossingAngle))).toBeLessThan(
        (2 * directions.length) / 3600,
      );
    }
    expect(between).toBeGreaterThan(500);
  });

  test.each([
    [[0], 45, 0.5],
    [[123], 45, 0.5],
    [[0, 45], 45, 0.75],
    [[0, 90], 45, 1],
    [[10, 190], 45, 0.5],
    [[0, 30], 45, 0.5 + 30 / 180],
    [[0, 170], 45, 0.5 + 10 / 180],
    [[77], 0, 1],
    [[77], 60, 1 / 3],
    [[0, 60, 120], 60, 1],
  ])('directions %j at a crossing angle of %d°: %d', (directions, crossingAngle, share) => {
    expect(computeHeadingShare(directions, crossingAngle)).toBeCloseTo(share, 12);
  });

  test('a heading is as good as its opposite, and the crossing angle itself counts', () => {
    expect([45, 135, 225, 315].map((heading) => crosses(heading, 0, 45))).toEqual([true, true, true, true]);
    expect([44.99, 135.01, 0, 180, -30].map((heading) => crosses(heading, 0, 45))).toEqual(Array(5).fill(false));
  });
});
