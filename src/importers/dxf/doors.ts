/** Doors by their swings: a quarter arc about the hinge, a leaf, and the jamb the leaf shuts against. Metres. */
import type { Point } from '../../core/floor/index.ts';
import type { DrawnOpening } from '../storey.ts';
import { swingRadius } from './guess.ts';
import { seatInWall } from './seat.ts';
import { indexSegments, type Segment, type SegmentIndex, segmentsOf } from './segments.ts';
import type { Item } from './sorted.ts';

/** Radii that are leaves of doors: half a double door from 0.4 m, single ones up to 1.5 m. Common practice, no source. */
const SMALLEST_LEAF = 0.39;
const LARGEST_LEAF = 1.5;
/** Ends this near belong together: a leaf is drawn 40 mm thick, a frame as much. */
const CLOSE = 0.09;
/** More swings than this are not looked at: no floor has so many doors. */
const MOST_SWINGS = 20_000;

interface Swing {
  readonly key: string;
  readonly name: string;
  readonly standing: 'read' | 'guessed';
  readonly hinge: Point;
  readonly jamb: Point;
}

/**
 * Finds the door of every swing.
 * @param sure items that are doors, or parts of drawings that hold doors
 * @param unsure items of which only those with a leaf are doors: curves among walls and on unnamed layers
 */
export function findDoors(
  sure: readonly Item[],
  unsure: readonly Item[],
  walls: SegmentIndex,
  nameOf: (item: Item) => string,
): { readonly doors: readonly DrawnOpening[]; readonly used: ReadonlySet<Item> } {
  const used = new Set<Item>();
  const swings: Swing[] = [];
  const lines: Segment[] = [];
  const pool = [...sure, ...unsure];
  for (const item of pool) if (item.points.length <= 40 || item.arcs.length > 0) lines.push(...straightOf(item));
  const leaves = indexSegments(lines);
  for (const [i, item] of pool.entries()) {
    for (let at = 0; at + 5 < item.arcs.length; at += 6) {
      const radius = swingRadius(item.arcs, at);
      if (radius < SMALLEST_LEAF || radius > LARGEST_LEAF || swings.length >= MOST_SWINGS) continue;
      const point = (j: number): Point => [item.arcs[at + j] as number, item.arcs[at + j + 1] as number];
      const [hinge, a, b] = [point(0), point(2), point(4)];
      const isOpenAt = { a: hasLeaf(leaves, hinge, a), b: hasLeaf(leaves, hinge, b) };
      if (i >= sure.length && !isOpenAt.a && !isOpenAt.b) continue;
      const jamb = chooseJamb(hinge, a, b, isOpenAt, walls);
      used.add(item);
      swings.push({
        key: item.arcs.length > 6 ? `${item.key}.${at / 6}` : item.key,
        name: nameOf(item),
        standing: i < sure.length && isOpenAt.a !== isOpenAt.b ? 'read' : 'guessed',
        hinge,
        jamb,
      });
    }
  }
  return { doors: joinPairs(dropDoubles(swings)).map((swing) => toOpening(swing, walls)), used };
}

function straightOf(item: Item): Segment[] {
  // Of curves only the chords would be found: an arc alone has no leaf in it.
  if (item.entity === 'ARC' || item.entity === 'CIRCLE') return [];
  return segmentsOf(item.points, item.closed);
}

/** Whether a line runs from the hinge to the swing's end. */
function hasLeaf(lines: SegmentIndex, hinge: Point, end: Point): boolean {
  const near = (x: number, y: number, [px, py]: Point): boolean => Math.hypot(x - px, y - py) < CLOSE;
  let found = false;
  lines.near(hinge[0], hinge[1], CLOSE, ({ x0, y0, x1, y1 }) => {
    found ||= (near(x0, y0, hinge) && near(x1, y1, end)) || (near(x1, y1, hinge) && near(x0, y0, end));
  });
  return found;
}

/** Of a swing's two ends the one where the leaf shuts: where no leaf stands open, else along whose line the wall runs on. */
function chooseJamb(hinge: Point, a: Point, b: Point, open: { a: boolean; b: boolean }, walls: SegmentIndex): Point {
  if (open.a !== open.b) return open.a ? b : a;
  const supportA = seatInWall(hinge, a, walls).support;
  const supportB = seatInWall(hinge, b, walls).support;
  return supportB > supportA ? b : a;
}

/** The same swing drawn twice (a block on a block, a copied layer) is one door. */
function dropDoubles(swings: readonly Swing[]): readonly Swing[] {
  const seen = new Set<string>();
  return swings.filter(({ hinge, jamb }) => {
    const id = [...hinge, ...jamb].map((value) => Math.round(value * 200)).join(',');
    if (seen.has(id)) return false;
    seen.add(id);
    return true;
  });
}

/** Two leaves that shut against each other are one door, from hinge to hinge. */
function joinPairs(swings: readonly Swing[]): readonly Swing[] {
  const byPlace = new Map<string, number[]>();
  const cell = (value: number): number => Math.floor(value / 0.25);
  for (const [i, { jamb }] of swings.entries()) {
    const key = `${cell(jamb[0])},${cell(jamb[1])}`;
    const list = byPlace.get(key);
    if (list === undefined) byPlace.set(key, [i]);
    else list.push(i);
  }
  const taken = new Set<number>();
  const joined: Swing[] = [];
  for (const [i, swing] of swings.entries()) {
    if (taken.has(i)) continue;
    taken.add(i);
    const other = neighboursOf(swing.jamb, byPlace, cell).find(
      (j) => !taken.has(j) && arePair(swing, swings[j] as Swing),
    );
    if (other === undefined) joined.push(swing);
    else {
      taken.add(other);
      joined.push({ ...swing, jamb: (swings[other] as Swing).hinge });
    }
  }
  return joined;
}

function neighboursOf(
  [x, y]: Point,
  byPlace: ReadonlyMap<string, readonly number[]>,
  cell: (value: number) => number,
): number[] {
  const found: number[] = [];
  for (const dx of [-1, 0, 1]) {
    for (const dy of [-1, 0, 1]) found.push(...(byPlace.get(`${cell(x) + dx},${cell(y) + dy}`) ?? []));
  }
  return found;
}

function arePair(a: Swing, b: Swing): boolean {
  const [ax, ay] = [a.jamb[0] - a.hinge[0], a.jamb[1] - a.hinge[1]];
  const [bx, by] = [b.jamb[0] - b.hinge[0], b.jamb[1] - b.hinge[1]];
  const cosine = (ax * bx + ay * by) / (Math.hypot(ax, ay) * Math.hypot(bx, by));
  return Math.hypot(a.jamb[0] - b.jamb[0], a.jamb[1] - b.jamb[1]) < 0.15 && cosine < -0.98;
}

function toOpening(swing: Swing, walls: SegmentIndex): DrawnOpening {
  const { from, to, depth } = seatInWall(swing.hinge, swing.jamb, walls);
  return {
    key: swing.key,
    kind: 'door',
    name: swing.name,
    from,
    to,
    depth,
    sill: null,
    head: null,
    standing: swing.standing,
  };
}
