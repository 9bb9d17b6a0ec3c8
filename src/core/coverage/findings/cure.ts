/** How low a piece would have to be for a workplace to be met. */
import type { Scene, Surroundings } from '../../sight/index.ts';
import type { Coverage } from '../coverage.ts';
import type { WorkplaceSamples } from '../samples.ts';
import { seesSamples } from '../samples.ts';
import { shareSeenBy } from '../workplaces.ts';

/** Heights are searched to this precision and rounded down to it, metres. */
const PRECISION = 0.01;

export interface Cure {
  /** Highest top, metres, at which the workplace reaches its share; null where no height does. */
  readonly met: number | null;
  /** Highest top at which all of it is seen; null where no height does. */
  readonly full: number | null;
}

/**
 * Finds the height at which a piece would no longer hide a workplace from the detectors that serve it.
 * @param blocker index into `scene.blockers`; walls have no height that could be changed
 */
export function findCure(
  coverage: Coverage,
  surroundings: Surroundings,
  samples: WorkplaceSamples,
  detectors: readonly number[],
  blocker: number,
): Cure {
  const { scene, floor } = coverage;
  const prism = scene.prisms.find((each) => each.blocker === blocker);
  if (!prism) return { met: null, full: null };
  const shareAt = (top: number): number => {
    const lowered = lowerTo(scene, blocker, top);
    const fresh: WorkplaceSamples = { ...samples, seen: new Map() };
    for (const detector of detectors) seesSamples(lowered, surroundings, fresh, detector);
    return shareSeenBy(fresh, detectors) ?? 0;
  };
  const highest = (need: number): number | null => {
    let low = Math.max(prism.base, 0);
    let high = prism.top;
    if (shareAt(low) < need) return null;
    while (high - low > PRECISION / 4) {
      const middle = (low + high) / 2;
      if (shareAt(middle) >= need) low = middle;
      else high = middle;
    }
    return Math.floor(low / PRECISION + 1e-6) * PRECISION;
  };
  return { met: highest(floor.analysis.workplaceShare - 1e-9), full: highest(1 - 1e-9) };
}

function lowerTo(scene: Scene, blocker: number, top: number): Scene {
  const prism = blocker - scene.floor.rooms.length;
  const tops = scene.occluders.top.slice().fill(top, scene.firstPart[prism], scene.firstPart[prism + 1]);
  return { ...scene, occluders: { ...scene.occluders, top: tops } };
}
