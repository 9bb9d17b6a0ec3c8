import { describe, expect, test } from 'vitest';
import { type FloorFile, resolveFloor } from '../../../src/core/floor/index.ts';
import { applyEdit } from '../../../src/editor/edits/edit.ts';
import { readVerbs, type VerbContext } from '../../../src/ui/panels/find-verbs.ts';
import { SMALL_FLOOR } from '../../editor/open-floor.ts';

function contextOf(file: FloorFile, rest: Partial<VerbContext> = {}): VerbContext {
  return { file, floor: resolveFloor(file), units: 'metres', lockedKinds: new Set(), ...rest };
}

/** Does the first thing a text stands for. */
function run(text: string, file = SMALL_FLOOR, rest: Partial<VerbContext> = {}) {
  const [verb] = readVerbs(text, contextOf(file, rest));
  if (verb === undefined) throw new Error(`"${text}" is no verb.`);
  const edit = verb.plan();
  const applied = applyEdit(file, edit);
  return { said: verb.text.replaceAll('\u00a0', ' '), edit, file: applied.ok ? applied.file : null };
}

describe('the palette understands', () => {
  test.each([
    ['D1 1.2 from south', 'Move D1 to 1.20 m from the south wall', [3, 1.2]],
    ['d1 120 cm from the west wall', 'Move D1 to 1.20 m from the west wall', [1.2, 3]],
    ['D1 1.2 from north', 'Move D1 to 1.20 m from the north wall', [3, 4.8]],
    ['D1 1 from east', 'Move D1 to 1.00 m from the east wall', [7, 3]],
    ['D1 2.5 4', 'Move D1 to 2.50, 4.00 m', [2.5, 4]],
    ['move D1 to 2.5 4', 'Move D1 to 2.50, 4.00 m', [2.5, 4]],
  ] as const)('%s', (text, said, at) => {
    const result = run(text);
    expect(result.said).toBe(said);
    expect(result.file?.detectors[0]?.at.map((value) => Math.round(value * 1e6) / 1e6)).toEqual(at);
  });
  test('heights, tops of a kind, directions, reach and planes', () => {
    expect(run('top of Shelf 1.4').file?.furniture?.[0]?.top).toBe(1.4);
    const tops = run('shelves 1.6');
    expect(tops.said).toBe('Set the top of Shelf to 1.60 m');
    expect(tops.file?.furniture?.[0]?.top).toBe(1.6);
    expect(run('ceiling of Room 3.2').file?.rooms[0]?.ceiling).toBe(3.2);
    expect(run('turn D1 30').file?.detectors[0]?.turn).toBe(30);
    expect(run('reach D1 0.8').file?.detectors[0]?.reach).toBe(0.8);
    expect(run('seated plane 0.9').file?.analysis?.seatedPlane).toBe(0.9);
  });
  test('feet where lengths are shown in feet', () => {
    expect(run('D1 10 from west', SMALL_FLOOR, { units: 'feet' }).file?.detectors[0]?.at[0]).toBeCloseTo(3.048, 9);
  });
});

test('what is locked is refused in words', () => {
  const locked = { ...SMALL_FLOOR, detectors: SMALL_FLOOR.detectors.map((each) => ({ ...each, locked: true })) };
  expect(run('D1 1.2 from south', locked).edit).toMatchObject({ ok: false, what: 'D1 is locked' });
  expect(run('shelves 1.6', SMALL_FLOOR, { lockedKinds: new Set(['furniture']) }).edit.ok).toBe(false);
});

test('other words, and numbers that cannot be read, are no verbs', () => {
  for (const text of ['D1', 'plan', '', 'D9 1.2 from south', 'D1 wide from south', 'turn D1', 'sofas 1.4', '1.4'])
    expect(readVerbs(text, contextOf(SMALL_FLOOR)), text).toEqual([]);
});
