/** Values the file may leave out and that follow from more than their own object. */
import { isInRing } from '../geometry/polygon.ts';
import { type Detector, type Floor, LIMITS, type Opening, type Point, type Room, type Zone } from './schema.ts';

/** Whether doors count as their `state` says, or every door as open. A passage is always open, a window never. */
export type Doors = 'stated' | 'open';

const DOOR_HEAD = 2.1;
const ZONE_SHARE = 0.95;

/** The first room of the file that holds a point: inside its outline and in none of its holes, by the half-open even-odd rule. */
export function findRoomAt(rooms: readonly Room[], at: Point): Room | undefined {
  return rooms.find((room) => isInRing(room.outline, at[0], at[1]) && !room.holes.some((hole) => isInRing(hole, at[0], at[1])));
}

/** The rooms an opening joins: those in front of it on either side, in the order they are met. */
export function listJoinedRooms(opening: Opening, rooms: readonly Room[]): readonly Room[] {
  const [x0, y0] = opening.from;
  const dx = opening.to[0] - x0;
  const dy = opening.to[1] - y0;
  const width = Math.hypot(dx, dy);
  const reach = opening.depth / 2 + 0.001;
  const found = new Set<Room>();
  for (const side of [1, -1]) {
    for (const along of [0.5, 0.25, 0.75]) {
      for (let step = 1; step <= 8; step++) {
        const off = (side * reach * step) / 8;
        const room = findRoomAt(rooms, [x0 + along * dx - (off * dy) / width, y0 + along * dy + (off * dx) / width]);
        if (room !== undefined) {
          found.add(room);
          break;
        }
      }
    }
  }
  return [...found];
}

/** Height of an opening's head in metres: as stated, else 2.1; for a passage the lower of the ceilings it joins. */
export function headOf(opening: Opening, floor: Floor): number {
  if (opening.head !== undefined) return opening.head;
  if (opening.kind !== 'passage') return DOOR_HEAD;
  const ceilings = listJoinedRooms(opening, floor.rooms).map((room) => room.ceiling);
  return Math.min(LIMITS.height, ...ceilings);
}

/** Whether a sight line may pass an opening: a passage always, a window never, a door by its state or when all are open. */
export function isOpen(opening: Opening, doors: Doors): boolean {
  if (opening.kind === 'passage') return true;
  if (opening.kind === 'window') return false;
  return doors === 'open' || opening.state === 'open';
}

/**
 * Height of a detector's lens in metres: as stated, else the ceiling of its room less its type's drop.
 * Outside every room and without a stated height it is 0, where nothing is seen.
 */
export function lensHeightOf(detector: Detector, floor: Floor): number {
  if (detector.height !== undefined) return detector.height;
  const room = findRoomAt(floor.rooms, detector.at);
  const type = floor.types.find((each) => each.id === detector.type);
  return room === undefined ? 0 : Math.max(0, room.ceiling - (type?.drop ?? 0));
}

/** The share of a zone that has to be seen (of `nobody`: that may be seen): as stated, else 0.95, and 0 for `nobody`. */
export function shareOf(zone: Zone): number {
  return zone.share ?? (zone.need === 'nobody' ? 0 : ZONE_SHARE);
}
