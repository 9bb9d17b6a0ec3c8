/** What a mask takes from its detector: the sources it hides, and the seats it costs. */
import type { Detector, Floor, Mask, Source, Workplace } from '../../core/floor/index.ts';
import { extentAt, findCut, isMasked, type Lens, outerRadius } from '../../core/sight/index.ts';
import type { HandoverJob } from '../job.ts';

export interface MaskFacts {
  readonly mask: Mask;
  /** Sources with some of their middle line in the sector, which the lens would see without it. */
  readonly sources: readonly Source[];
  /** Seats of which the lens would see a person's place without the mask; those not met come first. */
  readonly seats: readonly { readonly seat: Workplace; readonly met: boolean }[];
}

/** Facts of every mask of a detector, in the order of the file. */
export function findMaskFacts(job: HandoverJob, detector: Detector): readonly MaskFacts[] {
  const { floor, coverage, result } = job;
  const index = floor.detectors.indexOf(detector);
  const lens = coverage.scene.lenses[index];
  if (lens === undefined) return [];
  const met = new Map<string, boolean>(result.workplaces.map((each) => [each.id, each.met]));
  return detector.masks.map((mask): MaskFacts => {
    const only: Lens = { ...lens, masks: [mask] };
    const seats = floor.workplaces
      .filter((seat) => hidesSeat(job, only, seat))
      .map((seat) => ({ seat, met: met.get(seat.id) ?? true }))
      .sort((a, b) => Number(a.met) - Number(b.met));
    return { mask, sources: floor.sources.filter((source) => hidesSource(job, only, source)), seats };
  });
}

/** Would the lens, but for its mask, see small movements at this place? */
function hidesSeat({ floor, coverage }: HandoverJob, lens: Lens, seat: Workplace): boolean {
  const h = planeOf(floor, seat);
  const radius = outerRadius(extentAt(lens.ranges.minor, lens.h, h));
  const [x, y] = seat.at;
  if (Math.hypot(x - lens.x, y - lens.y) > radius + seat.radius) return false;
  for (let ring = 0; ring <= 2; ring++) {
    for (let k = 0; k < (ring === 0 ? 1 : 8); k++) {
      const angle = (k * Math.PI) / 4;
      const off = (seat.radius * ring * 0.99) / 2;
      const target = { x: x + off * Math.cos(angle), y: y + off * Math.sin(angle), h };
      if (Math.hypot(target.x - lens.x, target.y - lens.y) > radius) continue;
      if (isMasked(lens, target) && findCut(coverage.scene, lens, target, 'stated') === null) return true;
    }
  }
  return false;
}

function hidesSource({ coverage }: HandoverJob, lens: Lens, source: Source): boolean {
  const top = Math.min(source.top, lens.h - 1e-6);
  return [source.base, (source.base + top) / 2, top].some((h) => {
    if (h >= lens.h) return false;
    const target = { x: source.at[0], y: source.at[1], h };
    const { minor, tangential, radial } = lens.ranges;
    const reach = Math.max(...[minor, tangential, radial].map((range) => outerRadius(extentAt(range, lens.h, h))));
    return (
      Math.hypot(target.x - lens.x, target.y - lens.y) <= reach + source.radius &&
      isMasked(lens, target) &&
      findCut(coverage.scene, lens, target, 'stated') === null
    );
  });
}

/** Height at which a person is looked for: seated, or the lowest of a standing body (design, section 6). */
function planeOf(floor: Floor, seat: Workplace): number {
  return seat.posture === 'standing' ? STANDING_BODY_M : floor.analysis.seatedPlane;
}
const STANDING_BODY_M = 1.1;
