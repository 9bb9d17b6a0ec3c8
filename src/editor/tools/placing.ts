/** A thing with one place in hand: moved, turned, and set by a click or Enter. What the tools that place things share. */
import type { Point } from '../../core/floor/index.ts';
import { turnInto360 } from '../recipes.ts';
import { isTyped } from './entry.ts';
import {
  type Ask,
  describeHand,
  findStartInRoom,
  followPointer,
  type Hand,
  isEnter,
  isPointer,
  stepHand,
  takeHand,
} from './hand.ts';
import type { ToolContext, ToolEvent, Units } from './tool.ts';
import { sayPlace } from './words.ts';

export interface Placing {
  readonly hand: Hand | null;
  /** Degrees counter-clockwise. */
  readonly turn: number;
  readonly isPressed: boolean;
}

export interface PlacingReply {
  readonly placing: Placing;
  /** Where the thing is set down. */
  readonly set?: Point;
  readonly says?: string;
}

export function startPlacing(context: ToolContext, turn = 0): Placing {
  return { hand: takeHand(context), turn, isPressed: false };
}

/** Pointer, arrows, Enter and the keys that turn; null for everything else. */
export function movePlacing(
  placing: Placing,
  event: ToolEvent,
  context: ToolContext,
  ask: Ask = {},
): PlacingReply | null {
  if (isPointer(event)) {
    const hand = followPointer(event, context, ask);
    if (event.type === 'pointer-down') return { placing: { ...placing, hand, isPressed: true } };
    if (event.type === 'pointer-move') return { placing: { ...placing, hand } };
    const free = { ...placing, isPressed: false };
    if (event.type === 'pointer-cancel') return { placing: free };
    return placing.isPressed ? { placing: { ...free, hand }, set: hand.at } : { placing: { ...free, hand } };
  }
  const turned = turnBy(event);
  if (turned !== null) {
    const turn = turnInto360(placing.turn + turned);
    return { placing: { ...placing, turn }, says: `Turned to ${turn}°.` };
  }
  const hand = stepHand(placing.hand, event, context, ask);
  if (hand !== null) return { placing: { ...placing, hand }, says: sayRest(hand, context.units) };
  if (!isEnter(event)) return null;
  if (placing.hand !== null) return { placing, set: placing.hand.at };
  const first = describeHand(findStartInRoom(context), context, ask);
  return { placing: { ...placing, hand: first }, says: sayRest(first, context.units) };
}

/** Degrees by which a key turns what is in hand: `[` and `]` 15°, with Shift 1°. Null: it does not. */
export function turnBy(event: ToolEvent): number | null {
  if (event.type !== 'key' || !isTyped(event)) return null;
  const step = event.modifiers.shift ? 1 : 15;
  switch (event.key) {
    case '[':
      return step;
    case ']':
      return -step;
    case '{':
      return 1;
    case '}':
      return -1;
    default:
      return null;
  }
}

/** Where the hand rests, for the live region. */
export function sayRest({ at, words }: Hand, units: Units): string {
  return `${sayPlace(at, units)}${words === '' ? '' : `, ${words}`}.`;
}
