import type { Doors, Floor, Opening, Point, Room } from '../floor/index.ts';
import { headOf, isOpen } from '../floor/index.ts';

/** One edge of a room's outline or hole: an opaque wall from the floor upwards, without a top. */
export interface WallEdge {
  readonly a: Point;
  readonly b: Point;
  /** Index of its room. */
  readonly room: number;
}

/** The plan rectangle of an opening: `depth` wide about `from`–`to`, closed. */
export interface Gap {
  readonly opening: Opening;
  /** Unit vector from `from` to `to`. */
  readonly ux: number;
  readonly uy: number;
  readonly length: number;
  readonly halfDepth: number;
  readonly sill: number;
  readonly head: number;
  readonly open: { readonly [doors in Doors]: boolean };
}

/** Wall edges turned from an opening's own direction by more than this are not cut by it. */
const WIDEST_TURN = Math.cos((30 * Math.PI) / 180);

/** Edges by their room, which most edits leave alone. */
const knownEdges = new WeakMap<Room, readonly WallEdge[]>();

/** Every outline and hole edge of every room. A room that stays as it is keeps its very objects. */
export function listWallEdges(floor: Floor): WallEdge[] {
  return floor.rooms.flatMap((room, index) => {
    const known = knownEdges.get(room);
    if (known?.[0]?.room === index) return known;
    const edges = [room.outline, ...room.holes].flatMap((ring) =>
      ring.map((a, i): WallEdge => ({ a, b: ring[(i + 1) % ring.length]!, room: index })),
    );
    knownEdges.set(room, edges);
    return edges;
  });
}

/** Gaps by their opening; its head may follow from the ceilings beside it. */
const knownGaps = new WeakMap<Opening, Gap>();

/** The rectangles of all openings. An opening that stays as it is keeps its very object. */
export function listGaps(floor: Floor): Gap[] {
  return floor.openings.map((opening) => {
    const head = headOf(opening, floor);
    const known = knownGaps.get(opening);
    if (known?.head === head) return known;
    const gap = gapOf(opening, head);
    knownGaps.set(opening, gap);
    return gap;
  });
}

function gapOf(opening: Opening, head: number): Gap {
  const dx = opening.to[0] - opening.from[0];
  const dy = opening.to[1] - opening.from[1];
  const length = Math.hypot(dx, dy);
  return {
    opening,
    ux: dx / length,
    uy: dy / length,
    length,
    halfDepth: opening.depth / 2,
    sill: opening.sill,
    head,
    open: { stated: isOpen(opening, 'stated'), open: isOpen(opening, 'open') },
  };
}

/** Does the opening run along the edge closely enough to cut it? */
export function runsAlong(gap: Gap, edge: WallEdge): boolean {
  const ex = edge.b[0] - edge.a[0];
  const ey = edge.b[1] - edge.a[1];
  const length = Math.hypot(ex, ey);
  return Math.abs(ex * gap.ux + ey * gap.uy) >= length * WIDEST_TURN - 1e-12;
}

/** Is the plan point in the opening's closed rectangle? */
export function gapHolds(gap: Gap, x: number, y: number): boolean {
  const dx = x - gap.opening.from[0];
  const dy = y - gap.opening.from[1];
  const along = dx * gap.ux + dy * gap.uy;
  const across = dy * gap.ux - dx * gap.uy;
  return along >= -1e-9 && along <= gap.length + 1e-9 && Math.abs(across) <= gap.halfDepth + 1e-9;
}

/** The part of the edge inside the opening's rectangle, as parameters 0 to 1 from `a` to `b`; null where they miss. */
export function cutEdge(gap: Gap, edge: WallEdge): readonly [number, number] | null {
  if (!runsAlong(gap, edge)) return null;
  const ax = edge.a[0] - gap.opening.from[0];
  const ay = edge.a[1] - gap.opening.from[1];
  const ex = edge.b[0] - edge.a[0];
  const ey = edge.b[1] - edge.a[1];
  let from = 0;
  let to = 1;
  const clip = (start: number, step: number, low: number, high: number) => {
    if (Math.abs(step) < 1e-12) {
      if (start < low - 1e-9 || start > high + 1e-9) to = -1;
      return;
    }
    const t0 = (low - start) / step;
    const t1 = (high - start) / step;
    from = Math.max(from, Math.min(t0, t1));
    to = Math.min(to, Math.max(t0, t1));
  };
  clip(ax * gap.ux + ay * gap.uy, ex * gap.ux + ey * gap.uy, 0, gap.length);
  clip(ay * gap.ux - ax * gap.uy, ey * gap.ux - ex * gap.uy, -gap.halfDepth, gap.halfDepth);
  return to - from > 1e-9 ? [from, to] : null;
}

/** A stretch of a wall edge, in parameters of the edge, and the heights over which it is solid. */
export interface Panel {
  readonly from: number;
  readonly to: number;
  readonly base: number;
  /** Infinity: a wall has no top. */
  readonly top: number;
}

/**
 * What is left of a wall edge once its open openings are cut out of it. Overlapping openings add up.
 * @param cuts openings that cut the edge, with the stretch each takes
 */
export function cutPanels(cuts: readonly { readonly gap: Gap; readonly span: readonly [number, number] }[]): Panel[] {
  const stops = [...new Set([0, 1, ...cuts.flatMap((cut) => cut.span)])].sort((a, b) => a - b);
  const panels: Panel[] = [];
  for (let s = 0; s + 1 < stops.length; s++) {
    const from = stops[s]!;
    const to = stops[s + 1]!;
    const middle = (from + to) / 2;
    const open = cuts
      .filter((cut) => cut.span[0] <= middle && middle <= cut.span[1])
      .map((cut) => [cut.gap.sill, cut.gap.head] as const)
      .sort((a, b) => a[0] - b[0]);
    let base = 0;
    for (const [sill, head] of open) {
      if (sill > base) panels.push({ from, to, base, top: sill });
      base = Math.max(base, head);
    }
    panels.push({ from, to, base, top: Infinity });
  }
  return panels;
}
