/**
 * Edits and their history. The file is immutable and shares its unchanged parts, so a step keeps the whole file at the
 * price of what changed, and taking it back gives exactly the object that was there before.
 */
import { create, type Draft } from 'mutative';
import { type FloorFile, resolveFloor } from '../core/floor/index.ts';
import { coverageFor, type EditorState, type EditorStore, type Refusal, type Step } from './store.ts';
import { isJudged } from './tools/judged.ts';

/** Changes a draft of the file in place. It is run on the file as it was when the gesture began, never on a preview. */
export type Recipe = (draft: Draft<FloorFile>) => void;

export type Outcome = { readonly ok: true } | { readonly ok: false; readonly refusal: Refusal };

const DONE: Outcome = { ok: true };

/** Steps that can be taken back. Each costs some kilobytes; before more are kept the oldest goes. */
export const MOST_STEPS = 20_000;

/** Steps that had older ones before them once. */
const oldest = new WeakSet<Step>();

/** The newest steps, as many as are kept, and what to tell when the first of them has gone. */
function boundPast(past: readonly Step[]): { readonly past: readonly Step[]; readonly told: string } {
  const kept = past.slice(-MOST_STEPS);
  const [first] = kept;
  if (kept.length === past.length || first === undefined) return { past, told: '' };
  const isFirst = !past.slice(0, 1).some((step) => oldest.has(step));
  oldest.add(first);
  return { past: kept, told: isFirst ? ` ${MOST_STEPS} steps are kept; the oldest has gone.` : '' };
}

const LOOK_ONLY: Refusal = {
  fileName: null,
  faults: [{ path: '', what: 'This floor is changed in another tab', remedy: 'Take it over to change it here.' }],
};

/** Says that the floor can only be looked at. False: it can be changed. */
function refuseLookOnly(store: EditorStore): boolean {
  const { isLookOnly } = store.getState();
  if (isLookOnly) store.setState({ refusal: LOOK_ONLY });
  return isLookOnly;
}

/** Makes one change as one undo step. A change that would leave the file faulty is refused, and nothing happens. */
export function edit(store: EditorStore, name: string, recipe: Recipe): Outcome {
  if (store.getState().gesture !== null) cancelGesture(store);
  return commitFile(store, name, create(store.getState().file, recipe));
}

const runs = new WeakMap<EditorStore, { readonly key: string; readonly made: FloorFile }>();

/**
 * Makes one of a run of small changes, as by an arrow key: while nothing else is edited between them, changes under one
 * key are one undo step.
 * @param name of the step, from the file as it was before the run and as it is now
 */
export function nudge(
  store: EditorStore,
  key: string,
  name: (before: FloorFile, after: FloorFile) => string,
  recipe: Recipe,
): Outcome {
  if (store.getState().gesture !== null) cancelGesture(store);
  const { file, past, savedFile } = store.getState();
  const run = runs.get(store);
  // A save ends a run: what was saved stays within reach of undo.
  const goesOn = run !== undefined && run.key === key && run.made === file && file !== savedFile;
  const start = goesOn ? (past.at(-1)?.file ?? file) : file;
  const next = create(file, recipe);
  const outcome = commitFile(store, name(start, next), next, goesOn ? past.slice(0, -1) : past, start);
  runs.set(store, { key, made: store.getState().file });
  return outcome;
}

interface Pending {
  recipe: Recipe | null;
  scheduled: boolean;
}
const pendings = new WeakMap<EditorStore, Pending>();

function pendingOf(store: EditorStore): Pending {
  let pending = pendings.get(store);
  if (pending === undefined) {
    pending = { recipe: null, scheduled: false };
    pendings.set(store, pending);
  }
  return pending;
}

/** Begins a gesture; `label` says what the hand is doing: "Dragging D14". A gesture still running is cancelled. */
export function beginGesture(store: EditorStore, label: string): void {
  if (store.getState().gesture !== null) cancelGesture(store);
  if (refuseLookOnly(store)) return;
  store.setState({ gesture: label, refusal: null });
}

/** Shows what the recipe would do, at the next frame. Of several in one frame the last counts. Outside a gesture it does nothing. */
export function previewGesture(store: EditorStore, recipe: Recipe): void {
  if (store.getState().gesture === null) return;
  const pending = pendingOf(store);
  pending.recipe = recipe;
  if (pending.scheduled) return;
  pending.scheduled = true;
  store.computation.schedule(() => {
    pending.scheduled = false;
    showPending(store);
  });
}

function showPending(store: EditorStore): void {
  const pending = pendingOf(store);
  const { recipe } = pending;
  pending.recipe = null;
  if (recipe === null || store.getState().gesture === null) return;
  const preview = resolveFloor(create(store.getState().file, recipe));
  store.setState({ preview, ...coverageFor(store, preview) });
}

/** Ends the gesture with the change `recipe` makes as one undo step; a refused one leaves everything as it was. */
export function commitGesture(store: EditorStore, name: string, recipe: Recipe): Outcome {
  if (store.getState().gesture === null) return DONE;
  pendingOf(store).recipe = null;
  const outcome = commitFile(store, name, create(store.getState().file, recipe));
  if (!outcome.ok) cancelGesture(store);
  return outcome;
}

/** Ends the gesture as if it had not begun: the floor and the coverage are as before. */
export function cancelGesture(store: EditorStore): void {
  const state = store.getState();
  pendingOf(store).recipe = null;
  if (state.gesture === null && state.preview === null) return;
  store.setState({ gesture: null, preview: null, ...coverageFor(store, state.floor) });
}

/** Takes the last step back. False: there is none. */
export function undo(store: EditorStore): boolean {
  if (store.getState().gesture !== null) cancelGesture(store);
  const { past, future, file } = store.getState();
  const step = past.at(-1);
  if (step === undefined || refuseLookOnly(store)) return false;
  showFile(store, step.file, {
    past: past.slice(0, -1),
    future: [...future, { name: step.name, file }],
    notice: nextNotice(
      store,
      `${step.name} is taken back. Ctrl Shift Z does it again.${oldest.has(step) ? ' No older step is kept.' : ''}`,
    ),
  });
  return true;
}

/** Does again what was taken back last. False: there is nothing. */
export function redo(store: EditorStore): boolean {
  if (store.getState().gesture !== null) cancelGesture(store);
  const { past, future, file } = store.getState();
  const step = future.at(-1);
  if (step === undefined || refuseLookOnly(store)) return false;
  showFile(store, step.file, {
    past: [...past, { name: step.name, file }],
    future: future.slice(0, -1),
    notice: nextNotice(store, `${step.name} is done again. Ctrl Z takes it back.`),
  });
  return true;
}

function commitFile(
  store: EditorStore,
  name: string,
  next: FloorFile,
  past = store.getState().past,
  before = store.getState().file,
): Outcome {
  if (next === store.getState().file) {
    cancelGesture(store);
    return DONE;
  }
  if (refuseLookOnly(store)) return { ok: false, refusal: LOOK_ONLY };
  const faults = isJudged(next) ? [] : store.computation.findFaults(next);
  if (faults.length > 0) {
    const refusal: Refusal = { fileName: null, faults };
    store.setState({ refusal });
    return { ok: false, refusal };
  }
  const bound = boundPast([...past, { name, file: before }]);
  showFile(store, next, {
    past: bound.past,
    future: [],
    refusal: null,
    notice: nextNotice(store, `${name}. Ctrl Z takes it back.${bound.told}`),
  });
  return DONE;
}

/** Shows the floor as it was kept, before the page was left or by another tab, with the steps that lead to it. */
export function showKept(
  store: EditorStore,
  kept: Pick<EditorState, 'file' | 'past' | 'future' | 'savedFile' | 'fileName' | 'isLookOnly'>,
): void {
  if (store.getState().gesture !== null) cancelGesture(store);
  showFile(store, kept.file, kept);
}

function showFile(store: EditorStore, file: FloorFile, rest: Partial<EditorState>): void {
  const floor = resolveFloor(file);
  const selection = keepExisting(store.getState().selection, file);
  const kept = selection.length === store.getState().selection.length;
  store.setState({
    file,
    floor,
    preview: null,
    gesture: null,
    ...(kept ? {} : { selection, maskHandle: null }),
    ...coverageFor(store, floor),
    ...rest,
  });
}

function keepExisting(selection: readonly string[], file: FloorFile): readonly string[] {
  if (selection.length === 0) return selection;
  const lists = [
    file.rooms,
    file.openings,
    file.furniture,
    file.luminaires,
    file.workplaces,
    file.zones,
    file.sources,
    file.detectors,
    file.groups,
  ];
  const ids = new Set(lists.flatMap((list) => (list ?? []).map((each) => each.id as string)));
  return selection.filter((id) => ids.has(id));
}

/** A sentence for the foot; it stays in the state, the foot lets it fade. */
export function nextNotice(store: EditorStore, text: string): EditorState['notice'] {
  return { text, serial: (store.getState().notice?.serial ?? 0) + 1 };
}
