/** What core asks of an exact solver, which is handed in. */

/**
 * Whole or fractional choice of columns at least cost: minimise costs · x, 0 <= x <= 1, each row's sum between its bounds.
 * Row r: `values[k] · x[columns[k]]` over k from starts[r] to starts[r + 1] − 1.
 */
export interface RowModel {
  readonly costs: Float64Array;
  readonly starts: Int32Array;
  readonly columns: Int32Array;
  readonly values: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

export interface SolverRequest {
  readonly model: RowModel;
  /** Whole columns only; else any part of them. */
  readonly whole: boolean;
  /** A choice to begin with, 0 or 1 for each column. */
  readonly start: Float64Array | null;
  readonly seconds: number;
  /** Hears the best cost so far (Infinity: none) and the proven lower bound; false ends the search. */
  readonly onBounds: (best: number, bound: number) => boolean;
}

export interface SolverAnswer {
  /** `optimal`: `x` is proved best. `stopped`: by time or by `onBounds`. `infeasible`: proved that there is none. */
  readonly status: 'optimal' | 'infeasible' | 'stopped';
  /** The best found; null for none. */
  readonly x: Float64Array | null;
  /** Nothing costs less. */
  readonly bound: number;
}

/** Solves one model after another, each call in one piece. @throws when it fails, for lack of memory for one. */
export type Solver = (request: SolverRequest) => SolverAnswer;
