/** Furniture, columns, luminaires, sources of heat and chairs. Metres. */
import type { Point, Ring } from '../../core/floor/index.ts';
import { computeBox, computeRingDistance, computeSignedArea } from '../../core/geometry/polygon.ts';
import type { DrawnLuminaire, DrawnPiece, DrawnSource, DrawnWorkplace } from '../storey.ts';
import type { DxfAnswers } from './answers.ts';
import { groupNear } from './clusters.ts';
import { closeLoops } from './loops.ts';
import type { DxfClass } from './names.ts';
import type { Remarks } from './remarks.ts';
import { segmentsOf } from './segments.ts';
import type { Item, Sorted, Thing } from './sorted.ts';
import { isSimple, toRing } from './walls.ts';

export type PieceKind = DrawnPiece['kind'];

const PIECE_CLASSES: Readonly<Partial<Record<DxfClass, PieceKind | null>>> = {
  desk: 'desk',
  cabinet: 'cabinet',
  shelving: 'shelving',
  screen: 'screen',
  partition: 'partition',
  column: 'column',
  hanging: 'hanging',
  furniture: null,
};

/** A desk this near to a chair is the one its person faces. */
const AT_DESK = 1;
/** A screen or partition drawn as one line is so thick. Common practice, no source. */
const LINE_THICK = 0.04;

export interface Pieces {
  readonly pieces: readonly DrawnPiece[];
  readonly luminaires: readonly DrawnLuminaire[];
  readonly workplaces: readonly DrawnWorkplace[];
  readonly sources: readonly DrawnSource[];
}

export function findPieces(sorted: Sorted, gap: number, heights: DxfAnswers['heights'], remarks: Remarks): Pieces {
  const pieces: DrawnPiece[] = [];
  const luminaires: DrawnLuminaire[] = [];
  const sources: DrawnSource[] = [];
  const chairs: { key: string; name: string; at: Point }[] = [];
  const seen = new Set<string>();

  const addPiece = (
    kind: PieceKind,
    key: string,
    name: string,
    outline: Ring,
    standing: DrawnPiece['standing'],
  ): void => {
    const { minX, minY, maxX, maxY } = computeBox(outline);
    const id = [kind, ...[minX, minY, maxX, maxY].map((value) => Math.round(value * 50))].join(',');
    if (seen.has(id)) return;
    seen.add(id);
    const { base, top } = heights[kind] ?? { top: null };
    pieces.push({ key, kind, name, outline, base: base ?? null, top: top ?? null, glass: false, standing });
  };
  const add = (kind: DxfClass, key: string, name: string, outline: Ring, thing: Thing | null): void => {
    const { center, size, turn } = thing ?? frameOf(outline);
    if (kind === 'chair') chairs.push({ key, name, at: center });
    else if (kind === 'luminaire') luminaires.push({ key, name, at: center, size, turn, base: null, top: null });
    else if (kind === 'heater' || kind === 'air outlet') {
      const radius = Math.max(0.05, Math.min(2, Math.hypot(...size) / 2));
      sources.push({ key, name, kind, at: center, radius, base: null, top: null });
    } else {
      const stated = PIECE_CLASSES[kind];
      if (stated !== undefined)
        addPiece(
          stated ?? kindBySize(size),
          key,
          name,
          outline,
          stated === null ? 'guessed' : (thing?.standing ?? 'guessed'),
        );
    }
  };

  for (const thing of sorted.things) {
    if (isPieceClass(thing.class)) add(thing.class, thing.key, thing.name, outlineOf(thing), thing);
  }
  for (const [kind, items] of sorted.items) {
    if (!isPieceClass(kind)) continue;
    for (const { key, ring } of looseOutlines(items, kind, gap, remarks)) add(kind, key, '', ring, null);
  }
  const desks = pieces.filter(({ kind }) => kind === 'desk');
  const workplaces = chairs.map(
    (chair): DrawnWorkplace => ({ ...chair, facing: facingOf(chair.at, desks), standing: 'guessed' }),
  );
  return { pieces, luminaires, workplaces, sources };
}

function isPieceClass(kind: DxfClass): boolean {
  return kind in PIECE_CLASSES || ['chair', 'luminaire', 'heater', 'air outlet'].includes(kind);
}

/** A block's outline: its own closed path where that fills the block's box, else the box. */
function outlineOf(thing: Thing): Ring {
  const boxArea = thing.size[0] * thing.size[1];
  let best: Ring | null = null;
  let most = 0;
  for (const item of thing.items) {
    if (!item.closed || item.points.length > 400) continue;
    const ring = toRing(item.points);
    const area = ring === null ? 0 : Math.abs(computeSignedArea(ring));
    if (ring === null || area <= most || !isSimple(ring)) continue;
    most = area;
    best = ring;
  }
  if (best === null || most < 0.4 * boxArea) return thing.box;
  const own = computeBox(best);
  const whole = computeBox(thing.box);
  const isTurned = Math.abs(Math.sin((thing.turn * Math.PI) / 90)) > 1e-6;
  // Along the axes the path must reach the box's sides; a turned one must fill most of it.
  const reaches =
    Math.abs(own.maxX - own.minX - (whole.maxX - whole.minX)) +
      Math.abs(own.maxY - own.minY - (whole.maxY - whole.minY)) <
    0.1;
  return (isTurned ? most > 0.7 * boxArea : reaches) ? best : thing.box;
}

/** Outlines of loose lines: closed paths and loops, without those that lie in a larger one; open rests by their box. */
function looseOutlines(
  items: readonly Item[],
  kind: DxfClass,
  gap: number,
  remarks: Remarks,
): { key: string; ring: Ring }[] {
  const found: { key: string; ring: Ring }[] = [];
  for (const group of groupNear(items, 0.01)) {
    const { loops, rest } = closeLoops(group, Math.min(gap, 0.02));
    const rings = loops
      .flatMap(({ key, points }) => {
        const ring = toRing(points);
        return ring !== null && isSimple(ring) && Math.abs(computeSignedArea(ring)) > 0.001
          ? [{ key, ring, box: computeBox(ring) }]
          : [];
      })
      .sort((a, b) => Math.abs(computeSignedArea(b.ring)) - Math.abs(computeSignedArea(a.ring)));
    const kept: typeof rings = [];
    for (const one of rings.slice(0, 500)) {
      const isInside = kept.some(
        ({ box }) =>
          one.box.minX > box.minX - 0.01 &&
          one.box.maxX < box.maxX + 0.01 &&
          one.box.minY > box.minY - 0.01 &&
          one.box.maxY < box.maxY + 0.01,
      );
      if (!isInside) kept.push(one);
    }
    found.push(...kept);
    const first = rest[0];
    if (kept.length > 0 || first === undefined) continue;
    const ring = bandOf(rest, kind === 'screen' || kind === 'partition');
    if (ring !== null) found.push({ key: first.key, ring });
    else
      remarks.add(
        'left out',
        'open lines on layers of furniture',
        'they enclose nothing; draw the outline closed, or as a block',
        {
          key: first.key,
          name: first.layer,
          at: [first.points[0] ?? 0, first.points[1] ?? 0],
        },
      );
  }
  return found;
}

/** The rectangle round open lines, along the longest; null for what is no piece: a single line, or the front of a whole corner. */
function bandOf(items: readonly Item[], isThin: boolean): Ring | null {
  const lines = items.flatMap((item) => segmentsOf(item.points, item.closed));
  let [ux, uy, most] = [1, 0, 0];
  for (const { x0, y0, x1, y1 } of lines) {
    const size = Math.hypot(x1 - x0, y1 - y0);
    if (size > most) [ux, uy, most] = [(x1 - x0) / size, (y1 - y0) / size, size];
  }
  let [low, high, left, right] = [
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const { x0, y0, x1, y1 } of lines) {
    low = Math.min(low, x0 * ux + y0 * uy, x1 * ux + y1 * uy);
    high = Math.max(high, x0 * ux + y0 * uy, x1 * ux + y1 * uy);
    left = Math.min(left, y0 * ux - x0 * uy, y1 * ux - x1 * uy);
    right = Math.max(right, y0 * ux - x0 * uy, y1 * ux - x1 * uy);
  }
  if (!(high - low > 0.1) || high - low > 12 || right - left > 1.3) return null;
  if (!isThin && right - left < 0.15) return null;
  if (right - left < LINE_THICK) [left, right] = [(left + right - LINE_THICK) / 2, (left + right + LINE_THICK) / 2];
  const at = (along: number, across: number): Point => [along * ux - across * uy, along * uy + across * ux];
  return [at(low, left), at(high, left), at(high, right), at(low, right)];
}

/** Middle, size and direction of an outline along its longest edge. */
function frameOf(ring: Ring): { center: Point; size: readonly [number, number]; turn: number } {
  let [ux, uy, most] = [1, 0, 0];
  for (const [i, a] of ring.entries()) {
    const b = ring[(i + 1) % ring.length] as Point;
    const size = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (size > most + 1e-9) [ux, uy, most] = [(b[0] - a[0]) / size, (b[1] - a[1]) / size, size];
  }
  const along = ring.map(([x, y]) => x * ux + y * uy);
  const across = ring.map(([x, y]) => y * ux - x * uy);
  const [low, high, left, right] = [Math.min(...along), Math.max(...along), Math.min(...across), Math.max(...across)];
  const [u, v] = [(low + high) / 2, (left + right) / 2];
  return {
    center: [u * ux - v * uy, u * uy + v * ux],
    size: [high - low, right - left],
    turn: ((Math.atan2(uy, ux) * 180) / Math.PI + 360) % 360,
  };
}

/** What a piece of furniture that nobody named is, by its size in plan. Sizes as sold commonly, no source. */
function kindBySize(size: readonly [number, number]): PieceKind {
  const [short, long] = [Math.min(...size), Math.max(...size)];
  if (short <= 0.12 && long >= 0.6) return 'screen';
  if (short >= 0.55 && short <= 1.3 && long >= 1 && long <= 4.5 && long / short >= 1.15) return 'desk';
  if (short >= 0.25 && short < 0.55 && long >= 0.6 && long <= 1.6) return 'cabinet';
  if (short >= 0.25 && short < 0.65 && long > 1.6) return 'shelving';
  return 'other';
}

/** The direction in degrees from a chair to the nearest desk at hand, null without one. */
function facingOf([x, y]: Point, desks: readonly DrawnPiece[]): number | null {
  let nearest: Ring | null = null;
  let least = AT_DESK;
  for (const { outline } of desks) {
    const box = computeBox(outline);
    if (x < box.minX - AT_DESK || x > box.maxX + AT_DESK || y < box.minY - AT_DESK || y > box.maxY + AT_DESK) continue;
    const distance = computeRingDistance(outline, x, y);
    if (distance < least) [nearest, least] = [outline, distance];
  }
  if (nearest === null) return null;
  const box = computeBox(nearest);
  const [mx, my] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  // Straight at the desk: from a chair beside its long side across it, not towards its middle.
  const near = nearestOn(nearest, x, y);
  const [dx, dy] = Math.hypot(near[0] - x, near[1] - y) > 0.05 ? [near[0] - x, near[1] - y] : [mx - x, my - y];
  return Math.round((((Math.atan2(dy, dx) * 180) / Math.PI + 360) % 360) * 10) / 10;
}

function nearestOn(ring: Ring, x: number, y: number): Point {
  let best: Point = ring[0] ?? [x, y];
  let least = Number.POSITIVE_INFINITY;
  for (const [i, a] of ring.entries()) {
    const b = ring[(i + 1) % ring.length] as Point;
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const t = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy || 1)));
    const point: Point = [a[0] + t * dx, a[1] + t * dy];
    const distance = Math.hypot(point[0] - x, point[1] - y);
    if (distance < least) [best, least] = [point, distance];
  }
  return best;
}
