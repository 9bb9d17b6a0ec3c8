/** Seen areas by polygon libraries of others, from shadows written down exactly, against counted cells. */
import { differenceD, FillRule, intersectD, type PathsD } from 'clipper2-ts';
import polygonClipping from 'polygon-clipping';
import { afterAll, expect, test } from 'vitest';
import { createCoverage } from '../../src/core/coverage/index.ts';
import type { Floor } from '../../src/core/floor/index.ts';
import type { Extent, Lens } from '../../src/core/sight/index.ts';
import { compileScene, countCells, extentAt, outerRadius } from '../../src/core/sight/index.ts';
import { readFloor } from '../core/sight/build-floor.ts';
import { randomFloor } from '../models/random-floor.ts';
import { drawMasks, drawRange, drawShadows, type Polygon, perimeterOf, signedArea } from './shadow-polygons.ts';

const FLOORS = 30;
const CELLS = [0.1, 0.05, 0.025] as const;
/** Digits behind the point that the library keeps, metres. */
const DIGITS = 6;

interface View {
  readonly rooms: readonly (readonly Polygon[])[];
  readonly range: Polygon;
  /** Shadows and masks. */
  readonly hidden: readonly Polygon[];
}

function drawView(floor: Floor, lens: Lens, extent: Extent, h: number): View {
  const reach = outerRadius(extent);
  return {
    rooms: floor.rooms.map(({ outline, holes }) => [outline, ...holes]),
    range: drawRange(lens, extent),
    hidden: [...drawShadows(floor, lens, h, reach, 'stated'), ...drawMasks(lens, h, reach)],
  };
}

/** Corners that turn by more than 2°: not those of a circle drawn as a polygon. */
function countCorners(ring: Polygon): number {
  return ring.filter(([x, y], k) => {
    const [px, py] = ring[(k + ring.length - 1) % ring.length]!;
    const [nx, ny] = ring[(k + 1) % ring.length]!;
    const cross = (x - px) * (ny - y) - (y - py) * (nx - x);
    const along = (x - px) * (nx - x) + (y - py) * (ny - y);
    return Math.abs(Math.atan2(cross, along)) > Math.PI / 90;
  }).length;
}

/** Area, length of all edges and number of corners of what is seen, by clipper2. */
function measureByClipper({ rooms, range, hidden }: View) {
  const paths = (polygons: readonly Polygon[]): PathsD =>
    polygons.map((ring) => (signedArea(ring) > 0 ? ring : [...ring].reverse()).map(([x, y]) => ({ x, y })));
  // Rooms do not overlap, and their holes are inside them: even-odd reads them as they are.
  const inRange = intersectD(paths(rooms.flat()), paths([range]), FillRule.EvenOdd, DIGITS);
  const seen = differenceD(inRange, paths(hidden), FillRule.NonZero, DIGITS).map((path) =>
    path.map(({ x, y }) => [x, y] as const),
  );
  return {
    area: seen.reduce((sum, ring) => sum + signedArea(ring), 0),
    perimeter: seen.reduce((sum, ring) => sum + perimeterOf(ring), 0),
    corners: seen.reduce((sum, ring) => sum + countCorners(ring), 0),
  };
}

/** The same area by polygon-clipping; null where that gives up, as it does on some floors. */
function measureByPolygonClipping({ rooms, range, hidden }: View): number | null {
  const ring = (polygon: Polygon) => polygon.map(([x, y]): [number, number] => [x, y]);
  try {
    const [first, ...others] = rooms.map((rings) => rings.map(ring));
    const inRange = polygonClipping.intersection(polygonClipping.union(first!, ...others), [ring(range)]);
    const seen = polygonClipping.difference(inRange, ...hidden.map((polygon) => [ring(polygon)]));
    return seen.flat().reduce((sum, each) => sum + signedArea(each), 0);
  } catch {
    return null;
  }
}

const tally = { layers: 0, second: 0, area: 0, errors: CELLS.map(() => 0) };

afterAll(() => {
  const errors = tally.errors.map((sum, k) => `${((1e4 * sum) / tally.layers).toFixed(0)} cm² at ${CELLS[k]} m`);
  console.info(
    `areas: ${tally.layers} layers, ${tally.area.toFixed(0)} m² seen, ${tally.second} with a second voice; mean error ${errors.join(', ')}`,
  );
});

test('on random floors cells count what polygons measure, the better the finer', () => {
  for (let seed = 900; seed < 900 + FLOORS; seed++) {
    const file = randomFloor(seed);
    const floors = CELLS.map((cell) => readFloor({ ...file, analysis: { ...file.analysis, cell } }));
    const coverages = floors.map(createCoverage);
    const floor = floors[0]!;
    compileScene(floor).lenses.forEach((lens, detector) => {
      for (const motion of ['minor', 'tangential'] as const) {
        const h = motion === 'minor' ? floor.analysis.seatedPlane : floor.analysis.walkingPlane;
        const extent = lens.removed ? null : extentAt(lens.ranges[motion], lens.h, h);
        if (!extent) {
          expect(coverages[0]!.layers[detector]![motion]).toBeNull();
          continue;
        }
        const view = drawView(floor, lens, extent, h);
        const { area, perimeter, corners } = measureByClipper(view);
        const second = measureByPolygonClipping(view);
        const where = `seed ${seed}, detector ${detector}, ${motion}`;
        if (second !== null) {
          tally.second++;
          expect(Math.abs(second - area), where).toBeLessThan(1e-4);
        }
        tally.layers++;
        tally.area += area;
        CELLS.forEach((cell, k) => {
          const counted = countCells(coverages[k]!.layers[detector]![motion]!.seen) * cell ** 2;
          const error = Math.abs(counted - area);
          tally.errors[k]! += error;
          // Along an edge at most half a cell's width is wrongly counted or left out, and a cell at each corner.
          expect(error, `${where}, cell ${cell}`).toBeLessThanOrEqual((perimeter * cell) / 2 + corners * cell ** 2);
        });
      }
    });
  }
  expect(tally.layers).toBeGreaterThan(150);
  expect(tally.area).toBeGreaterThan(5 * tally.layers);
  expect(tally.second).toBeGreaterThan(0.5 * tally.layers);
  const [coarse, middle, fine] = tally.errors as [number, number, number];
  // Walls along the cells err by up to half a cell all along, so the error shrinks in step with the cell.
  expect(middle).toBeLessThan(0.7 * coarse);
  expect(fine).toBeLessThan(0.4 * coarse);
  // Half a per cent of what is seen, at a cell of 0.025 m.
  expect(fine).toBeLessThan(0.005 * tally.area);
});
