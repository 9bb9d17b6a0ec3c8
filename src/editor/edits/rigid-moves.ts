/** Moves of the plan that keep lengths, and what each does to a thing: its place, its outline, and everything with a direction. */
import type { Point, Ring } from '../../core/floor/index.ts';
import { type Box, computeBox } from '../../core/geometry/polygon.ts';
import { tidy, turnInto360 } from '../recipes.ts';
import type { Items, Placed } from './lists.ts';
import { add, along, fine, finePoint, place, rectangleAbout, subtract } from './plane.ts';

/** A shift, a turn or a mirroring. */
export interface RigidMove {
  point(at: Point): Point;
  /** A direction, degrees counter-clockwise from +x; undefined stays undefined. */
  turn(degrees: number): number;
  /** Whether left becomes right. */
  readonly isMirrored: boolean;
}

export function shift(by: Point): RigidMove {
  return { point: (at) => add(at, by), turn: (degrees) => degrees, isMirrored: false };
}

/** @param degrees counter-clockwise */
export function rotation(centre: Point, degrees: number): RigidMove {
  const axis = along(degrees);
  return {
    point: (at) => place(centre, axis, subtract(at, centre)),
    turn: (direction) => turnInto360(direction + degrees),
    isMirrored: false,
  };
}

/** @param degrees direction of the line through `on` that stays where it is */
export function reflection(on: Point, degrees: number): RigidMove {
  const axis = along(2 * degrees);
  return {
    point: (at) => {
      const [x, y] = subtract(at, on);
      return place(on, axis, [x, -y]);
    },
    turn: (direction) => turnInto360(2 * degrees - direction),
    isMirrored: true,
  };
}

/** A thing as the move leaves it. */
export function moveThing<Thing extends Placed>(thing: Thing, move: RigidMove): Thing {
  return { ...thing, item: movedItem(thing, move) };
}

function movedItem(thing: Placed, move: RigidMove): Placed['item'] {
  const at = (point: Point): Point => finePoint(move.point(point));
  switch (thing.list) {
    case 'rooms':
      return moveRoom(thing.item, move);
    case 'openings':
      return { ...thing.item, from: at(thing.item.from), to: at(thing.item.to) };
    case 'furniture':
      return { ...thing.item, outline: moveRing(thing.item.outline, move) };
    case 'zones': {
      const { heading } = thing.item;
      const outline = moveRing(thing.item.outline, move);
      return { ...thing.item, outline, ...(heading === undefined ? {} : { heading: move.turn(heading) }) };
    }
    case 'luminaires':
      return { ...thing.item, at: at(thing.item.at), ...turned(thing.item.turn, move) };
    case 'workplaces': {
      const { facing } = thing.item;
      return {
        ...thing.item,
        at: at(thing.item.at),
        ...(facing === undefined ? {} : { facing: move.turn(facing) }),
      };
    }
    case 'sources':
      return { ...thing.item, at: at(thing.item.at) };
    case 'detectors':
      return moveDetector(thing.item, move);
  }
}

/** A turn that is left out is 0; it stays left out while it stays 0. */
function turned(turn: number | undefined, move: RigidMove): { readonly turn?: number } {
  const next = move.turn(turn ?? 0);
  return turn === undefined && next === 0 ? {} : { turn: next };
}

function moveRing(ring: Ring, move: RigidMove): Ring {
  const moved = ring.map((corner) => finePoint(move.point(corner)));
  // Mirrored, the first edge stays the first: that is where a piece's length is read.
  return move.isMirrored
    ? [moved[1], moved[0], ...moved.slice(2).reverse()].filter((each) => each !== undefined)
    : moved;
}

function moveRoom(room: Items['rooms'], move: RigidMove): Items['rooms'] {
  const { outline, holes, tiles } = room;
  return {
    ...room,
    outline: moveRing(outline, move),
    ...(holes === undefined ? {} : { holes: holes.map((hole) => moveRing(hole, move)) }),
    ...(tiles === undefined
      ? {}
      : { tiles: { ...tiles, origin: finePoint(move.point(tiles.origin)), ...turned(tiles.turn, move) } }),
  };
}

/** Masks are counted from the detector's turn, so they keep their angles; mirrored they run the other way round. */
function moveDetector(detector: Items['detectors'], move: RigidMove): Items['detectors'] {
  const { masks } = detector;
  const mirrored = move.isMirrored && masks !== undefined;
  return {
    ...detector,
    at: finePoint(move.point(detector.at)),
    ...turned(detector.turn, move),
    ...(mirrored ? { masks: masks.map(mirrorMask) } : {}),
  };
}

function mirrorMask(mask: NonNullable<Items['detectors']['masks']>[number]): typeof mask {
  const from = turnInto360(-mask.to);
  return { ...mask, from, to: tidy(from + mask.to - mask.from) };
}

/** The box around a thing, metres: of a place with a radius around its disc, of a detector its point. */
export function boxOf(thing: Placed): Box {
  switch (thing.list) {
    case 'rooms':
    case 'furniture':
    case 'zones':
      return computeBox(thing.item.outline);
    case 'openings':
      return computeBox([thing.item.from, thing.item.to]);
    case 'luminaires':
      return computeBox(outlineOfLuminaire(thing.item));
    case 'workplaces':
      return boxAround(thing.item.at, thing.item.radius ?? 0.5);
    case 'sources':
      return boxAround(thing.item.at, thing.item.radius ?? 0.2);
    case 'detectors':
      return boxAround(thing.item.at, 0);
  }
}

function boxAround([x, y]: Point, radius: number): Box {
  return { minX: x - radius, minY: y - radius, maxX: x + radius, maxY: y + radius };
}

function outlineOfLuminaire({ at, size, turn = 0 }: Items['luminaires']): Ring {
  return rectangleAbout(at, along(turn), size[0], size[1]);
}

/** Where a thing is: its own place, or the middle of its box. */
export function placeOfThing(thing: Placed): Point {
  if ('at' in thing.item) return thing.item.at;
  const { minX, minY, maxX, maxY } = boxOf(thing);
  return [fine((minX + maxX) / 2), fine((minY + maxY) / 2)];
}

/** Whether the file says that a thing must not be moved. */
export function isLocked(thing: Placed): boolean {
  return thing.list === 'detectors' && thing.item.locked === true;
}
