/** The lengths of a room's walls, and a wall made as long as somebody measured it. */
import type { FloorFile, Room } from '../../core/floor/index.ts';
import { computeSignedArea } from '../../core/geometry/polygon.ts';
import { type Side, sideOf } from '../measure.ts';
import { measureDirection } from '../snapping/plan.ts';
import { moveRoomEdge } from './edge-moves.ts';
import { type Edit, refuse, refuseGone } from './edit.ts';
import { nameThing, startSentence } from './fault-words.ts';
import { findItem } from './lists.ts';
import { cornerOf, distance, dot, unit } from './plane.ts';

export interface WallLength {
  /** From this corner of the outline to the next. */
  readonly edge: number;
  /** Metres. */
  readonly length: number;
  /** Where it stands, seen from inside. */
  readonly side: Side;
  /** Among the walls of this side, in the order of the outline; null: it is the only one. */
  readonly number: number | null;
}

/** The walls of a room's outline in their order. */
export function listWallLengths({ outline }: Pick<Room, 'outline'>, north: number): readonly WallLength[] {
  const outwards = computeSignedArea(outline) > 0 ? -90 : 90;
  const walls = outline.map((a, edge) => {
    const b = cornerOf(outline, edge + 1);
    return { edge, length: distance(a, b), side: sideOf(measureDirection(a, b) + outwards, north) };
  });
  return walls.map((wall) => {
    const same = walls.filter(({ side }) => side === wall.side);
    return { ...wall, number: same.length === 1 ? null : same.indexOf(wall) + 1 };
  });
}

/**
 * Makes a wall of a room's outline so many metres long: the wall at its end is moved, and the walls of other rooms that
 * face that one go along.
 */
export function setWallLength(file: FloorFile, roomId: string, edge: number, length: number): Edit {
  const room = findItem(file, 'rooms', roomId);
  if (room?.outline[edge] === undefined) return refuseGone('wall');
  const { outline } = room;
  const [a, b, c] = [cornerOf(outline, edge), cornerOf(outline, edge + 1), cornerOf(outline, edge + 2)];
  const along = unit(a, b);
  const next = unit(b, c);
  const sign = computeSignedArea(outline) > 0 ? 1 : -1;
  // How far the wall at the end goes out for each metre its foot goes on.
  const outwards = dot(along, [sign * next[1], -sign * next[0]]);
  if (Math.abs(outwards) < 0.05)
    return refuse(
      `${startSentence(nameThing({ list: 'rooms', item: room }))} goes straight on at the end of this wall`,
      'Take the corner between them out first.',
    );
  const by = (length - distance(a, b)) * outwards;
  return moveRoomEdge(file, roomId, 0, (edge + 1) % outline.length, by);
}
