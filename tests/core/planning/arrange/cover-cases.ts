/** Small covering problems, written and by chance, and their best answers by trying every selection. */
import { createCoverState } from '../../../../src/core/planning/arrange/cover-state.ts';
import type { CoverProblem, Level, Limit, Need } from '../../../../src/core/planning/arrange/problem.ts';
import { costOf, packRows } from '../../../../src/core/planning/arrange/problem.ts';
import { createRandom } from '../../../../src/core/planning/arrange/random.ts';
import type { CoverHooks } from '../../../../src/core/planning/arrange/solve-cover.ts';

/** A level by what each column covers; units of 1 make halves. */
export function levelOf(
  weights: readonly number[],
  required: number,
  covers: readonly (readonly number[])[],
  halves = false,
): Level {
  const lists = covers.map((classes, column) => ({ column, classes })).filter(({ classes }) => classes.length > 0);
  const packed = packRows(lists.map(({ classes }) => classes));
  return {
    weights: Int32Array.from(weights),
    base: null,
    required,
    columns: Int32Array.from(lists, ({ column }) => column),
    starts: packed.starts,
    classes: packed.columns,
    units: halves ? new Uint8Array(packed.columns.length).fill(1) : null,
  };
}

/** The bad case for greedy: two rows of 2^k − 1 elements; sets are both rows, and blocks of columns over both (facts: k 3, 14 elements). */
export function greedyTrap(k: number): CoverProblem {
  const width = 2 ** k - 1;
  const sets: number[][] = [0, 1].map((row) => Array.from({ length: width }, (_, column) => row * width + column));
  let from = 0;
  for (let block = 2 ** (k - 1); block >= 1; block /= 2) {
    const columns = Array.from({ length: block }, (_, n) => from + n);
    sets.push([...columns, ...columns.map((column) => width + column)]);
    from += block;
  }
  const rows = Array.from({ length: 2 * width }, (_, element) =>
    sets.flatMap((set, column) => (set.includes(element) ? [column] : [])),
  );
  return { costs: new Float64Array(sets.length).fill(1), rows: packRows(rows), needs: [], limits: [] };
}

/** A problem of a dozen columns with rows, needs at one or two levels, prices and now and then a limit. */
export function randomProblem(seed: number): CoverProblem {
  const random = createRandom(seed);
  const whole = (most: number) => Math.floor(random() * most);
  const columns = 5 + whole(5);
  const some = (size: number, share: number) =>
    Array.from({ length: size }, (_, n) => n).filter(() => random() < share);
  const rows = Array.from({ length: whole(8) }, () => {
    const list = some(columns, 0.35);
    return list.length > 0 ? list : [whole(columns)];
  });
  const needs: Need[] = Array.from({ length: 1 + whole(4) }, () => {
    const levels = Array.from({ length: 1 + whole(2) }, () => {
      const classes = 4 + whole(12);
      const weights = Array.from({ length: classes }, () => 1 + whole(5));
      const covers = Array.from({ length: columns }, () => (random() < 0.7 ? some(classes, 0.4) : []));
      const reached = weights.reduce(
        (sum, weight, n) => sum + (covers.some((list) => list.includes(n)) ? weight : 0),
        0,
      );
      return levelOf(weights, Math.max(1, Math.floor(reached * (0.5 + 0.5 * random()))), covers);
    }).filter(({ columns: list }) => list.length > 0);
    return { levels, worth: 1 };
  }).filter(({ levels }) => levels.length > 0);
  const limits: Limit[] = [];
  if (random() < 0.3) {
    const {
      weights,
      columns: list,
      starts,
      classes,
    } = levelOf(
      Array.from({ length: 6 }, () => 1),
      1,
      Array.from({ length: columns }, () => some(6, 0.3)),
    );
    limits.push({ allowed: 4, weights, columns: list, starts, classes });
  }
  const prices = random() < 0.4;
  return {
    costs: Float64Array.from({ length: columns }, () => (prices ? 1 + whole(3) : 1)),
    rows: packRows(rows),
    needs,
    limits,
  };
}

/** Is a selection sufficient, and within the limits? */
export function isSufficient(problem: CoverProblem, selection: readonly number[]): boolean {
  const state = createCoverState(problem);
  for (const column of selection) {
    if (state.breaksLimit(column)) return false;
    state.add(column);
  }
  return state.isMet();
}

/** Every selection of a small problem. */
export function* everySelection(columns: number): Generator<number[]> {
  for (let bits = 0; bits < 2 ** columns; bits++) {
    yield Array.from({ length: columns }, (_, n) => n).filter((n) => (bits >> n) & 1);
  }
}

/** The least cost of all sufficient selections; Infinity where there is none. */
export function leastByTrying(problem: CoverProblem): number {
  let least = Infinity;
  for (const selection of everySelection(problem.costs.length)) {
    const cost = costOf(problem, selection);
    if (cost < least && isSufficient(problem, selection)) least = cost;
  }
  return least;
}

export function hooks(seconds = 60): CoverHooks {
  const from = performance.now();
  return {
    now: () => performance.now(),
    deadline: from + 1000 * seconds,
    shouldStop: () => false,
    onNews: () => {},
    verify: null,
  };
}
