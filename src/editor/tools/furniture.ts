/** F: sets furniture down, piece by piece, along a line, in rows and blocks. */
import type { Point } from '../../core/floor/index.ts';
import type { CatalogueEntry } from '../edits/furniture-pieces.ts';
import { along, between, distance, finePoint, place as put, rectangleAbout, SAME } from '../edits/plane.ts';
import { goFrom, measureDirection } from '../snapping/plan.ts';
import { defineTool, type Reply } from './define-tool.ts';
import { readPlace, typeInto } from './entry.ts';
import { type Pattern, readFurnitureEntry, SINGLE } from './furniture-entry.ts';
import { chooseEntry, isDrawnLong, kindOfLetter, listKinds, screenBetween } from './furniture-kinds.ts';
import { gapOf, intentOfLaid, isSettable, type Laid, lay, outlineOfLaid, planBlock } from './furniture-laid.ts';
import type { Guide } from './guide.ts';
import { type Ask, describeHand, hasMoved, isEnter, isPointer, letterOf } from './hand.ts';
import type { Intent } from './intent.ts';
import { movePlacing, type Placing, startPlacing } from './placing.ts';
import type { ToolContext, ToolEvent } from './tool.ts';
import { joinHints, sayLength } from './words.ts';

export interface FurnitureState {
  readonly placing: Placing;
  /** The piece in hand; null: its kind is still to be chosen. */
  readonly entry: CatalogueEntry | null;
  readonly pattern: Pattern;
  /** The line being drawn: where it was pressed, and where it began. */
  readonly line: { readonly raw: Point; readonly from: Point; readonly isDrawn: boolean } | null;
  readonly typed: string;
  /** What was set last: rows and pairs typed next go on from it. */
  readonly last: Laid | null;
}

const TYPING_START = /^[\d.,arx]$/iu;

export const furnitureTool = defineTool<FurnitureState>({
  id: 'furniture',
  start: (context) => ({
    placing: startPlacing(context),
    entry: null,
    pattern: SINGLE,
    line: null,
    typed: '',
    last: null,
  }),
  isAtRest: ({ entry, typed, line }) => entry === null && typed === '' && line === null,
  on(state, event, context) {
    const { entry } = state;
    const kind = state.typed === '' ? kindOfLetter(letterOf(event)) : undefined;
    if (kind !== undefined) {
      const next = chooseEntry(context, kind, entry);
      const placing = { ...state.placing, isPressed: false };
      return {
        state: { ...state, entry: next, placing, line: null, pattern: SINGLE, last: null },
        says: `${next.name}, ${saySize(next, context)}.`,
      };
    }
    if (entry === null) return moveEmpty(state, event, context);
    const typed = typeInto(state.typed, event, TYPING_START);
    if (typed !== null) return { state: { ...state, typed } };
    if (isEnter(event) && state.typed !== '') return readEntry(state, entry, context);
    if (isPointer(event)) return byPointer(state, entry, event, context);
    const reply = movePlacing(state.placing, event, context, askFor(state, entry));
    if (reply === null) return null;
    const next = { ...state, placing: reply.placing };
    return reply.set === undefined ? { state: next, says: reply.says } : setDown(next, spotAt(next, entry));
  },
  show(state, context) {
    const { placing, entry, typed } = state;
    const hand = placing.hand;
    const cursor = hand?.at ?? null;
    if (entry === null) return { hints: `Choose a kind: ${listKinds()}`, guides: hand?.guides ?? [], cursor };
    const hints = typed === '' ? hintFor(state, entry, context) : `${typed} · Enter sets it`;
    if (hand === null) return { hints, guides: [], cursor };
    const set = spotAt(state, entry);
    const guides: Guide[] = [
      ...hand.guides,
      { kind: 'outline', style: 'drawn', ring: outlineOfLaid(set), isClosed: true },
    ];
    if (state.line?.isDrawn) {
      const { from } = state.line;
      guides.push({ kind: 'length', from, to: hand.at, text: sayLength(distance(from, hand.at), context.units) });
    }
    return { hints, guides, cursor, preview: isSettable(set) ? intentOfLaid(set) : null };
  },
});

/** Without a kind the hand moves and nothing is set. */
function moveEmpty(state: FurnitureState, event: ToolEvent, context: ToolContext): Reply<FurnitureState> | null {
  const reply = movePlacing(state.placing, event, context);
  if (reply === null) return null;
  const next = { ...state, placing: reply.placing };
  if (reply.set === undefined) return { state: next, says: reply.says };
  return { state: next, says: `Choose a kind first: ${listKinds()}.`, refused: true };
}

function askFor({ placing, line }: FurnitureState, entry: CatalogueEntry): Ask {
  if (line?.isDrawn) return { origin: line.from, own: [line.from] };
  const ring = rectangleAbout([0, 0], along(placing.turn), entry.length, entry.width);
  return { anchors: ring };
}

function byPointer(
  state: FurnitureState,
  entry: CatalogueEntry,
  event: ToolEvent,
  context: ToolContext,
): Reply<FurnitureState> | null {
  if (!isPointer(event)) return null;
  const { line } = state;
  // A line begins at the place that was pressed, drawn to what is near; a piece set by a click rests by its corners.
  const begins = event.type === 'pointer-move' && line !== null && (line.isDrawn || hasMoved(line.raw, event));
  const drawn = begins && line !== null ? { ...line, isDrawn: true } : line;
  const asked = { ...state, line: drawn };
  const reply = movePlacing(state.placing, event, context, askFor(asked, entry));
  if (reply === null) return null;
  const next = { ...asked, placing: reply.placing };
  if (event.type === 'pointer-down') {
    const at = movePlacing(state.placing, event, context)?.placing.hand?.at ?? event.at;
    return { state: { ...next, line: { raw: event.at, from: at, isDrawn: false } } };
  }
  if (event.type === 'pointer-move') return { state: next };
  const free = { ...next, line: null };
  if (reply.set === undefined) return { state: free };
  const set = spotAt(next, entry);
  // A line back to where it began is none.
  if (line?.isDrawn && distance(line.from, reply.set) < SAME) return { state: free };
  return setDown(free, set);
}

/** What would be set where the hand is: along the line being drawn, else about the hand. */
function spotAt({ placing, line, pattern }: FurnitureState, entry: CatalogueEntry): Laid {
  const at = placing.hand?.at ?? [0, 0];
  if (!line?.isDrawn || distance(line.from, at) < SAME) return lay(entry, at, placing.turn, pattern);
  const { from } = line;
  const turn = Math.round(measureDirection(from, at) * 1e6) / 1e6;
  if (!isDrawnLong(entry.kind)) return lay(entry, goFrom(from, turn, entry.length / 2), turn, pattern);
  const length = Math.round(distance(from, at) * 1e6) / 1e6;
  return lay({ ...entry, length }, finePoint(between(from, at, 0.5)), turn, pattern);
}

function setDown(state: FurnitureState, set: Laid): Reply<FurnitureState> {
  const next = { ...state, line: null, typed: '', last: set };
  return { state: next, commit: { intent: intentOfLaid(set), otherwise: { ...state, line: null } } };
}

function readEntry(state: FurnitureState, entry: CatalogueEntry, context: ToolContext): Reply<FurnitureState> {
  const place = readPlace(state.typed, context.units);
  if (place !== null) {
    if ('remedy' in place) return { state, says: place.remedy, refused: true };
    const next = { ...state, line: null, placing: { ...state.placing, hand: describeHand(place, context) } };
    return setDown(next, spotAt(next, entry));
  }
  const read = readFurnitureEntry(state.typed, context.units);
  const { last, pattern, line } = state;
  switch (read.kind) {
    case 'unread':
      return { state, says: read.remedy, refused: true };
    case 'size': {
      // While a line is drawn a length ends it.
      if (line?.isDrawn && read.width === null && state.placing.hand !== null) {
        const turn = measureDirection(line.from, state.placing.hand.at);
        const hand = { ...state.placing.hand, at: goFrom(line.from, turn, read.length) };
        const next = { ...state, placing: { ...state.placing, hand, isPressed: false } };
        return setDown(next, spotAt(next, entry));
      }
      const sized = { ...entry, length: read.length, width: read.width ?? entry.width, top: read.top ?? entry.top };
      if (!(sized.length >= 0.01 && sized.width >= 0.01 && sized.top > sized.base))
        return { state, says: 'Write sizes from 0.01 m, and a top above the base.', refused: true };
      return { state: { ...state, entry: sized, typed: '' }, says: `${saySize(sized, context)}.` };
    }
    case 'row': {
      const { kind: _, ...row } = read;
      if (last !== null) return goOn(state, last, row);
      const next = { ...pattern, ...row };
      return { state: { ...state, typed: '', pattern: next }, says: `A row of ${row.count} in hand.` };
    }
    case 'mirror': {
      if (last !== null) return mirrorLast(state, last, read.screen);
      const next = { ...pattern, mirrored: true, screen: read.screen };
      return { state: { ...state, typed: '', pattern: next }, says: 'Pairs back to back in hand.' };
    }
  }
}

/** Adds to what was set last what a longer row, or more rows, have more. What stands keeps its place. */
function goOn(
  state: FurnitureState,
  last: Laid,
  row: Pick<Pattern, 'count' | 'pitch' | 'rows' | 'rowPitch'>,
): Reply<FurnitureState> {
  const before = last.pattern;
  const pitch = row.pitch ?? before.pitch;
  const rowPitch = row.rowPitch ?? before.rowPitch;
  const rows = Math.max(row.rows, before.rows);
  const isOther = (before.count > 1 && pitch !== before.pitch) || (before.rows > 1 && rowPitch !== before.rowPitch);
  if (isOther || row.count < before.count || (row.count === before.count && rows === before.rows))
    return {
      state: { ...state, typed: '' },
      says: 'The row that was set last stands already. Write a longer one at the same pitch, or take it back first.',
      refused: true,
    };
  const after: Pattern = { ...before, count: row.count, pitch, rows, rowPitch };
  const intents = [
    ...planBlock(last, after, before.count, 0, after.count - before.count, before.rows),
    ...planBlock(last, after, 0, before.rows, after.count, rows - before.rows),
  ];
  return setMore(state, { ...last, pattern: after }, intents);
}

/** Sets the other side of each pair behind what was set last, and the screens between. */
function mirrorLast(state: FurnitureState, last: Laid, screen: number | null): Reply<FurnitureState> {
  const { entry, at, turn, pattern } = last;
  if (pattern.mirrored) return { state: { ...state, typed: '' }, says: 'Pairs stand there already.', refused: true };
  const single = { ...pattern, mirrored: false, screen: null };
  const off = entry.width + gapOf({ ...pattern, screen });
  const beside = (v: number): Point => finePoint(put(at, along(turn), [0, v]));
  // The other side runs the other way, so its pitches do too.
  const turned = { ...single, pitch: -(pattern.pitch ?? 0), rowPitch: -(pattern.rowPitch ?? 0) };
  const intents = [intentOfLaid({ entry, at: beside(off), turn: (turn + 180) % 360, pattern: turned })];
  if (screen !== null) {
    const part = { ...screenBetween(screen), length: entry.length };
    intents.push(intentOfLaid({ entry: part, at: beside(off / 2), turn, pattern: single }));
  }
  return setMore(state, { ...last, pattern: { ...pattern, mirrored: true, screen } }, intents);
}

function setMore(state: FurnitureState, last: Laid, intents: readonly Intent[]): Reply<FurnitureState> {
  const otherwise = { ...state, typed: '' };
  return { state: { ...otherwise, last }, commit: { intent: { kind: 'several', intents }, otherwise } };
}

function saySize({ length, width, top }: CatalogueEntry, { units }: ToolContext): string {
  return `${sayLength(length, units)} by ${sayLength(width, units)}, top ${sayLength(top, units)}`;
}

function hintFor({ pattern, line, last }: FurnitureState, entry: CatalogueEntry, context: ToolContext): string {
  if (line?.isDrawn) return 'Let go to set it · type its length · Esc takes it back';
  const many = pattern.count > 1 || pattern.rows > 1 ? `${pattern.count * pattern.rows} × ` : '';
  return joinHints(
    `${many}${entry.name}, ${saySize(entry, context)}`,
    'click or Enter sets it',
    'drag a line',
    '[ ] turn',
    last === null ? 'type 1.6 0.8 for its size' : 'row 4 1.6 goes on from the last',
    'x2 mirrors back to back',
  );
}
