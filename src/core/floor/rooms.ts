/** Which room holds a place, and which rooms an opening joins. */
import { type BoxIndex, createBoxIndex } from '../geometry/box-index.ts';
import { type Box, computeBox, growBox, isInRing } from '../geometry/polygon.ts';
import type { Opening, Point, Room } from './schema.ts';

/** Fewer rooms than this are looked through one by one. */
const FEW_ROOMS = 16;
/** Metres beyond an opening's rectangle in which the rooms it joins are still looked for. */
const BEYOND = 0.001;

const indices = new WeakMap<readonly Room[], BoxIndex>();

/**
 * The first room of the list that holds a point: inside its outline and in none of its holes, by the half-open
 * even-odd rule. A resolved (frozen) list is indexed once.
 */
export function findRoomAt(rooms: readonly Room[], at: Point): Room | undefined {
  const [x, y] = at;
  if (rooms.length < FEW_ROOMS || !Object.isFrozen(rooms)) return rooms.find((room) => isInRoom(room, x, y));
  let index = indices.get(rooms);
  if (index === undefined) {
    index = createBoxIndex(rooms.map((room) => computeBox(room.outline)));
    indices.set(rooms, index);
  }
  let first = rooms.length;
  index.query({ minX: x, minY: y, maxX: x, maxY: y }, (item) => {
    if (item < first && isInRoom(rooms[item] as Room, x, y)) first = item;
    return false;
  });
  return rooms[first];
}

function isInRoom(room: Room, x: number, y: number): boolean {
  return isInRing(room.outline, x, y) && !room.holes.some((hole) => isInRing(hole, x, y));
}

/**
 * The rooms an opening joins: on either side, along three lines across it at 1/4, 1/2 and 3/4 of its width, the first
 * room met from the line `from`–`to` to just beyond its rectangle.
 */
export function listJoinedRooms(opening: Opening, rooms: readonly Room[]): readonly Room[] {
  const [x0, y0] = opening.from;
  const dx = opening.to[0] - x0;
  const dy = opening.to[1] - y0;
  const width = Math.hypot(dx, dy);
  const reach = opening.depth / 2 + BEYOND;
  const steps = Math.min(40, Math.ceil(reach / 0.05));
  const found = new Set<Room>();
  for (const side of [1, -1]) {
    for (const along of [0.5, 0.25, 0.75]) {
      for (let step = 1; step <= steps; step++) {
        const off = (side * reach * step) / steps / width;
        const room = findRoomAt(rooms, [x0 + along * dx - off * dy, y0 + along * dy + off * dx]);
        if (room === undefined) continue;
        found.add(room);
        break;
      }
    }
  }
  return [...found];
}

/** Rooms that may differ between two lists before asking each place anew takes less. */
const MOST_CHANGED = 8;

/**
 * Where the rooms of two lists differ: the boxes of each as it was and as it is. Elsewhere every place is in the room, by
 * its place in the list, that it was in.
 * @returns null when the lists differ in length or in more than a few rooms
 */
export function boxChangedRooms(before: readonly Room[], next: readonly Room[]): readonly Box[] | null {
  if (before.length !== next.length) return null;
  const boxes: Box[] = [];
  for (let index = 0; index < next.length; index++) {
    if (before[index] === next[index]) continue;
    if (boxes.length === 2 * MOST_CHANGED) return null;
    boxes.push(computeBox(before[index]!.outline), computeBox(next[index]!.outline));
  }
  return boxes;
}

/** The box within which `listJoinedRooms` looks. */
export function boxJoin({ from, to, depth }: Opening): Box {
  return growBox(computeBox([from, to]), depth / 2 + BEYOND);
}
