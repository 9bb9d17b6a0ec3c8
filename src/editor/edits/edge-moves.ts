/** A wall of a room pushed out or in, with the walls of other rooms that face it. */
import { type FloorFile, findRoomAt, resolveFloor } from '../../core/floor/index.ts';
import { carryOpenings, type WallMove } from './carried-openings.ts';
import { createChange } from './change.ts';
import { type Edit, type Refused, refuse, refuseGone } from './edit.ts';
import { nameThing, showMetres } from './fault-words.ts';
import { findItem } from './lists.ts';
import { dropRepeatedCorners } from './outlines.ts';
import { SAME } from './plane.ts';
import { findFaces, pushFacing, pushOwn, startPush, THICKEST_WALL } from './pushed-walls.ts';
import { boxWithin, findWallRing, listWallRings, ringsNear, setRings } from './wall-rings.ts';

/**
 * Moves an edge of a room at right angles to itself. Its ends slide along the walls they meet; where such a wall goes
 * straight on, the edge parts from it with a step. Openings in the wall go along.
 * @param ring 0 for the outline, 1 for the first hole
 * @param by metres, above 0 out of the room
 * @param together whether the walls of other rooms that face the edge, in one line with it or across the thickness of a
 *   wall, are moved by as much; one that goes on beyond the edge gets a step at its ends
 */
export function moveRoomEdge(
  file: FloorFile,
  roomId: string,
  ring: number,
  edge: number,
  by: number,
  together = true,
): Edit {
  const room = findItem(file, 'rooms', roomId);
  const rings = listWallRings(file);
  const own = findWallRing(rings, roomId, ring);
  if (room === undefined || own?.before[edge] === undefined) return refuseGone('wall');
  const { rooms } = resolveFloor(file);
  const push = startPush(own, edge, by, (at) => findRoomAt(rooms, at) === undefined);
  const near = together ? ringsNear(rings, boxWithin([push.a, push.b], THICKEST_WALL + SAME)) : [];
  const facing = near
    .filter((other) => other.roomId !== roomId)
    .map((other) => ({ other, faces: findFaces(other, push) }))
    .filter(({ faces }) => faces.some((face) => face !== null));
  const pushed = pushOwn(own, edge, push, facing);
  if (pushed === null) return refusePassing('');
  const moves: WallMove[] = [...pushed.moves];
  for (const each of facing) {
    const along = pushFacing(each, push, pushed);
    if (along === null) return refusePassing(` of ${nameOf(file, each.other.roomId)}`);
    each.other.points = dropRepeatedCorners(along.points);
    moves.push(...along.moves);
  }
  own.points = dropRepeatedCorners(pushed.points);

  const change = createChange(file);
  const fault = setRings(change, [own, ...facing.map(({ other }) => other)]) ?? carryOpenings(change, moves);
  if (fault !== null) return fault;
  const name = nameThing({ list: 'rooms', item: room });
  return change.plan(`Moved a wall of ${name} by ${showMetres(Math.abs(by))}`, [roomId]);
}

function refusePassing(whose: string): Refused {
  return refuse(
    `The wall would pass the end of the one beside it${whose}`,
    'Move it less far, or take a corner out first.',
  );
}

function nameOf(file: FloorFile, roomId: string): string {
  const item = findItem(file, 'rooms', roomId);
  return item === undefined ? roomId : nameThing({ list: 'rooms', item });
}
