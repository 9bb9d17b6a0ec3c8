/** What keys and the palette do to the selection. The edits come with this file, when something is first changed. */
import { create } from 'mutative';
import type { Point } from '../../core/floor/index.ts';
import { type Alignment, alignThings, distributeThings } from '../../editor/edits/alignment.ts';
import { copyThings, cutThings, pasteThings, repeatThings } from '../../editor/edits/clipboard.ts';
import type { Edit } from '../../editor/edits/edit.ts';
import { describeFault } from '../../editor/edits/fault-words.ts';
import { findAllListed, findPlaced } from '../../editor/edits/lists.ts';
import { middleOfThings, moveThings, turnThings } from '../../editor/edits/moving.ts';
import { joinBoxes } from '../../editor/edits/plane.ts';
import { setLocked } from '../../editor/edits/properties.ts';
import { deleteThings } from '../../editor/edits/removal.ts';
import { boxOf } from '../../editor/edits/rigid-moves.ts';
import { mergeRooms } from '../../editor/edits/room-merge.ts';
import { edit, nudge } from '../../editor/history.ts';
import { describeKindLock } from '../../editor/locks.ts';
import type { EditorStore } from '../../editor/store.ts';
import { findThing, KIND_WORDS, listThings, type Thing, type ThingKind } from '../../editor/things.ts';
import { say, select } from '../../editor/view.ts';
import { formatMetres } from './format.ts';
import { nameOf } from './words.ts';

/**
 * Makes an edit one undo step and selects what it names. One that is refused is answered in the foot.
 * @returns whether it was made
 */
export function makeEdit(store: EditorStore, planned: Edit, keepsSelection = false): boolean {
  if (!planned.ok) {
    say(store, `${planned.what}. ${planned.remedy}`.trim());
    return false;
  }
  const lock = describeKindLock(store.getState(), planned.ids);
  if (lock !== null) {
    say(store, `${lock.what}. ${lock.remedy}`);
    return false;
  }
  const { file } = store.getState();
  const outcome = edit(store, planned.name, planned.recipe);
  if (outcome.ok) {
    if (!keepsSelection) select(store, planned.ids);
    return true;
  }
  const fault = outcome.refusal.faults[0];
  if (store.getState().isLookOnly || fault === undefined) return false;
  store.setState({ refusal: null });
  const { what, remedy } = describeFault(create(file, planned.recipe), fault);
  say(store, `${what}. ${remedy}`.trim());
  return false;
}

/** The selection without what is locked by its kind; says so when nothing is left. */
function unlocked(store: EditorStore): readonly string[] {
  const { selection, floor, lockedKinds } = store.getState();
  const free = selection.filter((id) => {
    const thing = findThing(floor, id);
    return thing !== undefined && !lockedKinds.has(thing.kind);
  });
  if (free.length === 0) say(store, selection.length === 0 ? 'Nothing is selected.' : 'What is selected is locked.');
  return free;
}

export function deleteSelected(store: EditorStore): void {
  const ids = unlocked(store);
  if (ids.length > 0) makeEdit(store, deleteThings(store.getState().file, ids));
}

/** Metres by which a copy stands beside what it was made of, when nothing else is known. */
const ASIDE: Point = [0.5, -0.5];

/** The steps of copies: another one goes on from the last. */
const repeats = new WeakMap<EditorStore, { readonly ids: readonly string[]; readonly step: Point }>();

/** Repeats the selection: beside itself, and again by the step by which the last copy was moved since. */
export function repeatSelected(store: EditorStore): void {
  const { selection, file } = store.getState();
  if (selection.length === 0) {
    say(store, 'Nothing is selected.');
    return;
  }
  const before = repeats.get(store);
  const isLast = before !== undefined && before.ids.join() === selection.join();
  const step = (isLast ? stepSince(store, before) : null) ?? besideOf(store, selection);
  if (!makeEdit(store, repeatThings(file, selection, step))) return;
  repeats.set(store, { ids: store.getState().selection, step });
  origins.set(store, { from: placeOfAll(store, selection), ids: store.getState().selection });
}

const origins = new WeakMap<EditorStore, { readonly from: Point | null; readonly ids: readonly string[] }>();

function stepSince(store: EditorStore, before: { readonly ids: readonly string[]; readonly step: Point }): Point {
  const origin = origins.get(store);
  const now = placeOfAll(store, before.ids);
  if (origin?.from == null || now === null) return before.step;
  return [round(now[0] - origin.from[0]), round(now[1] - origin.from[1])];
}

/** A copy stands beside its model: to the right by the width of the box around it, for rooms and furniture without a gap. */
function besideOf(store: EditorStore, ids: readonly string[]): Point {
  const box = boxAround(store, ids);
  const width = box === null ? 0 : round(box.maxX - box.minX);
  return width > 0.05 ? [width, 0] : [1, 0];
}

function boxAround(store: EditorStore, ids: readonly string[]) {
  const placed = findPlaced(store.getState().file, ids);
  return placed.length === 0 ? null : joinBoxes(placed.map(boxOf));
}

function placeOfAll(store: EditorStore, ids: readonly string[]): Point | null {
  const { file } = store.getState();
  return findPlaced(file, ids).length === 0 ? null : middleOfThings(file, ids);
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}

let copied: { readonly text: string; pastes: number } | null = null;

/** The selection as text for the clipboard; null: nothing is selected. */
export function copySelected(store: EditorStore): string | null {
  const { file, selection } = store.getState();
  if (selection.length === 0) return null;
  const made = copyThings(file, selection);
  if (!made.ok) return null;
  copied = { text: made.text, pastes: 0 };
  say(store, `${made.name}.`);
  return made.text;
}

export function cutSelected(store: EditorStore): string | null {
  const ids = unlocked(store);
  if (ids.length === 0) return null;
  const made = cutThings(store.getState().file, ids);
  if (!made.ok) {
    say(store, `${made.what}. ${made.remedy}`);
    return null;
  }
  if (!makeEdit(store, made.edit)) return null;
  copied = { text: made.text, pastes: -1 };
  return made.text;
}

/** Whether a text is things that were copied here or in another window. */
export function isCopiedThings(text: string): boolean {
  return text.startsWith('{"format":"lacuna-things/');
}

/** Pastes things beside where they stood, each time a step further, or in place. */
export function pasteCopied(store: EditorStore, text: string, inPlace: boolean): void {
  const times = copied?.text === text ? copied.pastes + 1 : 1;
  const by: Point = inPlace ? [0, 0] : [ASIDE[0] * times, ASIDE[1] * times];
  if (makeEdit(store, pasteThings(store.getState().file, text, by)) && !inPlace && copied?.text === text)
    copied.pastes = times;
}

/** What was copied last in this window. */
export function lastCopied(): string | null {
  return copied?.text ?? null;
}

/** Moves the selection by metres; moves by one key after another are one undo step. False: there is nothing to move. */
export function nudgeSelected(store: EditorStore, by: Point): boolean {
  const { selection } = store.getState();
  const ids = unlocked(store);
  const lead = ids.at(-1);
  if (lead === undefined) return selection.length > 0;
  const planned = moveThings(store.getState().file, ids, by);
  if (!planned.ok) {
    say(store, `${planned.what}. ${planned.remedy}`);
    return true;
  }
  const what = sayThings(store, ids);
  const key = `move ${ids.join(' ')}`;
  const outcome = nudge(
    store,
    key,
    (before, after) => {
      const [from, to] = [middleOfThings(before, ids), middleOfThings(after, ids)];
      return `Moved ${what} by ${formatMetres(Math.hypot(to[0] - from[0], to[1] - from[1]))}`;
    },
    planned.recipe,
  );
  if (!outcome.ok && !store.getState().isLookOnly) {
    const fault = outcome.refusal.faults[0];
    store.setState({ refusal: null });
    if (fault !== undefined) {
      const { what: why, remedy } = describeFault(create(store.getState().file, planned.recipe), fault);
      say(store, `${why}. ${remedy}`.trim());
    }
  }
  return true;
}

function sayThings(store: EditorStore, ids: readonly string[]): string {
  const { floor } = store.getState();
  const [only] = ids;
  const thing = ids.length === 1 && only !== undefined ? findThing(floor, only) : undefined;
  return thing === undefined ? `${ids.length} things` : nameOf(floor, thing);
}

/** Turns the selection about the middle of its box, degrees counter-clockwise. */
export function turnSelected(store: EditorStore, degrees: number): void {
  const ids = unlocked(store);
  const centre = placeOfAll(store, ids);
  if (ids.length === 0 || centre === null) return;
  makeEdit(store, turnThings(store.getState().file, ids, degrees, centre), true);
}

export function alignSelected(store: EditorStore, alignment: Alignment): void {
  const ids = unlocked(store);
  if (ids.length > 0) makeEdit(store, alignThings(store.getState().file, ids, alignment), true);
}

export function distributeSelected(store: EditorStore, axis: 'x' | 'y'): void {
  const ids = unlocked(store);
  if (ids.length > 0) makeEdit(store, distributeThings(store.getState().file, ids, axis), true);
}

/** Makes one room of the two selected. */
export function mergeSelected(store: EditorStore): void {
  const { file, selection } = store.getState();
  const rooms = findAllListed(file, selection).filter(({ list }) => list === 'rooms');
  const [first, second, more] = rooms;
  if (first === undefined || second === undefined || more !== undefined)
    say(store, 'Two rooms make one. Select both, then merge them.');
  else makeEdit(store, mergeRooms(file, first.item.id, second.item.id));
}

/** Locks the selected detectors in the file, or unlocks them. */
export function lockSelected(store: EditorStore, locked: boolean): void {
  const { file, selection, floor } = store.getState();
  const ids = selection.filter((id) => findThing(floor, id)?.kind === 'detector');
  if (ids.length === 0) say(store, 'Select the detectors first. Other things are locked by their kind.');
  else makeEdit(store, setLocked(file, ids, locked), true);
}

/** Everything of one kind. Without a kind: of the kinds that are selected; of furniture its own kind counts. */
export function selectKind(store: EditorStore, kind?: ThingKind): void {
  const { floor, selection, hiddenKinds } = store.getState();
  const lead = selection.at(-1);
  const like = lead === undefined ? undefined : findThing(floor, lead);
  if (kind === undefined && like === undefined) {
    say(store, 'Select one of its kind first.');
    return;
  }
  const isOne = (thing: Thing): boolean => {
    if (kind !== undefined) return thing.kind === kind;
    if (like?.kind !== thing.kind) return false;
    return like.kind !== 'furniture' || (thing.kind === 'furniture' && thing.value.kind === like.value.kind);
  };
  const all =
    (kind ?? like?.kind) === 'group'
      ? floor.groups.map((value): Thing => ({ kind: 'group', value }))
      : listThings(floor);
  const ids = all.filter((thing) => isOne(thing) && !hiddenKinds.has(thing.kind)).map((thing) => thing.value.id);
  select(store, ids);
  say(store, `${ids.length} selected.`);
}

/** Hides things of a kind, or shows them again; hidden ones are let go of. */
export function toggleHidden(store: EditorStore, kind: ThingKind): void {
  const { hiddenKinds, floor, selection } = store.getState();
  const next = flip(hiddenKinds, kind);
  store.setState({
    hiddenKinds: next,
    selection: selection.filter((id) => !next.has(findThing(floor, id)?.kind as ThingKind)),
  });
  say(store, `${KIND_WORDS[kind]} are ${next.has(kind) ? 'hidden' : 'shown'}.`);
}

export function toggleLocked(store: EditorStore, kind: ThingKind): void {
  const next = flip(store.getState().lockedKinds, kind);
  store.setState({ lockedKinds: next });
  say(store, `${KIND_WORDS[kind]} are ${next.has(kind) ? 'locked' : 'unlocked'}.`);
}

function flip<Value>(set: ReadonlySet<Value>, value: Value): ReadonlySet<Value> {
  const next = new Set(set);
  if (!next.delete(value)) next.add(value);
  return next;
}
