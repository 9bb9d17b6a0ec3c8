/** Things moved, turned and mirrored together. A room takes along what is in it. */
import type { FloorFile, Point } from '../../core/floor/index.ts';
import { turnInto360 } from '../recipes.ts';
import { createChange, setListed } from './change.ts';
import { type Edit, type Refused, refuse } from './edit.ts';
import { nameThing, nameThings, showMetres, startSentence } from './fault-words.ts';
import { findAllListed, findPlaced, type Placed } from './lists.ts';
import { finePoint, joinBoxes, middleOfBox, subtract } from './plane.ts';
import {
  boxOf,
  isLocked,
  moveThing,
  placeOfThing,
  type RigidMove,
  reflection,
  rotation,
  shift,
} from './rigid-moves.ts';
import { withContents } from './room-contents.ts';

/** Moves things by metres in x and y. Openings go freely: `slideOpening` keeps one on its wall. */
export function moveThings(file: FloorFile, ids: readonly string[], by: Point): Edit {
  const far = Math.hypot(by[0], by[1]);
  return moveAll(file, ids, shift(by), (things) => `Moved ${things} by ${showMetres(far)}`);
}

/** Moves one thing so that its place, or the middle of its box, is at a point. */
export function placeThing(file: FloorFile, id: string, at: Point): Edit {
  const [thing] = findPlaced(file, [id]);
  return moveThings(file, [id], thing === undefined ? [0, 0] : subtract(at, placeOfThing(thing)));
}

/**
 * Turns things about one centre, counter-clockwise. Each keeps its place towards the others.
 * @param centre left out: the middle of the box around them all
 */
export function turnThings(file: FloorFile, ids: readonly string[], degrees: number, centre?: Point): Edit {
  const about = centre ?? middleOfThings(file, ids);
  return moveAll(file, ids, rotation(about, degrees), (things) => `Turned ${things} by ${turnInto360(degrees)}°`);
}

/**
 * Mirrors things at a line in plan.
 * @param axis direction of the line, degrees: 90 swaps left and right, 0 swaps top and bottom
 * @param on a place on the line; left out: the middle of the box around them all
 */
export function mirrorThings(file: FloorFile, ids: readonly string[], axis: number, on?: Point): Edit {
  return moveAll(file, ids, reflection(on ?? middleOfThings(file, ids), axis), (things) => `Mirrored ${things}`);
}

/** The middle of the box around things, as `turnThings` and `mirrorThings` take it. */
export function middleOfThings(file: FloorFile, ids: readonly string[]): Point {
  const things = findPlaced(file, ids);
  return things.length === 0 ? [0, 0] : finePoint(middleOfBox(joinBoxes(things.map(boxOf))));
}

function moveAll(file: FloorFile, ids: readonly string[], move: RigidMove, name: (things: string) => string): Edit {
  const chosen = findPlaced(file, ids);
  const moved = findPlaced(file, withContents(file, ids));
  const refused = refuseToMove(file, ids, moved);
  if (refused !== null) return refused;
  const change = createChange(file);
  for (const thing of moved) setListed(change, moveThing(thing, move));
  return change.plan(
    name(nameThings(chosen)),
    chosen.map(({ item }) => item.id),
  );
}

/** Why things are not moved: there are none, or one is locked. Null: they can be. */
export function refuseToMove(file: FloorFile, ids: readonly string[], moved: readonly Placed[]): Refused | null {
  if (moved.length === 0) {
    const [group] = findAllListed(file, ids);
    return group === undefined
      ? refuse('Nothing is selected', 'Select what to move.')
      : refuse(`${startSentence(nameThing(group))} has no place of its own`, 'Select things on the floor.');
  }
  const locked = moved.find(isLocked);
  return locked === undefined ? null : refuseLocked(locked);
}

export function refuseLocked(thing: Placed): Refused {
  return refuse(`${startSentence(nameThing(thing))} is locked`, 'Unlock it first.');
}
