/** Parts of a covering problem that have nothing to do with each other, and what is left of one once columns are decided. */
import { type CoverProblem, type Level, type Limit, type Need, packRows, rowCount } from './problem.ts';

/** A smaller problem; its column k is column `columns[k]` of the whole, its need n is need `needs[n]`. */
export interface Part {
  readonly problem: CoverProblem;
  readonly columns: Int32Array;
  readonly needs: Int32Array;
}

/** The problem that is left when some columns are chosen and only `kept` may still be. */
export function restrictProblem(problem: CoverProblem, kept: ArrayLike<number>, chosen: readonly number[]): Part {
  const numberOf = new Int32Array(problem.costs.length).fill(-1);
  for (let k = 0; k < kept.length; k++) numberOf[kept[k]!] = k;
  const isChosen = new Uint8Array(problem.costs.length);
  for (const column of chosen) {
    isChosen[column] = 1;
    numberOf[column] = -1;
  }
  const lists: number[][] = [];
  for (let r = 0; r < rowCount(problem.rows); r++) {
    const list: number[] = [];
    let isCovered = false;
    for (let k = problem.rows.starts[r]!; k < problem.rows.starts[r + 1]!; k++) {
      const column = problem.rows.columns[k]!;
      isCovered ||= isChosen[column] === 1;
      if (numberOf[column]! >= 0) list.push(numberOf[column]!);
    }
    if (!isCovered) lists.push(list);
  }
  const needs: Need[] = [];
  const needNumbers: number[] = [];
  problem.needs.forEach(({ levels, worth }, number) => {
    const left = levels.map((level) => restrictLevel(level, numberOf, isChosen));
    if (left.some(({ required }) => required <= 0)) return;
    needs.push({ levels: left, worth });
    needNumbers.push(number);
  });
  const columns = Int32Array.from(Array.from(kept).filter((column) => isChosen[column] === 0));
  if (columns.length !== kept.length) throw new Error('A chosen column cannot also be kept open.');
  return {
    problem: {
      costs: Float64Array.from(columns, (column) => problem.costs[column]!),
      rows: packRows(lists),
      needs,
      limits: problem.limits.map((limit) => restrictLimit(limit, numberOf, isChosen)),
    },
    columns,
    needs: Int32Array.from(needNumbers),
  };
}

function restrictLevel(level: Level, numberOf: Int32Array, isChosen: Uint8Array): Level {
  const { weights, starts, classes, units } = level;
  const has = level.base ? Uint8Array.from(level.base) : new Uint8Array(weights.length);
  level.columns.forEach((column, n) => {
    if (isChosen[column] === 0) return;
    for (let k = starts[n]!; k < starts[n + 1]!; k++) {
      has[classes[k]!] = Math.min(2, has[classes[k]!]! + (units ? units[k]! : 2));
    }
  });
  let required = level.required;
  const classNumber = new Int32Array(weights.length).fill(-1);
  const newWeights: number[] = [];
  const base: number[] = [];
  weights.forEach((weight, number) => {
    if (has[number] === 2) required -= weight;
    else {
      classNumber[number] = newWeights.length;
      newWeights.push(weight);
      base.push(has[number]!);
    }
  });
  const columns: number[] = [];
  const newStarts: number[] = [0];
  const newClasses: number[] = [];
  const newUnits: number[] = [];
  const order = Array.from(level.columns.keys())
    .filter((n) => numberOf[level.columns[n]!]! >= 0)
    .sort((a, b) => numberOf[level.columns[a]!]! - numberOf[level.columns[b]!]!);
  for (const n of order) {
    const before = newClasses.length;
    for (let k = starts[n]!; k < starts[n + 1]!; k++) {
      const number = classNumber[classes[k]!]!;
      if (number < 0) continue;
      newClasses.push(number);
      newUnits.push(units ? units[k]! : 2);
    }
    if (newClasses.length === before) continue;
    columns.push(numberOf[level.columns[n]!]!);
    newStarts.push(newClasses.length);
  }
  return {
    weights: Int32Array.from(newWeights),
    base: base.includes(1) ? Uint8Array.from(base) : null,
    required,
    columns: Int32Array.from(columns),
    starts: Int32Array.from(newStarts),
    classes: Int32Array.from(newClasses),
    units: units && newUnits.includes(1) ? Uint8Array.from(newUnits) : null,
  };
}

function restrictLimit(limit: Limit, numberOf: Int32Array, isChosen: Uint8Array): Limit {
  const { required, weights, columns, starts, classes } = restrictLevel(
    { ...limit, base: null, required: limit.allowed, units: null },
    numberOf,
    isChosen,
  );
  return { allowed: required, weights, columns, starts, classes };
}

/** Splits a problem into parts that share no row, need or limit; the one with the fewest columns first. */
export function splitProblem(problem: CoverProblem): Part[] {
  const count = problem.costs.length;
  const leader = Int32Array.from({ length: count }, (_, c) => c);
  const find = (column: number): number => {
    let top = column;
    while (leader[top] !== top) top = leader[top]!;
    for (let at = column; leader[at] !== top; ) {
      const next = leader[at]!;
      leader[at] = top;
      at = next;
    }
    return top;
  };
  const join = (columns: Int32Array) => {
    for (let k = 1; k < columns.length; k++) leader[find(columns[k]!)] = find(columns[0]!);
  };
  const { rows, needs, limits } = problem;
  for (let r = 0; r < rowCount(rows); r++) join(rows.columns.subarray(rows.starts[r]!, rows.starts[r + 1]!));
  for (const { levels } of needs) join(Int32Array.from(levels.flatMap((level) => [...level.columns])));
  for (const { columns } of limits) join(columns);
  const members = new Map<number, number[]>();
  for (let column = 0; column < count; column++) {
    const top = find(column);
    const list = members.get(top);
    if (list) list.push(column);
    else members.set(top, [column]);
  }
  const parts: Part[] = [];
  for (const columns of members.values()) {
    if (members.size === 1) {
      parts.push({ problem, columns: Int32Array.from(columns), needs: Int32Array.from(needs.keys()) });
      continue;
    }
    const part = takePart(problem, columns);
    if (rowCount(part.problem.rows) > 0 || part.problem.needs.length > 0) parts.push(part);
  }
  return parts.sort((a, b) => a.columns.length - b.columns.length || a.columns[0]! - b.columns[0]!);
}

function takePart(problem: CoverProblem, columns: readonly number[]): Part {
  const numberOf = new Int32Array(problem.costs.length).fill(-1);
  columns.forEach((column, k) => {
    numberOf[column] = k;
  });
  const isMine = (list: Int32Array) => list.length > 0 && numberOf[list[0]!]! >= 0;
  const renumber = <Item extends { readonly columns: Int32Array }>(item: Item): Item => ({
    ...item,
    columns: item.columns.map((column) => numberOf[column]!),
  });
  const lists: Int32Array[] = [];
  const { rows, needs, limits } = problem;
  for (let r = 0; r < rowCount(rows); r++) {
    const list = rows.columns.subarray(rows.starts[r]!, rows.starts[r + 1]!);
    if (isMine(list)) lists.push(list.map((column) => numberOf[column]!));
  }
  const mine = [...needs.keys()].filter((n) => needs[n]!.levels.some((level) => isMine(level.columns)));
  return {
    problem: {
      costs: Float64Array.from(columns, (column) => problem.costs[column]!),
      rows: packRows(lists),
      needs: mine.map((n) => ({ ...needs[n]!, levels: needs[n]!.levels.map(renumber) })),
      limits: limits.filter((limit) => isMine(limit.columns)).map(renumber),
    },
    columns: Int32Array.from(columns),
    needs: Int32Array.from(mine),
  };
}
