/** S: places what is warm or moves and is no person. */
import { findRoomAt, type Point, type Source } from '../../core/floor/index.ts';
import { defineTool, type Reply } from './define-tool.ts';
import { readTyped, typeInto } from './entry.ts';
import { describeHand, isEnter, letterOf } from './hand.ts';
import { movePlacing, type Placing, startPlacing } from './placing.ts';
import type { ToolContext } from './tool.ts';
import { guideToWalls } from './wall-distances.ts';
import { joinHints, sayLength } from './words.ts';

export interface SourceState {
  readonly placing: Placing;
  readonly kind: Source['kind'];
  /** Metres; null: as its kind usually is. */
  readonly radius: number | null;
  readonly entry: string;
}

interface Usual {
  readonly letter: string;
  readonly radius: number;
  /** Metres above the floor; below 0: from the ceiling down. */
  readonly base: number;
  readonly top: number;
}

/** Sizes of the kinds, own choice: what is usual, to be set to what is there. */
const USUAL: Readonly<Record<Source['kind'], Usual>> = {
  heater: { letter: 'h', radius: 0.4, base: 0.1, top: 0.6 },
  fan: { letter: 'f', radius: 0.3, base: 0.8, top: 1.3 },
  'air outlet': { letter: 'a', radius: 0.3, base: -0.02, top: 0 },
  lamp: { letter: 'l', radius: 0.1, base: 1.1, top: 1.4 },
  machine: { letter: 'm', radius: 0.3, base: 0.7, top: 1.1 },
  other: { letter: 'o', radius: 0.2, base: 0, top: 1 },
};
const KINDS = Object.keys(USUAL) as Source['kind'][];
const CEILING = 2.8;

export const sourceTool = defineTool<SourceState>({
  id: 'source',
  start: (context) => ({ placing: startPlacing(context), kind: 'air outlet', radius: null, entry: '' }),
  isAtRest: ({ placing, kind, radius, entry }) =>
    !placing.isPressed && kind === 'air outlet' && radius === null && entry === '',
  on(state, event, context) {
    const kind = state.entry === '' ? KINDS.find((each) => USUAL[each].letter === letterOf(event)) : undefined;
    if (kind !== undefined) return { state: { ...state, kind, radius: null }, says: `${sayKind(kind)} in hand.` };
    const typed = typeInto(state.entry, event);
    if (typed !== null) return { state: { ...state, entry: typed } };
    if (isEnter(event) && state.entry !== '') return readEntry(state, context);
    const reply = movePlacing(state.placing, event, context);
    if (reply === null) return null;
    const next = { ...state, placing: { ...reply.placing, turn: 0 } };
    return reply.set === undefined ? { state: next, says: reply.says } : set(next, reply.set, context);
  },
  show(state, context) {
    const { placing, kind, entry } = state;
    const at = placing.hand?.at ?? null;
    const hints =
      entry !== ''
        ? `${entry} · Enter: one number is the radius, two are the place`
        : joinHints(
            `${sayKind(kind)}, radius ${sayLength(state.radius ?? USUAL[kind].radius, context.units)}`,
            'click or Enter sets it',
            `kinds: ${KINDS.map((each) => `${USUAL[each].letter.toUpperCase()} ${each}`).join(', ')}`,
          );
    if (at === null) return { hints, guides: [], cursor: null };
    const guides = [...(placing.hand?.guides ?? []), ...guideToWalls(context.floor, at, context.units)];
    return { hints, guides, cursor: at, preview: intentOf(state, at, context) };
  },
});

function sayKind(kind: Source['kind']): string {
  return kind.charAt(0).toUpperCase() + kind.slice(1);
}

function intentOf({ kind, radius }: SourceState, at: Point, { floor }: ToolContext) {
  const usual = USUAL[kind];
  const ceiling = findRoomAt(floor.rooms, at)?.ceiling ?? CEILING;
  const height = (value: number, isHung: boolean): number => (isHung ? Math.max(0, ceiling + value) : value);
  const isHung = usual.base < 0;
  return {
    kind: 'source',
    of: kind,
    at,
    radius: radius ?? usual.radius,
    base: height(usual.base, isHung),
    top: height(usual.top, isHung),
  } as const;
}

function set(state: SourceState, at: Point, context: ToolContext): Reply<SourceState> {
  return { state: { ...state, entry: '' }, commit: { intent: intentOf(state, at, context), otherwise: state } };
}

function readEntry(state: SourceState, context: ToolContext): Reply<SourceState> {
  const read = readTyped(state.entry, context.units);
  if (!read.ok) return { state, says: read.remedy, refused: true };
  const [a, b, more] = read.numbers;
  if (a === undefined || more !== undefined || read.angle !== null || (b === undefined && !(a > 0 && a <= 100)))
    return { state, says: 'Write the radius, such as 0.3, or x and y of the place, such as 3.2 4.5.', refused: true };
  if (b === undefined)
    return { state: { ...state, radius: a, entry: '' }, says: `Radius ${sayLength(a, context.units)}.` };
  const hand = describeHand([a, b], context);
  return set({ ...state, placing: { ...state.placing, hand } }, [a, b], context);
}
