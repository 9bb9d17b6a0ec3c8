/** Of two readings of a floor the later keeps the members of the earlier wherever both say the same. */
import { expect, test } from 'vitest';
import { resolveFloor, shareMembers, validateFloor } from '../../../src/core/floor/index.ts';
import { createRandom } from '../../models/random.ts';
import { randomFloor } from '../../models/random-floor.ts';
import { EDITS } from '../coverage/random-edits.ts';

test('the same floor read again is the floor itself', () => {
  const floor = resolveFloor(randomFloor(801));
  expect(shareMembers(floor, structuredClone(floor))).toBe(floor);
});

test('one moved piece is another object, and so is its list; all else is kept', () => {
  const floor = resolveFloor(randomFloor(802));
  const next = structuredClone(floor);
  const moved = { ...next.furniture[1]!, top: 1.23 };
  const shared = shareMembers(floor, { ...next, furniture: next.furniture.with(1, moved) });
  expect(shared.furniture[1]).toEqual(moved);
  expect(shared.furniture.map((piece, k) => piece === floor.furniture[k])).toEqual(
    floor.furniture.map((_, k) => k !== 1),
  );
  const lists = ['rooms', 'detectors', 'types', 'groups', 'openings', 'analysis', 'workplaces'] as const;
  for (const list of lists) expect(shared[list], list).toBe(floor[list]);
});

test('after a piece is taken out the others are told by their ids', () => {
  const floor = resolveFloor(randomFloor(803));
  const next = structuredClone(floor);
  const shared = shareMembers(floor, { ...next, furniture: next.furniture.slice(1) });
  expect(shared.furniture.every((piece, k) => piece === floor.furniture[k + 1])).toBe(true);
});

test('a key that is missing, undefined, or minus zero is a difference', () => {
  expect(shareMembers<object>({ a: undefined }, { b: 1 })).toEqual({ b: 1 });
  expect(shareMembers<object>({ a: undefined }, {})).not.toHaveProperty('a');
  expect(Object.is(shareMembers([0], [-0])[0], -0)).toBe(true);
});

test('whatever is edited, the floor says what it said', () => {
  const random = createRandom(804);
  let file = randomFloor(804);
  let before = resolveFloor(file);
  for (let k = 0; k < 150; k++) {
    const parsed = validateFloor(EDITS[random.pick(Object.keys(EDITS))]!(file, random));
    if (!parsed.ok) continue;
    file = parsed.file;
    before = shareMembers(before, structuredClone(parsed.floor));
    expect(before).toStrictEqual(parsed.floor);
  }
});
