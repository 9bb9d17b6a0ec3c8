/** What people need of a floor, without findings: for questions that are asked hundreds of times. */
import { SLACK } from '../sight/index.ts';
import type { Coverage } from './coverage.ts';
import { judgeEntrances } from './entrances.ts';
import { castOpenLayers } from './open-doors.ts';
import { judgeZones } from './places.ts';
import type { EntranceResult, WorkplaceResult, ZoneResult } from './result.ts';

/** Metres walked in the dark that warn, and from which on an entrance fails (common practice, no source). */
export const LATE = { warn: 1, fail: 2 };

export interface Needs {
  readonly workplaces: readonly WorkplaceResult[];
  readonly zones: readonly ZoneResult[];
  readonly entrances: readonly (EntranceResult & { readonly met: boolean })[];
}

/** Verdicts on workplaces, zones and entrances: the same values as `check` states. */
export function judgeNeeds(coverage: Coverage): Needs {
  const watched = coverage.floor.zones.some((zone) => zone.need === 'nobody');
  return {
    workplaces: coverage.workplaces,
    zones: judgeZones(coverage, watched ? castOpenLayers(coverage) : coverage.layers),
    entrances: judgeEntrances(coverage).map(({ id, room, firstSeenM, served }) => ({
      id,
      room,
      firstSeenM,
      met: !served || (firstSeenM !== null && firstSeenM <= LATE.fail + SLACK),
    })),
  };
}
