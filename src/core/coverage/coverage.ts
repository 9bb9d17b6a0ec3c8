/**
 * The coverage of a floor, kept while it changes: layers per detector, fields per plane, areas, workplaces.
 * Plain data throughout, so that a worker can build it and hand it over.
 */
import type { Floor } from '../floor/index.ts';
import type { DetectorLayers, Raster, Scene } from '../sight/index.ts';
import {
  castLayers,
  compileScene,
  countCells,
  createArounds,
  createSurroundings,
  NO_LAYERS,
  WHEN_STATED,
} from '../sight/index.ts';
import type { Areas } from './areas.ts';
import { measureAreas } from './areas.ts';
import type { Field, SeenWords } from './field.ts';
import { createField, writeField } from './field.ts';
import type { Grid } from './grid.ts';
import { createGrid } from './grid.ts';
import { areaOfCells } from './measure.ts';
import type { WorkplaceResult } from './result.ts';
import type { WorkplaceSamples } from './samples.ts';
import { sampleWorkplace, seesSamples } from './samples.ts';
import type { ServedLayers } from './served.ts';
import { cutToServed, NOTHING_SERVED } from './served.ts';
import type { Serving } from './serving.ts';
import { createServing } from './serving.ts';
import type { Window } from './sums.ts';
import { findNearestMisses, sumLayers } from './sums.ts';
import { fillHeadings } from './walking.ts';
import { judgeWorkplace } from './workplaces.ts';

export interface Coverage {
  floor: Floor;
  scene: Scene;
  grid: Grid;
  serving: Serving;
  /** Per detector, doors as stated. */
  layers: DetectorLayers[];
  served: ServedLayers[];
  seated: Field;
  walking: Field;
  areas: { seated: Areas; walking: Areas };
  samples: WorkplaceSamples[];
  workplaces: WorkplaceResult[];
}

/** Cells i0 … i1 − 1, j0 … j1 − 1. */
export interface Change {
  readonly i0: number;
  readonly j0: number;
  readonly i1: number;
  readonly j1: number;
  /** Per plane the cells that may look otherwise than before; without it all of the window may. */
  readonly cells?: { readonly seated: Raster; readonly walking: Raster };
}

export function createCoverage(floor: Floor): Coverage {
  const scene = compileScene(floor);
  const grid = createGrid(floor);
  const serving = createServing(floor, scene.lenses, grid);
  const { seatedPlane, walkingPlane } = floor.analysis;
  const coverage: Coverage = {
    floor,
    scene,
    grid,
    serving,
    layers: floor.detectors.map(() => NO_LAYERS),
    served: floor.detectors.map(() => NOTHING_SERVED),
    seated: createField(grid.inside, seatedPlane, grid.seated, false),
    walking: createField(grid.inside, walkingPlane, grid.walking, true),
    areas: { seated: NO_AREAS, walking: NO_AREAS },
    samples: [],
    workplaces: [],
  };
  castDetectors(coverage, floor.detectors.keys());
  refresh(coverage, wholeWindow(grid));
  const surroundings = createSurroundings(scene);
  const arounds = createArounds(scene);
  coverage.samples = floor.workplaces.map((workplace) => sampleWorkplace(scene, surroundings, grid, workplace));
  coverage.samples.forEach((samples) => {
    for (const detector of floor.detectors.keys()) seesSamples(scene, surroundings, samples, detector, arounds);
  });
  coverage.workplaces = floor.workplaces.map((_, index) => judgeWorkplace(coverage, index, surroundings, arounds));
  return coverage;
}

const NO_AREAS: Areas = {
  areaM2: 0,
  seenM2: 0,
  hiddenM2: 0,
  maskedM2: 0,
  rangeM2: 0,
  headingsM2: 0,
  byCount: [],
  everyHeadingM2: 0,
};

/** A coverage on its way from a worker, without what the other side knows or makes from its floor in less time. */
export type SentCoverage = Omit<Coverage, 'floor' | 'scene'>;

/** Leaves out what follows from the floor at once. */
export function sendCoverage({ floor, scene, ...rest }: Coverage): SentCoverage {
  return rest;
}

/** The coverage that came from a worker, of the floor that this side asked about. */
export function adoptCoverage(sent: SentCoverage, floor: Floor): Coverage {
  return { ...sent, floor, scene: compileScene(floor) };
}

/** Casts some detectors' layers, doors as stated, and cuts them to what their groups serve. */
export function castDetectors(coverage: Coverage, indices: Iterable<number>): void {
  const { scene, grid, serving } = coverage;
  const surroundings = createSurroundings(scene);
  const planes = { seated: coverage.seated.height, walking: coverage.walking.height };
  for (const index of indices) {
    const layers = castLayers(scene, surroundings, scene.lenses[index]!, grid.inRoom, planes, WHEN_STATED);
    coverage.layers[index] = layers;
    const group = serving.groups[serving.groupOf[index]!];
    coverage.served[index] = group ? cutToServed(layers, group.area) : NOTHING_SERVED;
  }
}

function wholeWindow(grid: Grid): Window {
  return { w0: 0, w1: grid.inRoom.words, j0: 0, j1: grid.inRoom.rows };
}

/**
 * Works the fields out anew over a window from all layers: values never depend on the way that led here.
 * @param touched words of the window: cells where walking may be seen otherwise than before; null for all
 */
export function refresh(coverage: Coverage, window: Window, touched: Int32Array | null = null): void {
  const { grid, scene, served, floor, seated, walking } = coverage;
  refreshPlane(coverage, seated, window, 'seated', (any) => {
    for (let j = window.j0, k = 0; j < window.j1; j++) {
      const row = j * seated.occupiable.words;
      for (let w = window.w0; w < window.w1; w++, k++) any[k] = any[k]! & seated.occupiable.bits[row + w]!;
    }
    return { seen: any, tooFew: null };
  });
  refreshPlane(coverage, walking, window, 'walking', () =>
    fillHeadings(walking, grid.lattice, window, scene.lenses, served, floor.analysis, touched),
  );
  coverage.areas = { seated: measureAreas(seated, grid.lattice), walking: measureAreas(walking, grid.lattice) };
}

function refreshPlane(
  coverage: Coverage,
  field: Field,
  window: Window,
  plane: 'seated' | 'walking',
  countSeen: (any: Int32Array) => SeenWords,
): void {
  const { grid, scene, served } = coverage;
  const sums = sumLayers(
    window,
    served.map((layers) => layers[plane]),
  );
  const blindWords = writeField(field, grid.lattice, grid.inRoom, window, sums, countSeen(sums.any));
  const layers = served.map((each, index) => ({
    lens: scene.lenses[index]!,
    layer: each[plane],
    tangential: plane === 'walking' ? each.tangential : null,
  }));
  findNearestMisses(field, grid.lattice, window, blindWords, layers);
}

/** Square metres of a raster's set cells. */
export function areaOf(raster: Raster): number {
  return areaOfCells(countCells(raster), raster.lattice);
}
