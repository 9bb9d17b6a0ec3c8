/** Workplaces: the samples of a person's disc, and what each detector sees of them. */
import type { Opening, Workplace } from '../floor/index.ts';
import { findRoomAt } from '../floor/index.ts';
import type { Box } from '../geometry/polygon.ts';
import { computeBox, computeSegmentDistance, growBox, isInRing } from '../geometry/polygon.ts';
import type { Arounds, Clip, Lattice, Raster, Scene, Surroundings } from '../sight/index.ts';
import {
  castFull,
  castLensMasks,
  castPart,
  countCells,
  createRasterOver,
  extentAt,
  gather,
  gatherToDisc,
  keepExtent,
  listFurnitureNear,
  outerRadius,
  SLACK,
  setSpan,
  WHEN_STATED,
} from '../sight/index.ts';
import type { Coverage } from './coverage.ts';
import type { Grid } from './grid.ts';
import { scanRings } from './grid.ts';
import type { ServingGroup } from './serving.ts';

/**
 * Spacing of the samples, metres. At 0.05 m the share of a disc of 0.5 m radius strays by up to 0.023 from its exact
 * area, enough to turn a verdict; at 0.01 m it stays within 0.004.
 */
const SPACING = 0.01;

/** Heights of shoulders and head, metres: a seated and a standing small person (design values, from body tables). */
const SEATED_HEIGHTS = [1.0, 1.15] as const;
const STANDING_HEIGHTS = [1.1, 1.25, 1.5] as const;

/** Samples of a workplace's disc and which detectors see them. */
export interface WorkplaceSamples {
  readonly at: readonly [number, number];
  readonly radius: number;
  /** Index of its room, -1 for none. */
  readonly room: number;
  /** Metres: what counts as body, shoulders, head. */
  readonly heights: readonly [number, number, number];
  /** The samples: the part of the disc one can sit or stand in. */
  readonly cells: Raster;
  readonly count: number;
  /** Per detector that comes near, what it sees. */
  readonly seen: Map<number, DetectorView>;
  /** Samples inside sets of served zones, by the zones' indices: kept because many detectors ask. */
  readonly served: Map<string, Int32Array | null>;
}

export interface DetectorView {
  /** Bits like `cells`, one array a height; null until asked for. */
  readonly heights: [Int32Array, Int32Array | null, Int32Array | null];
  /** At the first height: samples in a mask; null without masks. */
  readonly masked: Int32Array | null;
}

export function sampleWorkplace(
  scene: Scene,
  surroundings: Surroundings,
  grid: Grid,
  workplace: Workplace,
): WorkplaceSamples {
  const { floor } = scene;
  const { seatedPlane } = floor.analysis;
  const heights: readonly [number, number, number] =
    workplace.posture === 'standing' ? STANDING_HEIGHTS : [seatedPlane, SEATED_HEIGHTS[0], SEATED_HEIGHTS[1]];
  const plane = heights[0];
  const [x, y] = workplace.at;
  const { radius } = workplace;
  const cells = createRasterOver(finerLattice(grid.lattice), x - radius, y - radius, x + radius, y + radius);
  const room = findRoomAt(floor.rooms, workplace.at);
  if (room) {
    const rings = [room.outline, ...room.holes];
    if (rings.some((ring) => comesNear(ring, x, y, radius))) markRings(cells, rings);
    else cells.bits.fill(-1);
    keepExtent(cells, x, y, { kind: 'round', radius }, 0);
    clearTaken(scene, cells, x, y, radius, plane);
    // A straight line at plane height: cast from the chair's centre, everything that holds the plane is of full height.
    const level = plane + 1e-9;
    const box = [x - radius, y - radius, x + radius, y + radius] as const;
    gather(surroundings, scene, x, y, level, 2 * radius, plane, WHEN_STATED, ...box);
    castFull(surroundings, scene, cells, wholeClip(cells), farthest(cells, x, y));
  }
  return {
    at: workplace.at,
    radius,
    room: room ? floor.rooms.indexOf(room) : -1,
    heights,
    cells,
    count: countCells(cells),
    seen: new Map(),
    served: new Map(),
  };
}

function comesNear(ring: readonly (readonly [number, number])[], x: number, y: number, radius: number): boolean {
  for (let v = 0; v < ring.length; v++) {
    const next = v + 1 === ring.length ? 0 : v + 1;
    if (computeSegmentDistance(ring[v]!, ring[next]!, x, y) <= radius + 2 * SPACING) return true;
  }
  return false;
}

function clearTaken(scene: Scene, cells: Raster, x: number, y: number, radius: number, plane: number): void {
  const box = { minX: x - radius, minY: y - radius, maxX: x + radius, maxY: y + radius };
  for (const index of listFurnitureNear(scene, box)) {
    const piece = scene.floor.furniture[index]!;
    if (!(piece.base <= plane && plane < piece.top)) continue;
    const taken: Raster = { ...cells, bits: new Int32Array(cells.bits.length) };
    markRings(taken, [piece.outline]);
    for (let k = 0; k < cells.bits.length; k++) cells.bits[k] = cells.bits[k]! & ~taken.bits[k]!;
  }
}

/**
 * Works out what one detector sees of the samples at their first height, and at the others where that was known.
 * @param arounds what is known round the lenses of the scene, where many workplaces are asked
 * @returns whether it sees otherwise than before
 */
export function seesSamples(
  scene: Scene,
  surroundings: Surroundings,
  samples: WorkplaceSamples,
  detector: number,
  arounds?: Arounds,
): boolean {
  const before = samples.seen.get(detector);
  if (samples.count === 0 || !reaches(scene, samples, detector)) {
    if (before) samples.seen.delete(detector);
    return before?.heights.some((bits) => bits !== null && !isEmpty(bits)) ?? false;
  }
  const { seen, masked } = castView(scene, surroundings, samples, detector, 0, arounds);
  const heights: DetectorView['heights'] = [seen, null, null];
  let same = before ? sameWords(before.heights[0], seen) : false;
  for (const level of [1, 2] as const) {
    const was = before?.heights[level];
    if (!was) continue;
    const bits = castView(scene, surroundings, samples, detector, level, arounds).seen;
    same = same && sameWords(was, bits);
    heights[level] = bits;
  }
  samples.seen.set(detector, { heights, masked });
  return !same;
}

function isEmpty(words: Int32Array): boolean {
  for (let k = 0; k < words.length; k++) if (words[k] !== 0) return false;
  return true;
}

function sameWords(a: Int32Array, b: Int32Array): boolean {
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return false;
  return true;
}

/** The box of an opening with its wall. */
export function boxOpening({ from, to, depth }: Opening): Box {
  return growBox(computeBox([from, to]), depth / 2);
}

/** Can a piece, by its box, stand between a lens and a workplace's disc? */
export function comesBetween(
  box: Box,
  { at: [x, y], radius }: Pick<Workplace, 'at' | 'radius'>,
  lens: { readonly x: number; readonly y: number },
): boolean {
  const isBeside =
    box.minX > Math.max(x + radius, lens.x) ||
    box.maxX < Math.min(x - radius, lens.x) ||
    box.minY > Math.max(y + radius, lens.y) ||
    box.maxY < Math.min(y - radius, lens.y);
  if (isBeside) return false;
  // Every line runs in the strip, as wide as the disc, from the lens over its middle.
  const dx = x - lens.x;
  const dy = y - lens.y;
  const across = dx * ((box.minY + box.maxY) / 2 - lens.y) - dy * ((box.minX + box.maxX) / 2 - lens.x);
  const extent = (Math.abs(dx) * (box.maxY - box.minY) + Math.abs(dy) * (box.maxX - box.minX)) / 2;
  return Math.abs(across) <= extent + (radius + 2 * SPACING) * Math.hypot(dx, dy);
}

function reaches(scene: Scene, samples: WorkplaceSamples, detector: number): boolean {
  const lens = scene.lenses[detector]!;
  const range = lens.ranges.minor;
  if (lens.removed || !range) return false;
  const distance = Math.hypot(samples.at[0] - lens.x, samples.at[1] - lens.y);
  if (distance > outerRadius(range) + samples.radius + SLACK) return false;
  // Ranges never widen upwards of the lowest height.
  const reach = outerRadius(extentAt(range, lens.h, samples.heights[0]));
  return reach > 0 && distance <= reach + samples.radius + SLACK;
}

/** What a detector sees at one of the three heights, worked out when first asked for. */
export function viewAt(
  scene: Scene,
  surroundings: Surroundings,
  samples: WorkplaceSamples,
  detector: number,
  level: number,
  arounds?: Arounds,
): Int32Array {
  const view = samples.seen.get(detector)!;
  const known = view.heights[level];
  if (known) return known;
  const { seen } = castView(scene, surroundings, samples, detector, level, arounds);
  view.heights[level] = seen;
  return seen;
}

/** The samples with a clear, unmasked line in range at one height. */
function castView(
  scene: Scene,
  surroundings: Surroundings,
  samples: WorkplaceSamples,
  detector: number,
  level: number,
  arounds?: Arounds,
): { readonly seen: Int32Array; readonly masked: Int32Array | null } {
  const lens = scene.lenses[detector]!;
  const h = samples.heights[level]!;
  const view: Raster = { ...samples.cells, bits: samples.cells.bits.slice() };
  const masked = keepUnmaskedInRange(scene, samples, view, detector, level);
  let far = 0;
  if (arounds) {
    const reach = outerRadius(lens.ranges.minor) + SLACK;
    const lowest = Math.min(scene.floor.analysis.seatedPlane, ...STANDING_HEIGHTS, ...SEATED_HEIGHTS);
    const [x, y] = samples.at;
    gatherToDisc(surroundings, arounds, detector, reach, lowest, WHEN_STATED, x, y, samples.radius);
    far = farthest(samples.cells, lens.x, lens.y);
  } else far = gatherFor(scene, surroundings, samples, lens.x, lens.y, lens.h, h);
  castFull(surroundings, scene, view, wholeClip(view), far);
  castPart(surroundings, scene, h, view, wholeClip(view), far);
  return { seen: view.bits, masked };
}

export function keepUnmaskedInRange(
  scene: Scene,
  samples: WorkplaceSamples,
  view: Raster,
  detector: number,
  level: number,
): Int32Array | null {
  const lens = scene.lenses[detector]!;
  const h = samples.heights[level]!;
  const extent = extentAt(lens.ranges.minor, lens.h, h);
  if (!extent) {
    view.bits.fill(0);
    return null;
  }
  const distance = Math.hypot(samples.at[0] - lens.x, samples.at[1] - lens.y);
  if (extent.kind !== 'round' || distance + samples.radius > extent.radius) {
    keepExtent(view, lens.x, lens.y, extent, lens.turn);
  }
  if (lens.masks.length === 0) return null;
  const covered = castLensMasks(lens, view, h).bits;
  for (let k = 0; k < view.bits.length; k++) view.bits[k] = view.bits[k]! & ~covered[k]!;
  return covered;
}

/** Gathers what can stand between a lens and the samples; returns how far the farthest corner of their window is. */
export function gatherFor(
  scene: Scene,
  surroundings: Surroundings,
  samples: WorkplaceSamples,
  lensX: number,
  lensY: number,
  lensHeight: number,
  h: number,
): number {
  const far = farthest(samples.cells, lensX, lensY);
  const [x, y] = samples.at;
  const { radius } = samples;
  const box = [x - radius, y - radius, x + radius, y + radius] as const;
  gather(surroundings, scene, lensX, lensY, lensHeight, far, h, WHEN_STATED, ...box);
  return far;
}

/** The samples that a group serves; null for none. */
export function servedSamples(coverage: Coverage, samples: WorkplaceSamples, group: ServingGroup): Int32Array | null {
  if (group.rooms.includes(samples.room)) return samples.cells.bits;
  const key = group.zones.join();
  const known = samples.served.get(key);
  if (known !== undefined) return known;
  const zones = group.zones
    .map((index) => coverage.floor.zones[index]!.outline)
    .filter((outline) => isInRing(outline, ...samples.at) || comesNear(outline, ...samples.at, samples.radius));
  const inZones: Raster = { ...samples.cells, bits: new Int32Array(samples.cells.bits.length) };
  for (const outline of zones) markRings(inZones, [outline]);
  const bits = inZones.bits.map((word, k) => word & samples.cells.bits[k]!);
  const served = bits.some((word) => word !== 0) ? bits : null;
  samples.served.set(key, served);
  return served;
}

function finerLattice(lattice: Lattice): Lattice {
  const finer = (count: number) => Math.ceil((count * lattice.cell) / SPACING - 1e-9);
  return { ...lattice, cell: SPACING, nx: finer(lattice.nx), ny: finer(lattice.ny) };
}

function markRings(raster: Raster, rings: readonly (readonly (readonly [number, number])[])[]): void {
  const first = 32 * raster.w0;
  const last = first + 32 * raster.words - 1;
  const mark = (j: number, i0: number, i1: number) => {
    const from = Math.max(i0, first);
    const to = Math.min(i1, last);
    if (from <= to) setSpan(raster.bits, (j - raster.j0) * raster.words, from - first, to - first);
  };
  scanRings(raster.lattice, rings, mark, [raster.j0, raster.j0 + raster.rows - 1]);
}

function wholeClip(raster: Raster): Clip {
  return { i0: 0, i1: 32 * raster.words - 1, r0: 0, r1: raster.rows - 1 };
}

/** Metres from a point to the farthest corner of a window. */
function farthest(raster: Raster, x: number, y: number): number {
  const { x0, y0, cell } = raster.lattice;
  const left = x0 + 32 * raster.w0 * cell;
  const low = y0 + raster.j0 * cell;
  const dx = Math.max(Math.abs(left - x), Math.abs(left + 32 * raster.words * cell - x));
  const dy = Math.max(Math.abs(low - y), Math.abs(low + raster.rows * cell - y));
  return Math.hypot(dx, dy);
}
