/** What dragging a handle, or typing a number with it in hand, asks for. */
import type { Floor, Opening, Point, Room } from '../../core/floor/index.ts';
import { computeRingDistance } from '../../core/geometry/polygon.ts';
import { type Anchor, measurePiece } from '../edits/furniture-pieces.ts';
import { cornerOf, cross, distance, dot, finePoint, SAME, subtract, unit } from '../edits/plane.ts';
import { THICKEST_WALL } from '../edits/pushed-walls.ts';
import { outwardOf } from '../edits/wall-rings.ts';
import { measureDirection } from '../snapping/plan.ts';
import { findThing } from '../things.ts';
import type { Ask } from './hand.ts';
import type { Intent } from './intent.ts';
import { type Handle, ringOf, turnOf } from './select-handles.ts';

/** No piece becomes thinner, metres. */
const LEAST = 0.01;

/** What snapping is asked while a handle is dragged. */
export function askForHandle(floor: Floor, held: Handle): Ask {
  if (held.part === 'turn') return { kinds: new Set() };
  const ring = ringOf(floor, held);
  const except = new Set([held.id]);
  if (held.part === 'corner') {
    const [before, after] = [cornerOf(ring, held.index - 1), cornerOf(ring, held.index + 1)];
    // Rooms that meet in the corner move along, and so draw nothing to themselves.
    for (const room of floor.rooms) if (meets(room, held.at, SAME)) except.add(room.id);
    return { except, own: [before, after], origin: before, before: cornerOf(ring, held.index - 2) };
  }
  if (held.part === 'edge') {
    for (const room of floor.rooms) if (meets(room, held.at, THICKEST_WALL)) except.add(room.id);
    const ends = [cornerOf(ring, held.index), cornerOf(ring, held.index + 1)];
    return { except, anchors: ends.map((end) => subtract(end, held.at)) };
  }
  return { except };
}

function meets(room: Room, [x, y]: Point, within: number): boolean {
  return [room.outline, ...room.holes].some((ring) => computeRingDistance(ring, x, y) <= within);
}

/**
 * What dragging a handle to a place asks for; null: nothing.
 * @param alone whether only this room changes, and no other goes along
 * @param step degrees a turn is rounded to
 */
export function dragHandle(floor: Floor, held: Handle, to: Point, alone: boolean, step: number): Intent | null {
  if (distance(held.at, to) < SAME) return null;
  const { id, ring, index } = held;
  switch (held.part) {
    case 'corner':
      return { kind: 'corner', id, ring, corner: index, to, together: !alone };
    case 'edge':
      return moveEdge(floor, held, dot(subtract(to, held.at), outwardAt(floor, held)), alone);
    case 'box':
    case 'side':
      return resize(floor, held, to);
    case 'end':
      return moveEnd(floor, held, to);
    case 'turn': {
      const thing = findThing(floor, id);
      const about = thing === undefined ? null : turnOf(thing);
      if (about === null) return null;
      return turnTo(
        floor,
        held,
        Math.round(measureDirection(about.centre, to) / step) * step - (about.direction - directionOf(floor, id)),
      );
    }
  }
}

/** Moves a wall by metres out of its room. */
export function moveEdge(floor: Floor, { id, ring, index }: Handle, by: number, alone: boolean): Intent | null {
  const rounded = Math.round(by * 1e6) / 1e6;
  const isRoom = findRoom(floor, id) !== undefined;
  return !isRoom || Math.abs(rounded) < SAME
    ? null
    : { kind: 'edge', room: id, ring, edge: index, by: rounded, together: !alone };
}

function findRoom(floor: Floor, id: string): Room | undefined {
  return floor.rooms.find((room) => room.id === id);
}

function outwardAt(floor: Floor, held: Handle): Point {
  return outwardOf({ before: ringOf(floor, held), ring: held.ring }, held.index);
}

/** The corner of the box that stays while a corner or a side is dragged. */
const FIXED: Readonly<Record<'box' | 'side', readonly Anchor[]>> = { box: [2, 3, 0, 1], side: [3, 0, 0, 1] };

function resize(floor: Floor, held: Handle, to: Point): Intent | null {
  const { axis, length, width } = measurePiece(ringOf(floor, held));
  const moved = subtract(to, held.at);
  const [along, across] = [dot(moved, axis), cross(axis, moved)];
  const { part, index } = held;
  if (part !== 'box' && part !== 'side') return null;
  const right = part === 'box' ? index === 1 || index === 2 : index === 1;
  const leftSide = part === 'box' ? index === 0 || index === 3 : index === 3;
  const back = part === 'box' ? index >= 2 : index === 2;
  const front = part === 'box' ? index < 2 : index === 0;
  const next = (size: number, by: number, grows: boolean, shrinks: boolean): number =>
    Math.max(LEAST, Math.round((size + (grows ? by : shrinks ? -by : 0)) * 1e6) / 1e6);
  return resizeTo(held, next(length, along, right, leftSide), next(width, across, back, front));
}

/** Gives a piece another length and width; the side or corner across from the handle stays. */
export function resizeTo({ id, part, index }: Handle, length: number, width: number): Intent | null {
  const anchor = part === 'box' || part === 'side' ? FIXED[part][index] : undefined;
  return anchor === undefined ? null : { kind: 'resize', id, length, width, anchor };
}

/** Length and width of the piece a handle is on, metres. */
export function sizeOf(floor: Floor, held: Handle): { readonly length: number; readonly width: number } {
  return measurePiece(ringOf(floor, held));
}

/** One end of an opening goes along its line; the other stays. */
function moveEnd(floor: Floor, { id, index }: Handle, to: Point): Intent | null {
  const opening: Opening | undefined = floor.openings.find((each) => each.id === id);
  if (opening === undefined) return null;
  const [fixed, moved] = index === 0 ? [opening.to, opening.from] : [opening.from, opening.to];
  const axis = unit(fixed, moved);
  const width = Math.max(0.1, dot(subtract(to, fixed), axis));
  const end = finePoint([fixed[0] + axis[0] * width, fixed[1] + axis[1] * width]);
  return { kind: 'ends', id, from: index === 0 ? end : fixed, to: index === 0 ? fixed : end };
}

/** The direction of a thing, degrees: of a piece along its length. */
export function directionOf(floor: Floor, id: string): number {
  const thing = findThing(floor, id);
  switch (thing?.kind) {
    case 'furniture':
      return measureDirection([0, 0], measurePiece(thing.value.outline).axis);
    case 'luminaire':
    case 'detector':
      return thing.value.turn;
    case 'workplace':
      return thing.value.facing ?? 0;
    default:
      return 0;
  }
}

/** Turns a thing about its middle to a direction; null: it looks that way already, or nowhere. */
export function turnTo(floor: Floor, { id }: Handle, direction: number): Intent | null {
  const thing = findThing(floor, id);
  const about = thing === undefined ? null : turnOf(thing);
  const degrees = Math.round((direction - directionOf(floor, id)) * 1e6) / 1e6;
  return about === null || degrees % 360 === 0 ? null : { kind: 'turn', ids: [id], degrees, centre: about.centre };
}
