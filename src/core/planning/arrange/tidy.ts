/** Among selections of one cost: more places seen twice, then places nearer to room axes and tile centres. */
import { createCoverState } from './cover-state.ts';
import type { CoverProblem, Selection } from './problem.ts';

export interface TidyHooks {
  readonly shouldStop: () => boolean;
  /** Does a selection stand in truth? Asked only where the problem has a part of it. */
  readonly verify: ((selection: Selection) => readonly number[]) | null;
}

/** Rounds over all chosen columns at most. */
const MOST_ROUNDS = 4;

/**
 * Exchanges single columns for others that cost no more, as long as everything stays met and the selection gets better.
 *
 * @param untidiness of each column, less is better
 * @param near the columns that one may be exchanged for
 */
export function tidySelection(
  problem: CoverProblem,
  selection: Selection,
  untidiness: Float64Array,
  near: (column: number) => readonly number[],
  hooks: TidyHooks,
): Selection {
  const state = createCoverState(problem);
  for (const column of selection) state.add(column);
  if (!state.isMet()) return selection;
  let twice = countTwice(problem, state.list);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let changed = false;
    for (const column of [...state.list].sort((a, b) => a - b)) {
      if (hooks.shouldStop()) return [...state.list].sort((a, b) => a - b);
      state.remove(column);
      let best = column;
      let bestTwice = twice;
      for (const other of near(column)) {
        if (state.chosen[other] === 1 || problem.costs[other]! > problem.costs[column]! || state.breaksLimit(other))
          continue;
        state.add(other);
        if (state.isMet()) {
          const now = countTwice(problem, state.list);
          const isBetter =
            now > bestTwice + 1e-9 || (now > bestTwice - 1e-9 && untidiness[other]! < untidiness[best]! - 1e-9);
          if (isBetter && !(hooks.verify && hooks.verify([...state.list].sort((a, b) => a - b)).length > 0)) {
            best = other;
            bestTwice = now;
          }
        }
        state.remove(other);
      }
      state.add(best);
      twice = bestTwice;
      changed ||= best !== column;
    }
    if (!changed) break;
  }
  return [...state.list].sort((a, b) => a - b);
}

/** Needs that two of the columns meet each by itself, and the share of rows and weight that two of them cover. */
function countTwice(problem: CoverProblem, columns: readonly number[]): number {
  const isChosen = new Uint8Array(problem.costs.length);
  for (const column of columns) isChosen[column] = 1;
  let sum = 0;
  const { starts, columns: rowColumns } = problem.rows;
  let rows = 0;
  for (let r = 0; r + 1 < starts.length; r++) {
    let count = 0;
    for (let k = starts[r]!; k < starts[r + 1]! && count < 2; k++) count += isChosen[rowColumns[k]!]!;
    if (count >= 2) rows += 1;
  }
  if (starts.length > 1) sum += rows / (starts.length - 1);
  for (const { levels } of problem.needs) {
    const [level] = levels;
    if (!level) continue;
    const counts = new Uint8Array(level.weights.length);
    let covered = 0;
    level.columns.forEach((column, n) => {
      if (isChosen[column] === 0) return;
      for (let k = level.starts[n]!; k < level.starts[n + 1]!; k++) {
        const number = level.classes[k]!;
        if (counts[number] === 1) covered += level.weights[number]!;
        if (counts[number]! < 2) counts[number]!++;
      }
    });
    sum += Math.min(1, covered / level.required);
  }
  return sum;
}
