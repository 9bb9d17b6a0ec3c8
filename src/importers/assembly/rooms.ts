/** The rooms of a storey: as drawn, from walls, or both; no two of them over one another. */
import type { Point, Ring } from '../../core/floor/index.ts';
import { createBoxIndex } from '../../core/geometry/box-index.ts';
import { computeBox, isInRing } from '../../core/geometry/polygon.ts';
import type { DrawnRoom, DrawnStorey, DrawnWall, Standing } from '../storey.ts';
import { type Account, placeOf } from './account.ts';
import { DEFAULT_GAP, type ImportAnswers, WIDEST_GAP } from './answers.ts';
import {
  type Area,
  areaOf,
  areaOfFace,
  common,
  type Face,
  grow,
  listFaces,
  measureArea,
  measureFace,
  subtract,
  unite,
} from './region.ts';
import { makeSoundFace } from './sound-ring.ts';
import { findWallFaces, LEAST_ROOM, LEAST_WIDTH } from './wall-faces.ts';

/** A room that a floor file can hold. */
export interface SoundRoom {
  readonly key: string;
  readonly name: string;
  readonly use?: string;
  readonly face: Face;
  readonly ceiling: number | null;
  readonly standing: Standing;
}

export interface FoundRooms {
  readonly rooms: readonly SoundRoom[];
  /** Wall standing free in a room found from walls. */
  readonly free: readonly Face[];
}

/** Two rooms that share more than this part of the smaller one, and of each other, are one room drawn twice. */
const SAME_ROOM = 0.95;
/** Drawn rooms that cover less than this part of what the walls enclose are not all there is. */
const MOST_DRAWN = 0.5;
/** Pushing in less deep than this is a common edge, metres. */
const SHALLOW = 0.0005;
/** `24,5 m²`, `120 sf`, `2.80`: sizes, not names. */
const AREA_WORDS = /^[\d.,'\s]*(?:m²|m2|qm|sq\.?\s?(?:m|ft)|sf|ft²|m)?$/iu;
const MOST_LABELS = 2;

export function findRooms(
  storey: DrawnStorey,
  bounding: readonly DrawnWall[],
  answers: ImportAnswers,
  account: Account,
): FoundRooms {
  const gap = Math.min(WIDEST_GAP, Math.max(0, answers.gap ?? DEFAULT_GAP));
  const from = answers.rooms ?? 'auto';
  const drawn = from === 'walls' ? [] : soundRooms(storey.rooms, account);
  if (from === 'drawn' || bounding.length === 0) return { rooms: partRooms(drawn, account), free: [] };

  const faces = findWallFaces(bounding, storey.openings, gap);
  const covered = areaOf(drawn.map(({ face }) => face.outline));
  if (from === 'auto' && drawn.length > 0) {
    const enclosed = faces.rooms.reduce((sum, face) => sum + measureFace(face), 0);
    if (measureArea(covered) >= MOST_DRAWN * enclosed) return { rooms: partRooms(drawn, account), free: [] };
  }
  for (const face of faces.small) {
    if (measureFace(face) >= 0.05 && grow(areaOf([face.outline]), -0.15).length > 0)
      account.add(
        'left out',
        'enclosed places',
        `They are smaller than ${LEAST_ROOM} m² or nowhere ${LEAST_WIDTH} m wide: shafts and the insides of walls.`,
        { key: '', name: '', at: middleOf(face) },
      );
  }
  const found = nameFaces(faces.rooms, storey, covered, account);
  return { rooms: partRooms([...drawn, ...found], account), free: faces.free };
}

/** Rooms as drawn, made sound; what cannot be is told. */
function soundRooms(rooms: readonly DrawnRoom[], account: Account): readonly SoundRoom[] {
  return rooms.flatMap((room) => {
    const whole = makeSoundFace({ outline: room.outline, holes: [] });
    const face = whole === undefined || room.holes.length === 0 ? whole : cutHoles(whole, room.holes);
    if (face === undefined) {
      const at = room.outline.find(([x, y]) => Number.isFinite(x) && Number.isFinite(y)) ?? null;
      account.add(
        'left out',
        'rooms',
        'Their outline encloses nothing that a floor could hold. Draw them anew.',
        placeOf(room, at),
      );
      return [];
    }
    const { key, name, use, ceiling, standing } = room;
    if (standing === 'guessed')
      account.add(
        'guessed',
        'rooms',
        'That they are rooms is told from their name or layer.',
        placeOf(room, middleOf(face)),
      );
    return [{ key, name, ...(use === undefined ? {} : { use }), face, ceiling, standing }];
  });
}

function cutHoles(face: Face, holes: readonly Ring[]): Face | undefined {
  const largest = listFaces(subtract(areaOf([face.outline]), areaOf(holes)))[0];
  return largest === undefined ? undefined : makeSoundFace(largest);
}

/** Rooms from what walls enclose, top left to bottom right, without what is drawn as a room or kept free. */
function nameFaces(faces: readonly Face[], storey: DrawnStorey, covered: Area, account: Account): readonly SoundRoom[] {
  const voids = areaOf((storey.voids ?? []).map(({ outline }) => outline));
  const kept = faces.filter((face) => {
    const area = areaOfFace(face);
    const size = measureArea(area);
    if (measureArea(common(area, voids)) >= size / 2) {
      const reason = 'The source marks them as shafts or as not accessible.';
      account.add('left out', 'enclosed places', reason, { key: '', name: '', at: middleOf(face) });
      return false;
    }
    return measureArea(common(area, covered)) < size / 2;
  });
  const band = (face: Face): number => Math.round(-computeBox(face.outline).maxY / 3);
  const ordered = kept.toSorted((a, b) => band(a) - band(b) || computeBox(a.outline).minX - computeBox(b.outline).minX);
  const reason = 'The source has no rooms here: they are what the walls enclose. Check their outlines and names.';
  return ordered.flatMap((each, i) => {
    const face = makeSoundFace(each);
    if (face === undefined) return [];
    const at = middleOf(face);
    const key = `face ${at[0].toFixed(1)} ${at[1].toFixed(1)}`;
    const name = readLabels(face, storey) || `Room ${i + 1}`;
    account.add('guessed', 'rooms', reason, { key, name, at });
    return [{ key, name, face, ceiling: null, standing: 'guessed' as const }];
  });
}

/** Words of the drawing that lie in a room, from top to bottom; areas written beside a name are no part of it. */
function readLabels({ outline, holes }: Face, { labels = [] }: DrawnStorey): string {
  const isInside = ([x, y]: Point): boolean => isInRing(outline, x, y) && !holes.some((hole) => isInRing(hole, x, y));
  return labels
    .filter(({ text, at }) => isInside(at) && !AREA_WORDS.test(text.trim()))
    .toSorted((a, b) => b.at[1] - a.at[1] || a.at[0] - b.at[0])
    .slice(0, MOST_LABELS)
    .map(({ text }) => text.replace(/\s+/gu, ' ').trim())
    .join(' ')
    .slice(0, 80)
    .trim();
}

/** No two rooms over one another: the larger one gives way to the smaller, and a room drawn twice stands once. */
function partRooms(rooms: readonly SoundRoom[], account: Account): readonly SoundRoom[] {
  const order = rooms
    .map((room, place) => ({ room, place, size: measureFace(room.face) }))
    .sort((a, b) => a.size - b.size);
  const index = createBoxIndex(order.map(({ room }) => computeBox(room.face.outline)));
  /** By rank, what stands of each room; smaller rooms come first and are never cut by larger ones. */
  const standing: (readonly Face[])[] = [];
  order.forEach(({ room, size }, rank) => {
    let area: Area = [];
    let isCut = false;
    let isDouble = false;
    index.query(computeBox(room.face.outline), (other) => {
      if (other >= rank || isDouble) return isDouble;
      for (const face of standing[other] ?? []) {
        const theirs = areaOfFace(face);
        const shared = common(areaOfFace(room.face), theirs);
        if (grow(shared, -SHALLOW).length === 0) continue;
        if (measureArea(shared) > SAME_ROOM * size) isDouble = true;
        area = isCut ? subtract(area, theirs) : subtract(areaOfFace(room.face), theirs);
        isCut = true;
      }
      return isDouble;
    });
    if (isDouble) {
      account.add('left out', 'rooms', 'Another room lies in the same place.', placeOf(room, middleOf(room.face)));
      standing.push([]);
    } else if (isCut) {
      const parts = listFaces(area)
        .filter((face) => measureFace(face) >= LEAST_ROOM)
        .map(makeSoundFace)
        .filter((face) => face !== undefined);
      const reason = 'They lay over smaller rooms, which were cut out of them.';
      account.add(parts.length === 0 ? 'left out' : 'guessed', 'rooms', reason, placeOf(room, middleOf(room.face)));
      standing.push(parts);
    } else standing.push([room.face]);
  });
  const parted: { readonly place: number; readonly rooms: readonly SoundRoom[] }[] = order.map(
    ({ room, place }, rank) => ({
      place,
      rooms: (standing[rank] ?? []).map((face, part) =>
        part === 0
          ? { ...room, face }
          : { ...room, face, key: `${room.key} part ${part + 1}`, name: `${room.name} part ${part + 1}` },
      ),
    }),
  );
  return parted.sort((a, b) => a.place - b.place).flatMap(({ rooms: each }) => each);
}

/** A point of a face to point at: its middle where that lies inside, else a corner. */
export function middleOf({ outline }: { readonly outline: Ring }): Point {
  const { minX, minY, maxX, maxY } = computeBox(outline);
  const middle: Point = [(minX + maxX) / 2, (minY + maxY) / 2];
  return isInRing(outline, ...middle) ? middle : (outline[0] ?? middle);
}

/** The area that rooms cover. */
export function areaOfRooms(rooms: readonly SoundRoom[]): Area {
  return unite(...rooms.map(({ face }) => areaOfFace(face)));
}
