/** Workplaces: from chairs, and one for every desk that has none. */
import { type Point, placeAtDesk, type Ring } from '../../core/floor/index.ts';
import { createBoxIndex } from '../../core/geometry/box-index.ts';
import { computeBox, computeRingDistance, isInRing } from '../../core/geometry/polygon.ts';
import type { DrawnStorey } from '../storey.ts';
import { type Account, placeOf } from './account.ts';
import type { ImportAnswers } from './answers.ts';
import { clip, type FindRoom, point, type SettledPiece, tidy } from './pieces.ts';

/** A workplace without its id. */
export interface SettledSeat {
  readonly key: string;
  readonly name: string;
  readonly at: Point;
  readonly facing?: number;
  readonly posture?: 'standing';
}

/** Metres from a desk within which a chair belongs to it. */
const AT_DESK = 0.7;
/** A board longer, narrower or deeper than this is no desk for one person, metres: own choice; deeper ones are tables and beds. */
const LONGEST = 2.4;
const LEAST = 0.4;
const DEEPEST = 1.25;

export function settleSeats(
  storey: DrawnStorey,
  pieces: readonly SettledPiece[],
  findRoom: FindRoom,
  answers: ImportAnswers,
  account: Account,
): readonly SettledSeat[] {
  const desks = pieces.filter(({ kind }) => kind === 'desk');
  const desksNear = createBoxIndex(desks.map(({ outline }) => computeBox(outline)));
  const hasChair = new Set<SettledPiece>();
  const chairs = storey.workplaces.flatMap((chair): SettledSeat[] => {
    const at = chair.at.every(Number.isFinite) ? chair.at : null;
    if (at === null || findRoom(at) === undefined) {
      account.add('left out', 'workplaces', 'They lie outside every room.', placeOf(chair, at));
      return [];
    }
    let nearest: SettledPiece | undefined;
    let least = AT_DESK;
    const [x, y] = at;
    desksNear.query({ minX: x - AT_DESK, minY: y - AT_DESK, maxX: x + AT_DESK, maxY: y + AT_DESK }, (item) => {
      const desk = desks[item];
      if (desk === undefined) return false;
      const away = isInRing(desk.outline, x, y) ? 0 : computeRingDistance(desk.outline, x, y);
      if (away < AT_DESK) hasChair.add(desk);
      if (away < least) [nearest, least] = [desk, away];
      return false;
    });
    if (chair.standing === 'guessed')
      account.add('guessed', 'workplaces', 'A chair is taken for a workplace.', placeOf(chair, at));
    const facing =
      chair.facing !== null && Number.isFinite(chair.facing)
        ? chair.facing
        : nearest === undefined
          ? null
          : directionTo(at, nearest.outline);
    return [
      { key: chair.key, name: clip(chair.name), at: point(at), ...(facing === null ? {} : { facing: turn(facing) }) },
    ];
  });
  if (answers.seats === false) return chairs;
  const blockers = pieces.filter((piece) => (piece.base ?? 0) < 0.8 && piece.top > 0.4);
  const blocked = createBoxIndex(blockers.map(({ outline }) => computeBox(outline)));
  const isFree = ([x, y]: Point): boolean =>
    findRoom([x, y]) !== undefined &&
    !blocked.query({ minX: x, minY: y, maxX: x, maxY: y }, (item) => isInRing(blockers[item]?.outline ?? [], x, y));
  const brought = desks.flatMap((desk): SettledSeat[] => {
    if (hasChair.has(desk)) return [];
    const seat = seatAt(desk, findRoom, isFree);
    if (seat === undefined) return [];
    account.add('guessed', 'workplaces', 'A desk without a chair brings its workplace, on its freer long side.', {
      key: seat.key,
      name: desk.name,
      at: seat.at,
    });
    return [seat];
  });
  return [...chairs, ...brought];
}

/** The workplace on the long side of a desk that has more room behind it; none where neither side is free. */
function seatAt(desk: SettledPiece, findRoom: FindRoom, isFree: (at: Point) => boolean): SettledSeat | undefined {
  const board = measureBoard(desk.outline);
  if (board === undefined || board.length > LONGEST || board.width < LEAST || board.width > DEEPEST) return undefined;
  const sides = [board.turn, board.turn + 180].map((direction) => {
    const place = placeAtDesk(board.middle, direction, board.width, desk.top);
    const radians = (direction * Math.PI) / 180;
    let room = 0;
    for (let step = 0; step < 12; step++) {
      const out = board.width / 2 + 0.1 + step * 0.1;
      if (!isFree([board.middle[0] + Math.sin(radians) * out, board.middle[1] - Math.cos(radians) * out])) break;
      room++;
    }
    return { place, room };
  });
  const [first, second] = sides;
  if (first === undefined || second === undefined) return undefined;
  const { place, room } = second.room > first.room ? second : first;
  if (room < 4 || findRoom(place.at) === undefined) return undefined;
  return {
    key: `${desk.key} seat`,
    name: '',
    at: point(place.at),
    facing: turn(place.facing),
    ...(place.posture === 'standing' ? { posture: place.posture } : {}),
  };
}

/** Middle, size and direction of a board: the box along its longest edge. */
function measureBoard(outline: Ring): { middle: Point; length: number; width: number; turn: number } | undefined {
  let [longest, ux, uy] = [0, 1, 0];
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length] ?? a;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (length > longest) [longest, ux, uy] = [length, (b[0] - a[0]) / length, (b[1] - a[1]) / length];
  });
  if (longest === 0) return undefined;
  const us = outline.map(([x, y]) => x * ux + y * uy);
  const vs = outline.map(([x, y]) => y * ux - x * uy);
  const [u0, u1, v0, v1] = [Math.min(...us), Math.max(...us), Math.min(...vs), Math.max(...vs)];
  const [u, v] = [(u0 + u1) / 2, (v0 + v1) / 2];
  const isLengthways = u1 - u0 >= v1 - v0;
  const direction = (Math.atan2(uy, ux) * 180) / Math.PI;
  return {
    middle: [u * ux - v * uy, u * uy + v * ux],
    length: Math.max(u1 - u0, v1 - v0),
    width: Math.min(u1 - u0, v1 - v0),
    turn: isLengthways ? direction : direction + 90,
  };
}

function directionTo([x, y]: Point, outline: Ring): number {
  const { minX, minY, maxX, maxY } = computeBox(outline);
  return (Math.atan2((minY + maxY) / 2 - y, (minX + maxX) / 2 - x) * 180) / Math.PI;
}

/** Into one turn, to a tenth of a degree. */
function turn(degrees: number): number {
  return tidy(Math.round((((degrees % 360) + 360) % 360) * 10) / 10) % 360;
}
