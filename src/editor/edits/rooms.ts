/** Rooms drawn, their holes, their ceilings and tiles. */
import { type FloorFile, type Heights, LIMITS, type Point, type Ring } from '../../core/floor/index.ts';
import { tidy, turnInto360 } from '../recipes.ts';
import { createChange } from './change.ts';
import { type Edit, refuse, refuseGone } from './edit.ts';
import { nameThing, nameThings, showMetres } from './fault-words.ts';
import { createIdMaker } from './ids.ts';
import { findItem, type Items } from './lists.ts';
import { findOutlineFault } from './outlines.ts';
import { finePoint, rectangleBetween } from './plane.ts';

/** What is drawn with a room; what is left out is asked of nobody. */
export interface NewRoom {
  /** Left out: the next `Room 3`. */
  readonly name?: string;
  readonly use?: string;
  /** Metres; left out: the ceiling of the room drawn last, else 2.8. */
  readonly ceiling?: number;
  readonly ceilingFrom?: Heights;
}

const FIRST_CEILING = 2.8;

/** A room within an outline. Like its ceiling, where it is left out, its standing (`ceilingFrom`) is then only assumed. */
export function addRoom(file: FloorFile, outline: Ring, rest: NewRoom = {}): Edit {
  const ring = outline.map(finePoint);
  const maker = createIdMaker(file);
  const name = rest.name ?? maker.nextName('rooms', 'Room');
  const fault = findOutlineFault(ring, 'the outline');
  if (fault !== null) return fault;
  const ceiling = rest.ceiling ?? file.rooms.at(-1)?.ceiling ?? FIRST_CEILING;
  const ceilingFrom = rest.ceilingFrom ?? (rest.ceiling === undefined ? 'assumed' : undefined);
  const id = maker.next('rooms');
  const change = createChange(file);
  change.add('rooms', {
    id,
    name,
    ...(rest.use === undefined ? {} : { use: rest.use }),
    outline: ring,
    ceiling,
    ...(ceilingFrom === undefined ? {} : { ceilingFrom }),
  });
  return change.plan(`Added ${nameThing({ list: 'rooms', item: { id, name, outline: ring, ceiling } })}`, [id]);
}

/** A rectangular room between two opposite corners. */
export function addRectangularRoom(file: FloorFile, a: Point, b: Point, rest: NewRoom = {}): Edit {
  return addRoom(file, rectangleBetween(a, b), rest);
}

/** Cuts a hole out of a room: a shaft, a void, a column too large to be furniture. Its edges are walls. */
export function addHole(file: FloorFile, roomId: string, outline: Ring): Edit {
  const room = findItem(file, 'rooms', roomId);
  if (room === undefined) return refuseGone('room');
  const hole = outline.map(finePoint);
  const fault = findOutlineFault(hole, 'the hole');
  if (fault !== null) return fault;
  return changeRoom(file, { ...room, holes: [...(room.holes ?? []), hole] }, (name) => `Cut a hole into ${name}`);
}

/** Takes a hole away; its place belongs to the room again. */
export function removeHole(file: FloorFile, roomId: string, index: number): Edit {
  const room = findItem(file, 'rooms', roomId);
  if (room?.holes?.[index] === undefined) return refuseGone('hole');
  const holes = room.holes.filter((_, i) => i !== index);
  return changeRoom(file, { ...room, holes }, (name) => `Closed a hole of ${name}`);
}

/** Sets the ceiling of rooms, and how it is known: measured, drawn or assumed. What is left out stays. */
export function setCeilings(
  file: FloorFile,
  roomIds: readonly string[],
  { height, from }: { readonly height?: number; readonly from?: Heights },
): Edit {
  if (height !== undefined && !(height > 0 && height <= LIMITS.height))
    return refuse(`A ceiling of ${height} m is out of bounds`, `Write a height above 0 and up to ${LIMITS.height} m.`);
  const rooms = roomIds.map((id) => findItem(file, 'rooms', id)).filter((room) => room !== undefined);
  if (rooms.length === 0) return refuseGone('room');
  const change = createChange(file);
  for (const room of rooms)
    change.set('rooms', {
      ...room,
      ...(height === undefined ? {} : { ceiling: tidy(height) }),
      ...(from === undefined ? {} : { ceilingFrom: from }),
    });
  const whose = nameThings(rooms.map((item) => ({ list: 'rooms', item })));
  const to = height === undefined ? `is ${from ?? 'as before'}` : `is ${showMetres(height)}`;
  return change.plan(
    `Ceiling of ${whose} ${to}`,
    rooms.map(({ id }) => id),
  );
}

/** Lays the ceiling grid of a room, or takes it away (null). Metres and degrees; what is left out of it stays as it was. */
export function setTiles(file: FloorFile, roomId: string, tiles: Partial<Tiles> | null): Edit {
  const room = findItem(file, 'rooms', roomId);
  if (room === undefined) return refuseGone('room');
  if (tiles === null) {
    const { tiles: _, ...rest } = room;
    return changeRoom(file, rest, (name) => `Took the ceiling grid of ${name} away`);
  }
  const pitch = tiles.pitch ?? room.tiles?.pitch;
  if (pitch !== undefined && !pitch.every((side) => side > 0 && side <= 100))
    return refuse('A tile has no size', 'Write a pitch above 0 and up to 100 m, such as 0.6.');
  const origin = tiles.origin ?? room.tiles?.origin ?? room.outline[0] ?? [0, 0];
  const turn = tiles.turn ?? room.tiles?.turn;
  const next = {
    ...room.tiles,
    origin: finePoint(origin),
    ...(pitch === undefined ? {} : { pitch }),
    ...(turn === undefined ? {} : { turn: turnInto360(turn) }),
  };
  return changeRoom(file, { ...room, tiles: next }, (name) => `Laid the ceiling grid of ${name}`);
}

type Tiles = NonNullable<Items['rooms']['tiles']>;

function changeRoom(file: FloorFile, room: Items['rooms'], name: (room: string) => string): Edit {
  const change = createChange(file);
  change.set('rooms', room);
  return change.plan(name(nameThing({ list: 'rooms', item: room })), [room.id]);
}
