import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { DetectorId } from '../../../../src/core/floor/index.ts';
import { CABLE_DEFAULTS, type CableEnd, layCable, legLength } from '../../../../src/core/planning/groups/cable.ts';

const end = (name: string, x: number, y: number): CableEnd => ({ id: name as DetectorId, at: [x, y] });
const places = (list: readonly (readonly [number, number])[]) => list.map(([x, y], k) => end(`D${k}`, x, y));

/** The shortest of all trees over some places, each tree tried: Prüfer's sequences name every one once. */
function shortestTree(ends: readonly CableEnd[]): number {
  const n = ends.length;
  if (n < 2) return 0;
  const length = (a: number, b: number) => legLength(ends[a]!.at, ends[b]!.at);
  if (n === 2) return length(0, 1);
  let best = Infinity;
  for (let code = 0; code < n ** (n - 2); code++) {
    const sequence = Array.from({ length: n - 2 }, (_, k) => Math.floor(code / n ** k) % n);
    const degree = Array.from({ length: n }, (_, k) => 1 + sequence.filter((each) => each === k).length);
    let sum = 0;
    for (const node of sequence) {
      const leaf = degree.indexOf(1);
      sum += length(leaf, node);
      degree[leaf] = 0;
      degree[node] = degree[node]! - 1;
    }
    const [a, b] = degree.flatMap((each, k) => (each === 1 ? [k] : []));
    best = Math.min(best, sum + length(a!, b!));
  }
  return best;
}

const whole = fc.integer({ min: 0, max: 300 }).map((tenths) => tenths / 10);
const someEnds = (most: number) => fc.array(fc.tuple(whole, whole), { minLength: 1, maxLength: most }).map(places);

describe('the cable of a group', () => {
  test('is the shortest of all right-angled trees, up to seven detectors', () => {
    let counted = 0;
    fc.assert(
      fc.property(someEnds(7), (ends) => {
        counted += ends.length > 4 ? 1 : 0;
        expect(layCable(ends[0]!, ends.slice(1)).planM).toBeCloseTo(shortestTree(ends), 6);
      }),
      { numRuns: 40, seed: 7 },
    );
    expect(counted).toBeGreaterThan(5);
  });

  test('reaches every detector once, from one reached before, by right angles', () => {
    fc.assert(
      fc.property(someEnds(30), (ends) => {
        const { legs } = layCable(ends[0]!, ends.slice(1));
        const reached = new Set<string>([ends[0]!.id]);
        for (const leg of legs) {
          expect(reached.has(leg.from)).toBe(true);
          expect(reached.has(leg.to)).toBe(false);
          reached.add(leg.to);
          for (let k = 1; k < leg.route.length; k++) {
            const [a, b] = [leg.route[k - 1]!, leg.route[k]!];
            expect(a[0] === b[0] || a[1] === b[1]).toBe(true);
          }
          const along = leg.route.slice(1).reduce((sum, at, k) => sum + legLength(leg.route[k]!, at), 0);
          expect(along).toBeCloseTo(leg.planM, 9);
        }
        expect(reached.size).toBe(ends.length);
      }),
      { numRuns: 60, seed: 11 },
    );
  });

  test('each leg drops at both ends and everything gets a tenth more', () => {
    const plan = layCable(end('A', 0, 0), [end('B', 3, 4), end('C', 3, 0)]);
    expect(plan.legs.map(({ from, to, planM, dropM }) => [from, to, planM, dropM])).toEqual([
      ['A', 'C', 3, 1.6],
      ['C', 'B', 4, 1.6],
    ]);
    expect(plan).toMatchObject({ planM: 7, dropM: 3.2, totalM: 11.22 });
    expect(layCable(end('A', 0, 0), []).totalM).toBe(0);
    const bare = layCable(end('A', 0, 0), [end('B', 3, 4)], undefined, { voidM: 0, tailM: 0, reserve: 0 });
    expect(bare.totalM).toBe(7);
    expect(CABLE_DEFAULTS).toEqual({ voidM: 0.3, tailM: 0.5, reserve: 0.1 });
  });

  test('of the two corners the one that is inside is taken', () => {
    const [leg] = layCable(end('A', 0, 0), [end('B', 2, 3)], ([x]) => x < 1).legs;
    expect(leg!.route).toEqual([
      [0, 0],
      [0, 3],
      [2, 3],
    ]);
  });
});
