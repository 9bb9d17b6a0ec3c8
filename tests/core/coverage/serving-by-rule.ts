import type { Floor, Point } from '../../../src/core/floor/index.ts';
import { findRoomAt } from '../../../src/core/floor/index.ts';
import { isInRing } from '../../../src/core/geometry/polygon.ts';

/**
 * Indices of the detectors whose group serves a place: what the group names, else the rooms in which its detectors hang; a
 * detector in no group serves its own room, one to be removed nothing.
 */
export function listServing(floor: Floor, at: Point): number[] {
  const room = findRoomAt(floor.rooms, at)?.id;
  if (room === undefined) return [];
  const hangsIn = (index: number) => findRoomAt(floor.rooms, floor.detectors[index]!.at)?.id;
  const isUsed = (index: number) => floor.detectors[index]!.status !== 'remove';
  return [...floor.detectors.keys()].filter((index) => {
    const { id } = floor.detectors[index]!;
    if (!isUsed(index)) return false;
    const group = floor.groups.find(({ main, extensions }) => main === id || extensions.includes(id));
    if (!group) return hangsIn(index) === room;
    if (group.serves) {
      return group.serves.some((served) => {
        const zone = floor.zones.find((each) => each.id === served);
        return served === room || (zone !== undefined && isInRing(zone.outline, ...at));
      });
    }
    const members = [group.main, ...group.extensions].map((each) => floor.detectors.findIndex((d) => d.id === each));
    return members.some((member) => isUsed(member) && hangsIn(member) === room);
  });
}
