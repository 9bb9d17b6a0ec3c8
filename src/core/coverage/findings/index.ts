import type { Finding, Level } from '../result.ts';
import { findAssumedInput } from './assumed-input.ts';
import type { Draft, FindingContext } from './context.ts';
import { findEndOn } from './end-on.ts';
import {
  findEmergencyInGroup,
  findGroupLimits,
  findHungNearLens,
  findIdleOpenings,
  findOutsideTable,
  findUnsaidServing,
} from './installation.ts';
import { findBlindAreas, findHeat, findLateEntrances, findSpill, findZoneFaults } from './place-findings.ts';
import { findWorkplaceFaults } from './workplace-findings.ts';

export type { FindingContext } from './context.ts';

const RULES: readonly ((context: FindingContext) => Draft[])[] = [
  findWorkplaceFaults,
  findOutsideTable,
  findLateEntrances,
  findEndOn,
  findZoneFaults,
  findHeat,
  findSpill,
  findAssumedInput,
  findHungNearLens,
  findIdleOpenings,
  findGroupLimits,
  findEmergencyInGroup,
  findBlindAreas,
  findUnsaidServing,
];

const ORDER: readonly Level[] = ['fail', 'warn', 'note'];

/** Every finding, failures first and of one level the largest first; equals keep the order of the rules. */
export function writeFindings(context: FindingContext): Finding[] {
  return RULES.flatMap((rule) => rule(context))
    .map((draft, index) => ({ draft, index }))
    .sort(
      (a, b) =>
        ORDER.indexOf(a.draft.level) - ORDER.indexOf(b.draft.level) || b.draft.size - a.draft.size || a.index - b.index,
    )
    .map(({ draft: { level, code, text, at, about } }) => ({ level, code, text, at, about }));
}
