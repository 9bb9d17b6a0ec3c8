/** Findings that follow from the plan of groups: limits of cable and area, and light measured where it should not be. */

import { type Draft, draft } from '../coverage/findings/context.ts';
import { countWords, listWords, metres, squareMetres } from '../coverage/findings/wording.ts';
import type { Coverage, Finding } from '../coverage/index.ts';
import type { Floor } from '../floor/index.ts';
import { nameOf } from '../floor/index.ts';
import { ENERGY_AREA, type GroupLimit, type GroupPlan, OPEN_PLAN_AREA, planGroups } from './groups/group-plan.ts';
import { type Daylight, findDaylight } from './light/daylight.ts';
import type { SpotFault } from './light/light-spot.ts';

/** Every finding of the plan, the largest of one level first. */
export function findPlanFaults(coverage: Coverage): Draft[] {
  const { floor } = coverage;
  if (floor.groups.length === 0) return [];
  const daylight = findDaylight(floor);
  const plans = planGroups(coverage, daylight);
  return [
    ...findLongCables(floor, plans),
    ...findMixedDaylight(floor, plans, daylight),
    ...findFalseSpots(floor, plans),
    ...findLargeGroups(floor, plans),
  ];
}

/** The words of a finding without what only orders it. */
export function finishFinding({ level, code, text, at, about }: Draft): Finding {
  return { level, code, text, at, about };
}

function limitOf(plan: GroupPlan, kind: GroupLimit['kind']): GroupLimit | undefined {
  return plan.limits.find((each) => each.kind === kind);
}

function mainOf(floor: Floor, plan: GroupPlan) {
  return floor.detectors.find((each) => each.id === plan.main)!;
}

function groupName(floor: Floor, plan: GroupPlan): string {
  return nameOf(floor.groups.find((each) => each.id === plan.id)!);
}

function findLongCables(floor: Floor, plans: readonly GroupPlan[]): Draft[] {
  return plans.flatMap((plan) => {
    const limit = limitOf(plan, 'cable');
    if (limit?.limit == null || limit.met !== false) return [];
    const main = mainOf(floor, plan);
    const type = floor.types.find((each) => each.id === main.type)!;
    const text = `${groupName(floor, plan)} needs ${limit.value.toFixed(1)} m of cable: ${metres(plan.cable.planM)} above the ceiling and ${metres(plan.cable.dropM)} of drops, with 10 % reserve. ${nameOf(type)} carries ${limit.limit} m. Split the group, or choose a main nearer to its middle.`;
    return [draft('fail', 'group-limit', text, main.at, [plan.id, main.id], limit.value - limit.limit)];
  });
}

function findMixedDaylight(floor: Floor, plans: readonly GroupPlan[], daylight: Daylight): Draft[] {
  return plans.flatMap((plan) => {
    if (plan.daylight !== 'mixed' || plan.spot === null) return [];
    const main = mainOf(floor, plan);
    const [lit, inner] = [plan.daylitPlaces.length, plan.innerPlaces.length];
    const text = `${groupName(floor, plan)} is measured at ${nameOf(main)} and lights ${countWords(lit, 'place')} within ${daylight.depth} m of a window and ${countWords(inner, 'place')} farther in. On a bright day the inner ones are too dark. Give them a group of their own.`;
    return [
      draft('warn', 'daylight-mixed', text, main.at, [plan.id, main.id, ...plan.innerPlaces], Math.min(lit, inner)),
    ];
  });
}

function findFalseSpots(floor: Floor, plans: readonly GroupPlan[]): Draft[] {
  return plans.flatMap((plan) => {
    const { spot } = plan;
    if (spot === null || spot.faults.length === 0) return [];
    const main = mainOf(floor, plan);
    const things = listWords(
      spot.faults.map((fault) => sayFault(floor, fault)),
      4,
    );
    const one = spot.faults.length === 1;
    const text = `${nameOf(main)} measures the light of ${groupName(floor, plan)} in a circle of ${metres(spot.radius)} under it; ${things} ${one ? 'lies' : 'lie'} in it. The light will be set wrong. Make another detector the main, or move it.`;
    return [
      draft(
        'warn',
        'daylight-mixed',
        text,
        main.at,
        [plan.id, main.id, ...spot.faults.map(({ id }) => id)],
        spot.faults.length,
      ),
    ];
  });
}

/** A thing in the spot, with what makes it one. */
function sayFault(floor: Floor, { kind, id, distance }: SpotFault): string {
  switch (kind) {
    case 'window':
      return `window ${id} (${metres(distance)} away)`;
    case 'furniture': {
      const piece = floor.furniture.find((each) => each.id === id)!;
      return `${nameOf(piece)} (${metres(piece.top)} high)`;
    }
    case 'luminaire': {
      const luminaire = floor.luminaires.find((each) => each.id === id)!;
      return `${nameOf(luminaire)} (hung at ${metres(luminaire.base)})`;
    }
  }
}

/** Groups over one limit of area are one finding: the cause is the limit. */
function findLargeGroups(floor: Floor, plans: readonly GroupPlan[]): Draft[] {
  const over = (kind: GroupLimit['kind']) =>
    plans.filter((plan) => limitOf(plan, kind)?.met === false).sort((a, b) => b.ownM2 - a.ownM2);
  const say = (large: readonly GroupPlan[]) =>
    listWords(
      large.map((plan) => `${groupName(floor, plan)} (${squareMetres(plan.ownM2)})`),
      5,
    );
  const tell = (level: 'warn' | 'note', large: readonly GroupPlan[], rest: string): Draft[] => {
    const first = large[0];
    if (first === undefined) return [];
    const text = `${say(large)} ${large.length === 1 ? 'lights' : 'light'} ${rest}`;
    return [
      draft(
        level,
        'group-limit',
        text,
        mainOf(floor, first).at,
        large.map((plan) => plan.id),
        large.length,
      ),
    ];
  };
  return [
    ...tell(
      'warn',
      over('energy area'),
      `more than ${ENERGY_AREA.value} m². There the energy credit for detectors is lost (EN 15193, from memory: verify). Make more and smaller groups, or leave the credit.`,
    ),
    ...tell(
      'note',
      over('open-plan area'),
      `more than ${OPEN_PLAN_AREA.value.toFixed(2)} m² of open plan, the most that one zone may have under ${OPEN_PLAN_AREA.source} (United States). Elsewhere the local code decides.`,
    ),
  ];
}
