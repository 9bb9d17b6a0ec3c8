/** A small seeded generator of numbers (mulberry32): the same seed gives the same floor on every machine. */
export interface Random {
  /** 0 up to but not 1. */
  next(): number;
  /** `low` up to but not `high`. */
  between(low: number, high: number): number;
  /** A whole number from `low` to `high`, both included. */
  whole(low: number, high: number): number;
  /** True with the given probability. */
  chance(probability: number): boolean;
  /** One item of a list that is not empty. */
  pick<Item>(items: readonly Item[]): Item;
}

export function createRandom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  const whole = (low: number, high: number): number => low + Math.floor(next() * (high - low + 1));
  return {
    next,
    between: (low, high) => low + next() * (high - low),
    whole,
    chance: (probability) => next() < probability,
    pick: (items) => {
      const item = items[whole(0, items.length - 1)];
      if (item === undefined) throw new Error('pick: the list is empty');
      return item;
    },
  };
}
