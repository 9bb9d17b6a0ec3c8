import type { Detector, DetectorId, Doors, Floor, Motion } from '../floor/index.ts';
import { findRoomAt } from '../floor/index.ts';
import type { Sight, Target } from '../sight/index.ts';
import { traceSight } from '../sight/index.ts';
import { findBlindPatches } from './blind.ts';
import type { Coverage } from './coverage.ts';
import { areaOf, createCoverage } from './coverage.ts';
import { judgeEntrances } from './entrances.ts';
import { writeFindings } from './findings/index.ts';
import { castOpenLayers } from './open-doors.ts';
import { judgeGroups, judgeRooms, judgeZones, measureDetectors, measurePlane, measureSpill } from './places.ts';
import type { CheckResult } from './result.ts';
import { servesPlace } from './serving.ts';
import { judgeSources } from './sources.ts';
import { nameHiders } from './workplaces.ts';

/** Every verdict and finding on a floor. */
export function check(floor: Floor): CheckResult {
  return judgeCoverage(createCoverage(floor));
}

/** Every verdict and finding, from a coverage that is already worked out. */
export function judgeCoverage(coverage: Coverage): CheckResult {
  const { floor, grid } = coverage;
  const workplaces = nameHiders(coverage);
  const openLayers = castOpenLayers(coverage);
  const zones = judgeZones(coverage, openLayers);
  const patches = [...findBlindPatches(coverage, 'seated'), ...findBlindPatches(coverage, 'walking')];
  const entrances = judgeEntrances(coverage);
  const spill = measureSpill(coverage, openLayers);
  const sources = judgeSources(coverage);
  const findings = writeFindings({ coverage, workplaces, zones, patches, entrances, spill, sources });
  return {
    format: 'lacuna-check/1',
    floor: floor.name,
    cell: grid.lattice.cell,
    met: findings.every((finding) => finding.level !== 'fail'),
    workplacesMet: [workplaces.filter((each) => each.met).length, workplaces.length],
    planes: {
      seated: measurePlane(coverage.seated, grid.lattice),
      walking: { ...measurePlane(coverage.walking, grid.lattice), everyHeadingM2: areaOf(coverage.walking.every!) },
    },
    rooms: judgeRooms(coverage),
    workplaces,
    zones,
    blind: patches.map(({ plane, areaM2, at, cause, by }) => ({ plane, areaM2, at, cause, by })),
    entrances: entrances.map(({ id, room, firstSeenM }) => ({ id, room, firstSeenM })),
    spill,
    sources: sources.map(({ id, seenBy, near, masks }) => ({ id, seenBy, near, masks })),
    detectors: measureDetectors(coverage),
    groups: judgeGroups(coverage, workplaces, zones),
    findings,
  };
}

/** What one detector says of a place. */
export interface ProbeAnswer {
  readonly detector: DetectorId;
  readonly sight: Sight;
  /** Does its group serve the place? */
  readonly serving: boolean;
}

/** Asks every detector about one place, by the plain sight line, in the order of the file. */
export function probeAt(coverage: Coverage, target: Target, motion: Motion, doors: Doors): ProbeAnswer[] {
  const { floor, scene, serving } = coverage;
  const room = findRoomAt(floor.rooms, [target.x, target.y]);
  const roomIndex = room ? floor.rooms.indexOf(room) : -1;
  return floor.detectors.map((detector: Detector, index) => {
    const group = serving.groups[serving.groupOf[index]!];
    return {
      detector: detector.id,
      sight: traceSight(scene, index, target, motion, doors),
      serving: group !== undefined && servesPlace(group, floor, roomIndex, target.x, target.y),
    };
  });
}
