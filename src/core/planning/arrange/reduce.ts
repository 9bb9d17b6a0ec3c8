/** Makes a covering problem smaller without losing any best answer's cost. */
import { type CoverProblem, packRows, type Rows, rowCount, transposeRows } from './problem.ts';

/** With more rows than this, only equal rows are found. */
const MOST_ROWS = 150_000;

/** Rows that ask for nothing that another row does not ask for already are left out: those that hold all columns of another. */
export function dropDominatedRows(rows: Rows, columnCount: number): Rows {
  const count = rowCount(rows);
  const words = (columnCount + 31) >> 5;
  const order = Array.from({ length: count }, (_, r) => r).sort((a, b) => sizeOf(rows, a) - sizeOf(rows, b) || a - b);
  const byColumn = transposeRows(rows, columnCount);
  const gone = new Uint8Array(count);
  const bits = new Int32Array(words);
  if (count > MOST_ROWS) return rows;
  // Rows of a column, thinned out as rows go.
  const live = Array.from({ length: columnCount }, (_, c) =>
    byColumn.columns.slice(byColumn.starts[c]!, byColumn.starts[c + 1]!),
  );
  const liveCount = Int32Array.from(live, (list) => list.length);
  for (const row of order) {
    if (gone[row] === 1) continue;
    const from = rows.starts[row]!;
    const to = rows.starts[row + 1]!;
    if (from === to) continue;
    bits.fill(0);
    let rarest = rows.columns[from]!;
    for (let k = from; k < to; k++) {
      const column = rows.columns[k]!;
      bits[column >> 5]! |= 1 << (column & 31);
      if (liveCount[column]! < liveCount[rarest]!) rarest = column;
    }
    const list = live[rarest]!;
    let kept = 0;
    for (let n = 0; n < liveCount[rarest]!; n++) {
      const other = list[n]!;
      if (gone[other] === 1) continue;
      if (other !== row && holdsAll(rows, other, bits, to - from)) {
        gone[other] = 1;
        continue;
      }
      list[kept++] = other;
    }
    liveCount[rarest] = kept;
  }
  const lists: Int32Array[] = [];
  for (let r = 0; r < count; r++) {
    if (gone[r] === 0) lists.push(rows.columns.subarray(rows.starts[r]!, rows.starts[r + 1]!));
  }
  return packRows(lists);
}

function sizeOf(rows: Rows, row: number): number {
  return rows.starts[row + 1]! - rows.starts[row]!;
}

/** Does a row hold every column of a set of `size`? */
function holdsAll(rows: Rows, row: number, bits: Int32Array, size: number): boolean {
  const from = rows.starts[row]!;
  const to = rows.starts[row + 1]!;
  let left = to - from - size;
  if (left < 0) return false;
  for (let k = from; k < to; k++) {
    const column = rows.columns[k]!;
    if (((bits[column >> 5]! >>> (column & 31)) & 1) === 0 && --left < 0) return false;
  }
  return true;
}

/**
 * Columns that another column makes idle: it costs no more, and covers all that they cover, of rows and of needs alike.
 * Columns that a limit knows are never made idle, and make none idle: what they see more of may be forbidden.
 */
export function findIdleColumns(problem: CoverProblem): Uint8Array {
  const { costs, rows, needs, limits } = problem;
  const count = costs.length;
  const covers = listCovered(problem, false);
  // Two halves make a whole: who gives a half is only idle beside who gives the whole.
  const asked = listCovered(problem, true);
  const idle = new Uint8Array(count);
  const limited = new Uint8Array(count);
  for (const limit of limits) for (const column of limit.columns) limited[column] = 1;
  // Every element's columns, to find who else covers it.
  const elements =
    rowCount(rows) +
    needs.reduce((sum, { levels }) => sum + levels.reduce((n, level) => n + 2 * level.weights.length, 0), 0);
  const columnsOf = transposeRows(covers, elements);
  for (let column = 0; column < count; column++) {
    if (limited[column] === 1) continue;
    const from = asked.starts[column]!;
    const to = asked.starts[column + 1]!;
    if (from === to) {
      idle[column] = 1;
      continue;
    }
    let rarest = asked.columns[from]!;
    for (let k = from; k < to; k++) {
      const element = asked.columns[k]!;
      if (sizeOf(columnsOf, element) < sizeOf(columnsOf, rarest)) rarest = element;
    }
    for (let k = columnsOf.starts[rarest]!; k < columnsOf.starts[rarest + 1]!; k++) {
      const other = columnsOf.columns[k]!;
      if (other === column || idle[other] === 1 || limited[other] === 1 || costs[other]! > costs[column]!) continue;
      const isTwin = sizeOf(covers, other) === to - from && costs[other] === costs[column];
      if (isTwin && other > column) continue;
      if (coversAll(covers, other, asked.columns.subarray(from, to))) {
        idle[column] = 1;
        break;
      }
    }
  }
  return idle;
}

/**
 * Of each column, everything it covers, as ascending numbers: rows first, then the halves of every level's classes.
 * @param whole a half counts as the whole class
 */
function listCovered({ costs, rows, needs }: CoverProblem, whole: boolean): Rows {
  const lists: number[][] = Array.from(costs, () => []);
  const ofRows = transposeRows(rows, costs.length);
  lists.forEach((list, column) => {
    for (let k = ofRows.starts[column]!; k < ofRows.starts[column + 1]!; k++) list.push(ofRows.columns[k]!);
  });
  let first = rowCount(rows);
  for (const { levels } of needs) {
    for (const { weights, columns, starts, classes, units } of levels) {
      columns.forEach((column, n) => {
        const list = lists[column]!;
        for (let k = starts[n]!; k < starts[n + 1]!; k++) {
          list.push(first + 2 * classes[k]!);
          if (whole || !units || units[k] === 2) list.push(first + 2 * classes[k]! + 1);
        }
      });
      first += 2 * weights.length;
    }
  }
  for (const list of lists) list.sort((a, b) => a - b);
  return packRows(lists);
}

function coversAll(covers: Rows, column: number, elements: Int32Array): boolean {
  let at = covers.starts[column]!;
  const end = covers.starts[column + 1]!;
  if (end - at < elements.length) return false;
  for (const wanted of elements) {
    while (at < end && covers.columns[at]! < wanted) at++;
    if (at === end || covers.columns[at] !== wanted) return false;
  }
  return true;
}

/** Columns that some row leaves no choice about: it holds no other. */
export function findEssentialColumns(rows: Rows): number[] {
  const essential = new Set<number>();
  for (let r = 0; r < rowCount(rows); r++) {
    if (sizeOf(rows, r) === 1) essential.add(rows.columns[rows.starts[r]!]!);
  }
  return [...essential].sort((a, b) => a - b);
}
