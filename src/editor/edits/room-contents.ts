/** What is in a room and goes along with it. */
import { type FloorFile, findRoomAt, type Point, type Ring, resolveFloor } from '../../core/floor/index.ts';
import { computeSegmentDistance } from '../../core/geometry/polygon.ts';
import { findItem, type Items, type ListName, listOf, type Placed } from './lists.ts';
import { between } from './plane.ts';
import { placeOfThing } from './rigid-moves.ts';

const STANDING: readonly Exclude<ListName, 'rooms' | 'openings' | 'types' | 'groups'>[] = [
  'furniture',
  'luminaires',
  'workplaces',
  'zones',
  'sources',
  'detectors',
];

const contents = new WeakMap<FloorFile, ReadonlyMap<string, readonly string[]>>();

/** By room the ids of what stands or hangs in it; worked out once for a file, as a drag asks for each of its frames. */
function contentsOf(file: FloorFile): ReadonlyMap<string, readonly string[]> {
  const known = contents.get(file);
  if (known !== undefined) return known;
  const { rooms } = resolveFloor(file);
  const made = new Map<string, string[]>(rooms.map(({ id }) => [id, []]));
  for (const list of STANDING) {
    for (const item of listOf(file, list)) {
      const room = findRoomAt(rooms, placeOfThing({ list, item } as Placed));
      if (room !== undefined) made.get(room.id)?.push(item.id);
    }
  }
  contents.set(file, made);
  return made;
}

/** Ids of what stands or hangs in a room, by its middle, and of the openings in its walls. Empty when the room is gone. */
export function listContents(file: FloorFile, roomId: string): readonly string[] {
  const room = findItem(file, 'rooms', roomId);
  if (room === undefined) return [];
  const cut = listOf(file, 'openings').filter((opening) => isInWallOf(opening, room));
  return [...(contentsOf(file).get(roomId) ?? []), ...cut.map(({ id }) => id)];
}

/** The ids, and for every room among them the ids of its contents. */
export function withContents(file: FloorFile, ids: readonly string[]): readonly string[] {
  return [...new Set([...ids, ...ids.flatMap((id) => listContents(file, id))])];
}

/** Whether the middle of an opening lies in a wall of a room, within half its depth. */
export function isInWallOf({ from, to, depth = 0.4 }: Items['openings'], room: Items['rooms']): boolean {
  const [x, y] = between(from, to, 0.5);
  return [room.outline, ...(room.holes ?? [])].some((ring) =>
    ring.some((a, i) => computeSegmentDistance(a, nextCorner(ring, i), x, y) <= depth / 2 + 1e-9),
  );
}

function nextCorner(ring: Ring, index: number): Point {
  return ring[(index + 1) % ring.length] as Point;
}
