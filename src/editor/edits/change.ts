/** Members of a floor's lists set, added and removed: worked out on the file, made on a draft of it. */
import { type Draft, original } from 'mutative';
import type { FloorFile } from '../../core/floor/index.ts';
import { indexOfId } from '../things.ts';
import type { Planned } from './edit.ts';
import { findItem, type Items, LIST_NAMES, type Listed, type ListName, listOf } from './lists.ts';

/** A change in the making. Nothing happens to the file until the recipe is run. */
export interface Change {
  readonly file: FloorFile;
  /** A member as it will be; undefined when there is none, or it is removed. */
  get<List extends ListName>(list: List, id: string): Items[List] | undefined;
  /** Puts another member in the place of the one with its id, which must be in the file or added. */
  set<List extends ListName>(list: List, item: Items[List]): void;
  add<List extends ListName>(list: List, item: Items[List]): void;
  remove(list: ListName, id: string): void;
  /** The list as it will be. */
  list<List extends ListName>(list: List): readonly Items[List][];
  /** A value of the floor itself as it will be. */
  whole<Key extends WholeKey>(key: Key): FloorFile[Key];
  /** Puts a value of the floor itself in the place of another: its name, its analysis, its records. */
  put<Key extends WholeKey>(key: Key, value: FloorFile[Key]): void;
  /** The edit under its name. */
  plan(name: string, ids: readonly string[]): Planned;
}

/** What a floor holds besides lists of things with ids. */
type WholeKey = Exclude<keyof FloorFile, ListName | 'format'>;

interface Pending {
  /** By id; null is removed. */
  readonly set: Map<string, Items[ListName] | null>;
  readonly added: Map<string, Items[ListName]>;
}

export function createChange(file: FloorFile): Change {
  const pendings = new Map<ListName, Pending>();
  const wholes = new Map<WholeKey, FloorFile[WholeKey]>();
  const pendingOf = (list: ListName): Pending => {
    let pending = pendings.get(list);
    if (pending === undefined) {
      pending = { set: new Map(), added: new Map() };
      pendings.set(list, pending);
    }
    return pending;
  };
  return {
    file,
    get(list, id) {
      const pending = pendings.get(list);
      const added = pending?.added.get(id);
      if (added !== undefined) return added as Items[typeof list];
      const set = pending?.set.get(id);
      if (set !== undefined) return set === null ? undefined : (set as Items[typeof list]);
      return findItem(file, list, id);
    },
    set(list, item) {
      const { set, added } = pendingOf(list);
      if (added.has(item.id)) added.set(item.id, item);
      else set.set(item.id, item);
    },
    add(list, item) {
      pendingOf(list).added.set(item.id, item);
    },
    remove(list, id) {
      const { set, added } = pendingOf(list);
      if (!added.delete(id)) set.set(id, null);
    },
    list(list) {
      const pending = pendings.get(list);
      return pending === undefined ? listOf(file, list) : rewrite(listOf(file, list), pending);
    },
    whole(key) {
      return wholes.has(key) ? (wholes.get(key) as FloorFile[typeof key]) : file[key];
    },
    put(key, value) {
      wholes.set(key, value);
    },
    plan(name, ids) {
      return { ok: true, name, ids, recipe: (draft) => makePending(draft, pendings, wholes) };
    },
  };
}

/** Sets one member in its place, in whichever list it is. */
export function setListed(change: Change, { list, item }: Listed): void {
  change.set(list, item as Items[typeof list]);
}

function rewrite<Item extends { readonly id: string }>(before: readonly Item[], { set, added }: Pending): Item[] {
  const kept = before.flatMap((item) => {
    const next = set.get(item.id);
    return next === null ? [] : [(next ?? item) as Item];
  });
  return [...kept, ...([...added.values()] as unknown as Item[])];
}

/** What is put into the draft is frozen: it holds no drafts, and need not be searched for any. */
function makePending(
  draft: Draft<FloorFile>,
  pendings: ReadonlyMap<ListName, Pending>,
  wholes: ReadonlyMap<WholeKey, FloorFile[WholeKey]>,
): void {
  Object.assign(draft, Object.fromEntries(wholes));
  for (const list of LIST_NAMES) {
    const pending = pendings.get(list);
    if (pending === undefined || (pending.set.size === 0 && pending.added.size === 0)) continue;
    const drafted = draft[list] as Draft<Items[ListName]>[] | undefined;
    const before = drafted === undefined ? [] : (original(drafted) as readonly Items[ListName][]);
    if (drafted === undefined || [...pending.set.values()].includes(null)) {
      Object.assign(draft, { [list]: Object.freeze(rewrite(before, pending)) });
      continue;
    }
    // Written in place, so that a drag in a long list drafts one member and not all of them.
    for (const [id, item] of pending.set) {
      const at = indexOfId(before, id);
      if (at >= 0) drafted[at] = Object.freeze(item) as Draft<Items[ListName]>;
    }
    for (const item of pending.added.values()) drafted.push(Object.freeze(item) as Draft<Items[ListName]>);
  }
}
