/** What keeps a thing from being moved by hand: its own lock, or that of its kind. */
import type { Edit } from './edits/edit.ts';
import type { Recipe } from './history.ts';
import type { EditorState, EditorStore } from './store.ts';
import { findThing, KIND_WORDS } from './things.ts';
import { say } from './view.ts';

type LockState = Pick<EditorState, 'floor' | 'lockedKinds'>;

/** Why things of these ids are not changed by hand: one is of a locked kind. Null: none is; new things have no lock. */
export function describeKindLock(state: LockState, ids: readonly string[]): ReturnType<typeof describeLock> {
  if (state.lockedKinds.size === 0) return null;
  const held = ids.find((id) => {
    const thing = findThing(state.floor, id);
    return thing !== undefined && state.lockedKinds.has(thing.kind);
  });
  return held === undefined ? null : describeLock(state, held);
}

/** Why a thing stays as it is, and what to do about it; null: it may be moved. */
export function describeLock(
  { floor, lockedKinds }: LockState,
  id: string,
): { readonly what: string; readonly remedy: string } | null {
  const thing = findThing(floor, id);
  if (thing === undefined) return null;
  if (lockedKinds.has(thing.kind)) {
    const many = KIND_WORDS[thing.kind];
    return { what: `${many} are locked`, remedy: `"Lock or unlock ${many.toLowerCase()}" in Find frees them.` };
  }
  if (thing.kind === 'detector' && thing.value.locked)
    return { what: `${thing.value.name} is locked`, remedy: 'Unlock it first: its place, in the margin.' };
  return null;
}

/** Says in the foot why a thing stays as it is. False: it may be changed. */
export function sayLocked(store: EditorStore, id: string): boolean {
  const lock = describeLock(store.getState(), id);
  if (lock !== null) say(store, `${lock.what}. ${lock.remedy}`);
  return lock !== null;
}

/** A change of one thing by hand as an edit, refused while the thing is locked. */
export function planByHand(state: LockState, id: string, recipe: Recipe): Edit {
  const lock = describeLock(state, id);
  return lock === null ? { ok: true, name: '', recipe, ids: [id] } : { ok: false, ...lock };
}
