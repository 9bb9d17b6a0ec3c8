/**
 * Rows that every sufficient selection keeps, drawn from one that is not sufficient. A need is a union of what columns
 * see, so what a column adds to a set only shrinks as the set grows: for any set S that does not meet a need,
 * the others must together add what S lacks. (After Nemhauser and Wolsey; for partial covers as in the decomposition of
 * Cordeau, Furini and Ljubić.) A set to which nothing can be added without meeting the need gives the strongest rows:
 * one of the others has to be chosen.
 */
import type { Level, Limit, Need } from './problem.ts';

/** Σ values · x[columns] >= 1, or <= `most` where that is given. */
export interface Cut {
  readonly columns: number[];
  readonly values: number[];
  readonly most?: number;
}

const WHOLE = 2;
/** A row this nearly kept is not added. */
const VIOLATION = 1e-4;

/** The row that a choice, whole or in parts, breaks most plainly; null when the choice keeps it. */
export function cutAgainst(need: Need, x: ArrayLike<number>): Cut | null {
  const most = new Map<number, number>();
  for (const level of need.levels) {
    const lack = linearise(level, x, most);
    if (lack <= 0) return null;
  }
  let sum = 0;
  const columns = [...most.keys()].sort((a, b) => a - b);
  const values = columns.map((column) => most.get(column)!);
  columns.forEach((column, k) => {
    sum += values[k]! * x[column]!;
  });
  return sum < 1 - VIOLATION ? { columns, values } : null;
}

/** Raises the coefficients to what a level gives; answers what of its weight the full classes leave lacking. */
function linearise(level: Level, x: ArrayLike<number>, most: Map<number, number>): number {
  const { weights, base, columns, starts, classes, units } = level;
  const got = new Float64Array(weights.length);
  if (base) got.set(base);
  columns.forEach((column, n) => {
    const part = x[column]!;
    if (part === 0) return;
    for (let k = starts[n]!; k < starts[n + 1]!; k++) got[classes[k]!]! += part * (units ? units[k]! : WHOLE);
  });
  let lack = level.required;
  for (let number = 0; number < weights.length; number++) {
    if (got[number]! >= WHOLE - 1e-9) lack -= weights[number]!;
    else if (base) lack -= (weights[number]! * base[number]!) / WHOLE;
  }
  if (lack <= 0) return lack;
  columns.forEach((column, n) => {
    let adds = 0;
    for (let k = starts[n]!; k < starts[n + 1]!; k++) {
      const number = classes[k]!;
      if (got[number]! < WHOLE - 1e-9) adds += (weights[number]! * (units ? units[k]! : WHOLE)) / WHOLE;
    }
    const value = Math.min(1, adds / lack);
    if (value > 1e-9 && value > (most.get(column) ?? 0)) most.set(column, value);
  });
  return lack;
}

/** Asks one need of growing sets of columns. */
export interface NeedProbe {
  readonly columns: readonly number[];
  clear(): void;
  add(column: number): void;
  isMet(): boolean;
  /** Would the set meet the need with this column too? */
  wouldMeet(column: number): boolean;
  /** Part of what is required that the column covers by itself, at its best level. */
  shareOf(column: number): number;
}

export function createNeedProbe(need: Need): NeedProbe {
  const states = need.levels.map((level) => ({
    level,
    got: new Uint8Array(level.weights.length),
    covered: 0,
    at: new Map(Array.from(level.columns, (column, n) => [column, n] as const)),
  }));
  type State = (typeof states)[number];
  const columns = [...new Set(need.levels.flatMap((level) => [...level.columns]))].sort((a, b) => a - b);
  const weigh = ({ level, got, at }: State, column: number): number => {
    const n = at.get(column);
    if (n === undefined) return 0;
    let more = 0;
    for (let k = level.starts[n]!; k < level.starts[n + 1]!; k++) {
      const number = level.classes[k]!;
      if (got[number]! < WHOLE && got[number]! + (level.units ? level.units[k]! : WHOLE) >= WHOLE) {
        more += level.weights[number]!;
      }
    }
    return more;
  };
  const probe: NeedProbe = {
    columns,
    clear() {
      for (const state of states) {
        state.got.fill(0);
        if (state.level.base) state.got.set(state.level.base);
        state.covered = 0;
      }
    },
    add(column) {
      for (const state of states) {
        state.covered += weigh(state, column);
        const n = state.at.get(column);
        if (n === undefined) continue;
        const { level, got } = state;
        for (let k = level.starts[n]!; k < level.starts[n + 1]!; k++) {
          const number = level.classes[k]!;
          got[number] = Math.min(WHOLE, got[number]! + (level.units ? level.units[k]! : WHOLE));
        }
      }
    },
    isMet: () => states.some(({ level, covered }) => covered >= level.required),
    wouldMeet: (column) => states.some((state) => state.covered + weigh(state, column) >= state.level.required),
    shareOf(column) {
      probe.clear();
      return Math.max(0, ...states.map((state) => weigh(state, column) / Math.max(1, state.level.required)));
    },
  };
  probe.clear();
  return probe;
}

/** From a set that does not meet the need: grown, in the given order, until nothing more fits; the others, one of which is needed. */
export function cutBeyond(probe: NeedProbe, set: Iterable<number>, order: readonly number[]): Cut | null {
  probe.clear();
  const inside = new Set(set);
  for (const column of inside) probe.add(column);
  if (probe.isMet()) return null;
  const others: number[] = [];
  for (const column of order) {
    if (inside.has(column)) continue;
    if (probe.wouldMeet(column)) others.push(column);
    else probe.add(column);
  }
  others.sort((a, b) => a - b);
  return { columns: others, values: others.map(() => 1) };
}

/** Columns of a selection that together see too much of what is limited, as few as it takes; null when the limit is kept. */
export function cutLimit(limit: Limit, selection: readonly number[]): Cut | null {
  const at = new Map(Array.from(limit.columns, (column, n) => [column, n] as const));
  const covered = (columns: readonly number[]): number => {
    const seen = new Uint8Array(limit.weights.length);
    let sum = 0;
    for (const column of columns) {
      const n = at.get(column)!;
      for (let k = limit.starts[n]!; k < limit.starts[n + 1]!; k++) {
        const number = limit.classes[k]!;
        if (seen[number] === 0) sum += limit.weights[number]!;
        seen[number] = 1;
      }
    }
    return sum;
  };
  let guilty = selection.filter((column) => at.has(column));
  if (covered(guilty) <= limit.allowed) return null;
  for (const column of [...guilty]) {
    const fewer = guilty.filter((each) => each !== column);
    if (covered(fewer) > limit.allowed) guilty = fewer;
  }
  return { columns: guilty, values: guilty.map(() => 1), most: guilty.length - 1 };
}
