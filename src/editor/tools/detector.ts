/** D: hangs detectors of a type, one by one or over a whole room. */
import { type DetectorType, findRoomAt, type Point } from '../../core/floor/index.ts';
import { defineTool, type Reply } from './define-tool.ts';
import { countOver, deriveSpacing, layOverRoom, type Spacing } from './detector-fill.ts';
import { NUMBER_START, readTyped, typeInto } from './entry.ts';
import type { Guide } from './guide.ts';
import { describeHand, findStartInRoom, HANGING, isEnter, isPointer, isWithinRoom } from './hand.ts';
import { movePlacing, type Placing, sayRest, startPlacing } from './placing.ts';
import type { ToolContext, ToolEvent, Units } from './tool.ts';
import { guideToWalls, sayWalls } from './wall-distances.ts';
import { joinHints, sayLength } from './words.ts';

export interface DetectorState {
  readonly placing: Placing;
  /** Arrows choose a type, or move the hand. */
  readonly phase: 'choose' | 'place';
  /** The type in hand; null: the floor has none. */
  readonly type: string | null;
  /** The type that was in hand before a filter was begun: what does not match leaves it. */
  readonly kept: string | null;
  /** A filter of type names while choosing, a place or `fill` while placing. */
  readonly entry: string;
  /** A draft over a room. */
  readonly fill: { readonly room: string; readonly spacing: Spacing } | null;
}

/** More are not laid at once: nobody could look them over. */
const MOST = 400;
/** Everything a name may begin with. */
const NAME_START = /^[^\s]$/u;

export const detectorTool = defineTool<DetectorState>({
  id: 'detector',
  start: (context) => ({
    placing: startPlacing(context),
    phase: 'choose',
    type: findUsualType(context),
    kept: findUsualType(context),
    entry: '',
    fill: null,
  }),
  isAtRest: (state, context) =>
    state.phase === 'choose' &&
    state.entry === '' &&
    state.fill === null &&
    !state.placing.isPressed &&
    state.placing.turn === 0 &&
    state.type === findUsualType(context),
  on(state, event, context) {
    if (state.type === null) return refuseWithout(state, event);
    if (state.fill !== null) return reviewFill(state, state.fill, event, context);
    if (!isPointer(event)) {
      const typed = typeInto(state.entry, event, state.phase === 'choose' ? NAME_START : NUMBER_START);
      if (typed !== null && !isTurning(state, event)) return type(state, typed, context);
      if (state.phase === 'choose') return choose(state, event, context) ?? move(state, event, context);
      const letter = event.type === 'key' && !event.modifiers.ctrl && /^\p{L}$/u.test(event.key) ? event.key : null;
      // A letter begins a name: another type, or the word fill.
      if (letter !== null) return type({ ...state, phase: 'choose' }, letter, context);
      if (isEnter(event) && state.entry !== '') return readEntry(state, context);
    }
    return move(state, event, context);
  },
  show(state, context) {
    const { floor, units } = context;
    const { placing, fill } = state;
    const at = placing.hand?.at ?? null;
    if (fill !== null) {
      const places = placesOf(state, context);
      const marks = places.map((place): Guide => ({ kind: 'mark', mark: 'tile', at: place }));
      return {
        hints: hintForFill(places.length, fill.spacing, state.entry, context),
        guides: marks,
        cursor: at,
        preview: intentOf(state, places),
      };
    }
    const isInRoom = at !== null && findRoomAt(floor.rooms, at) !== undefined;
    const guides = at === null ? [] : [...(placing.hand?.guides ?? []), ...guideToWalls(floor, at, units)];
    return { hints: hintFor(state, context), guides, cursor: at, preview: isInRoom ? intentOf(state, [at]) : null };
  },
});

function intentOf({ type: id, placing }: DetectorState, places: readonly Point[]) {
  return id === null || places.length === 0
    ? null
    : ({ kind: 'detectors', type: id, places, turn: placing.turn } as const);
}

/** The type of the selected detector, else of the one hung last, else the first. */
function findUsualType({ floor, selection }: ToolContext): string | null {
  const selected = floor.detectors.find(({ id }) => id === selection.at(-1));
  return (selected ?? floor.detectors.at(-1))?.type ?? floor.types[0]?.id ?? null;
}

function refuseWithout(state: DetectorState, event: ToolEvent): Reply<DetectorState> | null {
  const asks = isEnter(event) || event.type === 'pointer-up';
  return asks ? { state, says: 'The floor has no detector type. Add one first.', refused: true } : null;
}

function typeOf({ floor }: ToolContext, id: string | null): DetectorType | undefined {
  return floor.types.find((type) => type.id === id);
}

function isTurning({ entry, phase }: DetectorState, event: ToolEvent): boolean {
  return entry === '' && phase === 'choose' && event.type === 'key' && /^[[\]{}]$/u.test(event.key);
}

/** Types whose name holds every word of the filter. */
function listMatches({ floor }: ToolContext, filter: string): readonly DetectorType[] {
  const words = filter.toLowerCase().split(/\s+/u).filter(Boolean);
  return floor.types.filter(({ name }) => words.every((word) => name.toLowerCase().includes(word)));
}

function type(state: DetectorState, entry: string, context: ToolContext): Reply<DetectorState> {
  if (state.phase === 'place') return { state: { ...state, entry }, says: entry };
  const matches = listMatches(context, entry);
  const kept = state.entry === '' ? state.type : state.kept;
  const held = entry === '' || matches.some(({ id }) => id === kept) ? kept : (matches[0]?.id ?? kept);
  const name = typeOf(context, held)?.name ?? '';
  const says =
    matches.length === 0
      ? `${entry}: no type of this name.`
      : `${name}, ${matches.length} of ${context.floor.types.length} types.`;
  return { state: { ...state, entry, kept, type: held }, says };
}

/** Up and Down go through the types, Enter takes one. */
function choose(state: DetectorState, event: ToolEvent, context: ToolContext): Reply<DetectorState> | null {
  if (isEnter(event)) {
    const fill = readFill(state.entry, context.units);
    if (fill !== null) return startFill({ ...state, entry: '' }, fill, context);
    const last = state.placing.hand;
    const hand =
      last !== null && isWithinRoom(last.at, context) ? last : describeHand(findStartInRoom(context), context, HANGING);
    const name = typeOf(context, state.type)?.name ?? '';
    return {
      state: { ...state, phase: 'place', entry: '', placing: { ...state.placing, hand } },
      says: `${name} in hand. ${sayRest(hand, context.units)}`,
    };
  }
  if (event.type !== 'key' || (event.key !== 'ArrowUp' && event.key !== 'ArrowDown')) return null;
  const filtered = listMatches(context, state.entry);
  const matches = filtered.length === 0 ? context.floor.types : filtered;
  const now = matches.findIndex(({ id }) => id === state.type);
  const by = event.key === 'ArrowDown' ? 1 : -1;
  const next = matches[(Math.max(now, now === -1 && by === -1 ? 0 : now) + by + matches.length) % matches.length];
  const type = next?.id ?? state.type;
  return { state: { ...state, type, kept: type }, says: `${next?.name ?? ''}.` };
}

function move(state: DetectorState, event: ToolEvent, context: ToolContext): Reply<DetectorState> | null {
  const reply = movePlacing(state.placing, event, context, HANGING);
  if (reply === null) return null;
  const next = { ...state, placing: reply.placing };
  if (reply.set !== undefined) return hang(next, [reply.set], context);
  const isStep = reply.says !== undefined && reply.placing.hand !== state.placing.hand && reply.placing.hand !== null;
  const walls = isStep ? sayWalls(context.floor, reply.placing.hand.at, context.units) : '';
  return { state: next, says: walls === '' ? reply.says : `${reply.says} ${walls}.` };
}

function hang(state: DetectorState, places: readonly Point[], { floor }: ToolContext): Reply<DetectorState> {
  const [first] = places;
  if (first !== undefined && findRoomAt(floor.rooms, first) === undefined)
    return { state, says: 'A detector hangs in a room. Move it in, or draw the room it belongs to.', refused: true };
  const intent = intentOf(state, places);
  if (intent === null) return { state };
  return { state: { ...state, phase: 'place', entry: '', fill: null }, commit: { intent, otherwise: state } };
}

function readEntry(state: DetectorState, context: ToolContext): Reply<DetectorState> {
  const read = readTyped(state.entry, context.units);
  const [x, y, more] = read.ok ? read.numbers : [];
  if (!read.ok || x === undefined || y === undefined || more !== undefined || read.angle !== null)
    return { state, says: read.ok ? 'Write x and y of the place, such as 3.2 4.5.' : read.remedy, refused: true };
  const hand = describeHand([x, y], context);
  return hang({ ...state, placing: { ...state.placing, hand } }, [[x, y]], context);
}

/** `fill` gives 0 (the range decides), `fill 4.2` gives 4.2; anything else null. */
function readFill(entry: string, units: Units): number | null {
  const match = /^fill(\s.*)?$/iu.exec(entry.trim());
  if (match === null) return null;
  const read = readTyped(match[1] ?? '', units);
  const [spacing = 0] = read.ok ? read.numbers : [];
  return Math.max(0, spacing);
}

function startFill(state: DetectorState, metres: number, context: ToolContext): Reply<DetectorState> {
  const { floor, selection } = context;
  const at = state.placing.hand?.at ?? context.pointer;
  const room =
    (at === null ? undefined : findRoomAt(floor.rooms, at)) ?? floor.rooms.find(({ id }) => selection.includes(id));
  const held = typeOf(context, state.type);
  if (room === undefined || held === undefined)
    return { state, says: 'Move into the room to fill, then write fill.', refused: true };
  const spacing = metres > 0 ? { along: metres, across: metres } : deriveSpacing(floor, room, held);
  return setFill(state, { room: room.id, spacing }, context);
}

function setFill(
  state: DetectorState,
  fill: NonNullable<DetectorState['fill']>,
  context: ToolContext,
): Reply<DetectorState> {
  const room = context.floor.rooms.find(({ id }) => id === fill.room);
  const count = room === undefined ? 0 : countOver(room, fill.spacing);
  if (count > MOST)
    return {
      state: { ...state, entry: '' },
      says: `That would be ${count} detectors. Write a larger spacing.`,
      refused: true,
    };
  const next = { ...state, phase: 'place' as const, entry: '', fill };
  const laid = placesOf(next, context).length;
  if (laid === 0)
    return { state: { ...state, entry: '' }, says: 'Nothing can hang there. Write another spacing.', refused: true };
  return { state: next, says: `${laid} detectors, ${saySpacing(fill.spacing, context)} apart. Enter sets them all.` };
}

function placesOf({ fill, type: id }: DetectorState, context: ToolContext): readonly Point[] {
  const room = context.floor.rooms.find((each) => each.id === fill?.room);
  const held = typeOf(context, id);
  return fill === null || room === undefined || held === undefined
    ? []
    : layOverRoom(context.floor, room, held, fill.spacing);
}

function reviewFill(
  state: DetectorState,
  fill: NonNullable<DetectorState['fill']>,
  event: ToolEvent,
  context: ToolContext,
): Reply<DetectorState> | null {
  if (isPointer(event)) {
    const reply = movePlacing(state.placing, event, context, HANGING);
    const next = { ...state, placing: reply?.placing ?? state.placing };
    return reply?.set === undefined ? { state: next } : hang(next, placesOf(state, context), context);
  }
  const typed = typeInto(state.entry, event);
  if (typed !== null) return { state: { ...state, entry: typed } };
  if (!isEnter(event)) {
    const reply = movePlacing(state.placing, event, context, HANGING);
    return reply === null ? null : { state: { ...state, placing: { ...reply.placing, hand: state.placing.hand } } };
  }
  if (state.entry === '') return hang(state, placesOf(state, context), context);
  const read = readTyped(state.entry, context.units);
  const [a, b = a] = read.ok ? read.numbers : [];
  if (a === undefined || b === undefined || !(a >= 0.3) || !(b >= 0.3))
    return { state, says: 'Write a spacing of at least 0.3 m, such as 4.2 or 4.2 3.', refused: true };
  return setFill(state, { ...fill, spacing: { along: a, across: b } }, context);
}

function saySpacing({ along, across }: Spacing, { units }: ToolContext): string {
  const first = sayLength(along, units);
  return Math.abs(along - across) < 0.005 ? first : `${first} and ${sayLength(across, units)}`;
}

function hintForFill(count: number, spacing: Spacing, entry: string, context: ToolContext): string {
  if (entry !== '') return `${entry} · Enter tries this spacing`;
  return `${count} detectors, ${saySpacing(spacing, context)} apart · Enter or a click sets them all · type a spacing · Esc takes them back`;
}

function hintFor(state: DetectorState, context: ToolContext): string {
  const name = typeOf(context, state.type)?.name;
  if (name === undefined) return 'The floor has no detector type. Add one first.';
  if (state.phase === 'place' && state.entry !== '') return `${state.entry} · Enter hangs it there`;
  if (state.phase === 'choose')
    return joinHints(
      state.entry === '' ? name : `${state.entry}: ${name}`,
      'click hangs it',
      'type a name, or Up and Down, for another',
      'Enter: place it by keys',
      'fill lays it over the room',
    );
  return joinHints(
    name,
    'click or Enter hangs it',
    'arrows move one tile',
    '[ ] turn',
    'type a name for another',
    'fill lays it over the room',
  );
}
