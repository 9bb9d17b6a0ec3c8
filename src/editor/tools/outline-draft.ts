/**
 * An outline drawn corner by corner, as a rectangle, or by typed lengths and angles: what the room, the zone and the
 * measure of an area have in common.
 */
import { LIMITS, type Point, type Ring } from '../../core/floor/index.ts';
import { findOutlineFault, isOnPlan } from '../edits/outlines.ts';
import { distance, rectangleBetween, SAME } from '../edits/plane.ts';
import { goFrom, measureDirection } from '../snapping/plan.ts';
import { readTyped, typeInto } from './entry.ts';
import type { Guide } from './guide.ts';
import {
  type Ask,
  describeHand,
  findStart,
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
import { findPathFault } from './path-fault.ts';
import type { ToolContext, ToolEvent, Units } from './tool.ts';
import { joinHints, sayAngle, sayLength, sayPlace } from './words.ts';

export interface OutlineDraft {
  readonly corners: readonly Point[];
  readonly hand: Hand | null;
  readonly entry: string;
  /** Where the pointer was pressed, as it was and as it came to rest. */
  readonly press: { readonly raw: Point; readonly at: Point; readonly isRectangle: boolean } | null;
}

export interface OutlineReply {
  readonly draft: OutlineDraft;
  /** The outline is closed. */
  readonly ring?: Ring;
  readonly says?: string;
  readonly refused?: boolean;
}

export function startOutline(context: ToolContext): OutlineDraft {
  return { corners: [], hand: takeHand(context), entry: '', press: null };
}

export function isOutlineAtRest({ corners, entry, press }: OutlineDraft): boolean {
  return corners.length === 0 && entry === '' && press === null;
}

/** What snapping is asked for the next corner. */
function askFor({ corners, press }: OutlineDraft): Ask {
  if (press !== null && corners.length === 0) return { own: [press.at] };
  return {
    origin: corners.at(-1),
    before: corners.at(-2),
    first: corners.length > 2 ? corners[0] : undefined,
    own: corners,
  };
}

/** Null: no use for the event. */
export function drawOutline(draft: OutlineDraft, event: ToolEvent, context: ToolContext): OutlineReply | null {
  if (isPointer(event)) return byPointer(draft, event, context);
  const { corners, hand, entry } = draft;
  const typed = typeInto(entry, event);
  if (typed !== null) return { draft: { ...draft, entry: typed }, ...(typed === '' ? {} : { says: typed }) };
  const stepped = stepHand(hand, event, context, askFor(draft));
  if (stepped !== null) return { draft: { ...draft, hand: stepped }, says: sayHand(stepped, corners, context.units) };
  if (isEnter(event)) {
    if (entry !== '') return readEntry(draft, context);
    if (hand === null) return { draft: { ...draft, hand: describeHand(findStart(context), context) } };
    return setCorner(draft, hand.at, context.units);
  }
  if (event.type === 'key' && event.key === 'Backspace' && corners.length > 0) {
    const left = corners.slice(0, -1);
    return { draft: { ...draft, corners: left }, says: `Corner ${corners.length} is taken back.` };
  }
  if (letterOf(event) === 'c' && corners.length > 0) return close(draft);
  return null;
}

function byPointer(
  draft: OutlineDraft,
  event: Parameters<typeof followPointer>[0],
  context: ToolContext,
): OutlineReply {
  const { corners, press } = draft;
  const hand = followPointer(event, context, askFor(draft));
  switch (event.type) {
    case 'pointer-down':
      return { draft: { ...draft, hand, press: { raw: event.at, at: hand.at, isRectangle: false } } };
    case 'pointer-move': {
      const isRectangle = press !== null && corners.length === 0 && (press.isRectangle || hasMoved(press.raw, event));
      return { draft: { ...draft, hand, press: press && { ...press, isRectangle } } };
    }
    case 'pointer-cancel':
      return { draft: { ...draft, press: null } };
    case 'pointer-up': {
      const free = { ...draft, hand, press: null };
      if (press === null) return { draft: free };
      if (press.isRectangle) return setRectangle(free, press.at, hand.at);
      return setCorner(free, corners.length === 0 ? press.at : hand.at, context.units);
    }
  }
}

/** Sets a corner, or closes the outline on the first. One that would make it cross itself is not set. */
function setCorner(draft: OutlineDraft, at: Point, units: Units): OutlineReply {
  const { corners } = draft;
  const [first] = corners;
  if (first !== undefined && corners.length > 2 && distance(first, at) < SAME) return close(draft);
  if (!isOnPlan(at))
    return { draft, says: `A corner lies within ${LIMITS.coordinate} m of the origin. Set it nearer.`, refused: true };
  const fault = findPathFault(corners, at);
  if (fault !== null) return { draft, says: fault.sentence, refused: true };
  return { draft: { ...draft, corners: [...corners, at] }, says: sayCorner([...corners, at], units) };
}

function setRectangle(draft: OutlineDraft, a: Point, b: Point): OutlineReply {
  return finish(draft, rectangleBetween(a, b));
}

function close(draft: OutlineDraft): OutlineReply {
  return finish(draft, draft.corners);
}

function finish(draft: OutlineDraft, ring: Ring): OutlineReply {
  const fault = findOutlineFault(ring, 'the outline');
  if (fault !== null) return { draft, says: `${fault.what}. ${fault.remedy}`, refused: true };
  return { draft: { ...draft, corners: [], entry: '', press: null }, ring };
}

/** Sets what was typed: a first corner `x y`, a length, a length and an angle, or the sides of a rectangle. */
function readEntry(draft: OutlineDraft, context: ToolContext): OutlineReply {
  const refuse = (says: string): OutlineReply => ({ draft, says, refused: true });
  const read = readTyped(draft.entry, context.units);
  if (!read.ok) return refuse(read.remedy);
  const { numbers, angle } = read;
  const [a, b, more] = numbers;
  const origin = draft.corners.at(-1);
  if (origin === undefined) {
    if (a === undefined || b === undefined || more !== undefined || angle !== null)
      return refuse('Write x and y of the first corner, such as 3.2 4.5.');
    return setTyped(draft, [a, b], context);
  }
  const towards = findDirection(draft, origin);
  if (angle !== null) {
    const length = a ?? (draft.hand === null ? 0 : distance(origin, draft.hand.at));
    if (b !== undefined || !(length >= SAME)) return refuse('Write a length and an angle, such as 5.4 @30.');
    return setTyped(draft, goFrom(origin, angle, length), context);
  }
  if (a !== undefined && b === undefined) {
    if (!(Math.abs(a) >= SAME)) return refuse('Write a length above 0.');
    return setTyped(draft, goFrom(origin, towards, a), context);
  }
  if (a === undefined || b === undefined || more !== undefined || draft.corners.length > 1)
    return refuse('Write one length, such as 5.4, or a length and an angle, such as 5.4 @30.');
  const hand = draft.hand?.at ?? origin;
  const [right, up] = [hand[0] < origin[0] ? -1 : 1, hand[1] < origin[1] ? -1 : 1];
  return setRectangle({ ...draft, entry: '' }, origin, [origin[0] + right * a, origin[1] + up * b]);
}

function setTyped(draft: OutlineDraft, at: Point, context: ToolContext): OutlineReply {
  const reply = setCorner(draft, at, context.units);
  if (reply.refused) return reply;
  return { ...reply, draft: { ...reply.draft, entry: '', hand: restHand(at, 'keys') } };
}

/** Degrees from the last corner to the hand; while the hand is on it, on along the last edge, else along +x. */
function findDirection({ corners, hand }: OutlineDraft, origin: Point): number {
  if (hand !== null && distance(origin, hand.at) >= SAME) return measureDirection(origin, hand.at);
  const before = corners.at(-2);
  return before === undefined ? 0 : measureDirection(before, origin);
}

function sayCorner(corners: readonly Point[], units: Units): string {
  const at = corners.at(-1) ?? [0, 0];
  const before = corners.at(-2);
  const length = before === undefined ? '' : ` ${sayLength(distance(before, at), units)} from the last.`;
  return `Corner ${corners.length} at ${sayPlace(at, units)}.${length}`;
}

/** Where the hand is, for the live region. */
function sayHand({ at, words }: Hand, corners: readonly Point[], units: Units): string {
  const last = corners.at(-1);
  const from =
    last === undefined || distance(last, at) < SAME
      ? ''
      : `, ${sayLength(distance(last, at), units)} at ${sayAngle(measureDirection(last, at))} from the last corner`;
  return `${sayPlace(at, units)}${from}${words === '' ? '' : `, ${words}`}.`;
}

export function showOutline(
  draft: OutlineDraft,
  units: Units,
): { readonly hints: string; readonly guides: readonly Guide[] } {
  const { corners, hand, press } = draft;
  if (press?.isRectangle && hand !== null) {
    const ring = rectangleBetween(press.at, hand.at);
    return {
      hints: 'Let go to set the rectangle · Esc takes it back',
      guides: [
        { kind: 'outline', style: 'drawn', ring, isClosed: true },
        ...sides(ring.slice(0, 3), units),
        ...hand.guides,
      ],
    };
  }
  const fault = hand === null ? null : findPathFault(corners, hand.at);
  const isClosing = hand !== null && corners.length > 2 && distance(corners[0] ?? hand.at, hand.at) < SAME;
  const bad = !isClosing && fault !== null && corners.length > 1;
  const path = hand === null || corners.length === 0 ? corners : [...corners, hand.at];
  const guides: Guide[] = [];
  if (path.length > 1) guides.push({ kind: 'outline', style: 'drawn', ring: path, isClosed: false });
  for (const at of corners) guides.push({ kind: 'mark', mark: 'corner', at });
  guides.push(...sides(path, units));
  const last = corners.at(-1);
  if (bad && hand !== null && last !== undefined) {
    guides.push({ kind: 'line', style: 'fault', from: last, to: hand.at });
    if (fault.edge !== null) guides.push({ kind: 'line', style: 'fault', from: fault.edge[0], to: fault.edge[1] });
  }
  return { guides: [...guides, ...(hand?.guides ?? [])], hints: hintFor(draft, bad ? fault.sentence : null) };
}

/** A dimension for each edge of a path. */
function sides(path: readonly Point[], units: Units): Guide[] {
  return path.slice(1).flatMap((to, i): Guide[] => {
    const from = path[i] ?? to;
    const length = distance(from, to);
    return length < SAME ? [] : [{ kind: 'length', from, to, text: sayLength(length, units) }];
  });
}

function hintFor({ corners, entry }: OutlineDraft, fault: string | null): string {
  if (entry !== '') return `${entry} · Enter sets it · Backspace takes a character back`;
  if (corners.length === 0)
    return 'Click or Enter sets the first corner · drag a rectangle · type its place, such as 3.2 4.5';
  return joinHints(
    fault ?? 'Click or Enter sets a corner',
    'type 5.4 or 5.4 @30',
    corners.length === 1 && 'type 5.4 8.1 for a rectangle',
    corners.length > 2 && 'C closes',
    'Backspace takes a corner back',
  );
}
