/**
 * The coverage of a floor, kept while it changes: layers per detector, fields per plane, areas, workplaces.
 * Plain data throughout, so that a worker can build it and hand it over.
 */
import type { Floor } from '../floor/index.ts';
import type { DetectorLayers, Raster, Scene } from '../sight/index.ts';
import {
  castLayers,
  compileLenses,
  compileScene,
  countCells,
  createSurroundings,
  NO_LAYERS,
  WHEN_STATED,
} from '../sight/index.ts';
import type { Areas } from './areas.ts';
import { measureAreas } from './areas.ts';
import type { Field, SeenWords } from './field.ts';
import { createField, writeField } from './field.ts';
import type { Grid } from './grid.ts';
import { createGrid, markOccupiable } from './grid.ts';
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
    seated: createField(grid.lattice, seatedPlane, grid.seated, false),
    walking: createField(grid.lattice, walkingPlane, grid.walking, true),
    areas: { seated: NO_AREAS, walking: NO_AREAS },
    samples: [],
    workplaces: [],
  };
  castDetectors(coverage, floor.detectors.keys());
  refresh(coverage, wholeWindow(grid));
  const surroundings = createSurroundings(scene);
  coverage.samples = floor.workplaces.map((workplace) => sampleWorkplace(scene, surroundings, grid, workplace));
  coverage.samples.forEach((samples) => {
    for (const detector of floor.detectors.keys()) seesSamples(scene, surroundings, samples, detector);
  });
  coverage.workplaces = floor.workplaces.map((_, index) => judgeWorkplace(coverage, index, surroundings));
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

/** Gives a coverage that came from a worker the floor object that this side knows it by. */
export function adoptCoverage(coverage: Coverage, floor: Floor): Coverage {
  coverage.floor = floor;
  return coverage;
}

/**
 * Brings the coverage to another state of the floor, recomputing what differs: objects are compared by identity.
 * @returns the cells whose values may have changed, null for none
 */
export function updateCoverage(coverage: Coverage, next: Floor): Change | null {
  const before = coverage.floor;
  if (before === next) return null;
  // Moving a zone changes the fields only where a group serves it.
  const aside: readonly (keyof Floor)[] = servesZones(next)
    ? ['name', 'notes', 'revision', 'records', 'sources', 'workplaces']
    : ['name', 'notes', 'revision', 'records', 'sources', 'workplaces', 'zones'];
  const onlyDetectors = sameBesides(before, next, [...aside, 'detectors']);
  const sameDetectors = before.detectors.length === next.detectors.length;
  const onlyPieces = sameBesides(before, next, [...aside, 'furniture']) && sameDetectors;
  if (!sameDetectors || (!onlyDetectors && !onlyPieces)) {
    Object.assign(coverage, createCoverage(next));
    return wholeChange(coverage.grid);
  }
  return onlyDetectors ? moveDetectors(coverage, next) : movePieces(coverage, next);
}

function servesZones({ groups, zones }: Floor): boolean {
  return groups.some((group) => group.serves?.some((id) => zones.some((zone) => zone.id === id)));
}

function sameBesides(a: Floor, b: Floor, besides: readonly (keyof Floor)[]): boolean {
  return (Object.keys(a) as (keyof Floor)[])
    .concat(Object.keys(b) as (keyof Floor)[])
    .every((key) => besides.includes(key) || a[key] === b[key]);
}

function moveDetectors(coverage: Coverage, next: Floor): Change | null {
  const before = coverage.floor;
  const moved = [...next.detectors.keys()].filter((index) => next.detectors[index] !== before.detectors[index]);
  coverage.floor = next;
  const lenses = moved.length > 0 ? recompileLenses(coverage, next, moved) : coverage.scene.lenses;
  // A detector carried into another room, or taken out of use, changes what its group serves; groups know theirs by
  // place in the list, and one in no group lends its own its id and name.
  const regroup = moved.some(
    (index) =>
      next.detectors[index]!.id !== before.detectors[index]!.id ||
      next.detectors[index]!.name !== before.detectors[index]!.name ||
      lenses[index]!.room !== coverage.scene.lenses[index]!.room ||
      lenses[index]!.removed !== coverage.scene.lenses[index]!.removed,
  );
  const touched = new Set(moved);
  coverage.scene = { ...coverage.scene, floor: next, lenses };
  if (regroup) {
    const was = coverage.serving;
    coverage.serving = createServing(next, lenses, coverage.grid);
    for (const index of next.detectors.keys()) {
      const areaOf = (serving: Serving) => serving.groups[serving.groupOf[index]!]?.area;
      if (!sameRaster(areaOf(was), areaOf(coverage.serving))) touched.add(index);
    }
  }
  const windows = [...touched].flatMap((index) => windowsOf(coverage.served[index]!));
  castDetectors(coverage, touched.values());
  windows.push(...[...touched].flatMap((index) => windowsOf(coverage.served[index]!)));
  const change = refreshAll(coverage, windows);
  refreshWorkplaces(coverage, before, next, moved, [], regroup);
  return change;
}

function movePieces(coverage: Coverage, next: Floor): Change | null {
  const before = coverage.floor;
  const changed = new Set([...before.furniture, ...next.furniture]);
  for (const piece of before.furniture) if (next.furniture.includes(piece)) changed.delete(piece);
  const scene = compileScene(next);
  const boxes = [...changed].map((piece) => boxOf(piece.outline));
  const touched = [...next.detectors.keys()].filter((index) => {
    const { x, y } = scene.lenses[index]!;
    const reach = reachOf(coverage.layers[index]!);
    return boxes.some((box) => distanceToBox(box, x, y) <= reach + coverage.grid.lattice.cell);
  });
  const grid = markOccupiable(next, coverage.grid.inRoom);
  const lattice = coverage.grid.lattice;
  coverage.floor = next;
  coverage.scene = scene;
  coverage.grid = { ...coverage.grid, seated: grid.seated, walking: grid.walking };
  coverage.seated = { ...coverage.seated, occupiable: grid.seated };
  coverage.walking = { ...coverage.walking, occupiable: grid.walking };
  castDetectors(coverage, touched.values());
  const windows = touched.flatMap((index) => windowsOf(coverage.served[index]!));
  for (const box of boxes) windows.push(windowOver(lattice, box));
  const change = refreshAll(coverage, windows);
  refreshWorkplaces(coverage, before, next, touched, boxes, false);
  return change;
}

type Box = readonly [number, number, number, number];

function boxOf(outline: readonly (readonly [number, number])[]): Box {
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

function distanceToBox(box: Box, x: number, y: number): number {
  return Math.hypot(Math.max(box[0] - x, 0, x - box[2]), Math.max(box[1] - y, 0, y - box[3]));
}

function reachOf(layers: DetectorLayers): number {
  let reach = 0;
  for (const layer of [layers.minor, layers.tangential, layers.radial]) {
    if (layer) reach = Math.max(reach, Math.hypot(layer.seen.words * 32, layer.seen.rows) * layer.seen.lattice.cell);
  }
  return reach;
}

function recompileLenses(coverage: Coverage, next: Floor, moved: readonly number[]): Scene['lenses'] {
  const lenses = [...coverage.scene.lenses];
  const only = compileLenses({ ...next, detectors: moved.map((index) => next.detectors[index]!) });
  moved.forEach((index, k) => {
    lenses[index] = only[k]!;
  });
  return lenses;
}

function castDetectors(coverage: Coverage, indices: Iterable<number>): void {
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

function windowsOf(served: ServedLayers): Window[] {
  return [served.seated, served.walking].flatMap((layer) => (layer ? [windowOf(layer.seen)] : []));
}

function windowOf(raster: Raster): Window {
  return { w0: raster.w0, w1: raster.w0 + raster.words, j0: raster.j0, j1: raster.j0 + raster.rows };
}

function windowOver(lattice: Grid['lattice'], box: Box): Window {
  const clamp = (value: number, most: number) => Math.min(most, Math.max(0, value));
  const column = (x: number) => clamp(Math.floor((x - lattice.x0) / lattice.cell), lattice.nx - 1);
  const row = (y: number) => clamp(Math.floor((y - lattice.y0) / lattice.cell), lattice.ny - 1);
  return { w0: column(box[0]) >> 5, w1: (column(box[2]) >> 5) + 1, j0: row(box[1]), j1: row(box[3]) + 1 };
}

function wholeWindow(grid: Grid): Window {
  return { w0: 0, w1: grid.inRoom.words, j0: 0, j1: grid.inRoom.rows };
}

function wholeChange(grid: Grid): Change {
  return { i0: 0, j0: 0, i1: grid.lattice.nx, j1: grid.lattice.ny };
}

function sameRaster(a: Raster | undefined, b: Raster | undefined): boolean {
  if (!a || !b) return a === b;
  return (
    a.w0 === b.w0 &&
    a.j0 === b.j0 &&
    a.words === b.words &&
    a.rows === b.rows &&
    a.bits.every((word, k) => word === b.bits[k])
  );
}

function refreshAll(coverage: Coverage, windows: readonly Window[]): Change | null {
  const first = windows[0];
  if (!first) return null;
  const window = windows.reduce(
    (a, b) => ({
      w0: Math.min(a.w0, b.w0),
      w1: Math.max(a.w1, b.w1),
      j0: Math.min(a.j0, b.j0),
      j1: Math.max(a.j1, b.j1),
    }),
    first,
  );
  refresh(coverage, window);
  return { i0: 32 * window.w0, i1: Math.min(32 * window.w1, coverage.grid.lattice.nx), j0: window.j0, j1: window.j1 };
}

/** Works the fields out anew over a window from all layers: values never depend on the way that led here. */
function refresh(coverage: Coverage, window: Window): void {
  const { grid, scene, served, floor, seated, walking } = coverage;
  refreshPlane(coverage, seated, window, 'seated', (any) => {
    for (let j = window.j0, k = 0; j < window.j1; j++) {
      const row = j * seated.occupiable.words;
      for (let w = window.w0; w < window.w1; w++, k++) any[k] = any[k]! & seated.occupiable.bits[row + w]!;
    }
    return { seen: any, tooFew: null };
  });
  refreshPlane(coverage, walking, window, 'walking', () =>
    fillHeadings(walking, grid.lattice, window, scene.lenses, served, floor.analysis),
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

function refreshWorkplaces(
  coverage: Coverage,
  before: Floor,
  next: Floor,
  moved: readonly number[],
  boxes: readonly Box[],
  regrouped: boolean,
): void {
  const { scene, grid } = coverage;
  const surroundings = createSurroundings(scene);
  const sameWorkplaces = before.workplaces === next.workplaces;
  const judgements = next.workplaces.map((workplace, index) => {
    const near = boxes.some((box) => distanceToBox(box, workplace.at[0], workplace.at[1]) <= workplace.radius + 0.1);
    if (!sameWorkplaces && workplace !== before.workplaces[index]) {
      coverage.samples[index] = sampleWorkplace(scene, surroundings, grid, workplace);
      for (const detector of next.detectors.keys())
        seesSamples(scene, surroundings, coverage.samples[index]!, detector);
      return true;
    }
    if (near) coverage.samples[index] = sampleWorkplace(scene, surroundings, grid, workplace);
    let touched = near || regrouped;
    for (const detector of near ? next.detectors.keys() : moved) {
      touched = seesSamples(scene, surroundings, coverage.samples[index]!, detector) || touched;
    }
    return touched;
  });
  coverage.samples.length = next.workplaces.length;
  coverage.workplaces = next.workplaces.map((_, index) =>
    judgements[index] || !coverage.workplaces[index]
      ? judgeWorkplace(coverage, index, surroundings)
      : coverage.workplaces[index]!,
  );
}

/** Square metres of a raster's set cells. */
export function areaOf(raster: Raster): number {
  return countCells(raster) * raster.lattice.cell ** 2;
}
