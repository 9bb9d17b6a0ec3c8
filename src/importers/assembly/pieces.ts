/** Furniture, luminaires and sources of a storey: with heights, inside rooms, below the ceiling. */
import { type FloorFile, LIMITS, type Point, type Ring } from '../../core/floor/index.ts';
import { createBoxIndex } from '../../core/geometry/box-index.ts';
import { computeBox, isInRing } from '../../core/geometry/polygon.ts';
import type { DrawnPiece, DrawnStorey } from '../storey.ts';
import { type Account, placeOf } from './account.ts';
import { ASSUMED, type ImportAnswers } from './answers.ts';
import { middleOf, type SoundRoom } from './rooms.ts';
import { makeSound } from './sound-ring.ts';

type Furniture = NonNullable<FloorFile['furniture']>[number];

/** A room with its ceiling settled. */
export interface CeiledRoom extends SoundRoom {
  readonly ceiling: number;
  /** Whether nobody stated the ceiling. */
  readonly isAssumed?: boolean;
}

/** Which room holds a place. */
export type FindRoom = (at: Point) => CeiledRoom | undefined;

export function createRoomFinder(rooms: readonly CeiledRoom[]): FindRoom {
  const index = createBoxIndex(rooms.map(({ face }) => computeBox(face.outline)));
  return ([x, y]) => {
    let found: CeiledRoom | undefined;
    index.query({ minX: x, minY: y, maxX: x, maxY: y }, (item) => {
      const room = rooms[item];
      if (room === undefined || !isInRing(room.face.outline, x, y)) return false;
      if (room.face.holes.some((hole) => isInRing(hole, x, y))) return false;
      found = room;
      return true;
    });
    return found;
  };
}

/** A piece without its id. */
export type SettledPiece = Omit<Furniture, 'id'> & { readonly key: string };

/** Pieces with heights, by the room they stand in; the others are left out and told. */
export function settlePieces(
  pieces: readonly DrawnPiece[],
  findRoom: FindRoom,
  answers: ImportAnswers,
  account: Account,
): readonly SettledPiece[] {
  return pieces.flatMap((piece) => {
    const what = piece.kind === 'other' ? 'other pieces' : WORDS[piece.kind];
    const outline = makeSound(piece.outline);
    if (outline === undefined) {
      account.add('left out', what, 'Their outline encloses nothing that a floor could hold.', placeOf(piece, null));
      return [];
    }
    const at = middleOf({ outline });
    const room = findRoomOf(outline, findRoom);
    if (room === undefined) {
      account.add('left out', what, 'They stand outside every room.', placeOf(piece, at));
      return [];
    }
    const heights = settleHeights(piece, room.ceiling, answers);
    if (heights === undefined) {
      account.add(
        'left out',
        what,
        'They lie above the ceiling of their room, or below its floor.',
        placeOf(piece, at),
      );
      return [];
    }
    const { base, top, because } = heights;
    if (because !== '') account.add('guessed', what, because, placeOf(piece, at));
    else if (piece.standing === 'guessed')
      account.add('guessed', what, 'What they are is told from their name or layer.', placeOf(piece, at));
    const { key, kind, name, glass } = piece;
    return [
      {
        key,
        kind,
        name: clip(name),
        outline,
        ...(base === 0 ? {} : { base }),
        top,
        ...(glass ? { glass } : {}),
        ...(because === '' ? {} : { from: 'assumed' as const }),
      },
    ];
  });
}

const WORDS: Readonly<Record<DrawnPiece['kind'], string>> = {
  desk: 'desks',
  screen: 'screens',
  shelving: 'shelving',
  cabinet: 'cabinets',
  column: 'columns',
  partition: 'partitions',
  hanging: 'hanging things',
  other: 'other pieces',
};

/** The room that holds the middle of an outline, else one of its corners or the middle of one of its edges. */
function findRoomOf(outline: Ring, findRoom: FindRoom): CeiledRoom | undefined {
  const { minX, minY, maxX, maxY } = computeBox(outline);
  const middle = findRoom([(minX + maxX) / 2, (minY + maxY) / 2]);
  if (middle !== undefined) return middle;
  for (const [i, a] of outline.entries()) {
    const b = outline[(i + 1) % outline.length] ?? a;
    const room = findRoom(a) ?? findRoom([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]);
    if (room !== undefined) return room;
  }
  return undefined;
}

/** Base and top, assumed where they are not stated; undefined for what lies above the ceiling or below the floor. */
function settleHeights(
  piece: DrawnPiece,
  ceiling: number,
  answers: ImportAnswers,
): { readonly base: number; readonly top: number; readonly because: string } | undefined {
  const assumed = ASSUMED[piece.kind];
  // What reaches the ceiling ends there, however far its shape goes on.
  const isBuilt = piece.kind === 'partition' || piece.kind === 'column';
  const readTop = finite(piece.top);
  const stated = { base: finite(piece.base), top: readTop !== null && isBuilt ? Math.min(readTop, ceiling) : readTop };
  if (stated.base !== null && stated.base >= ceiling - 0.001) return undefined;
  if (stated.top !== null && stated.top <= 0.001) return undefined;
  const answered = answers.heights?.[piece.kind];
  const top = stated.top ?? Math.min(answered ?? assumed.top ?? ceiling, ceiling);
  const usual = assumed.base < 0 ? top + assumed.base : assumed.base;
  let base = Math.max(0, stated.base ?? usual);
  if (base >= top && stated.base === null) base = 0;
  // A base stated above the assumed top: the piece reaches the ceiling.
  const reached = base >= top && stated.top === null ? ceiling : top;
  if (base >= reached) return undefined;
  const said = answered === undefined ? assumed.because : `the answer is ${answered} m`;
  const because =
    stated.top === null
      ? `The source does not state their height: ${said}. Check it.`
      : stated.base === null && usual !== 0
        ? `The source does not state how far above the floor they begin: ${assumed.because}.`
        : '';
  return { base: tidy(base), top: tidy(Math.min(reached, LIMITS.height)), because };
}

function finite(value: number | null): number | null {
  return value !== null && Number.isFinite(value) ? value : null;
}

/** Luminaires and sources, without ids, in rooms; heights that are not stated hang them at the ceiling. */
export function settleServices(storey: DrawnStorey, findRoom: FindRoom, account: Account) {
  const luminaires = storey.luminaires.flatMap((each) => {
    const room = place('luminaires', each, findRoom, account);
    const [length, width] = each.size;
    if (room === undefined) return [];
    if (!(length > 0 && width > 0 && length <= LIMITS.rangeSize && width <= LIMITS.rangeSize)) {
      account.add('left out', 'luminaires', 'They have no size.', placeOf(each, each.at));
      return [];
    }
    const span = settleSpan('luminaires', each, room.ceiling, 0.1, account);
    if (span === undefined) return [];
    const turn = Number.isFinite(each.turn) ? ((each.turn % 360) + 360) % 360 : 0;
    return [
      {
        key: each.key,
        name: clip(each.name),
        at: point(each.at),
        size: [tidy(length), tidy(width)] as const,
        turn,
        ...span,
      },
    ];
  });
  const sources = storey.sources.flatMap((each) => {
    const room = place('sources', each, findRoom, account);
    if (room === undefined) return [];
    const span = settleSpan('sources', each, room.ceiling, each.kind === 'air outlet' ? 0.1 : 0.6, account);
    if (span === undefined) return [];
    const radius = each.radius > 0 && each.radius <= LIMITS.rangeSize ? tidy(each.radius) : 0.2;
    return [{ key: each.key, name: clip(each.name), kind: each.kind, at: point(each.at), radius, ...span }];
  });
  return { luminaires, sources };
}

interface Placed {
  readonly key: string;
  readonly name: string;
  readonly at: Point;
  readonly base: number | null;
  readonly top: number | null;
}

function place(what: string, thing: Placed, findRoom: FindRoom, account: Account): CeiledRoom | undefined {
  const room = thing.at.every(Number.isFinite) ? findRoom(thing.at) : undefined;
  if (room === undefined) account.add('left out', what, 'They lie outside every room.', placeOf(thing, thing.at));
  return room;
}

/** @param height from base to top where it is not stated; what has no base hangs at the ceiling */
function settleSpan(what: string, thing: Placed, ceiling: number, height: number, account: Account) {
  const [base, top] = [finite(thing.base), finite(thing.top)];
  const isHeater = what === 'sources' && height > 0.1;
  const settledTop = Math.min(LIMITS.height, top ?? (base === null ? (isHeater ? height : ceiling) : base + height));
  const settledBase = Math.max(0, base ?? settledTop - height);
  if (settledBase >= ceiling || settledBase >= settledTop) {
    account.add(
      'left out',
      what,
      'They lie above the ceiling of their room, or below its floor.',
      placeOf(thing, thing.at),
    );
    return undefined;
  }
  if (base === null || top === null)
    account.add(
      'guessed',
      what,
      `The source does not state their height: ${isHeater ? 'they are taken to stand on the floor' : 'they are taken to hang at the ceiling'}.`,
      placeOf(thing, thing.at),
    );
  return { base: tidy(settledBase), top: tidy(settledTop) };
}

export function clip(name: string): string {
  return name.length <= LIMITS.text ? name : name.slice(0, LIMITS.text).replace(/[\uD800-\uDBFF]$/u, '');
}

/** To a tenth of a millimetre. */
export function tidy(value: number): number {
  return Math.round(value * 10_000) / 10_000 || 0;
}

export function point([x, y]: Point): Point {
  return [tidy(x), tidy(y)];
}
