/** Visibility polygons stated by others in exact rationals, against the seen cells of a lens without limit of range. */
import { afterAll, describe, expect, test } from 'vitest';
import { createCoverage } from '../../src/core/coverage/index.ts';
import { computeRingDistance, isInRing } from '../../src/core/geometry/polygon.ts';
import { compileScene, hasCell, traceSight } from '../../src/core/sight/index.ts';
import { buildFloor, FAR_TYPE, type XY } from '../core/sight/build-floor.ts';
import {
  doubleArea,
  dropAntennas,
  findFace,
  type RationalPoint,
  readVisibilityCases,
  toNumber,
} from './visibility-files.ts';

const CELL = 0.03;
const NEAR = 0.001;

const { cases, skipped } = readVisibilityCases();
let compared = 0;
let seenCells = 0;

afterAll(() => {
  console.info(
    `visibility polygons: ${cases.length} files (${skipped.join(', ')} states no result), ${compared} cells of rooms compared, ${seenCells} seen`,
  );
});

test('the files are there', () => {
  expect(cases.length).toBeGreaterThanOrEqual(6);
});

describe.each(cases)('$name', ({ eye, edges, seen }) => {
  const face = findFace(edges, eye);
  const expected = findFace(dropAntennas(seen), eye);

  test('the room and what is seen of it were read: the one holds the other', () => {
    expect(doubleArea(expected).over > 0n).toBe(true);
    const [all, part] = [face, expected].map((ring) => toNumber(doubleArea(ring)) / 2);
    expect(part!).toBeLessThanOrEqual(all! + 1e-9);
  });

  // As drawn, and turned, scaled and moved, so that walls are askew to the cells.
  test.each([
    { scale: 1, turn: 0, move: [0, 0] },
    { scale: 0.8, turn: 33, move: [5, -7] },
    { scale: 1.3, turn: 200, move: [-11, 3] },
  ] as const)('scaled by $scale, turned by $turn°', ({ scale, turn, move }) => {
    const [c, s] = [scale * Math.cos((turn * Math.PI) / 180), scale * Math.sin((turn * Math.PI) / 180)];
    const place = ([px, py]: RationalPoint): XY => {
      const [x, y] = [toNumber(px), toNumber(py)];
      return [move[0] + x * c - y * s, move[1] + x * s + y * c];
    };
    const floor = buildFloor({
      rooms: [{ id: 'R', name: 'R', outline: face.map(place), ceiling: 2.8 }],
      types: [FAR_TYPE],
      detectors: [{ id: 'D', name: 'D', type: 'far', at: place(eye) }],
      analysis: { cell: CELL },
    });
    const coverage = createCoverage(floor);
    const scene = compileScene(floor);
    const { x0, y0, cell, nx, ny } = coverage.grid.lattice;
    const layer = coverage.layers[0]!.minor!;
    const ring = expected.map(place);
    const wrong: string[] = [];
    let cells = 0;
    for (let k = 0; k < nx * ny; k++) {
      const [i, j] = [k % nx, Math.floor(k / nx)];
      const [x, y] = [x0 + (i + 0.5) * cell, y0 + (j + 0.5) * cell];
      const isSeen = hasCell(layer.seen, i, j);
      if (isSeen) cells++;
      if (computeRingDistance(ring, x, y) <= NEAR) continue;
      if (coverage.grid.room[k] === 0) compared++;
      const wanted = isInRing(ring, x, y);
      if (isSeen !== wanted) wrong.push(`field at ${x}, ${y}: ${isSeen}`);
      // The plain sight line is asked of every ninth place.
      if (k % 9 !== 0) continue;
      const line = traceSight(scene, 0, { x, y, h: 0.8 }, 'minor', 'stated').seen;
      if (line !== wanted) wrong.push(`line to ${x}, ${y}: ${line}`);
    }
    seenCells += cells;
    expect(wrong).toEqual([]);
    // Along an edge at most half a cell's width is wrongly counted or left out, and a cell at each corner.
    const exact = (scale ** 2 * toNumber(doubleArea(expected))) / 2;
    const perimeter = ring.reduce((sum, [x, y], k) => {
      const [ex, ey] = ring[(k + 1) % ring.length]!;
      return sum + Math.hypot(ex - x, ey - y);
    }, 0);
    expect(Math.abs(cells * cell ** 2 - exact)).toBeLessThan((perimeter * cell) / 2 + ring.length * cell ** 2);
  });
});
