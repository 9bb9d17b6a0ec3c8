/** The picture under the plan: two places of it and a typed distance set its scale, and with an angle its turn; or it is moved. */
import type { Point } from '../../core/floor/index.ts';
import { distance, SAME } from '../edits/plane.ts';
import type { SnapKind } from '../snapping/snap-kinds.ts';
import type { ThingKind } from '../things.ts';
import { readUnderlay } from '../underlay.ts';
import { defineTool, type Reply } from './define-tool.ts';
import { readTyped, typeInto } from './entry.ts';
import type { Guide } from './guide.ts';
import { isEnter, letterOf } from './hand.ts';
import { movePlacing, type Placing, startPlacing } from './placing.ts';
import type { ToolContext } from './tool.ts';
import { joinHints, sayLength, sayPlace } from './words.ts';

export interface UnderlayState {
  readonly mode: 'scale' | 'move';
  readonly placing: Placing;
  readonly from: Point | null;
  /** The second place, once set: the distance is awaited. */
  readonly to: Point | null;
  readonly entry: string;
}

const start = (context: ToolContext, mode: UnderlayState['mode'] = 'scale'): UnderlayState => ({
  mode,
  placing: startPlacing(context),
  from: null,
  to: null,
  entry: '',
});

export const underlayTool = defineTool<UnderlayState>({
  id: 'underlay',
  start: (context) => start(context),
  isAtRest: ({ from, entry }) => from === null && entry === '',
  on(state, event, context) {
    const letter = state.entry === '' ? letterOf(event) : null;
    if (letter === 'd') return { state: start(context), says: 'Scales the picture by two places.' };
    if (letter === 'v') return { state: start(context, 'move'), says: 'Moves the picture.' };
    if (state.to !== null) {
      const typed = typeInto(state.entry, event);
      if (typed !== null) return { state: { ...state, entry: typed }, ...(typed === '' ? {} : { says: typed }) };
      if (isEnter(event) && state.entry !== '') return readEntry(state, state.to, context);
    }
    if (event.type === 'key' && event.key === 'Backspace' && state.from !== null)
      return state.to === null
        ? { state: { ...state, from: null }, says: 'The first place is taken back.' }
        : { state: { ...state, to: null }, says: 'The second place is taken back.' };
    const reply = movePlacing(state.placing, event, pickingContext(state, context));
    if (reply === null) return null;
    const next = { ...state, placing: { ...reply.placing, turn: 0 } };
    return reply.set === undefined ? { state: next, says: reply.says } : setPlace(next, reply.set, context);
  },
  show({ mode, placing, from, to, entry }, context) {
    const hand = placing.hand;
    const end = to ?? hand?.at ?? null;
    const guides: Guide[] = [];
    if (from !== null) guides.push({ kind: 'mark', mark: 'held', at: from });
    if (from !== null && end !== null && distance(from, end) >= SAME) {
      guides.push({ kind: 'line', style: mode === 'move' ? 'path' : 'drawn', from, to: end });
      guides.push({ kind: 'length', from, to: end, text: sayLength(distance(from, end), context.units) });
    }
    return {
      hints: hintOf({ mode, from, to, entry }, context),
      guides: [...guides, ...(hand?.guides ?? [])],
      cursor: hand?.at ?? null,
    };
  },
});

/** A place of the picture is chosen by what is drawn in it; where it belongs, by what stands on the floor. */
function pickingContext({ mode, from }: UnderlayState, context: ToolContext): ToolContext {
  if (mode === 'move' && from !== null) return context;
  return { ...context, snapping: { ...context.snapping, to: OF_PICTURE, hidden: ALL_KINDS } };
}
const OF_PICTURE: ReadonlySet<SnapKind> = new Set<SnapKind>(['corner', 'crossing', 'edge']);
const ALL_KINDS: ReadonlySet<ThingKind> = new Set<ThingKind>([
  'room',
  'opening',
  'furniture',
  'luminaire',
  'workplace',
  'zone',
  'source',
  'detector',
]);

function hintOf({ mode, from, to, entry }: Omit<UnderlayState, 'placing'>, { file }: ToolContext): string {
  if (readUnderlay(file.notes) === null) return 'There is no picture under the plan · Esc ends';
  if (entry !== '') return `${entry} · Enter sets it`;
  if (mode === 'move')
    return from === null
      ? joinHints('Click or Enter at a place of the picture', 'D scales it')
      : 'Click or Enter where that place belongs';
  if (from === null) return joinHints('Click or Enter at one end of a known distance', 'V moves the picture');
  return to === null
    ? 'Click or Enter at its other end'
    : 'Type how far apart they are, 5.4, or 5.4 @90 to turn it too';
}

function setPlace(state: UnderlayState, at: Point, context: ToolContext): Reply<UnderlayState> {
  const { from, mode } = state;
  if (from === null) return { state: { ...state, from: at }, says: `From ${sayPlace(at, context.units)}.` };
  if (distance(from, at) < SAME)
    return { state, says: 'Both places are one. Choose two that lie apart.', refused: true };
  if (mode === 'scale') return { state: { ...state, to: at, entry: '' }, says: 'Type how far apart they are.' };
  return {
    state: start(context, 'move'),
    commit: { intent: { kind: 'move picture', from, to: at }, otherwise: { ...state, from: null } },
  };
}

function readEntry(state: UnderlayState, to: Point, context: ToolContext): Reply<UnderlayState> {
  const read = readTyped(state.entry, context.units);
  if (!read.ok) return { state, says: read.remedy, refused: true };
  const [length, more] = read.numbers;
  if (state.from === null || length === undefined || more !== undefined)
    return { state, says: 'Write a length, such as 5.4, or a length and an angle, such as 5.4 @90.', refused: true };
  return {
    state: start(context),
    commit: {
      intent: { kind: 'scale picture', from: state.from, to, length, direction: read.angle },
      otherwise: { ...state, entry: '' },
    },
  };
}
