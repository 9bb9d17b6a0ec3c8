/** Groups as documents need them: members in the order of the cable, what they serve, and their plan. */
import type { CheckResult, Coverage } from '../core/coverage/index.ts';
import type { ServingGroup } from '../core/coverage/serving.ts';
import type { Detector, Floor, Group, Luminaire, Workplace } from '../core/floor/index.ts';
import { type GroupPlan, planGroups } from '../core/planning/groups/group-plan.ts';
import { countCells, hasCell } from '../core/sight/index.ts';
import type { Names } from './names.ts';

export interface ServedGroup {
  readonly key: string;
  readonly name: string;
  /** Null: a detector in no group, which is a group of its own. */
  readonly group: Group | null;
  /** Cable, limits, daylight and light spot; null with the group. */
  readonly plan: GroupPlan | null;
  readonly main: Detector | undefined;
  /** In the order in which the cable reaches them; those to be removed come last. */
  readonly extensions: readonly Detector[];
  /** Names of the rooms and zones it serves. */
  readonly serves: readonly string[];
  readonly seats: readonly Workplace[];
  readonly areaM2: number;
  readonly luminaires: readonly Luminaire[];
  readonly met: boolean;
}

/** All groups of a floor in the order of the file, detectors in no group after them. */
export function listServedGroups(coverage: Coverage, result: CheckResult, names: Names): readonly ServedGroup[] {
  const { floor } = coverage;
  const { cell } = coverage.grid.lattice;
  const verdicts = new Map<string, boolean>(result.groups.map((each) => [each.id, each.met]));
  const plans = new Map<string, GroupPlan>(planGroups(coverage).map((plan) => [plan.id, plan]));
  const detectors = new Map<string, Detector>(floor.detectors.map((each) => [each.id, each]));
  return coverage.serving.groups.map((serving) => {
    const { group } = serving;
    const plan = group === null ? null : (plans.get(group.id) ?? null);
    const first = serving.detectors[0];
    return {
      key: serving.key,
      name: names.nameOf(serving.key),
      group,
      plan,
      main: group === null ? (first === undefined ? undefined : floor.detectors[first]) : detectors.get(group.main),
      extensions: orderExtensions(group, plan).flatMap((id) => detectors.get(id) ?? []),
      serves: listServed(floor, serving).map(names.nameOf),
      seats: floor.workplaces.filter((seat) => serves(coverage, serving, seat)),
      areaM2: countCells(serving.area) * cell * cell,
      luminaires: group === null ? [] : floor.luminaires.filter((each) => each.group === group.id),
      met: verdicts.get(serving.key) ?? true,
    };
  });
}

function listServed(floor: Floor, serving: ServingGroup): string[] {
  return [
    ...serving.rooms.flatMap((index) => floor.rooms[index]?.id ?? []),
    ...serving.zones.flatMap((index) => floor.zones[index]?.id ?? []),
  ];
}

function orderExtensions(group: Group | null, plan: GroupPlan | null): readonly string[] {
  const wired: readonly string[] = plan?.extensions ?? [];
  return [...wired, ...(group?.extensions ?? []).filter((id) => !wired.includes(id))];
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
