/** Selections found by search: greedy, thinned out, then improved by weighted exchanges. No proof, but quick. */
import { type CoverState, createCoverState } from './cover-state.ts';
import type { CoverProblem, Selection } from './problem.ts';
import { rowCount } from './problem.ts';
import { createRandom } from './random.ts';

/**
 * The plain greedy selection: always the column that covers most of what is open for its cost. Null when needs stay
 * open that no column can help with.
 */
export function selectGreedily(problem: CoverProblem): Selection | null {
  const state = createCoverState(problem);
  return completeGreedily(state) ? [...state.list].sort((a, b) => a - b) : null;
}

/** Adds columns greedily until everything is met; false when nothing helps any more. */
export function completeGreedily(state: CoverState): boolean {
  const { problem } = state;
  const columnCount = problem.costs.length;
  // A gain only ever shrinks, so an old one is a bound: only what is on top is worked out anew.
  const heap = createHeap(columnCount);
  for (let column = 0; column < columnCount; column++) {
    const gain = state.chosen[column] === 1 ? 0 : gainOf(state, column) / problem.costs[column]!;
    if (gain > 0) heap.push(column, gain);
  }
  while (!state.isMet()) {
    const top = heap.pop();
    if (top === null) return false;
    if (state.chosen[top.item] === 1 || state.breaksLimit(top.item)) continue;
    const gain = gainOf(state, top.item) / problem.costs[top.item]!;
    if (gain <= 0) continue;
    if (gain < heap.top() - 1e-12) heap.push(top.item, gain);
    else state.add(top.item);
  }
  dropIdle(state);
  return true;
}

/** Removes chosen columns that nothing needs, the dearest first. */
function dropIdle(state: CoverState): void {
  const order = [...state.list].sort((a, b) => state.problem.costs[b]! - state.problem.costs[a]! || b - a);
  for (const column of order) if (lossOf(state, column) === 0) state.remove(column);
}

function gainOf(state: CoverState, column: number): number {
  let gain = 0;
  const { rowsOf, rowCounts, problem } = state;
  for (let k = rowsOf.starts[column]!; k < rowsOf.starts[column + 1]!; k++) {
    if (rowCounts[rowsOf.columns[k]!] === 0) gain += 1;
  }
  state.gains(column, (need, by) => {
    gain += by * problem.needs[need]!.worth;
  });
  return gain;
}

function lossOf(state: CoverState, column: number): number {
  let loss = 0;
  const { rowsOf, rowCounts, problem } = state;
  for (let k = rowsOf.starts[column]!; k < rowsOf.starts[column + 1]!; k++) {
    if (rowCounts[rowsOf.columns[k]!] === 1) loss += 1;
  }
  state.losses(column, (need, by) => {
    loss += by * problem.needs[need]!.worth;
  });
  return loss;
}

export interface SearchHooks {
  /** Called now and then; true ends the search. */
  readonly shouldStop: () => boolean;
  /** Hears of every better selection. */
  readonly onBetter: (selection: Selection, cost: number) => void;
}

/**
 * Improves a selection: takes out what is missed least, then covers what is open with what covers most, where open rows
 * and needs grow heavier the longer they stay open (after row-weighting local search for set covering).
 * Stops by its hooks alone, or when the cost reaches `bound`.
 */
export function improveByExchange(
  problem: CoverProblem,
  start: Selection,
  bound: number,
  hooks: SearchHooks,
): Selection {
  const state = createCoverState(problem);
  const { costs } = problem;
  const weights = new Float64Array(rowCount(problem.rows)).fill(1);
  const needWeights = Float64Array.from(problem.needs, ({ worth }) => worth);
  const columnsOf = columnsOfNeeds(problem);
  const random = createRandom(1);
  const since = new Int32Array(costs.length);
  for (const column of start) state.add(column);
  let best: Selection = start;
  let bestCost = state.cost;
  let lastAdded = -1;

  const loss = (column: number): number => {
    let sum = 0;
    const { rowsOf, rowCounts } = state;
    for (let k = rowsOf.starts[column]!; k < rowsOf.starts[column + 1]!; k++) {
      const row = rowsOf.columns[k]!;
      if (rowCounts[row] === 1) sum += weights[row]!;
    }
    state.losses(column, (need, by) => {
      sum += by * needWeights[need]!;
    });
    return sum;
  };
  const gain = (column: number): number => {
    let sum = 0;
    const { rowsOf, rowCounts } = state;
    for (let k = rowsOf.starts[column]!; k < rowsOf.starts[column + 1]!; k++) {
      const row = rowsOf.columns[k]!;
      if (rowCounts[row] === 0) sum += weights[row]!;
    }
    state.gains(column, (need, by) => {
      sum += by * needWeights[need]!;
    });
    return sum;
  };
  const removeLeast = (step: number): boolean => {
    let least = Infinity;
    let found = -1;
    for (const column of state.list) {
      if (column === lastAdded && state.list.length > 1) continue;
      const value = loss(column) / costs[column]!;
      if (value < least - 1e-12 || (value < least + 1e-12 && since[column]! < since[found]!)) {
        least = value;
        found = column;
      }
    }
    if (found < 0) return false;
    state.remove(found);
    since[found] = step;
    return true;
  };

  for (let step = 1; ; step++) {
    while (state.isMet()) {
      dropIdle(state);
      if (state.cost < bestCost - 1e-9) {
        bestCost = state.cost;
        best = [...state.list].sort((a, b) => a - b);
        hooks.onBetter(best, bestCost);
      }
      if (bestCost <= bound + 1e-9 || !removeLeast(step)) return best;
    }
    if ((step & 15) === 0 && hooks.shouldStop()) return best;
    removeLeast(step);
    for (let tries = 0; !state.isMet() && tries < 50; tries++) {
      const { openRows, openNeeds } = state;
      const pick = Math.floor(random() * (openRows.items.length + openNeeds.items.length));
      const candidates =
        pick < openRows.items.length
          ? rowColumns(problem, openRows.items[pick]!)
          : columnsOf[openNeeds.items[pick - openRows.items.length]!]!;
      let most = 0;
      let found = -1;
      for (const column of candidates) {
        if (state.chosen[column] === 1 || since[column] === step) continue;
        if (state.cost + costs[column]! > bestCost - 1e-9 || state.breaksLimit(column)) continue;
        const value = gain(column) / costs[column]!;
        if (value > most + 1e-12 || (value > most - 1e-12 && found >= 0 && since[column]! < since[found]!)) {
          most = value;
          found = column;
        }
      }
      if (found < 0) break;
      state.add(found);
      since[found] = step;
      lastAdded = found;
    }
    for (const row of state.openRows.items) weights[row]! += 1;
    for (const need of state.openNeeds.items) needWeights[need]! += problem.needs[need]!.worth;
  }
}

function rowColumns({ rows }: CoverProblem, row: number): Int32Array {
  return rows.columns.subarray(rows.starts[row]!, rows.starts[row + 1]!);
}

function columnsOfNeeds(problem: CoverProblem): Int32Array[] {
  return problem.needs.map(({ levels }) => {
    const all = new Set<number>();
    for (const level of levels) for (const column of level.columns) all.add(column);
    return Int32Array.from(all).sort();
  });
}

/** The greatest first; of equals the lower item. */
function createHeap(capacity: number) {
  const items = new Int32Array(2 * capacity + 2);
  const values = new Float64Array(2 * capacity + 2);
  let size = 0;
  const before = (a: number, b: number) =>
    values[a]! > values[b]! || (values[a]! === values[b]! && items[a]! < items[b]!);
  const swap = (a: number, b: number) => {
    [items[a], items[b]] = [items[b]!, items[a]!];
    [values[a], values[b]] = [values[b]!, values[a]!];
  };
  return {
    top: () => (size === 0 ? Number.NEGATIVE_INFINITY : values[0]!),
    push(item: number, value: number): void {
      let at = size++;
      items[at] = item;
      values[at] = value;
      for (let up = (at - 1) >> 1; at > 0 && before(at, up); up = (at - 1) >> 1) {
        swap(at, up);
        at = up;
      }
    },
    pop(): { readonly item: number; readonly value: number } | null {
      if (size === 0) return null;
      const top = { item: items[0]!, value: values[0]! };
      size -= 1;
      items[0] = items[size]!;
      values[0] = values[size]!;
      for (let at = 0; ; ) {
        let next = at;
        for (const child of [2 * at + 1, 2 * at + 2]) if (child < size && before(child, next)) next = child;
        if (next === at) return top;
        swap(at, next);
        at = next;
      }
    },
  };
}
