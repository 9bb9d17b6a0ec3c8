/** O: puts doors, windows and passages into walls. */
import type { Opening } from '../../core/floor/index.ts';
import { cornerOf, place, unit } from '../edits/plane.ts';
import { findWall, findWallNear, type Wall } from '../edits/walls.ts';
import { defineTool, type Reply } from './define-tool.ts';
import { readTyped, typeInto } from './entry.ts';
import type { Guide } from './guide.ts';
import { isEnter, letterOf } from './hand.ts';
import { movePlacing, type Placing, startPlacing } from './placing.ts';
import type { ToolContext } from './tool.ts';
import { joinHints, sayLength } from './words.ts';

export interface OpeningState {
  readonly placing: Placing;
  readonly kind: Opening['kind'];
  /** Metres; null: as its kind usually is. */
  readonly width: number | null;
  readonly isOpen: boolean;
  readonly entry: string;
}

/** Metres, own choice. */
const USUAL_WIDTH: Readonly<Record<Opening['kind'], number>> = { door: 0.9, window: 1.2, passage: 1 };
const LETTERS: Readonly<Record<string, Opening['kind']>> = { d: 'door', w: 'window', p: 'passage' };
/** A pointer nearer to a wall than this points at it: pixels, and metres when they are more. */
const REACH = { pixels: 24, metres: 0.3 } as const;
const LEAST_WIDTH = 0.1;
/** The middle of a wall draws an opening to itself from so many pixels. */
const MIDDLE = 8;

/** Where an opening would lie: a wall, and metres along it to the opening's nearer side. */
interface Spot {
  readonly wall: Wall;
  readonly along: number;
  readonly width: number;
}

export const openingTool = defineTool<OpeningState>({
  id: 'opening',
  start: (context) => ({ placing: startPlacing(context), kind: 'door', width: null, isOpen: false, entry: '' }),
  isAtRest: ({ placing, kind, width, isOpen, entry }) =>
    !placing.isPressed && kind === 'door' && width === null && !isOpen && entry === '',
  on(state, event, context) {
    if (state.entry === '') {
      const letter = letterOf(event);
      const kind = LETTERS[letter ?? ''];
      if (kind !== undefined)
        return { state: { ...state, kind, width: null, isOpen: false }, says: `A ${kind} in hand.` };
      if (letter === 's' && state.kind === 'door') {
        const isOpen = !state.isOpen;
        return { state: { ...state, isOpen }, says: isOpen ? 'An open door.' : 'A closed door.' };
      }
    }
    const typed = typeInto(state.entry, event);
    if (typed !== null) return { state: { ...state, entry: typed } };
    if (isEnter(event) && state.entry !== '') return readEntry(state, context);
    const reply = movePlacing(state.placing, event, context, { kinds: new Set() });
    if (reply === null) return null;
    const next = { ...state, placing: { ...reply.placing, turn: 0 } };
    if (reply.set !== undefined) return set(next, findSpot(next, context));
    const spot = reply.says === undefined ? null : findSpot(next, context);
    return { state: next, says: spot === null ? reply.says : `${reply.says} ${saySpot(spot, context)}` };
  },
  show(state, context) {
    const { placing, entry } = state;
    const spot = findSpot(state, context);
    const cursor = placing.hand?.at ?? null;
    if (spot === null) {
      const hint = 'Point at a wall';
      return { hints: joinHints(kindHint(state, context), hint), guides: placing.hand?.guides ?? [], cursor };
    }
    const hints =
      entry !== ''
        ? `${entry} · Enter: first the distance from the nearer corner, then the width`
        : joinHints(
            `${kindHint(state, context)}, ${saySpot(spot, context)}`,
            'click or Enter sets it',
            'type 0.3 0.9: from the corner, width',
            'D door, W window, P passage',
            state.kind === 'door' && (state.isOpen ? 'S: closed' : 'S: open'),
          );
    return { hints, guides: guideTo(spot, context), cursor, preview: intentOf(state, spot) };
  },
});

function kindHint({ kind, width, isOpen }: OpeningState, { units }: ToolContext): string {
  const word = kind === 'door' && isOpen ? 'Open door' : kind.charAt(0).toUpperCase() + kind.slice(1);
  return `${word} ${sayLength(width ?? USUAL_WIDTH[kind], units)} wide`;
}

/** The wall the hand points at; by keys the nearest wall, however far. */
function findSpot(state: OpeningState, context: ToolContext): Spot | null {
  const { hand } = state.placing;
  if (hand === null) return null;
  const near = Math.max(REACH.metres, REACH.pixels * context.metresPerPixel);
  const found = findWallNear(context.file, hand.at, hand.by === 'keys' ? 1e6 : near);
  if (found === undefined) return null;
  const { wall, along } = found;
  const width = Math.min(state.width ?? USUAL_WIDTH[state.kind], wall.length);
  const most = wall.length - width;
  const free = Math.min(most, Math.max(0, along - width / 2));
  const middle = most / 2;
  if (hand.by === 'pointer' && Math.abs(free - middle) <= MIDDLE * context.metresPerPixel)
    return { wall, along: middle, width };
  const { grid } = context.snapping;
  const round = (value: number): number => Math.round(value / grid) * grid;
  // Round from the nearer corner.
  const rounded = free <= middle ? round(free) : most - round(most - free);
  return { wall, along: Math.min(most, Math.max(0, rounded)), width };
}

function intentOf({ kind, isOpen }: OpeningState, { wall, along, width }: Spot) {
  const { roomId, ring, edge } = wall;
  const state = kind === 'door' && isOpen ? ({ state: 'open' } as const) : {};
  return { kind: 'opening', wall: { roomId, ring, edge }, opening: { kind, along, width, ...state } } as const;
}

function set(state: OpeningState, spot: Spot | null): Reply<OpeningState> {
  if (spot === null) return { state, says: 'No wall is near. Point at a wall.', refused: true };
  return { state: { ...state, entry: '' }, commit: { intent: intentOf(state, spot), otherwise: state } };
}

/** The first number is the distance from the nearer corner, the second the width; with two the opening is set. */
function readEntry(state: OpeningState, context: ToolContext): Reply<OpeningState> {
  const read = readTyped(state.entry, context.units);
  if (!read.ok) return { state, says: read.remedy, refused: true };
  const [distance, width, more] = read.numbers;
  if (distance === undefined || more !== undefined || read.angle !== null || !(distance >= 0))
    return {
      state,
      says: 'Write the distance from the nearer corner, then the width, such as 0.3 0.9.',
      refused: true,
    };
  if (width !== undefined && !(width >= LEAST_WIDTH))
    return { state, says: `An opening is at least ${LEAST_WIDTH} m wide. Write more.`, refused: true };
  const sized = width === undefined ? state : { ...state, width };
  const spot = findSpot(sized, context);
  const wall = spot === null ? undefined : findWall(context.file, spot.wall);
  if (spot === null || wall === undefined) return { ...set(state, null) };
  const isFirst = spot.along + spot.width / 2 <= wall.length / 2;
  const along = isFirst ? distance : wall.length - distance - (width ?? spot.width);
  return set(sized, { ...spot, along, width: width ?? spot.width });
}

function saySpot({ wall, along, width }: Spot, { units }: ToolContext): string {
  const nearer = Math.min(along, wall.length - along - width);
  return `${sayLength(Math.max(0, nearer), units)} from the nearer corner.`;
}

/** Dimensions from both corners, and the opening itself. */
function guideTo({ wall, along, width }: Spot, { units }: ToolContext): Guide[] {
  const ends = [wall.a, wall.b] as const;
  const axis = unit(wall.a, wall.b);
  const at = (metres: number) => place(cornerOf(ends, 0), axis, [metres, 0]);
  const [from, to] = [at(along), at(along + width)];
  const after = wall.length - along - width;
  return [
    { kind: 'line', style: 'drawn', from, to },
    { kind: 'length', from: wall.a, to: from, text: sayLength(along, units) },
    { kind: 'length', from, to, text: sayLength(width, units) },
    { kind: 'length', from: to, to: wall.b, text: sayLength(Math.max(0, after), units) },
  ];
}
