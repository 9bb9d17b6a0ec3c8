/** Values a file may leave out and that follow from more than their own object. Lengths in metres. */
import { overlaps } from '../geometry/polygon.ts';
import { boxChangedRooms, boxJoin, findRoomAt, listJoinedRooms } from './rooms.ts';
import { type Detector, type DetectorType, type Floor, LIMITS, type Opening, type Room, type Zone } from './schema.ts';

/** Whether doors count as their `state` says, or every door as open. A passage is always open, a window never. */
export type Doors = 'stated' | 'open';

const DOOR_HEAD = 2.1;
const ZONE_SHARE = 0.95;

const passageHeads = new WeakMap<readonly Room[], WeakMap<Opening, number>>();

/**
 * Height of an opening's head: as stated, else 2.1 m; for a passage the lower of the ceilings it joins, and the
 * highest there may be when it joins none (it then cuts no wall either).
 */
export function headOf(opening: Opening, floor: Floor): number {
  if (opening.head !== undefined) return opening.head;
  if (opening.kind !== 'passage') return DOOR_HEAD;
  let heads = passageHeads.get(floor.rooms);
  if (heads === undefined) {
    heads = new WeakMap();
    passageHeads.set(floor.rooms, heads);
  }
  let head = heads.get(opening);
  if (head === undefined) {
    head = Math.min(LIMITS.height, ...listJoinedRooms(opening, floor.rooms).map((room) => room.ceiling));
    heads.set(opening, head);
  }
  return head;
}

/** Takes over the heads of passages far from the rooms that differ: asking for each which rooms it joins takes long. */
export function keepHeads(before: Floor, next: Floor): void {
  const known = passageHeads.get(before.rooms);
  if (known === undefined || before.rooms === next.rooms || passageHeads.has(next.rooms)) return;
  const changed = boxChangedRooms(before.rooms, next.rooms);
  if (changed === null) return;
  const heads = new WeakMap<Opening, number>();
  for (const opening of next.openings) {
    const head = known.get(opening);
    if (head === undefined) continue;
    const box = boxJoin(opening);
    if (!changed.some((each) => overlaps(each, box))) heads.set(opening, head);
  }
  passageHeads.set(next.rooms, heads);
}

/** Whether a sight line may pass an opening: a passage always, a window never, a door by its state or when all are open. */
export function isOpen(opening: Opening, doors: Doors): boolean {
  if (opening.kind === 'passage') return true;
  if (opening.kind === 'window') return false;
  return doors === 'open' || opening.state === 'open';
}

/**
 * Height of a detector's lens: as stated, else the ceiling of its room less its type's drop, never below the floor.
 * Outside every room and without a stated height it is 0, where nothing is seen.
 */
export function lensHeightOf(detector: Detector, floor: Floor): number {
  if (detector.height !== undefined) return detector.height;
  const room = findRoomAt(floor.rooms, detector.at);
  return room === undefined ? 0 : Math.max(0, room.ceiling - (findType(floor, detector)?.drop ?? 0));
}

/** The type a detector names; undefined only in a floor that was never read. */
function findType(floor: Floor, detector: Detector): DetectorType | undefined {
  return floor.types.find((type) => type.id === detector.type);
}

/** The share of a zone that has to be seen (of `nobody`: that may be seen): as stated, else 0.95, and 0 for `nobody`. */
export function shareOf(zone: Zone): number {
  return zone.share ?? (zone.need === 'nobody' ? 0 : ZONE_SHARE);
}

/** Whether a floor has no rooms yet: the state an editor begins with, of which there is nothing to check. */
export function isEmpty(floor: Floor): boolean {
  return floor.rooms.length === 0;
}
