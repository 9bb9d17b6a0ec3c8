/** Whether a lens could hang somewhere: in a room, clear of its walls and of what holds its height. */
import type { Detector, Floor, Point } from '../../floor/index.ts';
import { findRoomAt, lensHeightOf } from '../../floor/index.ts';
import { computeRingDistance, isInRing } from '../../geometry/polygon.ts';
import { luminaireOutline } from '../../sight/index.ts';

/** Metres a lens keeps from walls and pieces, as the floor file asks. */
const CLEARANCE = 0.005;

/** Would the floor file accept the detector at this place, with the height it has or the room gives it? */
export function hangsFree(floor: Floor, detector: Detector, at: Point): boolean {
  const [x, y] = at;
  const room = findRoomAt(floor.rooms, at);
  if (!room) return false;
  const height = lensHeightOf({ ...detector, at }, floor);
  if (height <= 0 || height > room.ceiling) return false;
  const walls = floor.rooms.flatMap((each) => [each.outline, ...each.holes]);
  if (walls.some((ring) => computeRingDistance(ring, x, y) < CLEARANCE)) return false;
  const isClearOf = (outline: readonly Point[], base: number, top: number) =>
    height < base || height > top || !(isInRing(outline, x, y) || computeRingDistance(outline, x, y) < CLEARANCE);
  return (
    floor.furniture.every(({ outline, base, top }) => isClearOf(outline, base, top)) &&
    floor.luminaires.every((each) => isClearOf(luminaireOutline(each.at, each.size, each.turn), each.base, each.top))
  );
}
