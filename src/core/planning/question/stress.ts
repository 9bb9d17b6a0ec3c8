/**
 * Verdicts when something is otherwise than drawn: which workplace, zone or entrance is lost, and in which case.
 */
import type { BodyLevel, Needs, WorkplaceResult } from '../../coverage/index.ts';
import { createCoverage, judgeNeeds, updateCoverage } from '../../coverage/index.ts';
import type { Floor, WorkplaceId } from '../../floor/index.ts';
import type { StressKind } from './stress-cases.ts';
import { listStressCases } from './stress-cases.ts';

/** What one case costs. Lists hold ids; an entrance is named by its opening. */
export interface StressCaseResult {
  readonly kind: StressKind;
  readonly text: string;
  readonly about: readonly string[];
  /** [met, all] */
  readonly workplacesMet: readonly [number, number];
  /** Met as drawn and not in this case. */
  readonly lost: { readonly workplaces: string[]; readonly zones: string[]; readonly entrances: string[] };
}

export interface StressVerdict {
  readonly share: number | null;
  readonly level: BodyLevel;
  readonly met: boolean;
}

export interface StressedWorkplace extends StressVerdict {
  readonly id: WorkplaceId;
  /** The case that leaves least of it, by its place in `cases`; null where no case leaves less than is drawn. */
  readonly worst: (StressVerdict & { readonly case: number }) | null;
}

export interface StressResult {
  readonly format: 'lacuna-stress/1';
  readonly floor: string;
  /** Is nothing lost in any case? */
  readonly holds: boolean;
  readonly cases: readonly StressCaseResult[];
  readonly workplaces: readonly StressedWorkplace[];
}

/**
 * Judges a floor in every case of `listStressCases`. A case changes one thing and leaves the rest as drawn.
 * @param onProgress told the share of cases done
 */
export function stressFloor(floor: Floor, onProgress: (share: number) => void = () => {}): StressResult {
  const coverage = createCoverage(floor);
  const drawn = judgeNeeds(coverage);
  const worst: ({ verdict: WorkplaceResult; case: number } | null)[] = drawn.workplaces.map(() => null);
  const listed = listStressCases(floor);
  const cases = listed.map((each, index): StressCaseResult => {
    updateCoverage(coverage, each.floor);
    const needs = judgeNeeds(coverage);
    needs.workplaces.forEach((verdict, k) => {
      const than = worst[k]?.verdict ?? drawn.workplaces[k]!;
      if (isLess(verdict, than)) worst[k] = { verdict, case: index };
    });
    onProgress((index + 1) / listed.length);
    return {
      kind: each.kind,
      text: each.text,
      about: each.about,
      workplacesMet: [needs.workplaces.filter(({ met }) => met).length, needs.workplaces.length],
      lost: listLost(drawn, needs),
    };
  });
  return {
    format: 'lacuna-stress/1',
    floor: floor.name,
    holds: cases.every(({ lost }) => lost.workplaces.length + lost.zones.length + lost.entrances.length === 0),
    cases,
    workplaces: drawn.workplaces.map((verdict, k) => {
      const at = worst[k] ?? null;
      return { id: verdict.id, ...pick(verdict), worst: at && { ...pick(at.verdict), case: at.case } };
    }),
  };
}

/** Needs that are met before and not after. */
export function listLost(before: Needs, after: Needs): StressCaseResult['lost'] {
  const lost = (was: readonly { met: boolean }[], is: readonly { id: string; met: boolean }[]) =>
    is.filter((each, k) => was[k]?.met === true && !each.met).map((each) => each.id);
  return {
    workplaces: lost(before.workplaces, after.workplaces),
    zones: lost(before.zones, after.zones),
    entrances: lost(before.entrances, after.entrances),
  };
}

const LEVELS: readonly BodyLevel[] = ['none', 'head', 'shoulders', 'body'];

function isLess(a: WorkplaceResult, b: WorkplaceResult): boolean {
  const by = LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level);
  return by < 0 || (by === 0 && (a.share ?? 0) < (b.share ?? 0) - 1e-9);
}

function pick({ share, level, met }: WorkplaceResult): StressVerdict {
  return { share, level, met };
}
