/** The fast layers must say of every cell what the plain sight line says; only edges closer than 1 mm are excused. */
import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { createCoverage } from '../../../src/core/coverage/index.ts';
import { castOpenLayers } from '../../../src/core/coverage/open-doors.ts';
import type { Doors, Floor } from '../../../src/core/floor/index.ts';
import type { Target } from '../../../src/core/sight/index.ts';
import { hasCell, MOTIONS, traceSight } from '../../../src/core/sight/index.ts';
import { randomFloor } from '../../models/random-floor.ts';
import { readFloor } from './build-floor.ts';
import { isSettled } from './near-edge.ts';

interface Tally {
  /** Sight lines from a lens to a cell within its range. */
  compared: number;
  seen: number;
  excused: number;
  readonly wrong: string[];
}

/** Every how manieth cell is compared. A stride that divides the columns would look at some columns only. */
function chooseStride(columns: number, cells: number): number {
  const wanted = cells > 2e6 ? [37, 41] : cells > 6e5 ? [17, 19] : cells > 2e5 ? [7, 11] : [1];
  return wanted.find((stride) => stride === 1 || columns % stride !== 0) ?? 1;
}

const createTally = (): Tally => ({ compared: 0, seen: 0, excused: 0, wrong: [] });

/** Compares every cell of all layers, of a large floor some of them; doors as stated and all open. */
function compareFloor(floor: Floor, tally: Tally): void {
  const coverage = createCoverage(floor);
  const { scene, grid } = coverage;
  const stride = chooseStride(grid.lattice.nx, grid.lattice.ny * grid.lattice.nx * floor.detectors.length);
  const { x0, y0, cell, nx, ny } = grid.lattice;
  const passes = [
    { doors: 'stated' as Doors, layers: coverage.layers },
    { doors: 'open' as Doors, layers: castOpenLayers(coverage) },
  ];
  for (const { doors, layers } of passes) {
    for (const [detector, layersOfOne] of layers.entries()) {
      for (const motion of MOTIONS) {
        const h = motion === 'minor' ? coverage.seated.height : coverage.walking.height;
        const see = (target: Target) => traceSight(scene, detector, target, motion, doors).seen;
        for (let k = 0; k < nx * ny; k += stride) {
          const [i, j] = [k % nx, Math.floor(k / nx)];
          const target: Target = { x: x0 + (i + 0.5) * cell, y: y0 + (j + 0.5) * cell, h };
          const line = traceSight(scene, detector, target, motion, doors);
          const fast = layersOfOne[motion] !== null && hasCell(layersOfOne[motion].seen, i, j);
          if (line.seen || line.why !== 'range') tally.compared++;
          if (line.seen) tally.seen++;
          if (fast === line.seen) continue;
          if (isSettled(see, target)) {
            tally.wrong.push(`${floor.name}: ${motion} of detector ${detector} at ${target.x}, ${target.y}, ${doors}`);
          } else tally.excused++;
        }
      }
    }
  }
}

const all = createTally();

function judge(tally: Tally): void {
  all.compared += tally.compared;
  all.seen += tally.seen;
  all.excused += tally.excused;
  expect(tally.wrong).toEqual([]);
  expect(tally.compared).toBeGreaterThan(10_000);
  expect(tally.seen).toBeGreaterThan(0.1 * tally.compared);
  expect(tally.excused).toBeLessThan(0.005 * tally.compared);
}

afterAll(() => {
  console.info(`field equals line: ${all.compared} compared, ${all.seen} seen, ${all.excused} within 1 mm of an edge`);
});

describe('on every cell of random floors: all motions, doors as stated and open, masks, rectangular ranges', () => {
  test.each([0, 1, 2, 3, 4])(
    'batch %i',
    (batch) => {
      const tally = createTally();
      for (let seed = 10 * batch; seed < 10 * batch + 10; seed++) compareFloor(readFloor(randomFloor(seed)), tally);
      judge(tally);
    },
    120_000,
  );
});

const FLOORS = new URL('../../../models/floors/', import.meta.url);

describe('on the floors of the project', () => {
  test.each(readdirSync(FLOORS))(
    '%s',
    (name) => {
      const tally = createTally();
      const floor = readFloor(JSON.parse(readFileSync(new URL(name, FLOORS), 'utf8')));
      compareFloor(floor, tally);
      judge(tally);
    },
    120_000,
  );
});
