/**
 * Rings put together from directed walls: what is left when the walls two rooms share are taken out, and what comes
 * about when a line is drawn through one. Every wall runs with its room on the left.
 */
import type { Point, Ring } from '../../core/floor/index.ts';
import { computeSignedArea, isInRing } from '../../core/geometry/polygon.ts';
import { cornerOf, cross, distance, dot, SAME, subtract, unit } from './plane.ts';

/** Places that are one when they lie within 1 mm, each known by the number of the first. */
export interface Places {
  readonly points: readonly Point[];
  /** The number of a place; a new one is taken up. */
  number(at: Point): number;
}

export function createPlaces(): Places {
  const points: Point[] = [];
  const cells = new Map<string, number[]>();
  const cellOf = (value: number): number => Math.floor(value / (2 * SAME));
  return {
    points,
    number(at) {
      const [i, j] = [cellOf(at[0]), cellOf(at[1])];
      for (let di = -1; di <= 1; di++) {
        for (let dj = -1; dj <= 1; dj++) {
          const known = cells.get(`${i + di} ${j + dj}`)?.find((k) => distance(points[k] as Point, at) < SAME);
          if (known !== undefined) return known;
        }
      }
      const key = `${i} ${j}`;
      const cell = cells.get(key);
      if (cell === undefined) cells.set(key, [points.length]);
      else cell.push(points.length);
      points.push(at);
      return points.length - 1;
    },
  };
}

/** A directed wall between two numbered places, the room on its left. */
export type Side = readonly [from: number, to: number];

/** The sides of a room's ring: an outline counter-clockwise, a hole clockwise. */
export function listSides(ring: Ring, isHole: boolean, places: Places): readonly Side[] {
  const forward = computeSignedArea(ring) > 0 !== isHole;
  const numbers = (forward ? ring : ring.toReversed()).map((corner) => places.number(corner));
  return numbers.map((from, i): Side => [from, numbers[(i + 1) % numbers.length] as number]);
}

/** The sides without those that run both ways: walls with a room on either side of them. */
export function cancelSides(sides: readonly Side[]): {
  readonly left: readonly Side[];
  readonly cancelled: readonly Side[];
} {
  const keys = new Set(sides.map(([from, to]) => `${from} ${to}`));
  const isShared = ([from, to]: Side): boolean => keys.has(`${to} ${from}`);
  return { left: sides.filter((side) => !isShared(side)), cancelled: sides.filter(isShared) };
}

/** Joins sides end to end into rings. At a place where several leave, the one hard to the left of the way back is taken, which keeps to one room. */
export function traceLoops(sides: readonly Side[], { points }: Places): readonly Ring[] {
  const leaving = new Map<number, number[]>();
  sides.forEach(([from], i) => {
    leaving.set(from, [...(leaving.get(from) ?? []), i]);
  });
  const isUsed = new Array<boolean>(sides.length).fill(false);
  const loops: Ring[] = [];
  for (let start = 0; start < sides.length; start++) {
    if (isUsed[start]) continue;
    const loop: Point[] = [];
    let at: number | undefined = start;
    while (at !== undefined && !isUsed[at]) {
      isUsed[at] = true;
      const [from, to]: Side = sides[at] as Side;
      loop.push(points[from] as Point);
      at = chooseNext(sides, leaving.get(to) ?? [], [from, to], points);
    }
    loops.push(loop);
  }
  return loops;
}

/** Of the sides that leave where one arrives, the first one met turning clockwise from the way back. */
function chooseNext(
  sides: readonly Side[],
  candidates: readonly number[],
  [from, to]: Side,
  points: readonly Point[],
): number | undefined {
  const here = points[to] as Point;
  const back = unit(here, points[from] as Point);
  let best: number | undefined;
  let least = Infinity;
  for (const candidate of candidates) {
    const end = (sides[candidate] as Side)[1];
    const way = unit(here, points[end] as Point);
    // Clockwise from the way back, above 0 and up to a whole turn: straight back comes last.
    let turn = Math.atan2(-cross(back, way), dot(back, way));
    if (turn <= 1e-9) turn += 2 * Math.PI;
    if (turn < least) [best, least] = [candidate, turn];
  }
  return best;
}

/** The ring without corners on straight walls, but for those that must stay. */
export function dropStraightCorners(ring: Ring, mayGo: (corner: Point) => boolean): Ring {
  let next = [...ring];
  for (let i = next.length - 1; i >= 0 && next.length > 3; i--) {
    const [before, corner, after] = [cornerOf(next, i - 1), cornerOf(next, i), cornerOf(next, i + 1)];
    const isStraight =
      Math.abs(cross(unit(before, after), subtract(corner, before))) < SAME / 10 &&
      dot(subtract(corner, before), subtract(after, corner)) > 0;
    if (isStraight && mayGo(corner)) next = next.filter((_, k) => k !== i);
  }
  return next;
}

/** Outlines and the holes that lie in each: loops with their inside on the left are outlines, the others holes. */
export function sortLoops(
  loops: readonly Ring[],
): readonly { readonly outline: Ring; readonly holes: readonly Ring[] }[] {
  const outlines = loops.filter((loop) => computeSignedArea(loop) > 0);
  const holes = loops.filter((loop) => computeSignedArea(loop) <= 0);
  return outlines.map((outline) => ({
    outline,
    holes: holes.filter(
      (hole) => isWithin(hole, outline) && !outlines.some((other) => isBetween(hole, other, outline)),
    ),
  }));
}

/** Whether a hole's edges lie inside an outline; holes do not cross outlines. */
function isWithin(hole: Ring, outline: Ring): boolean {
  const [a, b] = [cornerOf(hole, 0), cornerOf(hole, 1)];
  const along = unit(a, b);
  // Beside the middle of an edge, on the side of the hole: a corner may lie on the outline.
  const x = (a[0] + b[0]) / 2 + along[1] * SAME;
  const y = (a[1] + b[1]) / 2 - along[0] * SAME;
  return isInRing(outline, x, y);
}

/** Whether an outline holds a hole more closely than the outline asked about. */
function isBetween(hole: Ring, other: Ring, outline: Ring): boolean {
  if (other === outline || !isWithin(hole, other)) return false;
  return Math.abs(computeSignedArea(other)) < Math.abs(computeSignedArea(outline));
}
