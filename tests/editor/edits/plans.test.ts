/** Plans taken over: valid floors of one step, with every reference kept or moved on. */
import { describe, expect, test } from 'vitest';
import { check, createCoverage } from '../../../src/core/coverage/index.ts';
import { type FloorFile, resolveFloor } from '../../../src/core/floor/index.ts';
import { proposeGroups } from '../../../src/core/planning/groups/propose-groups.ts';
import { planMasks } from '../../../src/core/planning/masks/plan-masks.ts';
import { addPlannedMasks, takeProposedGroups } from '../../../src/editor/edits/plans.ts';
import { COMMITTED_FLOORS } from '../../models/committed-floors.ts';
import { randomFloor } from '../../models/random-floor.ts';
import { made, planned, refusalOf } from './made.ts';

const propose = (file: FloorFile, mostM2: number | null = null) =>
  proposeGroups(createCoverage(resolveFloor(file)), { mostM2 });
const members = (file: FloorFile) =>
  (file.groups ?? []).map(({ main, extensions = [] }) => [main, ...extensions].sort().join()).sort();

describe.each(Object.entries(COMMITTED_FLOORS))('groups proposed for %s', (_, compose) => {
  test('are taken as they are told, and are then as they would be proposed', () => {
    const file = compose();
    const proposal = propose(file);
    const next = made(file, takeProposedGroups(file, proposal));
    expect(members(next)).toEqual(
      proposal.groups.map(({ main, extensions }) => [main, ...extensions].sort().join()).sort(),
    );
    expect(propose(next).isSame).toBe(true);
    for (const { keeps, main } of proposal.groups) {
      const [before, after] = [file, next].map((each) => each.groups?.find(({ id }) => id === keeps));
      if (keeps === null) continue;
      expect(after).toMatchObject({ name: before?.name, main });
      expect(after?.settings).toEqual(before?.settings);
    }
    // Luminaires that named a group name one still.
    const named = (each: FloorFile) => (each.luminaires ?? []).filter(({ group }) => group !== undefined).length;
    expect(named(next)).toBe(named(file));
  });

  test('are valid when one group lights 30 m² at most', () => {
    const file = compose();
    const proposal = propose(file, 30);
    const next = made(file, takeProposedGroups(file, proposal));
    expect(next.groups?.length).toBe(proposal.groups.length);
    expect(proposal.groups.length).toBeGreaterThanOrEqual(propose(file).groups.length);
  });
});

test('proposals for odd floors are valid', () => {
  let taken = 0;
  for (let seed = 1; seed <= 30; seed++) {
    const file = randomFloor(seed);
    const proposal = propose(file);
    if (proposal.groups.length === 0) continue;
    taken += proposal.isSame ? 0 : 1;
    made(file, takeProposedGroups(file, proposal));
  }
  expect(taken).toBeGreaterThan(10);
});

test('planned masks are one step on all detectors, and what they hide is hidden', () => {
  const file = COMMITTED_FLOORS['desk-island.json']?.() as FloorFile;
  const [plan] = planMasks(resolveFloor(file), { kind: 'source', id: 'Q2' as never });
  const parts = plan?.parts ?? [];
  expect(parts).toHaveLength(2);
  expect(planned(addPlannedMasks(file, 'Convector', parts)).name).toBe('Masked Convector from D1 and D2');
  const next = made(file, addPlannedMasks(file, 'Convector', parts));
  expect(check(resolveFloor(file)).sources[1]?.seenBy).toHaveLength(2);
  expect(check(resolveFloor(next)).sources[1]?.seenBy).toEqual([]);
  expect(refusalOf(addPlannedMasks(file, 'Convector', []))).toBe('There is nothing to mask.');
  const gone = [{ detector: 'none' as never, masks: [] }];
  expect(refusalOf(addPlannedMasks(file, 'Convector', gone))).toBe('The detector is no longer there. Select another.');
});
