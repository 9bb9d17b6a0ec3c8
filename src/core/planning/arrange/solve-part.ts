/** One part of a covering problem: greedy, exchanges, then a solver on rows that grow until its answer holds. */
import { createCoverState } from './cover-state.ts';
import { type Cut, createNeedProbe, cutAgainst, cutBeyond, cutLimit, type NeedProbe } from './cuts.ts';
import {
  type CoverProblem,
  costOf,
  costStep,
  type Need,
  packRows,
  roundUp,
  rowCount,
  type Selection,
} from './problem.ts';
import { createRandom } from './random.ts';
import { dropDominatedRows } from './reduce.ts';
import { completeGreedily, improveByExchange } from './search.ts';
import type { RowModel, Solver } from './solver.ts';

export interface PartHooks {
  /** Milliseconds, from any start. */
  readonly now: () => number;
  /** When to end, on that clock. */
  readonly deadline: number;
  readonly shouldStop: () => boolean;
  readonly onBetter: (selection: Selection, cost: number) => void;
  readonly onBound: (bound: number) => void;
  /**
   * Whether a selection that meets the needs as this problem has them meets them in truth, where the problem has only a
   * part of the truth; the needs that it does not.
   */
  readonly verify: ((selection: Selection) => readonly number[]) | null;
}

export interface PartAnswer {
  readonly selection: Selection;
  readonly bound: number;
  /** Why there is no better bound; null when the solver did not fail. */
  readonly failure: string | null;
}

/** A need that takes more columns than this is first bounded by parts of columns. */
const FEW = 1.5;
const ORDERS = 6;
const MOST_LP_ROUNDS = 80;

/** Finds a cheapest selection, or the best there is time for, and a bound below which none can be. */
export function solvePart(
  problem: CoverProblem,
  start: Selection,
  solver: Solver | null,
  hooks: PartHooks,
): PartAnswer {
  const step = costStep(problem.costs);
  let best = start;
  let bestCost = costOf(problem, start);
  let bound = 0;
  const raise = (value: number): void => {
    const rounded = Math.min(roundUp(value, step), bestCost);
    if (rounded <= bound + 1e-9) return;
    bound = rounded;
    hooks.onBound(bound);
  };
  const adopt = (selection: Selection): void => {
    const cost = costOf(problem, selection);
    if (cost >= bestCost - 1e-9 || (hooks.verify && hooks.verify(selection).length > 0)) return;
    best = selection;
    bestCost = cost;
    hooks.onBetter(best, cost);
  };
  const isDone = () => bound >= bestCost - 1e-6;
  const timeLeft = () => hooks.deadline - hooks.now();
  const isOver = () => timeLeft() <= 0 || hooks.shouldStop();

  raise(Math.max(boundByDisjointRows(problem), ...problem.needs.map((need) => boundByWeight(problem, need))));
  // Small problems are proved sooner than they are searched.
  if (!isDone()) exchange(Math.min(4_000, 0.1 * timeLeft(), 20 + 4 * problem.costs.length));
  if (isDone() || isOver() || solver === null) return { selection: best, bound, failure: null };

  const pool = createCutPool(problem);
  try {
    sharpen();
    while (!isDone() && !isOver()) if (!solveWhole()) break;
  } catch (error) {
    exchange(timeLeft());
    return { selection: best, bound, failure: error instanceof Error ? error.message : String(error) };
  }
  return { selection: best, bound, failure: null };

  function exchange(milliseconds: number): void {
    const from = hooks.now();
    let last = from;
    let gained = false;
    improveByExchange(problem, best, bound, {
      shouldStop: () => {
        const at = hooks.now();
        // What has not got better for a while is left to the solver.
        return at - from > milliseconds || at - last > milliseconds / 2 || isDone() || hooks.shouldStop();
      },
      onBetter: (selection) => {
        adopt(selection);
        last = hooks.now();
        gained = true;
      },
    });
    if (gained) last = hooks.now();
  }

  /** Adds rows against choices in parts until they are kept, which gives a bound and makes the whole choice quicker. */
  function sharpen(): void {
    if (!problem.needs.some(({ worth }) => worth > FEW)) return;
    const until = hooks.now() + 0.4 * timeLeft();
    for (let round = 0; round < MOST_LP_ROUNDS && hooks.now() < until && !hooks.shouldStop(); round++) {
      const answer = solver!({
        model: pool.toModel(problem.costs),
        whole: false,
        start: null,
        seconds: timeLeft() / 1000,
        onBounds: () => !isOver(),
      });
      if (answer.status !== 'optimal' || !answer.x) return;
      raise(answer.bound);
      const added = pool.addAgainst(answer.x);
      if (added === 0 || isDone()) return;
    }
  }

  /** One whole choice on the rows so far; false when there is nothing more to be had. */
  function solveWhole(): boolean {
    const at = new Float64Array(problem.costs.length);
    for (const column of best) at[column] = 1;
    const answer = solver!({
      model: pool.toModel(problem.costs),
      whole: true,
      start: at,
      seconds: timeLeft() / 1000,
      onBounds: (_, low) => {
        raise(low);
        return !isDone() && !isOver();
      },
    });
    if (answer.status === 'infeasible') {
      raise(bestCost);
      return false;
    }
    raise(answer.bound);
    if (!answer.x || isDone()) return false;
    const chosen: number[] = [];
    answer.x.forEach((part, column) => {
      if (part > 0.5) chosen.push(column);
    });
    if (costOf(problem, chosen) >= bestCost - 1e-9) return false;
    const state = createCoverState(problem);
    for (const column of chosen) state.add(column);
    // A search that was stopped may hand over what keeps no row yet.
    if (state.openRows.items.length > 0) return false;
    const added = pool.addBeyond(chosen);
    if (added === 0) {
      const failing = hooks.verify?.(chosen) ?? [];
      if (failing.length === 0) {
        adopt(chosen);
        return answer.status !== 'optimal';
      }
      pool.addOthers(chosen, failing);
      return true;
    }
    repair(chosen);
    return true;
  }

  /** Adds to a choice what it lacks, and tries whether that is better than what is known. */
  function repair(chosen: readonly number[]): void {
    const state = createCoverState(problem);
    for (const column of chosen) if (!state.breaksLimit(column)) state.add(column);
    if (completeGreedily(state)) adopt([...state.list].sort((a, b) => a - b));
  }
}

/** As many rows and needs as share no column: each takes a column of its own, the cheapest at least. */
function boundByDisjointRows(problem: CoverProblem): number {
  const { rows, costs, needs } = problem;
  const lists: Int32Array[] = [];
  for (let r = 0; r < rowCount(rows); r++) lists.push(rows.columns.subarray(rows.starts[r]!, rows.starts[r + 1]!));
  for (const { levels } of needs) lists.push(Int32Array.from(levels.flatMap((level) => [...level.columns])));
  const taken = new Uint8Array(costs.length);
  let bound = 0;
  for (const list of lists.sort((a, b) => a.length - b.length)) {
    if (list.some((column) => taken[column] === 1)) continue;
    let least = Infinity;
    for (const column of list) {
      taken[column] = 1;
      least = Math.min(least, costs[column]!);
    }
    if (least < Infinity) bound += least;
  }
  return bound;
}

/** What a need costs at least: its weight by the columns that cover most of it for their cost, as if they never overlapped. */
function boundByWeight({ costs }: CoverProblem, { levels }: Need): number {
  const bounds = levels.map((level) => {
    let best = 0;
    level.columns.forEach((column, n) => {
      let units = 0;
      for (let k = level.starts[n]!; k < level.starts[n + 1]!; k++) {
        units += level.weights[level.classes[k]!]! * (level.units ? level.units[k]! : 2);
      }
      best = Math.max(best, units / 2 / costs[column]!);
    });
    const halves = level.base?.reduce((sum, unit, k) => sum + unit * level.weights[k]!, 0) ?? 0;
    return best > 0 ? (level.required - halves / 2) / best : 0;
  });
  return Math.max(0, Math.min(...bounds));
}

/** The rows that any sufficient selection keeps, as far as they are known. */
function createCutPool(problem: CoverProblem) {
  const random = createRandom(7);
  const probes: NeedProbe[] = problem.needs.map(createNeedProbe);
  const known = new Set<string>();
  let plain = problem.rows;
  const weighted: Cut[] = [];

  const add = (cut: Cut | null): number => {
    if (!cut) return 0;
    const key = `${cut.most ?? ''};${cut.columns.join()};${cut.values.map((value) => value.toFixed(6)).join()}`;
    if (known.has(key)) return 0;
    known.add(key);
    weighted.push(cut);
    return 1;
  };
  const addBeyond = (n: number, set: readonly number[], orders: number): number => {
    const probe = probes[n]!;
    let added = 0;
    const shares = new Map(probe.columns.map((column) => [column, probe.shareOf(column)] as const));
    for (let order = 0; order < orders; order++) {
      // Those that see little first, then in other orders: each leaves out other columns.
      const rank = new Map(
        probe.columns.map(
          (column) => [column, order === 0 ? shares.get(column)! : random() + Math.floor(shares.get(column)!)] as const,
        ),
      );
      const sorted = [...probe.columns].sort((a, b) => rank.get(a)! - rank.get(b)!);
      added += add(cutBeyond(probe, set, sorted));
    }
    return added;
  };
  const none = new Float64Array(problem.costs.length);
  problem.needs.forEach((need, n) => {
    add(cutAgainst(need, none));
    if (need.worth <= FEW) addBeyond(n, [], ORDERS);
  });
  // Rows of equal columns, and those that hold another's, say nothing new.
  const simple = weighted.filter(({ values, most }) => most === undefined && values.every((value) => value === 1));
  if (simple.length > 0) {
    const lists = [];
    for (let r = 0; r < rowCount(plain); r++) {
      lists.push(plain.columns.subarray(plain.starts[r]!, plain.starts[r + 1]!));
    }
    plain = dropDominatedRows(packRows([...lists, ...simple.map(({ columns }) => columns)]), problem.costs.length);
    const rest = weighted.filter((cut) => !simple.includes(cut));
    weighted.length = 0;
    weighted.push(...rest);
  }

  return {
    /** Adds rows that a choice in parts breaks. */
    addAgainst: (x: Float64Array): number => problem.needs.reduce((sum, need) => sum + add(cutAgainst(need, x)), 0),
    /** Adds rows that a whole choice breaks: for every need it does not meet, and every limit it does not keep. */
    addBeyond(chosen: readonly number[]): number {
      const x = new Float64Array(problem.costs.length);
      for (const column of chosen) x[column] = 1;
      let added = 0;
      problem.needs.forEach((need, n) => {
        const probe = probes[n]!;
        probe.clear();
        for (const column of chosen) probe.add(column);
        if (probe.isMet()) return;
        added += add(cutAgainst(need, x));
        const set = chosen.filter((column) => probe.columns.includes(column));
        added += addBeyond(n, set, need.worth <= FEW ? 3 : 1);
      });
      for (const limit of problem.limits) added += add(cutLimit(limit, chosen));
      return added;
    },
    /** One of the columns that are not chosen, and have a part in needs that are not met in truth. */
    addOthers(chosen: readonly number[], needs: readonly number[]): void {
      const others = new Set(needs.flatMap((n) => probes[n]!.columns));
      for (const column of chosen) others.delete(column);
      const columns = [...others].sort((a, b) => a - b);
      add({ columns, values: columns.map(() => 1) });
    },
    toModel(costs: Float64Array): RowModel {
      const rows = rowCount(plain);
      const starts = new Int32Array(rows + weighted.length + 1);
      starts.set(plain.starts);
      weighted.forEach(({ columns }, k) => {
        starts[rows + k + 1] = starts[rows + k]! + columns.length;
      });
      const size = starts[starts.length - 1]!;
      const columns = new Int32Array(size);
      const values = new Float64Array(size).fill(1);
      columns.set(plain.columns);
      const lower = new Float64Array(rows + weighted.length).fill(1);
      const upper = new Float64Array(rows + weighted.length).fill(Infinity);
      weighted.forEach((cut, k) => {
        columns.set(cut.columns, starts[rows + k]!);
        values.set(cut.values, starts[rows + k]!);
        if (cut.most === undefined) return;
        lower[rows + k] = -Infinity;
        upper[rows + k] = cut.most;
      });
      return { costs, starts, columns, values, lower, upper };
    },
  };
}
