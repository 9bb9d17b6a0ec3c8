/** Which thing of a fresh import is which thing of the floor: by what the source calls it, else by where it lies. */
import type { Point, Ring } from '../../core/floor/index.ts';
import { computeBox } from '../../core/geometry/polygon.ts';
import { stampOf } from '../assembly/stamp.ts';

/** What every list of things has in common here. */
export interface Thing {
  readonly id: string;
  readonly notes?: unknown;
  readonly outline?: Ring;
  readonly at?: Point;
  readonly from?: unknown;
  readonly to?: Point;
  readonly kind?: string;
}

export interface Match<Item> {
  readonly old: Item;
  readonly fresh: Item;
}

export interface Matches<Item> {
  readonly both: readonly Match<Item>[];
  /** In the fresh import alone. */
  readonly added: readonly Item[];
  /** On the floor alone, although they came from a source. */
  readonly gone: readonly Item[];
  /** On the floor alone and drawn by hand. */
  readonly own: readonly Item[];
}

/** Things whose middles lie farther apart than this part of their size, or this many metres, are two things. */
const NEAR_SHARE = 0.25;
const NEAR = 0.3;

interface Marks {
  readonly source?: string;
  readonly as?: string;
}

export function marksOf({ notes }: Thing): Marks {
  if (typeof notes !== 'object' || notes === null) return {};
  const { source, as } = notes as { source?: unknown; as?: unknown };
  return {
    ...(typeof source === 'string' ? { source } : {}),
    ...(typeof as === 'string' ? { as } : {}),
  };
}

/** Whether somebody changed a thing since it was imported. */
export function isChangedByHand(thing: Thing): boolean {
  const { as } = marksOf(thing);
  return as !== undefined && as !== stampOf(thing);
}

export function matchThings<Item extends Thing>(olds: readonly Item[], freshes: readonly Item[]): Matches<Item> {
  const byKey = new Map<string, Item[]>();
  for (const old of olds) {
    const { source } = marksOf(old);
    if (source !== undefined) byKey.set(source, [...(byKey.get(source) ?? []), old]);
  }
  const both: Match<Item>[] = [];
  const taken = new Set<Item>();
  const left: Item[] = [];
  for (const fresh of freshes) {
    const { source = '' } = marksOf(fresh);
    // A copy made by hand carries the key of what it was copied from: the untouched one is the one.
    const named = (byKey.get(source) ?? []).filter((each) => !taken.has(each));
    const old = named.find((each) => !isChangedByHand(each)) ?? named[0];
    if (old === undefined) {
      left.push(fresh);
      continue;
    }
    taken.add(old);
    both.push({ old, fresh });
  }
  const added: Item[] = [];
  for (const fresh of left) {
    const old = findNearest(fresh, olds, taken);
    if (old === undefined) added.push(fresh);
    else {
      taken.add(old);
      both.push({ old, fresh });
    }
  }
  const rest = olds.filter((old) => !taken.has(old));
  return {
    both,
    added,
    gone: rest.filter((old) => marksOf(old).source !== undefined),
    own: rest.filter((old) => marksOf(old).source === undefined),
  };
}

function findNearest<Item extends Thing>(
  fresh: Item,
  olds: readonly Item[],
  taken: ReadonlySet<Item>,
): Item | undefined {
  const [x, y] = middleOf(fresh);
  const size = sizeOf(fresh);
  let best: Item | undefined;
  let least = Math.max(NEAR, size * NEAR_SHARE);
  for (const old of olds) {
    if (taken.has(old) || old.kind !== fresh.kind || marksOf(old).source === undefined) continue;
    const [ox, oy] = middleOf(old);
    const away = Math.hypot(ox - x, oy - y);
    if (away < least && Math.abs(sizeOf(old) - size) <= Math.max(NEAR, size * NEAR_SHARE)) [best, least] = [old, away];
  }
  return best;
}

/** The middle of a thing's box; of an opening, between its jambs. */
export function middleOf({ outline, at, from, to }: Thing): Point {
  if (outline !== undefined) {
    const { minX, minY, maxX, maxY } = computeBox(outline);
    return [(minX + maxX) / 2, (minY + maxY) / 2];
  }
  if (at !== undefined) return at;
  if (to !== undefined && Array.isArray(from)) return [(Number(from[0]) + to[0]) / 2, (Number(from[1]) + to[1]) / 2];
  return [0, 0];
}

function sizeOf({ outline, from, to }: Thing): number {
  if (outline !== undefined) {
    const { minX, minY, maxX, maxY } = computeBox(outline);
    return Math.hypot(maxX - minX, maxY - minY);
  }
  return to !== undefined && Array.isArray(from) ? Math.hypot(Number(from[0]) - to[0], Number(from[1]) - to[1]) : 0;
}
