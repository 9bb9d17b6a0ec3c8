/** Things, places and outlines chosen at random on a floor, as random edits need them. */
import type { FloorFile, Point, Ring } from '../../../src/core/floor/index.ts';
import { computeBox } from '../../../src/core/geometry/polygon.ts';
import type { Edit } from '../../../src/editor/edits/edit.ts';
import { LIST_NAMES, type ListName, listOf } from '../../../src/editor/edits/lists.ts';
import type { Random } from '../../models/random.ts';

/** An edit with everything about it chosen at random. */
export type RandomEdit = (file: FloorFile, random: Random) => Edit;

export const tidy = (value: number): number => Math.round(value * 1000) / 1000;
/** A place, mostly in a room. */
export function place(file: FloorFile, random: Random): Point {
  const room = file.rooms[random.whole(0, Math.max(0, file.rooms.length - 1))];
  if (room === undefined || random.chance(0.2)) return [tidy(random.between(-1, 17)), tidy(random.between(-1, 10))];
  const { minX, minY, maxX, maxY } = computeBox(room.outline);
  return [tidy(random.between(minX, maxX)), tidy(random.between(minY, maxY))];
}

/** The ends of a line right through a room's box. */
export function line(file: FloorFile, random: Random, roomId: string): readonly [Point, Point] {
  const room = file.rooms.find(({ id }) => id === roomId);
  if (room === undefined) return [place(file, random), place(file, random)];
  const { minX, minY, maxX, maxY } = computeBox(room.outline);
  const [x, y] = [tidy(random.between(minX, maxX)), tidy(random.between(minY, maxY))];
  const lean = random.chance(0.5) ? 0 : random.between(-1, 1);
  return random.chance(0.5)
    ? [
        [x, minY - 1],
        [x + lean, maxY + 1],
      ]
    : [
        [minX - 1, y],
        [maxX + 1, y + lean],
      ];
}
export const near = (random: Random, [x, y]: Point, reach: number): Point => [
  tidy(x + random.between(-reach, reach)),
  tidy(y + random.between(-reach, reach)),
];
export const box = (file: FloorFile, random: Random, least: number, most: number): Ring => {
  const [x, y] = place(file, random);
  const [w, h] = [tidy(random.between(least, most)), tidy(random.between(least, most))];
  return [
    [x, y],
    [tidy(x + w), y],
    [tidy(x + w), tidy(y + h)],
    [x, tidy(y + h)],
  ];
};

/** An id of a list, now and then one that is gone or of another kind. */
export function idOf(file: FloorFile, random: Random, list: ListName): string {
  const items = listOf(file, list);
  if (items.length === 0 || random.chance(0.02)) return random.pick(['gone', 'R1', 'D1', 'F1']);
  return random.pick(items).id;
}

export function someIds(file: FloorFile, random: Random, most = 4): readonly string[] {
  return Array.from({ length: random.whole(1, most) }, () => idOf(file, random, random.pick(LIST_NAMES)));
}

/** Ids of things of any kind, rooms but seldom: what is in them goes with them. */
export function someToDelete(file: FloorFile, random: Random, most: number): readonly string[] {
  const ids = someIds(file, random, most);
  return random.chance(0.2) ? ids : ids.filter((id) => !file.rooms.some((room) => room.id === id));
}

export function someOf(file: FloorFile, random: Random, list: ListName, most = 3): readonly string[] {
  return Array.from({ length: random.whole(1, most) }, () => idOf(file, random, list));
}

/** A ring of a room, furniture or zone, and one of its corners. */
export function cornerOf(file: FloorFile, random: Random, lists: readonly ('rooms' | 'furniture' | 'zones')[]) {
  const list = random.pick(lists);
  const id = idOf(file, random, list);
  const item = listOf(file, list).find((each) => each.id === id);
  const holes = item !== undefined && 'holes' in item ? (item.holes ?? []) : [];
  const ring = random.chance(0.2) ? random.whole(0, holes.length) : 0;
  const points = ring === 0 ? item?.outline : holes[ring - 1];
  const corner = random.whole(0, Math.max(0, (points?.length ?? 1) - 1));
  const at = points?.[corner] ?? [0, 0];
  const next = points?.[(corner + 1) % points.length] ?? at;
  return { id, ring, corner, at, middle: [(at[0] + next[0]) / 2, (at[1] + next[1]) / 2] as Point };
}
