/** L: places luminaires, on the ceiling grid where there is one. */
import { findRoomAt, type Point } from '../../core/floor/index.ts';
import { along, rectangleAbout } from '../edits/plane.ts';
import { defineTool, type Reply } from './define-tool.ts';
import { readPlace, readTyped, typeInto } from './entry.ts';
import type { Guide } from './guide.ts';
import { type Ask, describeHand, isEnter, letterOf } from './hand.ts';
import { movePlacing, type Placing, startPlacing } from './placing.ts';
import type { ToolContext } from './tool.ts';
import { guideToWalls } from './wall-distances.ts';
import { joinHints, sayLength } from './words.ts';

export interface LuminaireState {
  readonly placing: Placing;
  readonly length: number;
  readonly width: number;
  /** Metres from the ceiling down to its upper side. */
  readonly drop: number;
  readonly isEmergency: boolean;
  readonly entry: string;
}

/** A panel of one tile, own choice; its body lies within the ceiling's last 5 cm. */
const PANEL = { length: 0.6, width: 0.6, drop: 0 } as const;
const BODY = 0.05;
const CEILING = 2.8;
const TYPING_START = /^[\d.,a]$/iu;

export const luminaireTool = defineTool<LuminaireState>({
  id: 'luminaire',
  start: (context) => ({ placing: startPlacing(context), ...PANEL, isEmergency: false, entry: '' }),
  isAtRest: ({ placing, length, width, drop, isEmergency, entry }) =>
    !placing.isPressed &&
    placing.turn === 0 &&
    length === PANEL.length &&
    width === PANEL.width &&
    drop === PANEL.drop &&
    !isEmergency &&
    entry === '',
  on(state, event, context) {
    if (state.entry === '' && letterOf(event) === 'e') {
      const isEmergency = !state.isEmergency;
      return {
        state: { ...state, isEmergency },
        says: isEmergency ? 'An emergency luminaire.' : 'No emergency luminaire.',
      };
    }
    const typed = typeInto(state.entry, event, TYPING_START);
    if (typed !== null) return { state: { ...state, entry: typed } };
    if (isEnter(event) && state.entry !== '') return readEntry(state, context);
    const reply = movePlacing(state.placing, event, context, askFor(state, context));
    if (reply === null) return null;
    const next = { ...state, placing: reply.placing };
    if (reply.set === undefined) return { state: next, says: reply.says };
    return { state: next, commit: { intent: intentOf(next, reply.set, context), otherwise: next } };
  },
  show(state, context) {
    const { placing, length, width, drop, entry, isEmergency } = state;
    const { units, floor } = context;
    const hints =
      entry !== ''
        ? `${entry} · Enter: length and width, then how far below the ceiling`
        : joinHints(
            `${sayLength(length, units)} by ${sayLength(width, units)}${drop > 0 ? `, ${sayLength(drop, units)} below the ceiling` : ''}${isEmergency ? ', emergency' : ''}`,
            'click or Enter sets it',
            '[ ] turn',
            'type 1.2 0.3 for its size, at 3.2 4.5 for its place',
            'E: emergency',
          );
    const at = placing.hand?.at ?? null;
    if (at === null) return { hints, guides: [], cursor: null };
    const ring = rectangleAbout(at, along(placing.turn), length, width);
    const guides: Guide[] = [
      ...(placing.hand?.guides ?? []),
      { kind: 'outline', style: 'drawn', ring, isClosed: true },
      ...guideToWalls(floor, at, units),
    ];
    return { hints, guides, cursor: at, preview: intentOf(state, at, context) };
  },
});

/** Square to the tiles it spans whole ones; otherwise it hangs from no grid. */
function askFor({ placing, length, width }: LuminaireState, { floor }: ToolContext): Ask {
  const tiles = placing.hand === null ? undefined : findRoomAt(floor.rooms, placing.hand.at)?.tiles;
  if (tiles === undefined) return { tiles: [1, 1] };
  const turned = placing.turn - tiles.turn;
  if (turned % 90 !== 0) return {};
  const [l, w] = turned % 180 === 0 ? [length, width] : [width, length];
  const span = (size: number, pitch: number): number => Math.max(1, Math.round(size / pitch));
  return { tiles: [span(l, tiles.pitch[0]), span(w, tiles.pitch[1])] };
}

function intentOf(state: LuminaireState, at: Point, { floor }: ToolContext) {
  const ceiling = findRoomAt(floor.rooms, at)?.ceiling ?? CEILING;
  const top = Math.max(BODY, ceiling - state.drop);
  return {
    kind: 'luminaire',
    at,
    size: [state.length, state.width] as const,
    turn: state.placing.turn,
    base: Math.max(0, top - BODY),
    top,
    emergency: state.isEmergency,
  } as const;
}

function readEntry(state: LuminaireState, context: ToolContext): Reply<LuminaireState> {
  const place = readPlace(state.entry, context.units);
  if (place !== null) {
    if ('remedy' in place) return { state, says: place.remedy, refused: true };
    const next = { ...state, placing: { ...state.placing, hand: describeHand(place, context) }, entry: '' };
    return { state: next, commit: { intent: intentOf(next, place, context), otherwise: state } };
  }
  const read = readTyped(state.entry, context.units);
  if (!read.ok) return { state, says: read.remedy, refused: true };
  const [length, width = length, drop = state.drop, more] = read.numbers;
  const isSize = (size: number | undefined): size is number => size !== undefined && size > 0 && size <= 100;
  if (!isSize(length) || !isSize(width) || !(drop >= 0 && drop < 50) || more !== undefined || read.angle !== null)
    return {
      state,
      says: 'Write length and width, such as 1.2 0.3; a third number hangs it below the ceiling.',
      refused: true,
    };
  return {
    state: { ...state, length, width, drop, entry: '' },
    says: `${sayLength(length, context.units)} by ${sayLength(width, context.units)}.`,
  };
}
