/** Workplaces: how much of a person at a desk is seen, and by whom. */
import type { DetectorId, Workplace } from '../floor/index.ts';
import { findRoomAt } from '../floor/index.ts';
import { computeSegmentDistance, isInRing } from '../geometry/polygon.ts';
import type { Clip, Lattice, Raster, Scene, Surroundings } from '../sight/index.ts';
import {
  castFull,
  castLensMasks,
  castPart,
  countBits,
  countCells,
  createRasterOver,
  createSurroundings,
  extentAt,
  findFirstBlocker,
  gather,
  keepExtent,
  outerRadius,
  SLACK,
  setSpan,
  WHEN_STATED,
} from '../sight/index.ts';
import type { Coverage } from './coverage.ts';
import type { Grid } from './grid.ts';
import { scanRings } from './grid.ts';
import type { BodyLevel, WorkplaceResult } from './result.ts';
import type { ServingGroup } from './serving.ts';

/**
 * Spacing of the samples, metres. At 0.05 m the share of a disc of 0.5 m radius strays by up to 0.023 from its exact
 * area, enough to turn a verdict; at 0.01 m it stays within 0.004.
 */
const SPACING = 0.01;

/** What hides a sample is asked of every fifth in x and y. */
const NAMED = 5;

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
  const { floor, prismBoxes } = scene;
  floor.furniture.forEach((piece, index) => {
    if (!(piece.base <= plane && plane < piece.top)) return;
    if (prismBoxes[4 * index]! > x + radius || prismBoxes[4 * index + 1]! > y + radius) return;
    if (prismBoxes[4 * index + 2]! < x - radius || prismBoxes[4 * index + 3]! < y - radius) return;
    const taken: Raster = { ...cells, bits: new Int32Array(cells.bits.length) };
    markRings(taken, [piece.outline]);
    for (let k = 0; k < cells.bits.length; k++) cells.bits[k] = cells.bits[k]! & ~taken.bits[k]!;
  });
}

/**
 * Works out what one detector sees of the samples at their first height.
 * @returns whether the detector came or comes near enough to matter
 */
export function seesSamples(
  scene: Scene,
  surroundings: Surroundings,
  samples: WorkplaceSamples,
  detector: number,
): boolean {
  const known = samples.seen.delete(detector);
  if (samples.count === 0 || !reaches(scene, samples, detector)) return known;
  const view = castView(scene, surroundings, samples, detector, 0);
  samples.seen.set(detector, { heights: [view.seen, null, null], masked: view.masked });
  return true;
}

function reaches(scene: Scene, samples: WorkplaceSamples, detector: number): boolean {
  const lens = scene.lenses[detector]!;
  const range = lens.ranges.minor;
  if (lens.removed || !range) return false;
  // Ranges never widen upwards of the lowest height.
  const reach = outerRadius(extentAt(range, lens.h, samples.heights[0]));
  return reach > 0 && Math.hypot(samples.at[0] - lens.x, samples.at[1] - lens.y) <= reach + samples.radius + SLACK;
}

/** What a detector sees at one of the three heights, worked out when first asked for. */
function viewAt(
  scene: Scene,
  surroundings: Surroundings,
  samples: WorkplaceSamples,
  detector: number,
  level: number,
): Int32Array {
  const view = samples.seen.get(detector)!;
  const known = view.heights[level];
  if (known) return known;
  const { seen } = castView(scene, surroundings, samples, detector, level);
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
): { readonly seen: Int32Array; readonly masked: Int32Array | null } {
  const lens = scene.lenses[detector]!;
  const h = samples.heights[level]!;
  const view: Raster = { ...samples.cells, bits: samples.cells.bits.slice() };
  const masked = keepUnmaskedInRange(scene, samples, view, detector, level);
  const far = gatherFor(scene, surroundings, samples, lens.x, lens.y, lens.h, h);
  castFull(surroundings, scene, view, wholeClip(view), far);
  castPart(surroundings, scene, h, view, wholeClip(view), far);
  return { seen: view.bits, masked };
}

function keepUnmaskedInRange(
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
function gatherFor(
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

/** Detectors near a workplace, told apart by whether their group serves it. */
interface Near {
  readonly serving: readonly { readonly detector: number; readonly served: Int32Array }[];
  readonly others: readonly number[];
}

function listNear(coverage: Coverage, samples: WorkplaceSamples): Near {
  const { serving } = coverage;
  const near: { serving: { detector: number; served: Int32Array }[]; others: number[] } = { serving: [], others: [] };
  for (const detector of [...samples.seen.keys()].sort((a, b) => a - b)) {
    const group = serving.groups[serving.groupOf[detector]!];
    const served = group ? servedSamples(coverage, samples, group) : null;
    if (served) near.serving.push({ detector, served });
    else near.others.push(detector);
  }
  return near;
}

/** Serving detectors that come near a workplace. */
export function listServing(coverage: Coverage, samples: WorkplaceSamples): number[] {
  return listNear(coverage, samples).serving.map(({ detector }) => detector);
}

/** The verdict on one workplace from its samples; what hides it is named by `nameHiders`. */
export function judgeWorkplace(coverage: Coverage, index: number, surroundings: Surroundings): WorkplaceResult {
  const { floor, scene } = coverage;
  const samples = coverage.samples[index]!;
  const near = listNear(coverage, samples);
  const idOf = (detector: number): DetectorId => floor.detectors[detector]!.id;
  const seesSome = (detector: number, served: Int32Array) => {
    const bits = samples.seen.get(detector)!.heights[0];
    for (let k = 0; k < bits.length; k++) if ((bits[k]! & served[k]!) !== 0) return true;
    return false;
  };
  const shareAt = (level: number): number | null => {
    const union = new Int32Array(samples.cells.bits.length);
    for (const { detector, served } of near.serving) {
      const bits = viewAt(scene, surroundings, samples, detector, level);
      for (let k = 0; k < union.length; k++) union[k] = union[k]! | (bits[k]! & served[k]!);
    }
    return share(union, samples.count);
  };
  const enough = (value: number | null) => value !== null && value >= floor.analysis.workplaceShare - SLACK;
  const body = shareAt(0);
  const level: BodyLevel = enough(body)
    ? 'body'
    : enough(shareAt(1))
      ? 'shoulders'
      : enough(shareAt(2))
        ? 'head'
        : 'none';
  return {
    id: floor.workplaces[index]!.id,
    share: body,
    level,
    met: level === 'body' || level === 'shoulders',
    seenBy: near.serving
      .filter(({ detector, served }) => seesSome(detector, served))
      .map(({ detector }) => idOf(detector)),
    seenByOther: near.others.filter((detector) => seesSome(detector, samples.cells.bits)).map(idOf),
    hiddenBy: [],
  };
}

/** Why the samples that no serving detector sees are missed. */
export interface Misses {
  /** Samples by the index of the blocker that hides them from some serving detector. */
  readonly hiders: ReadonlyMap<number, number>;
  /** Detectors from which each blocker hides some. */
  readonly from: ReadonlyMap<number, ReadonlySet<number>>;
  readonly hidden: number;
  readonly masked: number;
  readonly range: number;
}

/** Asks of every fifth unseen sample why each serving detector misses it. */
export function findMisses(coverage: Coverage, samples: WorkplaceSamples, surroundings: Surroundings): Misses {
  const { scene } = coverage;
  const { cells } = samples;
  const near = listNear(coverage, samples).serving;
  const union = new Int32Array(cells.bits.length);
  for (const { detector, served } of near) {
    const bits = samples.seen.get(detector)!.heights[0];
    for (let k = 0; k < union.length; k++) union[k] = union[k]! | (bits[k]! & served[k]!);
  }
  const hiders = new Map<number, number>();
  const from = new Map<number, Set<number>>();
  const hidden = new Set<number>();
  const masked = new Set<number>();
  const unseen: { k: number; bit: number; x: number; y: number }[] = [];
  const { x0, y0, cell } = cells.lattice;
  for (let r = 0; r < cells.rows; r++) {
    if ((cells.j0 + r) % NAMED !== 2) continue;
    for (let column = 0; column < 32 * cells.words; column++) {
      const i = 32 * cells.w0 + column;
      if (i % NAMED !== 2) continue;
      const k = r * cells.words + (column >> 5);
      const bit = 1 << (column & 31);
      if ((cells.bits[k]! & ~union[k]! & bit) === 0) continue;
      unseen.push({ k, bit, x: x0 + (i + 0.5) * cell, y: y0 + (cells.j0 + r + 0.5) * cell });
    }
  }
  for (const { detector } of near) {
    const lens = scene.lenses[detector]!;
    const h = samples.heights[0];
    const open: Raster = { ...cells, bits: cells.bits.slice() };
    const covered = keepUnmaskedInRange(scene, samples, open, detector, 0);
    gatherFor(scene, surroundings, samples, lens.x, lens.y, lens.h, h);
    unseen.forEach(({ k, bit, x, y }, sample) => {
      if (covered && (covered[k]! & bit) !== 0) masked.add(sample);
      if ((open.bits[k]! & bit) === 0) return;
      const blocker = findFirstBlocker(surroundings, scene, x, y, h);
      if (blocker < 0) return;
      hidden.add(sample);
      hiders.set(blocker, (hiders.get(blocker) ?? 0) + 1);
      from.set(blocker, (from.get(blocker) ?? new Set()).add(detector));
    });
  }
  const onlyMasked = [...masked].filter((sample) => !hidden.has(sample)).length;
  return { hiders, from, hidden: hidden.size, masked: onlyMasked, range: unseen.length - hidden.size - onlyMasked };
}

/** The workplaces' verdicts with what hides each, the piece that hides most first. */
export function nameHiders(coverage: Coverage): WorkplaceResult[] {
  const surroundings = createSurroundings(coverage.scene);
  return coverage.workplaces.map((result, index) => {
    const samples = coverage.samples[index]!;
    if (result.share === null || result.share >= 1 - SLACK) return result;
    const { hiders } = findMisses(coverage, samples, surroundings);
    const ordered = [...hiders].sort((a, b) => b[1] - a[1] || a[0] - b[0]);
    return { ...result, hiddenBy: ordered.map(([blocker]) => coverage.scene.blockers[blocker]!) };
  });
}

/** Share of samples seen at the first height by any of some detectors; null without samples. */
export function shareSeenBy(samples: WorkplaceSamples, detectors: Iterable<number>): number | null {
  const union = new Int32Array(samples.cells.bits.length);
  for (const detector of detectors) {
    const bits = samples.seen.get(detector)?.heights[0];
    if (bits) for (let k = 0; k < union.length; k++) union[k] = union[k]! | bits[k]!;
  }
  return share(union, samples.count);
}

function share(words: Int32Array, count: number): number | null {
  if (count === 0) return null;
  let seen = 0;
  for (let k = 0; k < words.length; k++) seen += countBits(words[k]!);
  return seen / count;
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
