/** What must hold of every floor: obstacles only hide, and where and how a floor is drawn changes nothing. */
import { afterAll, describe, expect, test } from 'vitest';
import type { Coverage } from '../../../src/core/coverage/index.ts';
import { createCoverage, judgeCoverage } from '../../../src/core/coverage/index.ts';
import type { Floor, FloorFile, Motion } from '../../../src/core/floor/index.ts';
import { validateFloor } from '../../../src/core/floor/index.ts';
import { hasCell, MOTIONS, traceSight } from '../../../src/core/sight/index.ts';
import { createRandom } from '../../models/random.ts';
import { randomFloor } from '../../models/random-floor.ts';
import { buildFloor, type Entry, readFloor, rect, row, type XY } from '../sight/build-floor.ts';
import { isSettled } from '../sight/near-edge.ts';
import {
  frameFile,
  type Placing,
  placeFile,
  placePoint,
  rewriteRings,
  splitPieces,
  splitWalls,
} from './transform-file.ts';

const tally = { compared: 0, seen: 0, excused: 0 };
afterAll(() => {
  console.info(
    `properties: ${tally.compared} cells compared, ${tally.seen} seen, ${tally.excused} within 1 mm of an edge`,
  );
});

type CellMap = (i: number, j: number) => readonly [number, number];

/** Compares all layers cell by cell; `agree` says whether a pair of answers is as it must be. */
function compareLayers(one: Coverage, other: Coverage, map: CellMap, agree: (a: boolean, b: boolean) => boolean): void {
  const { x0, y0, cell, nx, ny } = one.grid.lattice;
  const wrong: string[] = [];
  const pairs = Array.from({ length: nx * ny }, (_, k) => [k % nx, Math.floor(k / nx)] as const)
    .filter(([i, j]) => one.grid.room[j * nx + i]! >= 0)
    .map(([i, j]) => ({ i, j, to: map(i, j) }));
  for (const detector of one.floor.detectors.keys()) {
    for (const motion of MOTIONS) {
      const seesIn = ({ layers }: Coverage, i: number, j: number) =>
        layers[detector]![motion] !== null && hasCell(layers[detector]![motion].seen, i, j);
      for (const { i, j, to } of pairs) {
        const [a, b] = [seesIn(one, i, j), seesIn(other, ...to)];
        tally.compared++;
        if (a) tally.seen++;
        if (agree(a, b)) continue;
        const place = { x: x0 + (i + 0.5) * cell, y: y0 + (j + 0.5) * cell, h: planeOf(one.floor, motion) };
        const see = (at: typeof place) => traceSight(one.scene, detector, at, motion, 'stated').seen;
        if (isSettled(see, place)) wrong.push(`${one.floor.name}: ${motion} of ${detector} at ${place.x}, ${place.y}`);
        else tally.excused++;
      }
    }
  }
  expect(wrong).toEqual([]);
}

const planeOf = ({ analysis }: Floor, motion: Motion) =>
  motion === 'minor' ? analysis.seatedPlane : analysis.walkingPlane;
const same = (a: boolean, b: boolean) => a === b;
const unmoved: CellMap = (i, j) => [i, j];

describe('an added obstacle', () => {
  test.each(Array.from({ length: 12 }, (_, k) => 100 + k))('never lets more be seen, random floor %i', (seed) => {
    const random = createRandom(seed);
    const file = randomFloor(seed);
    const before = createCoverage(readFloor(file));
    let added = 0;
    for (let tries = 0; tries < 60 && added < 4; tries++) {
      const { outline } = random.pick(file.rooms);
      const [x, y] = random.pick(outline);
      const [w, h] = [random.between(0.2, 2), random.between(0.2, 2)];
      const [dx, dy] = [random.between(-2, 2), random.between(-2, 2)];
      const base = random.pick([0, 0, random.between(0.3, 2)]);
      const obstacle: Entry<'furniture'> = {
        id: 'obstacle',
        kind: 'other',
        name: '',
        outline: rect(x + dx, y + dy, x + dx + w, y + dy + h),
        base,
        top: base + random.between(0.1, 2.5),
      };
      const parsed = validateFloor({ ...file, furniture: [...(file.furniture ?? []), obstacle] });
      if (!parsed.ok) continue;
      added++;
      const after = createCoverage(parsed.floor);
      compareLayers(before, after, unmoved, (a, b) => a || !b);
    }
    expect(added).toBe(4);
  });
});

/** Compares a floor with the same floor placed elsewhere. */
function comparePlaced(file: FloorFile, placing: Placing): void {
  const cell = file.analysis?.cell ?? 0.1;
  const one = createCoverage(readFloor(file));
  const other = createCoverage(readFloor(placeFile(file, placing)));
  const { x0, y0, nx, ny } = one.grid.lattice;
  expect(nx * ny).toBe(other.grid.lattice.nx * other.grid.lattice.ny);
  let strayest = 0;
  const map: CellMap = (i, j) => {
    const [x, y] = placePoint([x0 + (i + 0.5) * cell, y0 + (j + 0.5) * cell], placing);
    const column = (x - other.grid.lattice.x0) / cell - 0.5;
    const line = (y - other.grid.lattice.y0) / cell - 0.5;
    strayest = Math.max(strayest, Math.abs(column - Math.round(column)), Math.abs(line - Math.round(line)));
    return [Math.round(column), Math.round(line)];
  };
  const excused = tally.excused;
  compareLayers(one, other, map, same);
  // Cells landed on cells.
  expect(strayest).toBeLessThan(1e-6);
  // Verdicts may stray by the few cells that were excused, and workplaces by samples on an edge.
  const [a, b] = [judgeCoverage(one), judgeCoverage(other)];
  const stray = (4 + tally.excused - excused) * cell ** 2;
  expect(Math.abs(a.planes.seated.seenM2 - b.planes.seated.seenM2)).toBeLessThanOrEqual(stray);
  expect(Math.abs(a.planes.walking.seenM2 - b.planes.walking.seenM2)).toBeLessThanOrEqual(stray);
  a.workplaces.forEach((workplace, k) => {
    expect(Math.abs((workplace.share ?? -1) - (b.workplaces[k]!.share ?? -1)), workplace.id).toBeLessThan(0.02);
    expect(workplace.seenBy, workplace.id).toEqual(b.workplaces[k]!.seenBy);
  });
  a.zones.forEach(({ share }, k) => {
    expect(Math.abs((share ?? -1) - (b.zones[k]!.share ?? -1))).toBeLessThan(0.02);
  });
}

const SEEDS = [11, 12, 13, 14, 15, 16];

describe('a floor drawn elsewhere', () => {
  test.each(SEEDS)('moved by whole and by odd distances, random floor %i', (seed) => {
    const file = frameFile(randomFloor(seed), 0.1);
    for (const move of [
      [64, -32],
      [-7.3, 4.9],
      [9_321.5678, -9_876.5432],
    ] as XY[])
      comparePlaced(file, { move });
  });

  test.each(SEEDS)('turned by quarters, random floor %i', (seed) => {
    for (const quarters of [1, 2, 3] as const) comparePlaced(frameFile(randomFloor(seed), 0.1), { quarters });
  });

  test.each(SEEDS)('in a mirror, random floor %i', (seed) => {
    comparePlaced(frameFile(randomFloor(seed), 0.125), { mirror: true });
    comparePlaced(frameFile(randomFloor(seed), 0.125), { mirror: true, quarters: 1, move: [3, 5] });
  });
});

describe('a floor written another way', () => {
  test.each([
    ['rings begun elsewhere and reversed', rewriteRings],
    ['walls in two pieces', splitWalls],
    ['pieces in two halves with a common face', splitPieces],
  ] as const)('%s', (_, rewrite) => {
    let rewritten = 0;
    for (let seed = 40; seed < 60; seed++) {
      const file = randomFloor(seed);
      const other = validateFloor(rewrite(file));
      // A lens may hang in the cut between two halves.
      if (!other.ok) continue;
      rewritten++;
      compareLayers(createCoverage(readFloor(file)), createCoverage(other.floor), unmoved, same);
    }
    expect(rewritten).toBeGreaterThan(15);
  });
});

test('the finer the cell, the nearer the seen area is to the exact one', () => {
  // A disc of 3 m less the shadow of a box: 7 · (2/3)² by the prism's hull, all of it within the disc (facts, 8.3, scaled).
  const exact = 9 * Math.PI - 7 * 0.4 ** 2;
  const errorAt = (cell: number) => {
    const k = 0.4;
    const floor = buildFloor({
      rooms: [{ id: 'R', name: 'R', outline: rect(-3.3, -3.1, 3.7, 3.2), ceiling: 3 }],
      furniture: [
        { id: 'F', kind: 'other', name: 'F', outline: rect(2 * k, -0.5 * k, 3 * k, 0.5 * k), base: 0, top: 1.5 },
      ],
      types: [{ id: 'T', name: 'T', ranges: [row('minor', 3, 0, 6)] }],
      detectors: [{ id: 'D', name: 'D', type: 'T', at: [0, 0] }],
      analysis: { cell, seatedPlane: 1e-6 },
    });
    const { areas, grid } = createCoverage(floor);
    expect(grid.lattice.cell).toBe(cell);
    return Math.abs(areas.seated.seenM2 - exact);
  };
  // Half a cell along the edge of the disc and of the shadow at most.
  for (const cell of [0.5, 0.2, 0.1, 0.05, 0.02]) expect(errorAt(cell)).toBeLessThan(13 * cell);
  expect(errorAt(0.02)).toBeLessThan(0.02);
});
