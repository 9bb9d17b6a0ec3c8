/** Groups as documents need them: their members by number, and what they serve with its seats and square metres. */
import type { Coverage } from '../../core/coverage/index.ts';
import type { ServingGroup } from '../../core/coverage/serving.ts';
import type { Detector, Group, Luminaire, Workplace } from '../../core/floor/index.ts';
import { countCells, hasCell } from '../../core/sight/index.ts';
import type { HandoverJob } from '../job.ts';

export interface ServedGroup {
  readonly key: string;
  readonly name: string;
  /** Null: a detector in no group, which is a group of its own. */
  readonly group: Group | null;
  readonly main: Detector | undefined;
  readonly extensions: readonly Detector[];
  /** Names of the rooms and zones it serves. */
  readonly serves: readonly string[];
  readonly seats: readonly Workplace[];
  readonly areaM2: number;
  readonly luminaires: readonly Luminaire[];
  readonly met: boolean;
}

/** All groups of a floor in the order of the file, detectors in no group after them. */
export function listServedGroups({ floor, coverage, result, names }: HandoverJob): readonly ServedGroup[] {
  const { cell } = coverage.grid.lattice;
  const verdicts = new Map<string, boolean>(result.groups.map((each) => [each.id, each.met]));
  return coverage.serving.groups.map((serving) => {
    const { group } = serving;
    const detectors = serving.detectors.flatMap((index) => floor.detectors[index] ?? []);
    const main = group === null ? detectors[0] : floor.detectors.find((each) => each.id === group.main);
    const extensions =
      group === null ? [] : group.extensions.flatMap((id) => floor.detectors.find((each) => each.id === id) ?? []);
    return {
      key: serving.key,
      name: names.nameOf(serving.key),
      group,
      main,
      extensions,
      serves: [
        ...serving.rooms.flatMap((index) => floor.rooms[index]?.id ?? []),
        ...serving.zones.flatMap((index) => floor.zones[index]?.id ?? []),
      ].map(names.nameOf),
      seats: floor.workplaces.filter((seat) => serves(coverage, serving, seat)),
      areaM2: countCells(serving.area) * cell * cell,
      luminaires: group === null ? [] : floor.luminaires.filter((each) => each.group === group.id),
      met: verdicts.get(serving.key) ?? true,
    };
  });
}

/** Whether a seat's chair lies where the group's light falls. */
function serves(coverage: Coverage, { area }: ServingGroup, seat: Workplace): boolean {
  const { x0, y0, cell } = coverage.grid.lattice;
  return hasCell(area, Math.floor((seat.at[0] - x0) / cell), Math.floor((seat.at[1] - y0) / cell));
}

/** The group of each detector, by its id. */
export function groupByDetector(groups: readonly ServedGroup[]): ReadonlyMap<string, ServedGroup> {
  const map = new Map<string, ServedGroup>();
  for (const group of groups) {
    for (const detector of [group.main, ...group.extensions]) if (detector !== undefined) map.set(detector.id, group);
  }
  return map;
}
