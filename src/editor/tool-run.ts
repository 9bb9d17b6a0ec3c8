/**
 * The tool in hand. A host starts one, sends it what a hand does, and reads `toolRun` in the store: what to draw, what the
 * foot says, what is read out. A preview is a gesture, a commit one step of the history, cancelling leaves no trace.
 *
 * The tools come when the first one is taken up: what happens before they are there is kept and sent in order.
 */
import type { FloorFile } from '../core/floor/index.ts';
import { beginGesture, cancelGesture, commitGesture, edit, previewGesture } from './history.ts';
import { SNAP_DEFAULTS, type SnapUnder } from './snapping/snap-kinds.ts';
import type { EditorStore, Tool } from './store.ts';
import type { Guide } from './tools/guide.ts';
import type { ToolSession } from './tools/session.ts';
import type { Shown, Step, ToolContext, ToolEvent, ToolId } from './tools/tool.ts';
import { readUnderlay, type UnderlayPicture } from './underlay.ts';
import { say, select, setPointer, setTool, stepBack } from './view.ts';

/** What is to be seen and heard of the tool in hand. */
export interface ToolRun {
  readonly id: ToolId;
  /** Counts the events the tool has made use of. */
  readonly serial: number;
  readonly guides: readonly Guide[];
  /** For the foot. */
  readonly hint: string;
  /** For the live region; null: nothing new. `serial` tells two equal ones apart. */
  readonly announcement: { readonly text: string; readonly serial: number } | null;
}

interface Held {
  readonly id: Tool;
  session: ToolSession | null;
  /** Sent before the tools were there. */
  waiting: ToolEvent[];
  /** The running gesture is this tool's preview. */
  isPreviewing: boolean;
  isSending: boolean;
  metresPerPixel: number;
}

const helds = new WeakMap<EditorStore, Held>();
let registry: typeof import('./tools/registry.ts') | null = null;

/** Metres one arrow key moves the hand. */
const STEP = 0.1;

/** Brings the tools, once. The page asks for them when it has nothing else to do. */
export async function loadTools(): Promise<typeof import('./tools/registry.ts')> {
  registry ??= await import('./tools/registry.ts');
  return registry;
}

/** Takes a tool up in place of the one in hand, which is cancelled. Probe and mask have no run: the page drives them. */
export function startTool(store: EditorStore, id: Tool): void {
  const held = holdOf(store);
  const { metresPerPixel } = held;
  if (held.isPreviewing) cancelGesture(store);
  const next = newHeld(id, metresPerPixel);
  next.isSending = true;
  helds.set(store, next);
  // Taken up for the first time it takes nothing out of another hand: a value may be being typed.
  if (store.getState().tool !== id || held.session !== null) setTool(store, id);
  // What was said before gives way to what the tool asks for.
  store.setState(id === 'select' ? { toolRun: null } : { toolRun: null, notice: null });
  next.isSending = false;
  if (id === 'probe' || id === 'mask') return;
  if (registry !== null) open(store, next, id);
  else
    void loadTools().then(() => {
      if (helds.get(store) === next && store.getState().tool === id) open(store, next, id);
    });
}

/** Puts the tool away: selecting goes on. */
export function endTool(store: EditorStore): void {
  startTool(store, 'select');
}

/**
 * Sends what a hand does to the tool in hand.
 * @returns the step it led to; null: no tool runs, or it is still being loaded and gets the event once it is there
 */
export function sendToolEvent(store: EditorStore, event: ToolEvent): Step<unknown> | null {
  const held = holdOf(store);
  const { tool } = store.getState();
  if (held.session === null) {
    if (tool !== 'probe' && tool !== 'mask' && tool !== 'select') held.waiting.push(event);
    return null;
  }
  if ('metresPerPixel' in event) held.metresPerPixel = event.metresPerPixel;
  held.isSending = true;
  try {
    const step = held.session.send(event, contextOf(store, held));
    if (step.used) carryOut(store, held, step);
    return step;
  } finally {
    held.isSending = false;
  }
}

/** Says how large a pixel is, metres: marks and handles keep their size on screen. */
export function setMetresPerPixel(store: EditorStore, metresPerPixel: number): void {
  const held = holdOf(store);
  if (held.metresPerPixel === metresPerPixel) return;
  held.metresPerPixel = metresPerPixel;
  refresh(store, held);
}

/**
 * One step back, as Escape takes it: what the tool has in hand, else the tool, else what `stepBack` knows.
 * False: there was nothing to go back from.
 */
export function stepBackWithTool(store: EditorStore): boolean {
  const { maskHandle, refusal, gesture, tool } = store.getState();
  const held = holdOf(store);
  const isOthers = gesture !== null && !held.isPreviewing;
  if (held.session === null || isOthers || maskHandle !== null || refusal !== null) return stepBack(store);
  const step = sendToolEvent(store, { type: 'cancel' });
  if (step !== null && !step.leave) return true;
  if (tool === 'select') return stepBack(store);
  endTool(store);
  return true;
}

function holdOf(store: EditorStore): Held {
  let held = helds.get(store);
  if (held === undefined) {
    held = newHeld(store.getState().tool, 0.02);
    helds.set(store, held);
    follow(store);
  }
  return held;
}

function newHeld(id: Tool, metresPerPixel: number): Held {
  return { id, session: null, waiting: [], isPreviewing: false, isSending: false, metresPerPixel };
}

/** What a tool shows belongs to the floor, the selection and the units as they are now. */
function follow(store: EditorStore): void {
  store.subscribe((state, before) => {
    const held = holdOf(store);
    if (held.isSending) return;
    if (state.gesture === null && before.gesture !== null) held.isPreviewing = false;
    // Another document, or another tool taken up behind its back.
    if (state.tool !== held.id || (held.session !== null && state.toolRun === null)) {
      startTool(store, state.tool);
      return;
    }
    if (
      state.file !== before.file ||
      state.selection !== before.selection ||
      state.units !== before.units ||
      state.hiddenKinds !== before.hiddenKinds ||
      state.lockedKinds !== before.lockedKinds
    )
      refresh(store, held);
  });
}

function open(store: EditorStore, held: Held, id: ToolId): void {
  held.session = registry?.findTool(id)?.open(contextOf(store, held)) ?? null;
  if (held.session === null) return;
  refresh(store, held);
  const { waiting } = held;
  held.waiting = [];
  for (const event of waiting) sendToolEvent(store, event);
}

function refresh(store: EditorStore, held: Held): void {
  if (held.session === null) return;
  held.isSending = true;
  show(store, held, held.session.show(contextOf(store, held)), null);
  held.isSending = false;
}

function contextOf(store: EditorStore, { metresPerPixel }: Held): ToolContext {
  const { file, floor, selection, pointer, units, catalogue, lockedKinds, hiddenKinds, underlay } = store.getState();
  return {
    file,
    floor,
    selection,
    pointer,
    metresPerPixel,
    snapping: { ...SNAP_DEFAULTS, hidden: hiddenKinds, under: underOf(file, underlay) },
    step: STEP,
    units,
    catalogue,
    locked: lockedKinds,
  };
}

/** What of a picture draws the hand to itself: the lines of a page. It keeps its identity while the notes do. */
function underOf({ notes }: FloorFile, picture: UnderlayPicture | null): SnapUnder | null {
  if (picture === null || picture.lines.length === 0) return null;
  const last = lastUnder;
  if (last !== null && last.notes === notes && last.picture === picture) return last.under;
  const underlay = readUnderlay(notes);
  const under = underlay === null ? null : { lines: picture.lines, placement: underlay.placement };
  lastUnder = { notes, picture, under };
  return under;
}
interface LastUnder {
  readonly notes: FloorFile['notes'];
  readonly picture: UnderlayPicture;
  readonly under: SnapUnder | null;
}
let lastUnder: LastUnder | null = null;

function carryOut(store: EditorStore, held: Held, step: Step<unknown>): void {
  const { commit, says, refused } = step;
  let isMade = true;
  if (commit !== null) {
    const outcome = (held.isPreviewing ? commitGesture : edit)(store, commit.name, commit.recipe);
    held.isPreviewing = false;
    isMade = outcome.ok;
  }
  if (step.select !== null && isMade) select(store, step.select);
  // After a commit the floor is another one: what is seen is asked for anew.
  const shown = commit === null || held.session === null ? step : held.session.show(contextOf(store, held));
  show(store, held, shown, says);
  if (refused && says !== null) say(store, says);
}

function show(store: EditorStore, held: Held, shown: Shown, says: string | null): void {
  const { preview, cursor, guides, hints } = shown;
  const before = store.getState().toolRun;
  const serial = (before?.serial ?? 0) + 1;
  if (preview !== null) {
    if (!held.isPreviewing) beginGesture(store, preview.name);
    held.isPreviewing = store.getState().gesture !== null;
    previewGesture(store, preview.recipe);
  } else if (held.isPreviewing) {
    cancelGesture(store);
    held.isPreviewing = false;
  }
  if (cursor !== null) setPointer(store, cursor);
  if (held.session === null) return;
  const announcement = says === null ? (before?.announcement ?? null) : { text: says, serial };
  store.setState({ toolRun: { id: held.session.id, serial, guides, hint: hints, announcement } });
}
