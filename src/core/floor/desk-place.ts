/** The workplace that a desk brings: one rule for what is set down by hand and what comes from a drawing. */
import type { Point } from './schema.ts';

/** From a desk's front edge to the middle of the chair, metres; common practice, no source. */
const CHAIR_OFFSET = 0.35;
/** A desk board higher than this is stood at: EN 527-1 has standing desks from 0.95 m. */
const STANDING_TOP = 0.95;

export interface DeskPlace {
  /** The middle of the chair. */
  readonly at: Point;
  /** Degrees, towards the desk; not brought into one turn. */
  readonly facing: number;
  readonly posture: 'seated' | 'standing';
}

/**
 * Where somebody sits or stands at a desk.
 * @param at the middle of the board
 * @param turn direction of the board's length, degrees; its front, where the chair stands, is to the right of it
 * @param width of the board from front to back, metres
 * @param top height of the board, metres
 */
export function placeAtDesk(at: Point, turn: number, width: number, top: number): DeskPlace {
  const radians = (turn * Math.PI) / 180;
  const out = width / 2 + CHAIR_OFFSET;
  return {
    at: [at[0] + Math.sin(radians) * out, at[1] - Math.cos(radians) * out],
    facing: turn + 90,
    posture: top >= STANDING_TOP ? 'standing' : 'seated',
  };
}
