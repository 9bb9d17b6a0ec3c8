/** Masks that hold what is to be hidden: boxes of azimuth and nadir angle, rounded outwards to whole degrees. */
import type { Mask } from '../../floor/index.ts';
import type { Lens } from '../../sight/index.ts';

/** Azimuths in the detector's turned frame, counter-clockwise; nadir angles from straight down. Degrees. */
export type MaskAngles = Pick<Mask, 'from' | 'to' | 'inner' | 'outer'>;

/** Added on every side of a smallest mask, degrees: what is cut by hand and stuck on overhead (own choice). */
const MASK_MARGIN_DEG = 2;

/** Places whose azimuths are farther apart than this get masks of their own, degrees: less is covered (own choice). */
const GAP_DEG = 20;

/** At the foot every azimuth counts, metres in plan. */
const FOOT = 0.001;

/** Angles closer to a whole degree than this are rounded beyond it: an edge may go either way. */
const EDGE_DEG = 0.001;

export interface HiddenPlace {
  readonly x: number;
  readonly y: number;
  /** Metres above the floor, below the lens. */
  readonly h: number;
}

/** The smallest masks that hold every one of some places; none for no places. */
export function boundPlaces(
  lens: Pick<Lens, 'x' | 'y' | 'h' | 'turn'>,
  places: readonly HiddenPlace[],
): readonly MaskAngles[] {
  const seen = places.map(({ x, y, h }) => {
    const distance = Math.hypot(x - lens.x, y - lens.y);
    return {
      azimuth: distance <= FOOT ? null : turned(toDegrees(Math.atan2(y - lens.y, x - lens.x)) - lens.turn),
      nadir: toDegrees(Math.atan2(distance, lens.h - h)),
    };
  });
  const around = seen
    .flatMap(({ azimuth, nadir }) => (azimuth === null ? [] : [{ azimuth, nadir }]))
    .sort((a, b) => a.azimuth - b.azimuth);
  const atFoot = seen.length > around.length;
  if (around.length === 0) return atFoot ? [{ from: 0, to: 360, inner: 0, outer: 1 }] : [];
  return cutAtGaps(around).map((part) => {
    const nadirs = part.map(({ nadir }) => nadir);
    const least = atFoot ? 0 : nadirs.reduce((a, b) => Math.min(a, b));
    const most = nadirs.reduce((a, b) => Math.max(a, b));
    const inner = Math.min(89, Math.max(0, Math.floor(least - EDGE_DEG)));
    const outer = Math.min(90, Math.max(inner + 1, Math.ceil(most + EDGE_DEG)));
    const from = Math.floor(part[0]!.azimuth - EDGE_DEG);
    const to = Math.ceil(part.at(-1)!.azimuth + EDGE_DEG);
    return to - from >= 360 ? { from: 0, to: 360, inner, outer } : { from: turned(from), to: turned(to), inner, outer };
  });
}

/** Runs of azimuths without a wide gap; the last of each may lie past 360. */
function cutAtGaps<At extends { readonly azimuth: number }>(sorted: readonly At[]): readonly At[][] {
  const gapAfter = sorted.map((each, k) => {
    const next = sorted[k + 1];
    return next === undefined ? sorted[0]!.azimuth + 360 - each.azimuth : next.azimuth - each.azimuth;
  });
  const widest = gapAfter.reduce((a, b) => Math.max(a, b));
  const least = Math.min(GAP_DEG, widest);
  // Places all around, without room for an open sector between the edges of a mask: the whole ring.
  if (widest <= 2) return [[...sorted, { ...sorted[0]!, azimuth: sorted[0]!.azimuth + 360 }]];
  const cuts = gapAfter.flatMap((gap, k) => (gap >= least ? [k] : []));
  return cuts.map((cut, n) => {
    const end = cuts[(n + 1) % cuts.length]!;
    const count = ((end - cut + sorted.length - 1) % sorted.length) + 1;
    return Array.from({ length: count }, (_, k) => {
      const index = cut + 1 + k;
      const each = sorted[index % sorted.length]!;
      return index >= sorted.length ? { ...each, azimuth: each.azimuth + 360 } : each;
    });
  });
}

/** A mask wider by a margin on every side; one that closes on itself is the whole ring. */
export function widenMask(mask: MaskAngles, margin = MASK_MARGIN_DEG): MaskAngles {
  const span = spanOf(mask);
  const inner = Math.max(0, mask.inner - margin);
  const outer = Math.min(90, mask.outer + margin);
  if (span + 2 * margin >= 360) return { from: 0, to: 360, inner, outer };
  return { from: turned(mask.from - margin), to: turned(mask.from - margin) + span + 2 * margin, inner, outer };
}

/** Degrees a mask runs counter-clockwise: over 0, up to 360. */
function spanOf({ from, to }: MaskAngles): number {
  const span = turned(to - from);
  return span === 0 ? 360 : span;
}

function turned(degrees: number): number {
  return ((degrees % 360) + 360) % 360;
}

function toDegrees(radians: number): number {
  return (radians * 180) / Math.PI;
}
