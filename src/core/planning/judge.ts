/**
 * Every verdict and finding on a floor, those that follow from the plan of its groups among them. `coverage` knows
 * nothing of planning, so this is where the document `lacuna-check/1` is put together: whoever shows findings asks here.
 */
import type { CheckResult, Coverage, Level } from '../coverage/index.ts';
import { createCoverage, judgeCoverage } from '../coverage/index.ts';
import type { Floor } from '../floor/index.ts';
import { findPlanFaults, finishFinding } from './findings.ts';

/** Judges a floor: everything `check` says. */
export function judgeFloor(floor: Floor): CheckResult {
  return judgeWithPlan(createCoverage(floor));
}

/** The same from a coverage that is already worked out. */
export function judgeWithPlan(coverage: Coverage): CheckResult {
  const result = judgeCoverage(coverage);
  const found = findPlanFaults(coverage);
  if (found.length === 0) return result;
  const ofPlan = found.toSorted((a, b) => b.size - a.size).map(finishFinding);
  const findings = LEVELS.flatMap((level) =>
    [...result.findings, ...ofPlan].filter((finding) => finding.level === level),
  );
  return { ...result, findings, met: findings.every((finding) => finding.level !== 'fail') };
}

const LEVELS: readonly Level[] = ['fail', 'warn', 'note'];
