/** One coverage tried with other detectors, to say what a change costs the people on the floor. */
import { type Coverage, createCoverage, updateCoverage } from '../../coverage/index.ts';
import { judgeNeeds } from '../../coverage/needs.ts';
import type { Detector, Floor } from '../../floor/index.ts';
import { listLost } from '../question/stress.ts';

/** What a change takes away. Nothing is negative: what it gains is not set against it. */
export interface PeopleCost {
  /** Square metres that were seen and are not. */
  readonly seatedM2: number;
  readonly walkingM2: number;
  /** Needs that were met and are not. */
  readonly workplaces: readonly string[];
  readonly zones: readonly string[];
  readonly entrances: readonly string[];
}

export interface Trial {
  readonly floor: Floor;
  /** The coverage as last tried. It changes with the next trial. */
  readonly coverage: Coverage;
  /** Tries other detectors, by their place in the list, and says what that costs. Null: as the floor is. */
  measure(changed: ReadonlyMap<number, Detector>): PeopleCost;
  /** Brings the coverage to other detectors without judging. */
  show(changed: ReadonlyMap<number, Detector>): Coverage;
}

export function createTrial(floor: Floor): Trial {
  const coverage = createCoverage(floor);
  const drawn = judgeNeeds(coverage);
  const areas = coverage.areas;
  const show = (changed: ReadonlyMap<number, Detector>): Coverage => {
    const detectors = floor.detectors.map((detector, index) => changed.get(index) ?? detector);
    updateCoverage(coverage, changed.size === 0 ? floor : { ...floor, detectors });
    return coverage;
  };
  return {
    floor,
    coverage,
    show,
    measure(changed) {
      show(changed);
      const lost = (plane: 'seated' | 'walking') =>
        Math.max(0, Math.round((areas[plane].seenM2 - coverage.areas[plane].seenM2) * 1e6) / 1e6);
      return { seatedM2: lost('seated'), walkingM2: lost('walking'), ...listLost(drawn, judgeNeeds(coverage)) };
    },
  };
}

/** Does a change leave every need met that was met? */
export function keepsNeeds({ workplaces, zones, entrances }: PeopleCost): boolean {
  return workplaces.length + zones.length + entrances.length === 0;
}
