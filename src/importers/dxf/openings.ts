/** Doors, windows and passages out of what lies on their layers and in their blocks. Metres. */
import type { Point } from '../../core/floor/index.ts';
import type { DrawnOpening } from '../storey.ts';
import { groupNear } from './clusters.ts';
import { findDoors } from './doors.ts';
import type { DxfClass } from './names.ts';
import type { Remarks } from './remarks.ts';
import { seatInWall } from './seat.ts';
import { indexSegments, type Segment, segmentsOf } from './segments.ts';
import type { Item, Sorted, Thing } from './sorted.ts';

const NARROWEST = 0.3;
const WIDEST = 12;
/** What is deeper than this across the wall is no opening seen from above. */
const DEEPEST = 0.75;

export function findOpenings(
  sorted: Sorted,
  wallSegments: readonly Segment[],
  remarks: Remarks,
): readonly DrawnOpening[] {
  const walls = indexSegments(wallSegments);
  const of = (kind: DxfClass): readonly Item[] => sorted.items.get(kind) ?? [];
  const blocks = sorted.things.filter((thing) => thing.class === 'door' || thing.class === 'opening');
  const names = new Map<Item, string>();
  for (const thing of blocks) for (const item of thing.items) names.set(item, thing.name);
  const loose = [...of('door'), ...of('opening')];
  const inBlocks = blocks.flatMap((thing) => thing.items);
  const { doors, used } = findDoors(
    [...loose, ...inBlocks],
    [...of('wall'), ...of('window'), ...sorted.unnamed],
    walls,
    (item) => names.get(item) ?? '',
  );
  const openings: DrawnOpening[] = [...doors];

  // Blocks without a swing: their box is the opening.
  const windows = sorted.things.filter((thing) => thing.class === 'window');
  for (const thing of [...blocks.filter(({ items }) => !items.some((item) => used.has(item))), ...windows]) {
    const kind = thing.class === 'window' ? 'window' : thing.class === 'door' ? 'door' : 'passage';
    const opening = openingOfThing(thing, kind, walls);
    if (opening === null)
      remarks.add('left out', `${kind}s`, 'the block is no opening seen from above', {
        key: thing.key,
        name: thing.name,
        at: thing.center,
      });
    else openings.push(opening);
  }

  for (const kind of ['door', 'opening', 'window'] as const) {
    for (const group of groupNear(of(kind), 0.05)) {
      if (group.some((item) => used.has(item))) continue;
      const opening = openingOfGroup(group, kind, walls, wallSegments.length > 0);
      if (opening !== null) openings.push(opening);
      else
        remarks.add('left out', `lines on layers of ${kind}s`, 'they make no opening in a wall, as seen from above', {
          key: group[0]?.key ?? '',
          name: group[0]?.layer ?? '',
          at: placeOf(group),
        });
    }
  }
  const kept = dropCovered(openings);
  return kept;
}

function openingOfThing(
  thing: Thing,
  kind: DrawnOpening['kind'],
  walls: ReturnType<typeof indexSegments>,
): DrawnOpening | null {
  const [a, b, c, d] = thing.box as [Point, Point, Point, Point];
  const middle = (p: Point, q: Point): Point => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
  // Along either axis of the block; the wall that runs on decides, then the longer side.
  const choices = [
    { line: [middle(a, d), middle(b, c)] as const, length: thing.size[0], across: thing.size[1] },
    { line: [middle(a, b), middle(d, c)] as const, length: thing.size[1], across: thing.size[0] },
  ].map((choice) => ({ ...choice, seat: bestSeat(choice.line, choice.across, walls) }));
  choices.sort((p, q) => q.seat.support - p.seat.support || q.length - p.length);
  const longer = [...choices].sort((p, q) => q.length - p.length)[0];
  const taken = choices.find(({ seat, length }) => seat.depth !== null && length >= NARROWEST) ?? longer;
  if (taken === undefined || taken.length < NARROWEST || taken.length > WIDEST) return null;
  const { from, to, depth } = taken.seat;
  return { key: thing.key, kind, name: thing.name, from, to, depth, sill: null, head: null, standing: thing.standing };
}

/** The seat of a line through the middle of a box, or of the box's edges when the middle lies off the wall. */
function bestSeat([from, to]: readonly [Point, Point], across: number, walls: ReturnType<typeof indexSegments>) {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const shifted = [0, across / 2, -across / 2].map((by) => {
    const [dx, dy] = [(-(to[1] - from[1]) / length) * by, ((to[0] - from[0]) / length) * by];
    return seatInWall([from[0] + dx, from[1] + dy], [to[0] + dx, to[1] + dy], walls);
  });
  const [middle] = shifted;
  const seated = shifted.filter(({ depth }) => depth !== null).sort((a, b) => (a.depth ?? 0) - (b.depth ?? 0))[0];
  return seated ?? (middle as ReturnType<typeof seatInWall>);
}

/** Loose lines that lie together as one opening along their longest line. */
function openingOfGroup(
  group: readonly Item[],
  kind: 'door' | 'window' | 'opening',
  walls: ReturnType<typeof indexSegments>,
  hasWalls: boolean,
): DrawnOpening | null {
  const lines = group.flatMap((item) => segmentsOf(item.points, item.closed));
  let longest: Segment | undefined;
  let most = 0;
  for (const line of lines) {
    const size = Math.hypot(line.x1 - line.x0, line.y1 - line.y0);
    if (size > most) {
      most = size;
      longest = line;
    }
  }
  const first = group[0];
  if (longest === undefined || first === undefined) return null;
  const ux = (longest.x1 - longest.x0) / most;
  const uy = (longest.y1 - longest.y0) / most;
  let [low, high, left, right] = [
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const { x0, y0, x1, y1 } of lines) {
    for (const [x, y] of [
      [x0, y0],
      [x1, y1],
    ] as const) {
      low = Math.min(low, x * ux + y * uy);
      high = Math.max(high, x * ux + y * uy);
      left = Math.min(left, -x * uy + y * ux);
      right = Math.max(right, -x * uy + y * ux);
    }
  }
  const across = (left + right) / 2;
  const at = (along: number): Point => [along * ux - across * uy, along * uy + across * ux];
  if (high - low < NARROWEST || high - low > WIDEST || right - left > DEEPEST) return null;
  const long = lines.filter(({ x0, y0, x1, y1 }) => Math.abs((x1 - x0) * ux + (y1 - y0) * uy) > 0.7 * most).length;
  const seat = seatInWall(at(low), at(high), walls);
  // Among walls an opening stands in one, or is at least as slender as one.
  if (hasWalls && seat.depth === null && seat.support === 0 && right - left > 0.4 * (high - low)) return null;
  const depth = seat.depth ?? (right - left > 0.03 ? right - left : null);
  const what = kind === 'opening' ? (long >= 3 ? 'window' : 'passage') : kind;
  return {
    key: first.key,
    kind: what,
    name: '',
    from: seat.from,
    to: seat.to,
    depth,
    sill: null,
    head: null,
    standing: 'guessed',
  };
}

function placeOf(group: readonly Item[]): Point | null {
  const [x, y] = group[0]?.points ?? [];
  return x === undefined || y === undefined ? null : [x, y];
}

/** Of openings in one place the first stays: a frame drawn beside its leaf is no second door. */
function dropCovered(openings: readonly DrawnOpening[]): readonly DrawnOpening[] {
  const kept: DrawnOpening[] = [];
  const squares = new Map<string, DrawnOpening[]>();
  const middleOf = ({ from, to }: DrawnOpening): Point => [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  for (const opening of openings) {
    const [x, y] = middleOf(opening);
    const [column, row] = [Math.floor(x / 2), Math.floor(y / 2)];
    let covered = false;
    for (let i = column - 1; i <= column + 1 && !covered; i++) {
      for (let j = row - 1; j <= row + 1 && !covered; j++) {
        covered = (squares.get(`${i},${j}`) ?? []).some((other) => covers(other, [x, y]));
      }
    }
    if (covered) continue;
    kept.push(opening);
    const key = `${column},${row}`;
    squares.set(key, [...(squares.get(key) ?? []), opening]);
  }
  return kept;
}

function covers({ from, to, depth }: DrawnOpening, [x, y]: Point): boolean {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const along = ((x - from[0]) * (to[0] - from[0]) + (y - from[1]) * (to[1] - from[1])) / length;
  const off = Math.abs((x - from[0]) * (to[1] - from[1]) - (y - from[1]) * (to[0] - from[0])) / length;
  return along > 0 && along < length && off < Math.max(0.2, (depth ?? 0) / 2);
}
