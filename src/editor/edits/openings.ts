/** Doors, windows and passages: put into walls, slid along them, widened, opened. */
import type { FloorFile, Point } from '../../core/floor/index.ts';
import { tidy } from '../recipes.ts';
import { createChange } from './change.ts';
import { type Edit, type Refused, refuse, refuseGone } from './edit.ts';
import { nameThing, nameThings, showMetres, startSentence } from './fault-words.ts';
import { createIdMaker } from './ids.ts';
import { findItem, type Items } from './lists.ts';
import { add, between, distance, finePoint, SAME, scale, unit } from './plane.ts';
import { findOpeningPlace, findWall, measureGap, type OpeningPlace, type Wall, type WallPlace } from './walls.ts';

type Opening = Items['openings'];

export interface NewOpening {
  readonly kind: Opening['kind'];
  /** Metres from the wall's start to the nearer side. */
  readonly along: number;
  /** Metres. */
  readonly width: number;
  /** Left out: 0 for a door or passage, 0.9 m for a window. */
  readonly sill?: number;
  readonly head?: number;
  readonly state?: 'open' | 'closed';
  /** Left out: enough to cut both faces of the wall. */
  readonly depth?: number;
}

const LEAST_WIDTH = 0.1;
const WINDOW_SILL = 0.9;
/** Metres by which an opening reaches beyond the faces of its wall, both sides together. */
const BEYOND_FACES = 0.2;

/** Puts an opening into a wall. Where another room faces the wall, it lies in the middle between the two and cuts both. */
export function addOpening(file: FloorFile, wallPlace: WallPlace, opening: NewOpening): Edit {
  const wall = findWall(file, wallPlace);
  if (wall === undefined) return refuseGone('wall');
  const { kind, width, sill = kind === 'window' ? WINDOW_SILL : 0, head, state, depth } = opening;
  const along = tidy(opening.along);
  const fault = refuseWidth(width) ?? refusePlace(wall, along, width);
  if (fault !== null) return fault;
  if (state !== undefined && kind !== 'door') return refuseState(kind);
  const gap = measureGap(file, wall, along, along + width);
  const reach = depth ?? (gap === undefined ? undefined : tidy(gap + BEYOND_FACES));
  const id = createIdMaker(file).next('openings');
  const [from, to] = endsAt(wall, along, width, (gap ?? 0) / 2);
  const item: Opening = {
    id,
    kind,
    from,
    to,
    ...(reach === undefined ? {} : { depth: reach }),
    ...(sill === 0 ? {} : { sill }),
    ...(head === undefined ? {} : { head }),
    ...(state === undefined ? {} : { state }),
  };
  const change = createChange(file);
  change.add('openings', item);
  return change.plan(`Added ${nameThing({ list: 'openings', item })}`, [id]);
}

function endsAt({ a, b, outward }: Wall, along: number, width: number, off: number): readonly [Point, Point] {
  const axis = unit(a, b);
  const at = (t: number): Point => finePoint(add(a, add(scale(axis, t), scale(outward, off))));
  return [at(along), at(along + width)];
}

function refuseWidth(width: number): Refused | null {
  return width >= LEAST_WIDTH
    ? null
    : refuse(`An opening of ${showMetres(width)} is too narrow`, `Write at least ${LEAST_WIDTH} m.`);
}

function refusePlace(wall: Wall, along: number, width: number): Refused | null {
  if (along >= -SAME && along + width <= wall.length + SAME) return null;
  const left = wall.length - Math.max(along, 0);
  const what = `The wall is ${showMetres(wall.length)} long, and the opening would end at ${showMetres(along + width)}`;
  if (along < 0) return refuse('The opening would begin before its wall', 'Write a distance from 0.');
  return left >= LEAST_WIDTH
    ? refuse(what, `There is room for ${showMetres(left)} here.`)
    : refuse(what, 'Put it nearer to the start of the wall.');
}

function refuseState(kind: Opening['kind']): Refused {
  return kind === 'window'
    ? refuse('A window never opens for sight', 'Only a door is open or closed.')
    : refuse('A passage is always open', 'Only a door is open or closed.');
}

/** The opening and its wall, or why it cannot be changed in it. */
function findPlaced(file: FloorFile, id: string): { readonly opening: Opening; readonly spot: OpeningPlace } | Refused {
  const opening = findItem(file, 'openings', id);
  if (opening === undefined) return refuseGone('opening');
  const spot = findOpeningPlace(file, opening);
  if (spot !== undefined) return { opening, spot };
  return refuse(
    `${startSentence(nameThing({ list: 'openings', item: opening }))} lies in no wall`,
    'Move it onto a wall of a room.',
  );
}

/** The opening at another place of its wall, as far from the wall's line as it was. */
function replace({ wall, off, isForward }: OpeningPlace, opening: Opening, along: number, width: number): Opening {
  const [low, high] = endsAt(wall, along, width, off);
  return { ...opening, from: isForward ? low : high, to: isForward ? high : low };
}

/** Slides an opening along its wall, to a distance of its nearer side from the wall's start. It stops at the wall's ends. */
export function slideOpening(file: FloorFile, id: string, along: number): Edit {
  const found = findPlaced(file, id);
  if ('ok' in found) return found;
  const { opening, spot } = found;
  const next = tidy(Math.max(0, Math.min(along, spot.wall.length - spot.width)));
  return changeOpening(
    file,
    replace(spot, opening, next, spot.width),
    (name) => `Moved ${name} by ${showMetres(Math.abs(next - spot.along))}`,
  );
}

/** Sets the width of an opening about its middle. */
export function setOpeningWidth(file: FloorFile, id: string, width: number): Edit {
  const found = findPlaced(file, id);
  if ('ok' in found) return found;
  const { opening, spot } = found;
  const fault = refuseWidth(width);
  if (fault !== null) return fault;
  const middle = spot.along + spot.width / 2;
  const most = 2 * Math.min(middle, spot.wall.length - middle);
  if (width > most + SAME)
    return refuse(
      `${startSentence(nameThing({ list: 'openings', item: opening }))} would be wider than its wall`,
      `Write at most ${showMetres(Math.floor(most * 1000) / 1000)}, or move it away from the corner.`,
    );
  return changeOpening(
    file,
    replace(spot, opening, middle - width / 2, width),
    (name) => `Made ${name} ${showMetres(width)} wide`,
  );
}

/** Moves an opening to the wall and place nearest to a point, as wide as it is; the middle line is taken anew. */
export function moveOpening(file: FloorFile, id: string, wallPlace: WallPlace, along: number): Edit {
  const opening = findItem(file, 'openings', id);
  const wall = findWall(file, wallPlace);
  if (opening === undefined || wall === undefined) return refuseGone(wall === undefined ? 'wall' : 'opening');
  const width = distance(opening.from, opening.to);
  const start = tidy(Math.max(0, Math.min(along, wall.length - width)));
  const fault = refusePlace(wall, start, width);
  if (fault !== null) return fault;
  const gap = measureGap(file, wall, start, start + width);
  const [from, to] = endsAt(wall, start, width, (gap ?? 0) / 2);
  const depth = Math.max(opening.depth ?? 0.4, gap === undefined ? 0 : tidy(gap + BEYOND_FACES));
  const next: Opening = { ...opening, from, to, ...(depth === (opening.depth ?? 0.4) ? {} : { depth }) };
  const way = distance(between(opening.from, opening.to, 0.5), between(from, to, 0.5));
  return changeOpening(file, next, (name) => `Moved ${name} by ${showMetres(way)}`);
}

/** Opens closed doors and closes open ones. Several that differ are all opened. */
export function flipDoors(file: FloorFile, ids: readonly string[]): Edit {
  const openings = ids.map((id) => findItem(file, 'openings', id)).filter((opening) => opening !== undefined);
  const doors = openings.filter(({ kind }) => kind === 'door');
  if (doors.length === 0) return openings[0] === undefined ? refuseGone('door') : refuseState(openings[0].kind);
  const state = doors.every((door) => door.state === 'open') ? 'closed' : 'open';
  const change = createChange(file);
  for (const door of doors) change.set('openings', { ...door, state });
  const named = nameThings(doors.map((item) => ({ list: 'openings', item })));
  return change.plan(
    `${state === 'open' ? 'Opened' : 'Closed'} ${named}`,
    doors.map(({ id }) => id),
  );
}

/** Makes a door of a window and so on. What the new kind does not have is left out. */
export function setOpeningKind(file: FloorFile, id: string, kind: Opening['kind']): Edit {
  const opening = findItem(file, 'openings', id);
  if (opening === undefined) return refuseGone('opening');
  const { state, ...rest } = opening;
  const next: Opening = { ...rest, kind, ...(kind === 'door' && state !== undefined ? { state } : {}) };
  return changeOpening(file, next, () => `Made ${nameThing({ list: 'openings', item: opening })} a ${kind}`);
}

/** Sets sill, head or depth of an opening, metres. A head of null is the default of its kind again. */
export function setOpeningHeights(
  file: FloorFile,
  id: string,
  { sill, head, depth }: { readonly sill?: number; readonly head?: number | null; readonly depth?: number },
): Edit {
  const opening = findItem(file, 'openings', id);
  if (opening === undefined) return refuseGone('opening');
  const { head: before, ...rest } = opening;
  const nextHead = head === undefined ? before : (head ?? undefined);
  const nextSill = sill ?? opening.sill ?? 0;
  if (nextHead !== undefined && nextHead <= nextSill)
    return refuse(
      `The head of ${nameThing({ list: 'openings', item: opening })} would be ${showMetres(nextHead)} and its sill ${showMetres(nextSill)}`,
      'The head must be above the sill.',
    );
  const next: Opening = {
    ...rest,
    ...(sill === undefined ? {} : { sill: tidy(sill) }),
    ...(nextHead === undefined ? {} : { head: tidy(nextHead) }),
    ...(depth === undefined ? {} : { depth: tidy(depth) }),
  };
  return changeOpening(file, next, (name) => `Changed the heights of ${name}`);
}

function changeOpening(file: FloorFile, opening: Opening, name: (opening: string) => string): Edit {
  const change = createChange(file);
  change.set('openings', opening);
  return change.plan(name(nameThing({ list: 'openings', item: opening })), [opening.id]);
}
