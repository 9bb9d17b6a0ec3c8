/** Furniture and luminaires as prisms: faces toned by height, edges, and the few strokes that say what they are. */
import type { BufferGeometry } from 'three';
import type { Furniture } from '../../../core/floor/index.ts';
import { computeSignedArea, type PlanRing } from '../../../core/geometry/polygon.ts';
import { triangulate } from '../../../core/geometry/triangulate.ts';
import { type LocalFrame, reachOf, shadeOfSide } from '../local-frame.ts';
import { COLOUR } from '../paint.ts';
import { FaceWriter, NO_REACH } from './face-writer.ts';
import type { LineBatch, LineStyle } from './line-batch.ts';

export interface PrismFaces {
  readonly solid: BufferGeometry;
  /** Upright faces of glass, to be seen through. */
  readonly glass: BufferGeometry;
}

export interface PrismBatches {
  /** Outlines of the tops: all that a plan needs. */
  readonly tops: LineBatch;
  /** Everything below the tops. */
  readonly sides: LineBatch;
}

/** A piece thinner than this is drawn as one line of ink, metres. */
const THIN = 0.09;
const GLASS_SHADE = 0.06;
const SHELF_PITCH = 0.37;

/** Its outline in local metres, counter-clockwise, flat. */
export function localOutline(outline: PlanRing, frame: LocalFrame): number[] {
  const ring = computeSignedArea(outline) > 0 ? outline : [...outline].reverse();
  return ring.flatMap(([x, y]) => [x - frame.x, y - frame.y]);
}

/** Faces of all pieces as two geometries. `ceiling`: what heights are measured against for their tone. */
export function buildPrisms(pieces: readonly Furniture[], ceiling: number, frame: LocalFrame): PrismFaces {
  const solid = new FaceWriter();
  const glass = new FaceWriter();
  for (const piece of pieces) writePrism(solid, piece.glass ? glass : solid, piece, ceiling, frame);
  return { solid: solid.finish(), glass: glass.finish() };
}

/** Faces of one piece: into `solid`, and those that can be seen through into `glass`. */
export function writePiece(
  writers: { readonly solid: FaceWriter; readonly glass: FaceWriter },
  piece: Furniture,
  ceiling: number,
  frame: LocalFrame,
): void {
  writePrism(writers.solid, piece.glass ? writers.glass : writers.solid, piece, ceiling, frame);
}

function writePrism(tops: FaceWriter, sides: FaceWriter, piece: Furniture, ceiling: number, frame: LocalFrame): void {
  const { outline, base, top, glass } = piece;
  const xy = localOutline(outline, frame);
  const ring: [number, number][] = [];
  for (let i = 0; i < xy.length; i += 2) ring.push([xy[i] as number, xy[i + 1] as number]);
  const { index } = triangulate(ring);
  const thin = isThin(xy);
  const reach = thin || glass ? NO_REACH : reachOf(top, ceiling);
  tops.triangles(xy, index, top, glass ? GLASS_SHADE : thin ? 1 : 0, reach);
  // Only what hangs above the eyes shows its underside.
  if (base > 1) tops.triangles(xy, index, base, 0.12, NO_REACH, true);
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length] as [number, number];
    const length = Math.hypot(bx - ax, by - ay) || 1;
    const shade = glass ? GLASS_SHADE : shadeOfSide((by - ay) / length, (ax - bx) / length);
    sides.upright(ax, ay, bx, by, base, top, shade);
  });
}

/** Whether an outline is one line when drawn: twice its area over its girth is its width when it is long and thin. */
function isThin(xy: readonly number[]): boolean {
  let girth = 0;
  let twice = 0;
  for (let i = 0; i < xy.length; i += 2) {
    const j = (i + 2) % xy.length;
    const [ax = 0, ay = 0, bx = 0, by = 0] = [xy[i], xy[i + 1], xy[j], xy[j + 1]];
    girth += Math.hypot(bx - ax, by - ay);
    twice += ax * by - bx * ay;
  }
  return twice / girth < THIN;
}

/** Edges of all pieces. What stands no higher than `plane` is drawn faint: the field lies over it. */
export function drawPrismEdges(
  batches: PrismBatches,
  pieces: readonly Furniture[],
  plane: number,
  frame: LocalFrame,
): void {
  for (const piece of pieces) {
    const { base, top, kind, glass } = piece;
    const low = top <= plane;
    const edge: LineStyle = { width: low ? 1 : 1.1, colour: COLOUR.ink, alpha: low ? 0.42 : 1 };
    const side: LineStyle = { width: 1.1, colour: COLOUR.ink, alpha: low ? 0.6 : 1 };
    const hair: LineStyle = { width: 1, colour: COLOUR.ink, alpha: 0.3 };
    const xy = localOutline(piece.outline, frame);
    batches.tops.addPolyline(xy, top, edge, true);
    batches.sides.addPolyline(xy, base, side, true);
    for (let i = 0; i < xy.length; i += 2) {
      const [x, y] = [xy[i] as number, xy[i + 1] as number];
      if (!isFlatCorner(xy, i)) batches.sides.add(x, y, base, x, y, top, side);
      // What stands on legs shows them; what hangs shows nothing that is not there.
      if (base > 0.02 && base < 1.2 && kind !== 'hanging') batches.sides.add(x, y, 0, x, y, base, hair);
    }
    if (glass) drawPanes(batches.sides, xy, base, top, hair);
    else if (kind === 'shelving' && top - base > 2 * SHELF_PITCH) drawShelves(batches.sides, xy, base, top, hair);
  }
}

/** A corner of a round column turns so little that an upright there would only darken it. */
function isFlatCorner(xy: readonly number[], i: number): boolean {
  const n = xy.length;
  const [px = 0, py = 0] = [xy[(i + n - 2) % n], xy[(i + n - 1) % n]];
  const [x = 0, y = 0] = [xy[i], xy[i + 1]];
  const [qx = 0, qy = 0] = [xy[(i + 2) % n], xy[(i + 3) % n]];
  const turn = Math.atan2((x - px) * (qy - y) - (y - py) * (qx - x), (x - px) * (qx - x) + (y - py) * (qy - y));
  return Math.abs(turn) < 0.45;
}

function drawShelves(batch: LineBatch, xy: readonly number[], base: number, top: number, style: LineStyle): void {
  const shelves = Math.round((top - base) / SHELF_PITCH);
  for (let k = 1; k < shelves; k++) batch.addPolyline(xy, base + ((top - base) * k) / shelves, style, true);
}

/** Frames of about 1.2 m and two short slanted strokes in each. */
function drawPanes(batch: LineBatch, xy: readonly number[], base: number, top: number, style: LineStyle): void {
  for (let i = 0; i < xy.length; i += 2) {
    const j = (i + 2) % xy.length;
    const [ax = 0, ay = 0, bx = 0, by = 0] = [xy[i], xy[i + 1], xy[j], xy[j + 1]];
    const length = Math.hypot(bx - ax, by - ay);
    if (length < 0.4) continue;
    const panes = Math.max(1, Math.round(length / 1.2));
    const at = (share: number): readonly [number, number] => [ax + (bx - ax) * share, ay + (by - ay) * share];
    for (let k = 0; k < panes; k++) {
      const [x, y] = at(k / panes);
      batch.add(x, y, base, x, y, top, { ...style, alpha: 0.7 });
      for (const shift of [0.32, 0.46]) {
        const [sx, sy] = at((k + shift) / panes);
        const [ex, ey] = at((k + shift + 0.16) / panes);
        batch.add(sx, sy, base + (top - base) * 0.42, ex, ey, base + (top - base) * 0.66, style);
      }
    }
  }
}
