/** Splits a room along a line from wall to wall. */
import { findRoomAt, type Point } from '../../core/floor/index.ts';
import { between, distance, SAME } from '../edits/plane.ts';
import { goFrom, measureDirection } from '../snapping/plan.ts';
import { defineTool, type Reply } from './define-tool.ts';
import { readTyped, typeInto } from './entry.ts';
import type { Guide } from './guide.ts';
import { type Ask, hasMoved, isEnter, isPointer } from './hand.ts';
import { movePlacing, type Placing, startPlacing } from './placing.ts';
import type { ToolContext, ToolEvent } from './tool.ts';
import { joinHints, sayLength, sayPlace } from './words.ts';

export interface SplitState {
  readonly placing: Placing;
  readonly from: Point | null;
  /** Where the pointer was pressed: the line may be dragged too. */
  readonly pressed: Point | null;
  readonly entry: string;
}

export const splitTool = defineTool<SplitState>({
  id: 'split',
  start: (context) => ({ placing: startPlacing(context), from: null, pressed: null, entry: '' }),
  isAtRest: ({ from, entry, pressed }) => from === null && entry === '' && pressed === null,
  on(state, event, context) {
    const typed = typeInto(state.entry, event);
    if (typed !== null) return { state: { ...state, entry: typed } };
    if (isEnter(event) && state.entry !== '') return readEntry(state, context);
    if (isPointer(event)) return byPointer(state, event, context);
    if (event.type === 'key' && event.key === 'Backspace' && state.from !== null)
      return { state: { ...state, from: null }, says: 'The first end is taken back.' };
    const reply = movePlacing(state.placing, event, context, askFor(state));
    if (reply === null) return null;
    const next = { ...state, placing: { ...reply.placing, turn: 0 } };
    return reply.set === undefined ? { state: next, says: reply.says } : setEnd(next, reply.set, context);
  },
  show({ placing, from, entry }, context) {
    const hand = placing.hand;
    const guides: Guide[] = [];
    if (from !== null && hand !== null && distance(from, hand.at) >= SAME) {
      guides.push({ kind: 'line', style: 'drawn', from, to: hand.at });
      guides.push({ kind: 'length', from, to: hand.at, text: sayLength(distance(from, hand.at), context.units) });
    }
    const hints =
      entry !== ''
        ? `${entry} · Enter sets it`
        : from === null
          ? 'Click or Enter at a wall of the room to split'
          : joinHints('Click or Enter at the wall across', 'type 5.4 or 5.4 @30', 'Backspace takes the first end back');
    return { hints, guides: [...guides, ...(hand?.guides ?? [])], cursor: hand?.at ?? null };
  },
});

function askFor({ from }: SplitState): Ask {
  return from === null ? {} : { origin: from, own: [from] };
}

function byPointer(state: SplitState, event: ToolEvent, context: ToolContext): Reply<SplitState> | null {
  if (!isPointer(event)) return null;
  const reply = movePlacing(state.placing, event, context, askFor(state));
  if (reply === null) return null;
  const next = { ...state, placing: reply.placing };
  if (event.type === 'pointer-down') return { state: { ...next, pressed: event.at } };
  const { pressed, from } = state;
  // A press that goes on begins the line where it was pressed.
  if (event.type === 'pointer-move' && pressed !== null && from === null && hasMoved(pressed, event))
    return { state: { ...next, from: state.placing.hand?.at ?? event.at } };
  if (event.type === 'pointer-move') return { state: next };
  const free = { ...next, pressed: null };
  return reply.set === undefined ? { state: free } : setEnd(free, reply.set, context);
}

function setEnd(state: SplitState, at: Point, context: ToolContext): Reply<SplitState> {
  const { from } = state;
  if (from === null) return { state: { ...state, from: at, entry: '' }, says: `From ${sayPlace(at, context.units)}.` };
  const room = findRoomAt(context.floor.rooms, between(from, at, 0.5));
  if (distance(from, at) < SAME || room === undefined)
    return { state, says: 'The line goes through no room. Draw it from wall to wall.', refused: true };
  return {
    state: { ...state, from: null, entry: '' },
    commit: { intent: { kind: 'split', room: room.id, from, to: at }, otherwise: { ...state, entry: '' } },
  };
}

function readEntry(state: SplitState, context: ToolContext): Reply<SplitState> {
  const read = readTyped(state.entry, context.units);
  if (!read.ok) return { state, says: read.remedy, refused: true };
  const [a, b] = read.numbers;
  const { from, placing } = state;
  if (from === null) {
    if (a === undefined || b === undefined)
      return { state, says: 'Write x and y of the first end, such as 3.2 4.5.', refused: true };
    return setEnd(state, [a, b], context);
  }
  if (a === undefined || b !== undefined)
    return { state, says: 'Write a length, such as 5.4, or a length and an angle, such as 5.4 @30.', refused: true };
  const towards = read.angle ?? (placing.hand === null ? 0 : measureDirection(from, placing.hand.at));
  return setEnd(state, goFrom(from, towards, a), context);
}
