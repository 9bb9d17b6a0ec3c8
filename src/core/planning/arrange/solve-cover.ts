/** A whole covering problem: made smaller, split into parts, each solved; what is known is told as it gets better. */
import { createCoverState } from './cover-state.ts';
import { type Part, restrictProblem, splitProblem } from './parts.ts';
import { type CoverProblem, costOf, type Selection } from './problem.ts';
import { dropDominatedRows, findEssentialColumns, findIdleColumns } from './reduce.ts';
import { completeGreedily, selectGreedily } from './search.ts';
import { solvePart } from './solve-part.ts';
import type { Solver } from './solver.ts';

export interface CoverHooks {
  /** Milliseconds, from any start. */
  readonly now: () => number;
  /** When to end, on that clock. */
  readonly deadline: number;
  readonly shouldStop: () => boolean;
  /** Hears of every better selection and every better bound. */
  readonly onNews: (selection: Selection, cost: number, bound: number) => void;
  readonly verify: ((selection: Selection) => readonly number[]) | null;
}

export interface CoverAnswer {
  readonly selection: Selection;
  readonly cost: number;
  /** No sufficient selection costs less. */
  readonly bound: number;
  /** What the plain greedy selection costs. */
  readonly greedyCost: number;
  readonly failure: string | null;
  /** Rows, columns and parts that were left to solve. */
  readonly reduced: {
    readonly rows: number;
    readonly columns: number;
    readonly parts: number;
    readonly essential: number;
  };
}

/** Problems with more entries than this are not searched for idle columns: the solver finds the plain ones itself. */
const MOST_ENTRIES = 3_000_000;

/** @returns null when the needs cannot all be met, by every column together or within the limits */
export function solveCover(problem: CoverProblem, solver: Solver | null, hooks: CoverHooks): CoverAnswer | null {
  const greedy = selectGreedily(problem);
  if (greedy === null) return null;
  const greedyCost = costOf(problem, greedy);
  let best: Selection = hooks.verify ? (strengthen(problem, greedy, hooks.verify) ?? greedy) : greedy;
  hooks.onNews(best, costOf(problem, best), 0);

  // What is verified has to stay as it is: there no column is left out.
  const { chosen, parts, answers } = dividePlan(problem, best, hooks.verify !== null);
  const fixedCost = costOf(problem, chosen);
  const bounds = new Float64Array(parts.length);
  const gather = (): Selection =>
    [...chosen, ...answers.flatMap((selection, p) => selection.map((column) => parts[p]!.columns[column]!))].sort(
      (a, b) => a - b,
    );
  const tell = (): void => {
    const selection = gather();
    const cost = costOf(problem, selection);
    if (cost < costOf(problem, best) - 1e-9) best = selection;
    const bound = fixedCost + bounds.reduce((sum, each) => sum + each, 0);
    hooks.onNews(best, costOf(problem, best), Math.min(bound, costOf(problem, best)));
  };
  tell();

  let failure: string | null = null;
  parts.forEach((each, p) => {
    const left = parts.slice(p).reduce((sum, { columns }) => sum + columns.length, 0);
    const now = hooks.now();
    const share = Math.max(0, hooks.deadline - now) * Math.max(each.columns.length / left, 0.25);
    const toPart = new Map(Array.from(each.needs, (need, k) => [need, k] as const));
    const isHalved = each.problem.needs.some(({ levels }) => levels.some(({ units }) => units !== null));
    const { verify } = hooks;
    const answer = solvePart(each.problem, answers[p]!, solver, {
      now: hooks.now,
      deadline: p + 1 === parts.length ? hooks.deadline : now + share,
      shouldStop: hooks.shouldStop,
      onBetter: (selection) => {
        answers[p] = selection;
        tell();
      },
      onBound: (bound) => {
        bounds[p] = bound;
        tell();
      },
      verify:
        verify && isHalved
          ? (selection) => {
              const whole = answers.map((known, q) => (q === p ? selection : known));
              const columns = [
                ...chosen,
                ...whole.flatMap((known, q) => known.map((column) => parts[q]!.columns[column]!)),
              ];
              return verify(columns.sort((a, b) => a - b)).flatMap((need) => toPart.get(need) ?? []);
            }
          : null,
    });
    answers[p] = answer.selection;
    bounds[p] = answer.bound;
    failure ??= answer.failure;
    tell();
  });
  const cost = costOf(problem, best);
  const total = fixedCost + bounds.reduce((sum, each) => sum + each, 0);
  return {
    selection: best,
    cost,
    bound: Math.min(total, cost),
    greedyCost,
    failure,
    reduced: {
      rows: parts.reduce((sum, each) => sum + each.problem.rows.starts.length - 1 + each.problem.needs.length, 0),
      columns: parts.reduce((sum, each) => sum + each.columns.length, 0),
      parts: parts.length,
      essential: chosen.length,
    },
  };
}

interface Plan {
  readonly chosen: readonly number[];
  readonly parts: readonly Part[];
  /** A sufficient selection of each part. */
  readonly answers: Selection[];
}

/** Reduces and splits a problem; where a part is left without an answer of its own, the whole stays one part. */
function dividePlan(problem: CoverProblem, best: Selection, isKept: boolean): Plan {
  const { chosen, part } = isKept ? { chosen: [], part: wholeOf(problem) } : reduceProblem(problem);
  const parts = splitProblem(part.problem).map((each) => ({
    ...each,
    columns: each.columns.map((column) => part.columns[column]!),
    needs: each.needs.map((need) => part.needs[need]!),
  }));
  const answers: Selection[] = [];
  for (const each of parts) {
    const numberOf = new Map(Array.from(each.columns, (column, k) => [column, k] as const));
    const own = best.flatMap((column) => numberOf.get(column) ?? []);
    const state = createCoverState(each.problem);
    for (const column of own) state.add(column);
    const greedy = isKept ? null : selectGreedily(each.problem);
    const isOwn = state.isMet() && (greedy === null || state.cost <= costOf(each.problem, greedy));
    const answer = isOwn ? own : greedy;
    if (answer === null) return { chosen: [], parts: [wholeOf(problem)], answers: [best] };
    answers.push(answer);
  }
  return { chosen, parts, answers };
}

function wholeOf(problem: CoverProblem): Part {
  return {
    problem,
    columns: Int32Array.from(problem.costs.keys()),
    needs: Int32Array.from(problem.needs.keys()),
  };
}

/** Leaves out rows, needs and columns that change nothing, and chooses what there is no choice about. */
function reduceProblem(problem: CoverProblem): { readonly chosen: number[]; readonly part: Part } {
  let chosen: number[] = [];
  let part = wholeOf({ ...problem, rows: dropDominatedRows(problem.rows, problem.costs.length) });
  for (let round = 0; round < 4; round++) {
    const essential = findEssentialColumns(part.problem.rows);
    const isSmall = countEntries(part.problem) <= MOST_ENTRIES;
    const idle = isSmall ? findIdleColumns(part.problem) : new Uint8Array(part.columns.length);
    for (const column of essential) idle[column] = 1;
    if (!idle.includes(1)) break;
    const { columns, needs } = part;
    const left = [...columns.keys()].filter((column) => idle[column] === 0);
    const next = restrictProblem(part.problem, left, essential);
    chosen = [...chosen, ...essential.map((column) => columns[column]!)];
    part = {
      problem: { ...next.problem, rows: dropDominatedRows(next.problem.rows, left.length) },
      columns: Int32Array.from(left, (column) => columns[column]!),
      needs: next.needs.map((need) => needs[need]!),
    };
  }
  return { chosen, part };
}

function countEntries({ rows, needs }: CoverProblem): number {
  return (
    rows.columns.length +
    needs.reduce((sum, { levels }) => sum + levels.reduce((n, level) => n + level.classes.length, 0), 0)
  );
}

/** Where two halves need not make a whole: adds columns that cover by themselves until the truth is satisfied. */
function strengthen(
  problem: CoverProblem,
  selection: Selection,
  verify: (selection: Selection) => readonly number[],
): Selection | null {
  let failing = verify(selection);
  if (failing.length === 0) return selection;
  const strict: CoverProblem = {
    ...problem,
    needs: problem.needs.map(({ levels, worth }) => ({
      worth,
      levels: levels.map((level) => ({ ...level, base: null, ...dropHalves(level) })),
    })),
  };
  const state = createCoverState(strict);
  for (const column of selection) state.add(column);
  if (!completeGreedily(state)) return null;
  failing = verify([...state.list].sort((a, b) => a - b));
  return failing.length === 0 ? [...state.list].sort((a, b) => a - b) : null;
}

function dropHalves({ columns, starts, classes, units }: CoverProblem['needs'][number]['levels'][number]) {
  if (!units) return {};
  const left: number[] = [];
  const newStarts: number[] = [0];
  columns.forEach((_, n) => {
    for (let k = starts[n]!; k < starts[n + 1]!; k++) if (units[k] === 2) left.push(classes[k]!);
    newStarts.push(left.length);
  });
  return { starts: Int32Array.from(newStarts), classes: Int32Array.from(left), units: null };
}
