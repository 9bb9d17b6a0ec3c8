/**
 * What turns one JSON value into another. Files share their unchanged parts, so the difference is found by identity at
 * the price of what changed, and a patch is as small as the change: moving one of 2,000 pieces is two numbers and its place.
 */

export type Patch =
  | { readonly set: unknown }
  /** An object: members changed or added, members dropped, and the order of all where it is another. */
  | {
      readonly members: readonly (readonly [key: string, patch: Patch])[];
      readonly drop: readonly string[];
      readonly order?: readonly string[];
    }
  /** A list of the same length. */
  | { readonly items: readonly (readonly [index: number, patch: Patch])[] }
  /** A list in which one run of items is replaced by others. */
  | { readonly from: number; readonly count: number; readonly insert: readonly unknown[] };

type JsonObject = Readonly<Record<string, unknown>>;

/** The patch that makes `after` of `before`; null where they hold the same. */
export function findPatch(before: unknown, after: unknown): Patch | null {
  if (Object.is(before, after)) return null;
  if (Array.isArray(before) && Array.isArray(after)) return findListPatch(before, after);
  if (isObject(before) && isObject(after)) return findObjectPatch(before, after);
  return { set: after };
}

/** Makes the other value; parts a patch does not touch are the same objects. Throws when the patch is of another value. */
export function applyPatch(value: unknown, patch: Patch): unknown {
  if ('set' in patch) return patch.set;
  if ('members' in patch) {
    if (!isObject(value)) throw new Error('A patch of an object met something else.');
    return applyToObject(value, patch);
  }
  if (!Array.isArray(value)) throw new Error('A patch of a list met something else.');
  if ('items' in patch) {
    const list = [...value];
    for (const [index, inner] of patch.items) {
      if (!(index < list.length)) throw new Error(`A patch of item ${index} met a list of ${list.length}.`);
      list[index] = applyPatch(list[index], inner);
    }
    return list;
  }
  const { from, count, insert } = patch;
  if (from + count > value.length) throw new Error(`A patch up to item ${from + count} met a list of ${value.length}.`);
  return [...value.slice(0, from), ...insert, ...value.slice(from + count)];
}

/** How many values a patch holds: what it costs to keep. */
export function weighPatch(patch: Patch): number {
  if ('set' in patch) return 1 + weigh(patch.set);
  if ('members' in patch) return 1 + patch.members.reduce((sum, [, inner]) => sum + weighPatch(inner), 0);
  if ('items' in patch) return 1 + patch.items.reduce((sum, [, inner]) => sum + weighPatch(inner), 0);
  return 1 + weigh(patch.insert);
}

function weigh(value: unknown): number {
  if (typeof value !== 'object' || value === null) return 1;
  let sum = 1;
  for (const each of Array.isArray(value) ? value : Object.values(value)) sum += weigh(each);
  return sum;
}

function findListPatch(before: readonly unknown[], after: readonly unknown[]): Patch | null {
  const shorter = Math.min(before.length, after.length);
  let start = 0;
  while (start < shorter && Object.is(before[start], after[start])) start += 1;
  let end = 0;
  while (end < shorter - start && Object.is(before[before.length - 1 - end], after[after.length - 1 - end])) end += 1;
  if (before.length !== after.length) {
    return { from: start, count: before.length - start - end, insert: after.slice(start, after.length - end) };
  }
  const items: [number, Patch][] = [];
  for (let i = start; i < after.length - end; i += 1) {
    const patch = findPatch(before[i], after[i]);
    if (patch !== null) items.push([i, patch]);
  }
  return items.length === 0 ? null : { items };
}

function findObjectPatch(before: JsonObject, after: JsonObject): Patch | null {
  const members: [string, Patch][] = [];
  const keys = Object.keys(after);
  for (const key of keys) {
    const patch = Object.hasOwn(before, key) ? findPatch(before[key], after[key]) : { set: after[key] };
    if (patch !== null) members.push([key, patch]);
  }
  const kept = Object.keys(before).filter((key) => Object.hasOwn(after, key));
  const drop = Object.keys(before).filter((key) => !Object.hasOwn(after, key));
  const added = keys.filter((key) => !Object.hasOwn(before, key));
  const isInOrder = [...kept, ...added].every((key, i) => key === keys[i]);
  if (members.length === 0 && drop.length === 0 && isInOrder) return null;
  return { members, drop, ...(isInOrder ? {} : { order: keys }) };
}

/** Through a map and `fromEntries`, since a key may have any name, `__proto__` too. */
function applyToObject(value: JsonObject, patch: Extract<Patch, { members: unknown }>): JsonObject {
  const entries = new Map(Object.entries(value));
  for (const key of patch.drop) entries.delete(key);
  for (const [key, inner] of patch.members) entries.set(key, applyPatch(entries.get(key), inner));
  if (patch.order === undefined) return Object.fromEntries(entries);
  return Object.fromEntries(patch.order.map((key) => [key, entries.get(key)]));
}

function isObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
