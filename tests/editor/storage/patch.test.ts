import fc from 'fast-check';
import { expect, test } from 'vitest';
import { applyPatch, findPatch, weighPatch } from '../../../src/editor/storage/patch.ts';
import { createRandom, type Random } from '../../models/random.ts';

type Json = unknown;

const json = fc.letrec<{ value: Json }>((tie) => ({
  value: fc.oneof(
    { depthSize: 'small' },
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.constantFrom(-0, 0, null, true, 'a', '__proto__', ''),
    fc.array(tie('value'), { maxLength: 6 }),
    fc.dictionary(fc.constantFrom('a', 'b', 'c', '__proto__', 'constructor'), tie('value'), { maxKeys: 4 }),
  ),
})).value;

/** Changes a value here and there and shares the rest, as an edit does. */
function vary(value: Json, random: Random, fresh: readonly Json[]): Json {
  if (random.chance(0.2)) return value;
  if (random.chance(0.15)) return random.pick(fresh);
  if (Array.isArray(value)) {
    const list = value.map((each) => (random.chance(0.4) ? vary(each, random, fresh) : each));
    if (random.chance(0.3)) list.splice(random.whole(0, list.length), random.whole(0, 2), random.pick(fresh));
    if (random.chance(0.2)) list.splice(random.whole(0, list.length), 1);
    return list;
  }
  if (typeof value !== 'object' || value === null) return random.pick(fresh);
  let entries = Object.entries(value).map(
    ([key, each]) => [key, random.chance(0.5) ? vary(each, random, fresh) : each] as const,
  );
  if (random.chance(0.3)) entries = entries.slice(1);
  if (random.chance(0.3)) entries = [...entries.filter(([key]) => key !== 'd'), ['d', random.pick(fresh)]];
  if (random.chance(0.2)) entries.reverse();
  return Object.fromEntries(entries);
}

/** Keys in their order, and the sign of zero. */
const write = (value: Json): string =>
  JSON.stringify(value, (_, each: Json) => (Object.is(each, -0) ? 'minus zero' : each));

test('a patch makes exactly the other value, key order and signs of zero too, after a copy to disk and back', () => {
  let changes = 0;
  fc.assert(
    fc.property(json, fc.integer(), fc.array(json, { minLength: 8, maxLength: 8 }), (before, seed, values) => {
      const random = createRandom(seed);
      const after = vary(before, random, values);
      const text = write(before);
      const patch = findPatch(before, after);
      if (patch === null) expect(write(after)).toBe(text);
      else {
        changes += 1;
        expect(write(applyPatch(before, structuredClone(patch)))).toBe(write(after));
        expect(weighPatch(patch)).toBeGreaterThan(0);
      }
      expect(write(before)).toBe(text);
    }),
    { numRuns: 3000, seed: 11 },
  );
  expect(changes).toBeGreaterThan(1000);
});

test('a patch is as small as the change, and what it does not touch stays the same object', () => {
  const pieces = Array.from({ length: 2000 }, (_, i) => ({
    id: `p${i}`,
    at: [i, 0],
    outline: [
      [0, 0],
      [1, 1],
    ],
  }));
  const before = { name: 'a', pieces };
  const after = { ...before, pieces: pieces.map((piece, i) => (i === 700 ? { ...piece, at: [700, 5] } : piece)) };
  const patch = findPatch(before, after);
  if (patch === null) throw new Error('There is a change.');
  expect(patch).toEqual({
    members: [['pieces', { items: [[700, { members: [['at', { items: [[1, { set: 5 }]] }]], drop: [] }]] }]],
    drop: [],
  });
  const made = applyPatch(before, patch) as typeof before;
  expect(made.pieces[699]).toBe(pieces[699]);
  expect(made.pieces[700]?.outline).toBe(pieces[700]?.outline);
  const fewer = { ...before, pieces: pieces.filter((_, i) => i !== 3) };
  expect(findPatch(before, fewer)).toEqual({
    members: [['pieces', { from: 3, count: 1, insert: [] }]],
    drop: [],
  });
});

test('a patch of another value is refused', () => {
  expect(() => applyPatch([1], { items: [[3, { set: 1 }]] })).toThrow('list of 1');
  expect(() => applyPatch([1], { from: 0, count: 2, insert: [] })).toThrow('list of 1');
  expect(() => applyPatch({ a: 1 }, { items: [] })).toThrow('list');
  expect(() => applyPatch([], { members: [], drop: [] })).toThrow('object');
});
