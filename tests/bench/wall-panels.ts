/**
 * Walls as upright rectangles with their open openings cut out, made from the floor file alone: what a mesh needs, and
 * nothing of the way `core/sight` does it.
 */
import { type Floor, headOf, isOpen, type Opening, type Point } from '../../src/core/floor/index.ts';

/** A rectangle that stands on the segment a–b between two heights. Metres. */
export interface Panel {
  readonly a: Point;
  readonly b: Point;
  readonly base: number;
  readonly top: number;
}

interface Segment {
  readonly a: Point;
  readonly b: Point;
}

/** An opening cuts no wall that is turned further from it than this. */
const WIDEST_TURN = Math.cos((30 * Math.PI) / 180);
const TOLERANCE = 1e-6;

/**
 * The solid panels of all rooms, doors as stated. Walls that two rooms share are cut at each other's corners and kept once.
 * @param top where walls end, metres: anything above every lens
 */
export function listPanels(floor: Floor, top: number): Panel[] {
  const edges = floor.rooms.flatMap((room) =>
    [room.outline, ...room.holes].flatMap((ring) =>
      ring.map((a, i): Segment => ({ a, b: ring[(i + 1) % ring.length]! })),
    ),
  );
  const openings = floor.openings.filter((opening) => isOpen(opening, 'stated'));
  const panels = new Map<string, Panel>();
  for (const edge of edges) {
    const cuts = openings.flatMap((opening) => {
      const span = cutByOpening(edge, opening);
      return span ? [{ span, sill: opening.sill, head: headOf(opening, floor) }] : [];
    });
    const corners = edges.flatMap(({ a }) => findOnEdge(edge, a) ?? []);
    const stops = [...new Set([0, 1, ...corners, ...cuts.flatMap(({ span }) => span)])].sort((p, q) => p - q);
    for (let s = 0; s + 1 < stops.length; s++) {
      const [from, to] = [stops[s]!, stops[s + 1]!];
      if ((to - from) * lengthOf(edge) < TOLERANCE) continue;
      const middle = (from + to) / 2;
      const open = cuts.filter(({ span }) => span[0] < middle && middle < span[1]);
      for (const [base, upTo] of solidHeights(open, top)) {
        const panel = { a: pointAt(edge, from), b: pointAt(edge, to), base, top: upTo };
        panels.set(keyOf(panel), panel);
      }
    }
  }
  return [...panels.values()];
}

/** The heights from 0 to `top` that no opening takes. */
function solidHeights(
  open: readonly { readonly sill: number; readonly head: number }[],
  top: number,
): (readonly [number, number])[] {
  const solid: (readonly [number, number])[] = [];
  let reached = 0;
  for (const { sill, head } of [...open].sort((p, q) => p.sill - q.sill)) {
    if (sill > reached) solid.push([reached, Math.min(sill, top)]);
    reached = Math.max(reached, head);
  }
  if (reached < top) solid.push([reached, top]);
  return solid;
}

/** The stretch of an edge in the plan rectangle of an opening, 0 to 1 along the edge; null for none. */
function cutByOpening(edge: Segment, opening: Opening): readonly [number, number] | null {
  const [fx, fy] = opening.from;
  const width = Math.hypot(opening.to[0] - fx, opening.to[1] - fy);
  const ux = (opening.to[0] - fx) / width;
  const uy = (opening.to[1] - fy) / width;
  const ex = edge.b[0] - edge.a[0];
  const ey = edge.b[1] - edge.a[1];
  if (Math.abs(ex * ux + ey * uy) < WIDEST_TURN * lengthOf(edge)) return null;
  const along = (x: number, y: number) => (x - fx) * ux + (y - fy) * uy;
  const across = (x: number, y: number) => (y - fy) * ux - (x - fx) * uy;
  const half = opening.depth / 2;
  const [l0, l1] = within(along(...edge.a), along(...edge.b), 0, width);
  const [c0, c1] = within(across(...edge.a), across(...edge.b), -half, half);
  const from = Math.max(0, l0, c0);
  const to = Math.min(1, l1, c1);
  return to > from ? [from, to] : null;
}

/** Where a value that runs evenly from `start` to `end` lies between two limits, as parameters. */
function within(start: number, end: number, low: number, high: number): readonly [number, number] {
  const step = end - start;
  if (Math.abs(step) < TOLERANCE) {
    return start < low - TOLERANCE || start > high + TOLERANCE ? [1, 0] : [-Infinity, Infinity];
  }
  const [p, q] = [(low - start) / step, (high - start) / step];
  return p < q ? [p, q] : [q, p];
}

/** Where along an edge a corner lies that is on it, short of its ends; null elsewhere. */
function findOnEdge(edge: Segment, corner: Point): number | null {
  const length = lengthOf(edge);
  const ux = (edge.b[0] - edge.a[0]) / length;
  const uy = (edge.b[1] - edge.a[1]) / length;
  const dx = corner[0] - edge.a[0];
  const dy = corner[1] - edge.a[1];
  const along = dx * ux + dy * uy;
  if (along < TOLERANCE || along > length - TOLERANCE || Math.abs(dy * ux - dx * uy) > TOLERANCE) return null;
  return along / length;
}

function lengthOf({ a, b }: Segment): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

function pointAt({ a, b }: Segment, t: number): Point {
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
}

/** The same for a panel and its coincident twin, whichever way round. */
function keyOf({ a, b, base, top }: Panel): string {
  const name = ([x, y]: Point) => `${Math.round(x / TOLERANCE)},${Math.round(y / TOLERANCE)}`;
  return [...[name(a), name(b)].sort(), base, top].join(' ');
}
