/** Openings that go along with the wall they lie in. */
import type { Point } from '../../core/floor/index.ts';
import { computeSegmentDistance } from '../../core/geometry/polygon.ts';
import type { Change } from './change.ts';
import { type Refused, refuse } from './edit.ts';
import { nameThing, showMetres, startSentence } from './fault-words.ts';
import type { Items } from './lists.ts';
import { add, between, cross, distance, finePoint, locate, place, subtract, unit } from './plane.ts';

/** A stretch of wall as it was and as it will be. */
export interface WallMove {
  readonly from: readonly [a: Point, b: Point];
  readonly to: readonly [a: Point, b: Point];
  /** The end that stays, from which an opening keeps its distance; none when the wall is moved as a whole. */
  readonly fixed: 'a' | 'b' | 'none';
}

type Opening = Items['openings'];

/** An opening cuts only walls within 30° of its own direction. */
const WIDEST_TURN = Math.sin(Math.PI / 6);
const SLACK = 1e-6;

/** Whether an opening lies in a stretch of wall: its middle beside it, within half its depth, and its direction along it. */
export function liesIn(opening: Opening, [a, b]: readonly [Point, Point], reach = 0): boolean {
  const { from, to, depth = 0.4 } = opening;
  const middle = between(from, to, 0.5);
  const turn = Math.abs(cross(unit(a, b), unit(from, to)));
  return (
    turn <= WIDEST_TURN + SLACK &&
    computeSegmentDistance(a, b, middle[0], middle[1]) <= Math.max(depth / 2, reach) + SLACK
  );
}

/** Takes every opening along that lies in one of the walls; each goes with the wall nearest to its middle. */
export function carryOpenings(change: Change, moves: readonly WallMove[], reach = 0): Refused | null {
  for (const opening of change.list('openings')) {
    const [x, y] = between(opening.from, opening.to, 0.5);
    let nearest: WallMove | undefined;
    let least = Infinity;
    for (const move of moves) {
      if (!liesIn(opening, move.from, reach)) continue;
      const away = computeSegmentDistance(...move.from, x, y);
      if (away < least) [nearest, least] = [move, away];
    }
    if (nearest === undefined) continue;
    const carried = carry(opening, nearest);
    if (carried === null) return refuseShort(opening, nearest);
    change.set('openings', carried);
  }
  return null;
}

/** The opening where the wall takes it; null when the wall gets too short for it. */
function carry(opening: Opening, { from, to, fixed }: WallMove): Opening | null {
  if (fixed === 'none') {
    const by = subtract(to[0], from[0]);
    return { ...opening, from: finePoint(add(opening.from, by)), to: finePoint(add(opening.to, by)) };
  }
  const [still, moved] = fixed === 'a' ? ([0, 1] as const) : ([1, 0] as const);
  const axis = unit(from[still], from[moved]);
  const ends = [opening.from, opening.to].map((end) => locate(from[still], axis, end)) as [Point, Point];
  const [low, high] = ends[0][0] < ends[1][0] ? [ends[0][0], ends[1][0]] : [ends[1][0], ends[0][0]];
  const [before, after] = [distance(...from), distance(...to)];
  // What stuck out of its wall before may stick out of it again.
  const didFit = low >= -SLACK && high <= before + SLACK;
  if (didFit && high - low > after + SLACK) return null;
  const back = didFit ? Math.max(0, high - after) : 0;
  const next = unit(to[still], to[moved]);
  const put = ([u, v]: Point): Point => finePoint(place(to[still], next, [u - back, v]));
  return { ...opening, from: put(ends[0]), to: put(ends[1]) };
}

function refuseShort(opening: Opening, { to }: WallMove): Refused {
  const what = startSentence(nameThing({ list: 'openings', item: opening }));
  return refuse(
    `${what} is ${showMetres(distance(opening.from, opening.to))} wide and its wall would be ${showMetres(distance(...to))} long`,
    'Make the opening narrower, or leave the wall longer.',
  );
}
