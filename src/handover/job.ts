/** What every document is made from: one floor, judged once. */
import { type CheckResult, type Coverage, createCoverage } from '../core/coverage/index.ts';
import type { Floor } from '../core/floor/index.ts';
import { judgeWithPlan } from '../core/planning/judge.ts';
import { createNames, type Names } from './names.ts';
import type { PaperSize } from './paper/sizes.ts';
import { listServedGroups, type ServedGroup } from './served-groups.ts';

export interface HandoverOptions {
  readonly paper: PaperSize;
  /** Plans at 1:scale; null: the largest scale at which they suit the paper. */
  readonly scale: number | null;
}

export interface HandoverJob extends HandoverOptions {
  readonly floor: Floor;
  readonly coverage: Coverage;
  readonly result: CheckResult;
  readonly names: Names;
  /** Groups of the file in its order, then detectors in no group. */
  readonly groups: readonly ServedGroup[];
}

const HANDOVER_DEFAULTS: HandoverOptions = { paper: 'a4', scale: null };

/** Judges a floor for its documents. */
export function createJob(floor: Floor, options: HandoverOptions = HANDOVER_DEFAULTS): HandoverJob {
  const coverage = createCoverage(floor);
  const result = judgeWithPlan(coverage);
  const names = createNames(floor);
  return { ...options, floor, coverage, result, names, groups: listServedGroups(coverage, result, names) };
}
