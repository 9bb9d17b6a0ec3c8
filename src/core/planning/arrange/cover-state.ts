/** A selection of columns and everything it covers, kept while columns come and go. */
import type { CoverProblem, Level, Limit } from './problem.ts';
import { rowCount, transposeRows } from './problem.ts';

/** Two units cover a class. */
const WHOLE = 2;
const LEAST_LACK = 1e-6;

interface LevelState {
  readonly need: number;
  readonly level: Level;
  /** Units of each class. */
  readonly units: Uint16Array;
  /** Weight covered, and weight times units (of the two that count). */
  covered: number;
  credit: number;
}

interface Use {
  readonly state: LevelState;
  /** Where the column's entries lie in the level. */
  readonly from: number;
  readonly to: number;
}

interface LimitState {
  readonly limit: Limit;
  readonly counts: Uint16Array;
  covered: number;
}

export interface CoverState {
  readonly problem: CoverProblem;
  readonly chosen: Uint8Array;
  /** Columns chosen, in no order. */
  readonly list: number[];
  cost: number;
  /** Columns of each row that are chosen. */
  readonly rowCounts: Uint16Array;
  /** Rows not covered, and needs not met; each with where it stands in its list. */
  readonly openRows: OpenList;
  readonly openNeeds: OpenList;
  isMet(): boolean;
  add(column: number): void;
  remove(column: number): void;
  clear(): void;
  /** Would a limit be broken? */
  breaksLimit(column: number): boolean;
  /** Part of a need's shortfall that is open, 0 (met) to 1. */
  shortfall(need: number): number;
  /** By how much adding a column lessens the shortfall of each open need; calls `each(need, lessening)`. */
  gains(column: number, each: (need: number, by: number) => void): void;
  /** By how much removing a chosen column would raise the shortfall of each need. */
  losses(column: number, each: (need: number, by: number) => void): void;
  /** Rows of a column: `rows.columns[rows.starts[column]] …`. */
  readonly rowsOf: { readonly starts: Int32Array; readonly columns: Int32Array };
  /** Needs that a column has a part in. */
  readonly needsOf: readonly (readonly number[])[];
}

/** A set of small whole numbers that also answers the k-th of them. */
export interface OpenList {
  readonly items: number[];
  has(item: number): boolean;
  add(item: number): void;
  remove(item: number): void;
}

function createOpenList(size: number): OpenList {
  const place = new Int32Array(size).fill(-1);
  const items: number[] = [];
  return {
    items,
    has: (item) => place[item]! >= 0,
    add(item) {
      if (place[item]! >= 0) return;
      place[item] = items.length;
      items.push(item);
    },
    remove(item) {
      const at = place[item]!;
      if (at < 0) return;
      const last = items.pop()!;
      if (last !== item) {
        items[at] = last;
        place[last] = at;
      }
      place[item] = -1;
    },
  };
}

export function createCoverState(problem: CoverProblem): CoverState {
  const columnCount = problem.costs.length;
  const rowsOf = transposeRows(problem.rows, columnCount);
  const uses: Use[][] = Array.from({ length: columnCount }, () => []);
  const states: LevelState[][] = problem.needs.map(({ levels }, need) =>
    levels.map((level) => {
      const units = new Uint16Array(level.weights.length);
      const state: LevelState = { need, level, units, covered: 0, credit: 0 };
      level.columns.forEach((column, k) => {
        uses[column]!.push({ state, from: level.starts[k]!, to: level.starts[k + 1]! });
      });
      return state;
    }),
  );
  const limits: LimitState[] = problem.limits.map((limit) => ({
    limit,
    counts: new Uint16Array(limit.weights.length),
    covered: 0,
  }));
  const limitUses: { state: LimitState; from: number; to: number }[][] = Array.from({ length: columnCount }, () => []);
  for (const state of limits) {
    state.limit.columns.forEach((column, k) => {
      limitUses[column]!.push({ state, from: state.limit.starts[k]!, to: state.limit.starts[k + 1]! });
    });
  }
  const openRows = createOpenList(rowCount(problem.rows));
  const openNeeds = createOpenList(problem.needs.length);
  const rowCounts = new Uint16Array(rowCount(problem.rows));
  const place = new Int32Array(columnCount).fill(-1);
  const needsOf = uses.map((list) => [...new Set(list.map(({ state }) => state.need))]);

  // A need that only lacks second halves is still open, if by little.
  const lack = ({ level, covered, credit }: LevelState, whole: number, units: number): number => {
    if (covered + whole >= level.required) return 0;
    return Math.max(LEAST_LACK, 1 - (credit + units) / (WHOLE * level.required));
  };
  const leastLack = (need: number): number => {
    let least = 1;
    for (const state of states[need]!) least = Math.min(least, lack(state, 0, 0));
    return least;
  };
  const judge = (need: number): void => {
    if (leastLack(need) > 0) openNeeds.add(need);
    else openNeeds.remove(need);
  };
  // What `weigh` found: weight that becomes (or stays no longer) covered, and units gained or lost, weighted.
  let whole = 0;
  let credit = 0;
  const weighMore = ({ state: { level, units }, from, to }: Use): void => {
    whole = 0;
    credit = 0;
    for (let k = from; k < to; k++) {
      const number = level.classes[k]!;
      const has = units[number]!;
      if (has >= WHOLE) continue;
      const weight = level.weights[number]!;
      const more = level.units ? Math.min(level.units[k]!, WHOLE - has) : WHOLE - has;
      credit += weight * more;
      if (has + more === WHOLE) whole += weight;
    }
  };
  const weighLess = ({ state: { level, units }, from, to }: Use): void => {
    whole = 0;
    credit = 0;
    for (let k = from; k < to; k++) {
      const number = level.classes[k]!;
      const has = units[number]!;
      const left = has - (level.units ? level.units[k]! : WHOLE);
      if (left >= WHOLE) continue;
      const weight = level.weights[number]!;
      credit += weight * (Math.min(WHOLE, has) - left);
      if (has >= WHOLE) whole += weight;
    }
  };

  const state: CoverState = {
    problem,
    chosen: new Uint8Array(columnCount),
    list: [],
    cost: 0,
    rowCounts,
    openRows,
    openNeeds,
    rowsOf,
    needsOf,
    isMet: () => openRows.items.length === 0 && openNeeds.items.length === 0,
    add(column) {
      if (state.chosen[column] === 1) return;
      state.chosen[column] = 1;
      place[column] = state.list.length;
      state.list.push(column);
      state.cost += problem.costs[column]!;
      for (let k = rowsOf.starts[column]!; k < rowsOf.starts[column + 1]!; k++) {
        const row = rowsOf.columns[k]!;
        if (rowCounts[row]!++ === 0) openRows.remove(row);
      }
      for (const use of uses[column]!) {
        const { level, units } = use.state;
        weighMore(use);
        use.state.covered += whole;
        use.state.credit += credit;
        for (let k = use.from; k < use.to; k++) units[level.classes[k]!]! += level.units ? level.units[k]! : WHOLE;
      }
      for (const need of needsOf[column]!) judge(need);
      for (const { state: limit, from, to } of limitUses[column]!) {
        for (let k = from; k < to; k++) {
          const number = limit.limit.classes[k]!;
          if (limit.counts[number]!++ === 0) limit.covered += limit.limit.weights[number]!;
        }
      }
    },
    remove(column) {
      if (state.chosen[column] === 0) return;
      state.chosen[column] = 0;
      const last = state.list.pop()!;
      if (last !== column) {
        state.list[place[column]!] = last;
        place[last] = place[column]!;
      }
      state.cost -= problem.costs[column]!;
      for (let k = rowsOf.starts[column]!; k < rowsOf.starts[column + 1]!; k++) {
        const row = rowsOf.columns[k]!;
        if (--rowCounts[row]! === 0) openRows.add(row);
      }
      for (const use of uses[column]!) {
        const { level, units } = use.state;
        weighLess(use);
        use.state.covered -= whole;
        use.state.credit -= credit;
        for (let k = use.from; k < use.to; k++) units[level.classes[k]!]! -= level.units ? level.units[k]! : WHOLE;
      }
      for (const need of needsOf[column]!) judge(need);
      for (const { state: limit, from, to } of limitUses[column]!) {
        for (let k = from; k < to; k++) {
          const number = limit.limit.classes[k]!;
          if (--limit.counts[number]! === 0) limit.covered -= limit.limit.weights[number]!;
        }
      }
    },
    clear() {
      for (const column of [...state.list]) state.remove(column);
      state.cost = 0;
    },
    breaksLimit: (column) =>
      limitUses[column]!.some(({ state: { limit, counts, covered }, from, to }) => {
        let more = 0;
        for (let k = from; k < to; k++) if (counts[limit.classes[k]!] === 0) more += limit.weights[limit.classes[k]!]!;
        return covered + more > limit.allowed;
      }),
    shortfall: leastLack,
    gains(column, each) {
      const list = uses[column]!;
      for (let u = 0; u < list.length; u++) {
        const { need } = list[u]!.state;
        if (u > 0 && list[u - 1]!.state.need === need) continue;
        const before = leastLack(need);
        if (before === 0) continue;
        let after = before;
        for (let v = u; v < list.length && list[v]!.state.need === need; v++) {
          weighMore(list[v]!);
          after = Math.min(after, lack(list[v]!.state, whole, credit));
        }
        if (after < before) each(need, before - after);
      }
    },
    losses(column, each) {
      const list = uses[column]!;
      for (let u = 0; u < list.length; u++) {
        const { need } = list[u]!.state;
        if (u > 0 && list[u - 1]!.state.need === need) continue;
        let after = 1;
        for (const level of states[need]!) {
          whole = 0;
          credit = 0;
          for (let v = u; v < list.length && list[v]!.state.need === need; v++) {
            if (list[v]!.state === level) weighLess(list[v]!);
          }
          after = Math.min(after, lack(level, -whole, -credit));
        }
        const before = leastLack(need);
        if (after > before) each(need, after - before);
      }
    },
  };
  for (const levels of states) {
    for (const each of levels) {
      const { base, weights } = each.level;
      if (!base) continue;
      each.units.set(base);
      base.forEach((units, number) => {
        each.credit += units * weights[number]!;
      });
    }
  }
  for (let row = 0; row < rowCounts.length; row++) openRows.add(row);
  for (let need = 0; need < problem.needs.length; need++) judge(need);
  return state;
}
