/**
 * The covering problem in pure numbers. Columns are candidates. Everything to be seen is divided into classes: parts that
 * the same columns see, each with a weight (cells, samples). A need asks for a weight to be covered at one of its levels
 * (body or shoulders); a row asks for one column of a list; a limit bounds the weight that may be seen at all.
 */
import { SLACK } from '../../sight/index.ts';

/** A need at one height: the union of the chosen columns must cover `required` of the classes' weight. */
export interface Level {
  /** Weight of each class that is not covered from the start. */
  readonly weights: Int32Array;
  /** Units each class has from the start, 0 or 1; null for none. */
  readonly base: Uint8Array | null;
  /** 0 or less: met from the start. */
  readonly required: number;
  /** Columns that cover something, ascending; classes of the k-th: `classes[starts[k]] … classes[starts[k + 1] − 1]`. */
  readonly columns: Int32Array;
  readonly starts: Int32Array;
  readonly classes: Int32Array;
  /** Units of each entry of `classes`: a class is covered from two units on; null when every entry gives two. */
  readonly units: Uint8Array | null;
}

/** Met when any of its levels is. */
export interface Need {
  readonly levels: readonly Level[];
  /** Roughly how many columns it takes: what it weighs beside other needs in a search. */
  readonly worth: number;
}

/** The chosen columns may together cover at most `allowed` of the weight. */
export interface Limit extends Omit<Level, 'required' | 'base' | 'units'> {
  readonly allowed: number;
}

/** Lists of columns, of each of which one has to be chosen: row r holds `columns[starts[r]] … columns[starts[r + 1] − 1]`. */
export interface Rows {
  readonly starts: Int32Array;
  readonly columns: Int32Array;
}

export interface CoverProblem {
  readonly costs: Float64Array;
  readonly rows: Rows;
  readonly needs: readonly Need[];
  readonly limits: readonly Limit[];
}

/** A level before it is known whether it can be met, with the share that is asked. */
export interface AskedLevel {
  readonly level: Level;
  /** Share that has to be seen. */
  readonly share: number;
}

/** The least whole number of `all` whose share is enough. */
export function countFor(share: number, all: number): number {
  let count = Math.max(0, Math.ceil((share - SLACK) * all));
  while (count > 0 && (count - 1) / all >= share - SLACK) count--;
  return count;
}

/** Columns chosen, ascending. */
export type Selection = readonly number[];

export function rowCount(rows: Rows): number {
  return rows.starts.length - 1;
}

/** Packs lists of columns. */
export function packRows(lists: readonly ArrayLike<number>[]): Rows {
  const starts = new Int32Array(lists.length + 1);
  lists.forEach((list, r) => {
    starts[r + 1] = starts[r]! + list.length;
  });
  const columns = new Int32Array(starts[lists.length]!);
  lists.forEach((list, r) => {
    for (let k = 0; k < list.length; k++) columns[starts[r]! + k] = list[k]!;
  });
  return { starts, columns };
}

/** Rows by column: the rows that hold column c are `columns[starts[c]] …`. */
export function transposeRows(rows: Rows, columnCount: number): Rows {
  const starts = new Int32Array(columnCount + 1);
  for (const column of rows.columns) starts[column + 1]!++;
  for (let c = 0; c < columnCount; c++) starts[c + 1] = starts[c + 1]! + starts[c]!;
  const next = starts.slice();
  const columns = new Int32Array(rows.columns.length);
  for (let r = 0; r + 1 < rows.starts.length; r++) {
    for (let k = rows.starts[r]!; k < rows.starts[r + 1]!; k++) columns[next[rows.columns[k]!]!++] = r;
  }
  return { starts, columns };
}

/** What a selection costs. */
export function costOf(problem: CoverProblem, selection: Iterable<number>): number {
  let cost = 0;
  for (const column of selection) cost += problem.costs[column]!;
  return cost;
}

/**
 * The step in which costs of whole selections go: 1 for the fewest, the greatest common measure of the prices otherwise
 * (to a hundredth). A lower bound may be rounded up to it.
 */
export function costStep(costs: Float64Array): number {
  let step = 0;
  for (const cost of costs) {
    let [a, b] = [Math.round(cost * 100), step];
    if (Math.abs(a - cost * 100) > 1e-6) return 0;
    while (b > 0) [a, b] = [b, a % b];
    step = a;
  }
  return step / 100;
}

/** A lower bound rounded up to what a selection can cost. */
export function roundUp(bound: number, step: number): number {
  return step > 0 ? step * Math.ceil(bound / step - 1e-6) : bound;
}
