/** Workplaces: how much of a person at a desk is seen, and by whom. */
import type { DetectorId, Workplace } from '../floor/index.ts';
import { findRoomAt } from '../floor/index.ts';
import type { Lattice, Raster, Scene, Surroundings } from '../sight/index.ts';
import {
  castFull,
  castLensMasks,
  castPart,
  countBits,
  countCells,
  createRasterOver,
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
  /** Per detector that comes near: what it sees at each height. */
  readonly seen: Map<number, DetectorView>;
}

export interface DetectorView {
  /** Bits like `cells`, one array a height. */
  readonly heights: readonly Int32Array[];
  /** At the first height: samples in a mask. */
  readonly masked: Int32Array;
  /** At the first height: per sample the index of the piece that hides it, -1 for none; `[row * 32 * words + column]`. */
  readonly blockers: Int32Array;
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
  const lattice = finerLattice(grid.lattice);
  const cells = createRasterOver(lattice, x - radius, y - radius, x + radius, y + radius);
  const room = findRoomAt(floor.rooms, workplace.at);
  if (room) {
    markRings(cells, [room.outline, ...room.holes]);
    keepExtent(cells, x, y, { kind: 'round', radius }, 0);
    for (const piece of floor.furniture) {
      if (!(piece.base <= plane && plane < piece.top)) continue;
      if (!piece.outline.some(([px]) => px >= x - radius) || !piece.outline.some(([px]) => px <= x + radius)) continue;
      const taken: Raster = { ...cells, bits: new Int32Array(cells.bits.length) };
      markRings(taken, [piece.outline]);
      for (let k = 0; k < cells.bits.length; k++) cells.bits[k] = cells.bits[k]! & ~taken.bits[k]!;
    }
    // A straight line at plane height: cast from the chair's centre, everything that holds the plane is of full height.
    const level = plane + 1e-9;
    gather(
      surroundings,
      scene,
      x,
      y,
      level,
      2 * radius,
      plane,
      WHEN_STATED,
      x - radius,
      y - radius,
      x + radius,
      y + radius,
    );
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
  };
}

/**
 * Works out what one detector sees of the samples.
 * @returns whether the detector came or comes near enough to matter
 */
export function seesSamples(
  scene: Scene,
  surroundings: Surroundings,
  samples: WorkplaceSamples,
  detector: number,
): boolean {
  const lens = scene.lenses[detector]!;
  const known = samples.seen.delete(detector);
  if (lens.removed || samples.count === 0) return known;
  const [x, y] = samples.at;
  const reach = Math.max(...samples.heights.map((h) => outerRadius(extentAt(lens.ranges.minor, lens.h, h))));
  if (Math.hypot(x - lens.x, y - lens.y) > reach + samples.radius + SLACK) return known;

  const { cells } = samples;
  const clip = wholeClip(cells);
  const far = farthest(cells, lens.x, lens.y);
  const { radius } = samples;
  gather(
    surroundings,
    scene,
    lens.x,
    lens.y,
    lens.h,
    far,
    samples.heights[0],
    WHEN_STATED,
    x - radius,
    y - radius,
    x + radius,
    y + radius,
  );
  let masked: Int32Array = new Int32Array(cells.bits.length);
  const blockers = new Int32Array(32 * cells.words * cells.rows).fill(-1);
  const heights = samples.heights.map((h, level) => {
    const view: Raster = { ...cells, bits: cells.bits.slice() };
    const extent = extentAt(lens.ranges.minor, lens.h, h);
    if (!extent) {
      view.bits.fill(0);
      return view.bits;
    }
    keepExtent(view, lens.x, lens.y, extent, lens.turn);
    if (lens.masks.length > 0) {
      const covered = castLensMasks(lens, view, h).bits;
      if (level === 0) masked = covered;
      for (let k = 0; k < view.bits.length; k++) view.bits[k] = view.bits[k]! & ~covered[k]!;
    }
    const open = level === 0 ? view.bits.slice() : null;
    castFull(surroundings, scene, view, clip, far);
    castPart(surroundings, scene, h, view, clip, far);
    if (open) nameBlockers(scene, surroundings, view, open, h, blockers);
    return view.bits;
  });
  samples.seen.set(detector, { heights, masked, blockers });
  return true;
}

/** Names the piece that hides each sample which is in range and unmasked but not seen. */
function nameBlockers(
  scene: Scene,
  surroundings: Surroundings,
  view: Raster,
  open: Int32Array,
  h: number,
  blockers: Int32Array,
): void {
  const { x0, y0, cell } = view.lattice;
  for (let k = 0; k < open.length; k++) {
    let bits = open[k]! & ~view.bits[k]!;
    while (bits !== 0) {
      const b = 31 - Math.clz32(bits & -bits);
      bits &= bits - 1;
      const r = Math.floor(k / view.words);
      const column = 32 * (k - r * view.words) + b;
      const x = x0 + (32 * view.w0 + column + 0.5) * cell;
      const y = y0 + (view.j0 + r + 0.5) * cell;
      blockers[r * 32 * view.words + column] = findFirstBlocker(surroundings, scene, x, y, h);
    }
  }
}

/** The verdict on one workplace from its samples. */
export function judgeWorkplace(coverage: Coverage, index: number): WorkplaceResult {
  const { floor, scene, serving } = coverage;
  const workplace = floor.workplaces[index]!;
  const samples = coverage.samples[index]!;
  const size = samples.cells.bits.length;
  const seen = samples.heights.map(() => new Int32Array(size));
  const seenBy: DetectorId[] = [];
  const seenByOther: DetectorId[] = [];
  const near = [...samples.seen.keys()].sort((a, b) => a - b);
  const servingNear: number[] = [];
  for (const detector of near) {
    const view = samples.seen.get(detector)!;
    const group = serving.groups[serving.groupOf[detector]!];
    const served = group ? servedSamples(coverage, samples, group) : null;
    const sees = view.heights[0]!.some((word, k) => (word & (served ? served[k]! : -1)) !== 0);
    if (served) {
      servingNear.push(detector);
      view.heights.forEach((bits, level) => {
        const words = seen[level]!;
        for (let k = 0; k < size; k++) words[k] = words[k]! | (bits[k]! & served[k]!);
      });
      if (sees) seenBy.push(floor.detectors[detector]!.id);
    } else if (sees) {
      seenByOther.push(floor.detectors[detector]!.id);
    }
  }
  const shares = seen.map((words) => share(words, samples.count));
  const enough = (level: number) => (shares[level] ?? 0) >= floor.analysis.workplaceShare - SLACK && samples.count > 0;
  const level: BodyLevel = enough(0) ? 'body' : enough(1) ? 'shoulders' : enough(2) ? 'head' : 'none';
  const hiders = new Map<number, number>();
  for (const detector of servingNear) tallyHiders(samples, seen[0]!, samples.seen.get(detector)!, hiders);
  return {
    id: workplace.id,
    share: shares[0] ?? null,
    level,
    met: level === 'body' || level === 'shoulders',
    seenBy,
    seenByOther,
    hiddenBy: [...hiders].sort((a, b) => b[1] - a[1] || a[0] - b[0]).map(([blocker]) => scene.blockers[blocker]!),
  };
}

/** Share of samples seen at the workplace's first height by any of some detectors; null without samples. */
export function shareSeenBy(samples: WorkplaceSamples, detectors: Iterable<number>, level = 0): number | null {
  const words = new Int32Array(samples.cells.bits.length);
  for (const detector of detectors) {
    const bits = samples.seen.get(detector)?.heights[level];
    if (bits) for (let k = 0; k < words.length; k++) words[k] = words[k]! | bits[k]!;
  }
  return share(words, samples.count);
}

function share(words: Int32Array, count: number): number | null {
  if (count === 0) return null;
  let seen = 0;
  for (const word of words) seen += countBits(word);
  return seen / count;
}

/** The samples that a group serves; null for none. */
export function servedSamples(coverage: Coverage, samples: WorkplaceSamples, group: ServingGroup): Int32Array | null {
  if (group.rooms.includes(samples.room)) return samples.cells.bits;
  if (group.zones.length === 0) return null;
  const inZones: Raster = { ...samples.cells, bits: new Int32Array(samples.cells.bits.length) };
  for (const zone of group.zones) markRings(inZones, [coverage.floor.zones[zone]!.outline]);
  const bits = inZones.bits.map((word, k) => word & samples.cells.bits[k]!);
  return bits.some((word) => word !== 0) ? bits : null;
}

function tallyHiders(
  samples: WorkplaceSamples,
  seen: Int32Array,
  view: DetectorView,
  hiders: Map<number, number>,
): void {
  const { words, rows } = samples.cells;
  for (let r = 0; r < rows; r++) {
    for (let column = 0; column < 32 * words; column++) {
      const blocker = view.blockers[r * 32 * words + column]!;
      if (blocker < 0 || ((seen[r * words + (column >> 5)]! >>> (column & 31)) & 1) !== 0) continue;
      hiders.set(blocker, (hiders.get(blocker) ?? 0) + 1);
    }
  }
}

function finerLattice(lattice: Lattice): Lattice {
  if (lattice.cell <= SPACING) return lattice;
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

function wholeClip(raster: Raster) {
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
