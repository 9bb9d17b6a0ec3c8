/** The covering problem: what is proved equals what trying every selection gives. */
import { beforeAll, describe, expect, test } from 'vitest';
import { detectorsByArea, guardsThatSuffice, harmonicNumber } from '../../../../src/core/planning/arrange/bounds.ts';
import { createNeedProbe, cutAgainst, cutBeyond } from '../../../../src/core/planning/arrange/cuts.ts';
import { costOf, packRows, rowCount } from '../../../../src/core/planning/arrange/problem.ts';
import {
  dropDominatedRows,
  findEssentialColumns,
  findIdleColumns,
} from '../../../../src/core/planning/arrange/reduce.ts';
import { improveByExchange, selectGreedily } from '../../../../src/core/planning/arrange/search.ts';
import { solveCover } from '../../../../src/core/planning/arrange/solve-cover.ts';
import type { Solver } from '../../../../src/core/planning/arrange/solver.ts';
import { loadSolver } from '../../../../src/workers/highs-solver.ts';
import {
  everySelection,
  greedyTrap,
  hooks,
  isSufficient,
  leastByTrying,
  levelOf,
  randomProblem,
} from './cover-cases.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

const SEEDS = Array.from({ length: 80 }, (_, seed) => seed + 1);

describe('the greedy trap', () => {
  test.each([
    [3, 3],
    [4, 4],
    [6, 6],
  ])('k = %i: greedy takes %i, two are proved fewest', (k, greedy) => {
    const problem = greedyTrap(k);
    expect(selectGreedily(problem)).toHaveLength(greedy);
    expect(solveCover(problem, solver, hooks())).toMatchObject({ cost: 2, bound: 2, greedyCost: greedy });
  });

  test('exchanges alone leave it too', () => {
    const problem = greedyTrap(4);
    const start = selectGreedily(problem)!;
    let steps = 0;
    const better = improveByExchange(problem, start, 0, { shouldStop: () => ++steps > 200, onBetter: () => {} });
    expect(better).toHaveLength(2);
  });
});

test('small problems: the proved cost is what trying every selection gives', () => {
  let feasible = 0;
  for (const seed of SEEDS) {
    const problem = randomProblem(seed);
    const least = leastByTrying(problem);
    const answer = solveCover(problem, solver, hooks());
    if (answer === null) continue;
    feasible += 1;
    expect([seed, answer.cost, answer.bound]).toEqual([seed, least, least]);
    expect(isSufficient(problem, answer.selection)).toBe(true);
    expect(answer.cost).toBeLessThanOrEqual(answer.greedyCost);
  }
  expect(feasible).toBeGreaterThan(60);
});

test('without a solver, or with one that fails, the bound stays below and the answer sufficient', () => {
  const failing: Solver = () => {
    throw new Error('out of memory');
  };
  for (const seed of SEEDS.slice(0, 30)) {
    const problem = randomProblem(seed);
    const least = leastByTrying(problem);
    for (const each of [null, failing]) {
      const answer = solveCover(problem, each, hooks(0.1));
      if (answer === null) continue;
      expect(isSufficient(problem, answer.selection)).toBe(true);
      expect(answer.bound).toBeLessThanOrEqual(least + 1e-9);
      expect(answer.cost).toBeGreaterThanOrEqual(least - 1e-9);
      if (answer.failure !== null) expect(answer.failure).toBe('out of memory');
    }
  }
});

test('every cut is kept by every sufficient selection', () => {
  let asked = 0;
  for (const seed of SEEDS.slice(0, 60)) {
    const problem = { ...randomProblem(seed), limits: [] };
    const columns = problem.costs.length;
    const sufficient = [...everySelection(columns)].filter((selection) => isSufficient(problem, selection));
    for (const need of problem.needs) {
      const probe = createNeedProbe(need);
      const half = Float64Array.from({ length: columns }, (_, n) => (n % 3) / 4);
      const cuts = [
        cutAgainst(need, new Float64Array(columns)),
        cutAgainst(need, half),
        cutBeyond(probe, [], [...probe.columns]),
        cutBeyond(probe, [], [...probe.columns].reverse()),
      ].filter((cut) => cut !== null);
      for (const { columns: list, values } of cuts) {
        for (const selection of sufficient) {
          const sum = list.reduce((total, column, k) => total + (selection.includes(column) ? values[k]! : 0), 0);
          expect(sum).toBeGreaterThanOrEqual(1 - 1e-9);
          asked += 1;
        }
      }
    }
  }
  expect(asked).toBeGreaterThan(10_000);
});

test('two halves make a whole, one does not', () => {
  const covers = [[0, 1], [0, 1], [2], [2]];
  const problem = {
    costs: new Float64Array(4).fill(1),
    rows: packRows([]),
    needs: [{ levels: [levelOf([1, 1, 1], 3, covers, true)], worth: 1 }],
    limits: [],
  };
  expect(leastByTrying(problem)).toBe(4);
  expect(solveCover(problem, solver, hooks())).toMatchObject({ cost: 4, bound: 4 });
});

describe('reduction', () => {
  test('a row that holds another goes, of equal rows one stays', () => {
    const rows = dropDominatedRows(packRows([[0, 1, 2], [1, 2], [1, 2], [0, 3], [3]]), 4);
    expect(
      Array.from({ length: rowCount(rows) }, (_, r) => [...rows.columns.subarray(rows.starts[r], rows.starts[r + 1])]),
    ).toEqual([[1, 2], [3]]);
    expect(findEssentialColumns(rows)).toEqual([3]);
  });

  test('a column goes where another covers as much for no more; of twins one stays', () => {
    const problem = {
      costs: Float64Array.of(1, 1, 1, 2),
      rows: packRows([[0, 1, 2, 3], [1, 2, 3], [3]]),
      needs: [],
      limits: [],
    };
    expect([...findIdleColumns(problem)]).toEqual([1, 0, 1, 0]);
  });

  test('costs go in steps that bounds may be rounded up to', () => {
    const problem = { ...greedyTrap(3), costs: Float64Array.of(1.5, 1.5, 3, 3, 3) };
    expect(solveCover(problem, solver, hooks())).toMatchObject({ cost: 3, bound: 3 });
    expect(costOf(problem, [0, 1])).toBe(3);
  });
});

test('bounds that need no search (published, and derived in the facts)', () => {
  expect(guardsThatSuffice(12, 0, false)).toBe(4);
  expect(guardsThatSuffice(12, 0, true)).toBe(3);
  expect(guardsThatSuffice(8, 1, false)).toBe(3);
  expect(guardsThatSuffice(8, 1, true)).toBe(2);
  expect(harmonicNumber(10)).toBeCloseTo(2.928968, 6);
  expect(harmonicNumber(14)).toBeCloseTo(3.251562, 6);
  expect(detectorsByArea(64, Math.PI * 16)).toBe(2);
  expect(detectorsByArea(0, 1)).toBe(0);
});
