/**
 * V: takes things in hand. Click, Shift and click, a frame; things and handles dragged, or picked up and set down by
 * Enter, with arrows, typed lengths and the same snapping as everything else.
 */
import type { Point } from '../../core/floor/index.ts';
import { finePoint, subtract } from '../edits/plane.ts';
import { findThing } from '../things.ts';
import { defineTool, type Reply } from './define-tool.ts';
import { SIGNED_START, typeInto } from './entry.ts';
import type { Guide } from './guide.ts';
import {
  followPointer,
  type Hand,
  hasMoved,
  isEnter,
  isPointer,
  letterOf,
  restHand,
  stepHand,
  takeHand,
} from './hand.ts';
import type { Intent } from './intent.ts';
import { pickThingAt } from './pick.ts';
import { sayRest, turnBy } from './placing.ts';
import {
  type Act,
  askForAct,
  intentOfAct,
  listInFrame,
  listMovable,
  lockAxis,
  readAct,
  startMove,
  TURN_STEPS,
  turnHandleBy,
} from './select-acts.ts';
import { type Handle, listHandles, pickHandle, sayHandle } from './select-handles.ts';
import { guideAct, hintAtRest, hintForAct, joinSentences, nameOf } from './select-words.ts';
import type { PointerToolEvent, ToolContext, ToolEvent } from './tool.ts';
import { sayWalls } from './wall-distances.ts';
import { sayLength } from './words.ts';

export interface SelectState {
  readonly hand: Hand | null;
  /** Where the pointer was pressed and what was there. */
  readonly press: {
    readonly raw: Point;
    readonly over: string | null;
    readonly handle: Handle | null;
    /** What was selected then, or would be by a click. */
    readonly ids: readonly string[];
  } | null;
  readonly act: Act | null;
  /** The act was begun by keys: moving the pointer does not change it. */
  readonly byKeys: boolean;
  readonly entry: string;
}

export const selectTool = defineTool<SelectState>({
  id: 'select',
  start: (context) => ({ hand: takeHand(context), press: null, act: null, byKeys: false, entry: '' }),
  isAtRest: ({ press, act, entry }) => press === null && act === null && entry === '',
  on(state, event, context) {
    if (isPointer(event)) return byPointer(state, event, context);
    const { act } = state;
    if (act === null) return pickUp(state, event, context);
    const typed = typeInto(state.entry, event, SIGNED_START);
    if (typed !== null) return { state: { ...state, entry: typed } };
    if (isEnter(event)) return state.entry === '' ? setDown(state, act, context) : readEntry(state, act, context);
    return stepAct(state, act, event, context);
  },
  show(state, context) {
    const { act, hand, entry } = state;
    const cursor = hand?.at ?? null;
    const handles = listHandles(context.floor, context.selection, context.metresPerPixel);
    if (act === null) {
      const marks = handles.map(
        ({ at, part }): Guide => ({ kind: 'mark', mark: part === 'turn' ? 'turn' : 'handle', at }),
      );
      return { hints: hintAtRest(handles, context), guides: marks, cursor };
    }
    if (act.kind === 'frame')
      return {
        hints: 'Let go to select what lies in the frame',
        guides: [{ kind: 'frame', from: act.from, to: act.to }],
        cursor,
      };
    const hints = entry === '' ? hintForAct(act, context) : `${entry} · Enter sets it`;
    return { hints, guides: guideAct(act, hand, context), cursor, preview: intentOfAct(act, context) };
  },
});

function byPointer(state: SelectState, event: PointerToolEvent, context: ToolContext): Reply<SelectState> {
  const { press, act } = state;
  switch (event.type) {
    case 'pointer-down':
      return act !== null && state.byKeys ? setDown(state, act, context) : pressAt(state, event, context);
    case 'pointer-cancel':
      return { state: { ...state, press: null, ...(state.byKeys ? {} : { act: null, entry: '' }) } };
    case 'pointer-move': {
      if (state.byKeys) return { state };
      const begun = act ?? (press !== null && hasMoved(press.raw, event) ? begin(press, event, context) : null);
      if (begun === null && press !== null && hasMoved(press.raw, event) && press.over !== null)
        return { state: { ...state, press: null }, says: `${nameOf(press.over, context)} is locked.`, refused: true };
      return { state: moveAct({ ...state, act: begun }, event, context) };
    }
    case 'pointer-up': {
      if (press === null || state.byKeys) return { state: { ...state, press: null } };
      const moved = act === null ? state : moveAct(state, event, context);
      if (moved.act === null) return click({ ...state, press: null }, press, event, context);
      // A number typed on the way has taken over from the hand; one that cannot be read leaves all as it was.
      if (state.entry !== '' && moved.act.kind !== 'frame') {
        const reply = readEntry(moved, moved.act, context);
        return reply.refused ? { ...reply, state: { ...moved, press: null, act: null, entry: '' } } : reply;
      }
      return setDown(moved, moved.act, context, event.modifiers.shift);
    }
  }
}

function pressAt(state: SelectState, event: PointerToolEvent, context: ToolContext): Reply<SelectState> {
  const { floor, selection, snapping } = context;
  const { at, metresPerPixel } = event;
  const handles = listHandles(floor, selection, metresPerPixel);
  const handle = pickHandle(floor, handles, at, metresPerPixel);
  const over =
    event.over === undefined ? pickThingAt(floor, at, { metresPerPixel, hidden: snapping.hidden }) : event.over;
  const ids =
    over !== null && !selection.includes(over) ? (event.modifiers.shift ? [...selection, over] : [over]) : selection;
  const next = {
    ...state,
    hand: restHand(finePoint(at), 'pointer'),
    press: { raw: at, over, handle, ids },
    act: null,
    entry: '',
  };
  // In hand at once: what belongs to it is to be seen before it moves.
  const isNew = handle === null && over !== null && !event.modifiers.shift && !selection.includes(over);
  return isNew ? { state: next, select: ids, says: `${nameOf(over, context)}.` } : { state: next };
}

/** What a press that goes on takes in hand: a handle, a thing, a frame; null: the thing is locked. */
function begin(press: NonNullable<SelectState['press']>, event: PointerToolEvent, context: ToolContext): Act | null {
  const { raw, over, handle, ids } = press;
  if (handle !== null && listMovable(context, [handle.id]).length > 0)
    return { kind: 'handle', handle, to: handle.at, alone: event.modifiers.alt, step: stepOf(event) };
  // A wall that is not selected is part of the floor: nobody means to move a room by it.
  const isThing = over !== null && findThing(context.floor, over)?.kind !== 'room';
  return isThing ? startMove(context, ids, over) : { kind: 'frame', from: raw, to: raw };
}

function stepOf({ modifiers }: PointerToolEvent): number {
  return modifiers.ctrl ? TURN_STEPS.ctrl : modifiers.shift ? TURN_STEPS.shift : TURN_STEPS.plain;
}

function moveAct(state: SelectState, event: PointerToolEvent, context: ToolContext): SelectState {
  const { act, press } = state;
  if (act === null || press === null) return { ...state, hand: restHand(finePoint(event.at), 'pointer') };
  if (act.kind === 'frame')
    return { ...state, hand: restHand(finePoint(event.at), 'pointer'), act: { ...act, to: event.at } };
  const origin = act.kind === 'move' ? act.from : act.handle.at;
  // The thing keeps the offset from the pointer it was taken with.
  const goal: Point = [origin[0] + event.at[0] - press.raw[0], origin[1] + event.at[1] - press.raw[1]];
  const isLocked = event.modifiers.shift && act.kind === 'move';
  const aimed = isLocked ? lockAxis(origin, goal) : goal;
  const hand = followPointer({ ...event, at: aimed }, context, askForAct(act, context.floor));
  const to = isLocked ? lockAxis(origin, hand.at) : hand.at;
  const held = act.kind === 'handle' ? { ...act, to, alone: event.modifiers.alt, step: stepOf(event) } : { ...act, to };
  return { ...state, hand: { ...hand, at: to }, act: held };
}

function click(
  state: SelectState,
  { over, handle }: NonNullable<SelectState['press']>,
  { modifiers }: PointerToolEvent,
  context: ToolContext,
): Reply<SelectState> {
  const { selection } = context;
  if (over === null)
    return modifiers.shift || handle !== null ? { state } : { state, select: [], says: 'Nothing is selected.' };
  if (!modifiers.shift) return { state, select: [over], says: `${nameOf(over, context)}.` };
  const isIn = selection.includes(over);
  return {
    state,
    select: isIn ? selection.filter((id) => id !== over) : [...selection, over],
    says: `${nameOf(over, context)} is ${isIn ? 'no longer selected' : 'selected too'}.`,
  };
}

/** Ends an act: a frame selects, everything else is one edit, or none where nothing has moved. */
function setDown(state: SelectState, act: Act, context: ToolContext, adds = false): Reply<SelectState> {
  const free: SelectState = { ...state, press: null, act: null, byKeys: false, entry: '' };
  if (act.kind === 'frame') {
    const { floor, selection, snapping } = context;
    const found = listInFrame(floor, act.from, act.to, snapping.hidden);
    const select = adds ? [...new Set([...selection, ...found])] : found;
    return { state: free, select, says: `${select.length} selected.` };
  }
  return commit(free, intentOfAct(act, context), context);
}

function commit(free: SelectState, intent: Intent | null, { selection }: ToolContext): Reply<SelectState> {
  if (intent === null) return { state: free, says: 'Nothing has moved.' };
  return { state: free, commit: { intent, otherwise: free }, select: selection };
}

function readEntry(state: SelectState, act: Act, context: ToolContext): Reply<SelectState> {
  const read = readAct(act, state.entry, context);
  if ('remedy' in read) return { state, says: read.remedy, refused: true };
  return commit({ ...state, press: null, act: null, byKeys: false, entry: '' }, read.intent, context);
}

/** With nothing in hand: Enter picks up what is selected, H takes its handles one after the other. */
function pickUp(state: SelectState, event: ToolEvent, context: ToolContext): Reply<SelectState> | null {
  const { selection, floor } = context;
  const lead = selection.at(-1);
  if (state.press !== null || lead === undefined) return null;
  if (letterOf(event) === 'h' && event.type === 'key')
    return takeHandle(state, null, event.modifiers.shift ? -1 : 1, context);
  if (!isEnter(event)) return null;
  const act = startMove(context, selection, lead);
  const thing = findThing(floor, lead);
  if (act?.kind !== 'move')
    return {
      state,
      says: thing?.kind === 'group' ? 'A group has no place of its own.' : `${nameOf(lead, context)} is locked.`,
      refused: true,
    };
  return {
    state: { ...state, act, byKeys: true, hand: restHand(act.from, 'keys') },
    says: `${nameOf(lead, context)}${act.ids.length > 1 ? ` and ${act.ids.length - 1} more` : ''} picked up. Arrows move, Enter sets down, Escape puts back.`,
  };
}

function takeHandle(state: SelectState, now: Handle | null, by: 1 | -1, context: ToolContext): Reply<SelectState> {
  const { floor, selection, metresPerPixel } = context;
  const handles = listHandles(floor, selection, metresPerPixel);
  const at =
    now === null
      ? -1
      : handles.findIndex(({ part, ring, index }) => part === now.part && ring === now.ring && index === now.index);
  const from = at === -1 && by === -1 ? 0 : at;
  const handle = handles[(from + by + handles.length) % Math.max(1, handles.length)];
  if (handle === undefined) return { state, says: 'There is no handle to take.', refused: true };
  if (listMovable(context, [handle.id]).length === 0)
    return { state, says: `${nameOf(handle.id, context)} is locked.`, refused: true };
  const act: Act = { kind: 'handle', handle, to: handle.at, alone: false, step: TURN_STEPS.ctrl };
  return {
    state: { ...state, act, byKeys: true, hand: restHand(handle.at, 'keys'), entry: '' },
    says: `${sayHandle(floor, handle, nameOf(handle.id, context))}. Arrows move it, H takes the next.`,
  };
}

/** Keys with an act in hand. */
function stepAct(state: SelectState, act: Act, event: ToolEvent, context: ToolContext): Reply<SelectState> | null {
  if (act.kind === 'frame' || !state.byKeys) return null;
  const { floor, units } = context;
  if (act.kind === 'handle' && event.type === 'key') {
    if (letterOf(event) === 'h') return takeHandle(state, act.handle, event.modifiers.shift ? -1 : 1, context);
    if (letterOf(event) === 'a') {
      const alone = !act.alone;
      return {
        state: { ...state, act: { ...act, alone } },
        says: alone ? 'Only this room changes.' : 'Rooms that meet it go along.',
      };
    }
    const turned = turnBy(event);
    if (turned !== null && act.handle.part === 'turn')
      return commit({ ...state, act: null, byKeys: false }, turnHandleBy(act, floor, turned), context);
  }
  const hand = stepHand(restHand(act.to, 'keys'), event, context, { ...askForAct(act, floor), kinds: undefined });
  if (hand === null) return null;
  const from = act.kind === 'move' ? act.from : act.handle.at;
  const by = subtract(hand.at, from);
  const walls = act.kind === 'move' ? sayWalls(floor, hand.at, units) : '';
  return {
    state: { ...state, hand, act: { ...act, to: hand.at } },
    says: joinSentences(
      sayRest(hand, units),
      `Moved by ${sayLength(by[0], units)}, ${sayLength(by[1], units)}.`,
      walls === '' ? '' : `${walls}.`,
    ),
  };
}
