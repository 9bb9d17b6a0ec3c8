/** M: measures a distance, an area, or a height between two marks. It changes nothing. */
import { type Floor, findRoomAt, headOf, lensHeightOf, type Point, type Ring } from '../../core/floor/index.ts';
import { computeSignedArea } from '../../core/geometry/polygon.ts';
import { startSentence } from '../edits/fault-words.ts';
import { cornerOf, distance } from '../edits/plane.ts';
import { goFrom, measureDirection } from '../snapping/plan.ts';
import { findThing } from '../things.ts';
import { defineTool, type Reply } from './define-tool.ts';
import { readTyped, typeInto } from './entry.ts';
import type { Guide } from './guide.ts';
import { type Ask, describeHand, isEnter, isPointer, letterOf } from './hand.ts';
import { drawOutline, isOutlineAtRest, type OutlineDraft, showOutline, startOutline } from './outline-draft.ts';
import { pickThingAt } from './pick.ts';
import { movePlacing, type Placing, startPlacing } from './placing.ts';
import type { ToolContext, ToolEvent, Units } from './tool.ts';
import { joinHints, sayAngle, sayArea, sayLength, sayPlace } from './words.ts';

export type MeasureMode = 'distance' | 'area' | 'height';

/** A place that was marked; of a height, what stands there and how high it is, metres. */
interface Mark {
  readonly at: Point;
  readonly height: number;
  readonly name: string;
}

export interface MeasureState {
  readonly mode: MeasureMode;
  readonly placing: Placing;
  readonly draft: OutlineDraft;
  /** None, one, or the two of a finished measure. */
  readonly marks: readonly Mark[];
  /** The outline of a finished area. */
  readonly ring: Ring | null;
  readonly result: string | null;
  /** What is typed, of a distance and of a height. */
  readonly entry: string;
}

const MODES: Readonly<Record<string, MeasureMode>> = { d: 'distance', a: 'area', h: 'height' };

export const measureTool = defineTool<MeasureState>({
  id: 'measure',
  start: (context) => startMeasure('distance', context),
  isAtRest: ({ mode, placing, draft, marks, ring, entry }) =>
    mode === 'distance' &&
    entry === '' &&
    marks.length === 0 &&
    ring === null &&
    !placing.isPressed &&
    isOutlineAtRest(draft),
  on(state, event, context) {
    const mode = state.draft.entry === '' && state.entry === '' ? MODES[letterOf(event) ?? ''] : undefined;
    if (mode !== undefined)
      return { state: startMeasure(mode, context), says: `Measures ${mode === 'area' ? 'an area' : `a ${mode}`}.` };
    if (state.mode === 'area') return measureArea(state, event, context);
    const typed = typeInto(state.entry, event);
    if (typed !== null) return { state: { ...state, entry: typed }, ...(typed === '' ? {} : { says: typed }) };
    if (isEnter(event) && state.entry !== '') return readEntry(state, context);
    const reply = movePlacing(state.placing, event, context, askFor(state));
    if (reply === null) return null;
    const next = { ...state, placing: { ...reply.placing, turn: 0 } };
    if (reply.set === undefined) return { state: next, says: reply.says };
    return setMark(next, markAt(state, reply.set, event, context), context);
  },
  show(state, context) {
    const { units } = context;
    const { mode, placing, draft, marks, ring, result, entry } = state;
    const others = ['D: distance', 'A: area', 'H: height'].filter((word) => !word.endsWith(mode));
    if (mode === 'area') {
      const { hints, guides } = showOutline(draft, units);
      const done: Guide[] = ring === null ? [] : [{ kind: 'outline', style: 'help', ring, isClosed: true }];
      return {
        hints: joinHints(result, hints, ...others),
        guides: [...done, ...guides],
        cursor: draft.hand?.at ?? null,
      };
    }
    const hand = placing.hand;
    const [from, to = marks.length === 1 && hand !== null ? { at: hand.at } : undefined] = marks;
    const guides: Guide[] = marks.map(({ at }) => ({ kind: 'mark', mark: 'held', at }));
    if (from !== undefined && to !== undefined && distance(from.at, to.at) > 0) {
      const text = mode === 'height' ? (result ?? '') : sayLength(distance(from.at, to.at), units);
      guides.push({ kind: 'length', from: from.at, to: to.at, text });
    }
    if (entry !== '')
      return {
        hints: `${entry} · ${ENTRY_HINTS[mode]}`,
        guides: [...guides, ...(hand?.guides ?? [])],
        cursor: hand?.at ?? null,
      };
    const ask = marks.length === 1 ? 'Click or Enter at the second mark' : 'Click or Enter at the first mark';
    return {
      hints: joinHints(
        result,
        ask,
        mode === 'distance' && (marks.length === 1 ? 'type its place, 6.2 4.5, or 5.4 @30' : 'type its place, 3.2 4.5'),
        mode === 'height' && 'type a height, 2.4, or a place, 3.2 4.5',
        mode === 'height' && 'a place with nothing on it is the floor, or the ceiling as second mark',
        ...others,
      ),
      guides: [...guides, ...(hand?.guides ?? [])],
      cursor: hand?.at ?? null,
    };
  },
});

function startMeasure(mode: MeasureMode, context: ToolContext): MeasureState {
  return {
    mode,
    placing: startPlacing(context),
    draft: startOutline(context),
    marks: [],
    ring: null,
    result: null,
    entry: '',
  };
}

/** After what is typed, for the foot. */
const ENTRY_HINTS: Readonly<Record<MeasureMode, string>> = {
  distance: 'Enter: two numbers are a place, one is a length along the way to the hand',
  height: 'Enter: one number is a height, two are a place',
  area: 'Enter sets it',
};

/** Marks what was typed: a place, a length from the first mark, a height, or the place of what has one. */
function readEntry(state: MeasureState, context: ToolContext): Reply<MeasureState> {
  const refuse = (says: string): Reply<MeasureState> => ({ state, says, refused: true });
  const read = readTyped(state.entry, context.units);
  if (!read.ok) return refuse(read.remedy);
  const [a, b, more] = read.numbers;
  const from = state.marks.length === 1 ? state.marks[0] : undefined;
  const hand = state.placing.hand?.at;
  if (a !== undefined && b !== undefined && more === undefined && read.angle === null)
    return markTyped(state, [a, b], context);
  if (state.mode === 'height') {
    if (a === undefined || b !== undefined || read.angle !== null)
      return refuse('Write a height, such as 2.4, or x and y of what stands there, such as 3.2 4.5.');
    const mark = { at: hand ?? from?.at ?? [0, 0], height: a, name: 'the height' } as const;
    return setMark({ ...state, entry: '' }, mark, context);
  }
  if (from === undefined) return refuse('Write x and y of the first mark, such as 3.2 4.5.');
  if (b !== undefined || (a === undefined && hand === undefined))
    return refuse('Write x and y, such as 6.2 4.5, or a length and an angle, such as 5.4 @30.');
  const towards =
    read.angle ?? (hand === undefined || distance(from.at, hand) === 0 ? 0 : measureDirection(from.at, hand));
  return markTyped(state, goFrom(from.at, towards, a ?? distance(from.at, hand ?? from.at)), context);
}

function markTyped(state: MeasureState, at: Point, context: ToolContext): Reply<MeasureState> {
  const next = { ...state, entry: '', placing: { ...state.placing, hand: describeHand(at, context) } };
  return setMark(next, markAt(next, at, { type: 'key', key: 'Enter', modifiers: NO_KEYS }, context), context);
}

const NO_KEYS = { shift: false, alt: false, ctrl: false } as const;

function askFor({ marks, mode }: MeasureState): Ask {
  const [first, second] = marks;
  return first === undefined || second !== undefined || mode === 'height' ? {} : { origin: first.at, own: [first.at] };
}

function measureArea(state: MeasureState, event: ToolEvent, context: ToolContext): Reply<MeasureState> | null {
  const reply = drawOutline(state.draft, event, context);
  if (reply === null) return null;
  const { draft, ring, says, refused = false } = reply;
  if (ring === undefined) {
    const begins = draft.corners.length > 0 && state.draft.corners.length === 0;
    return { state: { ...state, draft, ...(begins ? { ring: null, result: null } : {}) }, says, refused };
  }
  const round = ring.reduce((sum, corner, i) => sum + distance(corner, cornerOf(ring, i + 1)), 0);
  const result = `${sayArea(Math.abs(computeSignedArea(ring)), context.units)}, ${sayLength(round, context.units)} round`;
  return { state: { ...state, draft, ring, result }, says: `${result}.` };
}

function setMark(state: MeasureState, mark: Mark, { units }: ToolContext): Reply<MeasureState> {
  const [first, second] = state.marks;
  if (first === undefined || second !== undefined)
    return { state: { ...state, marks: [mark], result: null }, says: `From ${sayMark(mark, state.mode, units)}.` };
  const result =
    state.mode === 'height' ? startSentence(sayRise(first, mark, units)) : sayWay(first.at, mark.at, units);
  return { state: { ...state, marks: [first, mark], result }, says: `${result}.` };
}

/** `4.20 m at 45°, 2.97 m along x, 2.97 m along y` */
function sayWay(from: Point, to: Point, units: Units): string {
  const [dx, dy] = [Math.abs(to[0] - from[0]), Math.abs(to[1] - from[1])];
  const way = `${sayLength(distance(from, to), units)} at ${sayAngle(measureDirection(from, to))}`;
  return `${way}, ${sayLength(dx, units)} along x, ${sayLength(dy, units)} along y`;
}

function sayRise(from: Mark, to: Mark, units: Units): string {
  const rise = to.height - from.height;
  const word = Math.abs(rise) < 0.0005 ? 'level with' : rise > 0 ? 'above' : 'below';
  const by = word === 'level with' ? '' : `${sayLength(Math.abs(rise), units)} `;
  return `${to.name}, ${sayLength(to.height, units)}, is ${by}${word} ${from.name}, ${sayLength(from.height, units)}`;
}

function sayMark({ at, height, name }: Mark, mode: MeasureMode, units: Units): string {
  return mode === 'height' ? `${name}, ${sayLength(height, units)}` : sayPlace(at, units);
}

/** The mark at a place: of a height the thing that stands there, else the floor, and as second mark the ceiling. */
function markAt({ mode, marks, placing }: MeasureState, at: Point, event: ToolEvent, context: ToolContext): Mark {
  if (mode !== 'height') return { at, height: 0, name: '' };
  const { floor, metresPerPixel, snapping } = context;
  const options = { metresPerPixel: isPointer(event) ? event.metresPerPixel : metresPerPixel, hidden: snapping.hidden };
  const over = isPointer(event) && event.over !== undefined ? event.over : pickThingAt(floor, at, options);
  const found = over === null ? null : heightOf(floor, over);
  if (found !== null) return { at, ...found };
  const ceiling = findRoomAt(floor.rooms, at)?.ceiling ?? findRoomAt(floor.rooms, placing.hand?.at ?? at)?.ceiling;
  return marks.length === 1 && ceiling !== undefined
    ? { at, height: ceiling, name: 'the ceiling' }
    : { at, height: 0, name: 'the floor' };
}

/** The height a thing is marked at, and what it is called; null for what has none. */
function heightOf(floor: Floor, id: string): { readonly height: number; readonly name: string } | null {
  const thing = findThing(floor, id);
  switch (thing?.kind) {
    case 'detector':
      return { height: lensHeightOf(thing.value, floor), name: `the lens of ${thing.value.name}` };
    case 'furniture':
    case 'source':
      return { height: thing.value.top, name: `the top of ${thing.value.name}` };
    case 'luminaire':
      return { height: thing.value.base, name: `the underside of ${thing.value.name}` };
    case 'opening':
      return { height: headOf(thing.value, floor), name: `the head of the ${thing.value.kind}` };
    case 'workplace':
      return { height: floor.analysis.seatedPlane, name: `the seated plane at ${thing.value.name}` };
    default:
      return null;
  }
}
