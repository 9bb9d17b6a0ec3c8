/** Verdicts on workplaces: how much of a person at a desk is seen, by whom, and what is in the way. */
import type { DetectorId } from '../floor/index.ts';
import type { Arounds, Raster, Surroundings } from '../sight/index.ts';
import { countBits, createSurroundings, findFirstBlocker, SLACK } from '../sight/index.ts';
import type { Coverage } from './coverage.ts';
import type { BodyLevel, WorkplaceResult } from './result.ts';
import type { WorkplaceSamples } from './samples.ts';
import { gatherFor, keepUnmaskedInRange, servedSamples, viewAt } from './samples.ts';

/** What hides a sample is asked of every fifth in x and y. */
const NAMED = 5;

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
export function judgeWorkplace(
  coverage: Coverage,
  index: number,
  surroundings: Surroundings,
  arounds?: Arounds,
): WorkplaceResult {
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
      const bits = viewAt(scene, surroundings, samples, detector, level, arounds);
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
