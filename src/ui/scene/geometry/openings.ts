/** Doors, windows and passages: signs in plan, leaves and panes where walls stand up. */
import { type Floor, findRoomAt, isOpen } from '../../../core/floor/index.ts';
import type { PlanPoint } from '../../../core/geometry/polygon.ts';
import type { Gap } from '../../../core/sight/index.ts';
import { type LocalFrame, shadeOfSide } from '../local-frame.ts';
import { COLOUR } from '../paint.ts';
import type { FaceWriter } from './face-writer.ts';
import type { LineBatch, LineStyle } from './line-batch.ts';
import { footprint } from './wall-mesh.ts';
import type { WallPiece, Walls } from './wall-pieces.ts';

/** One leaf of a door: hinged at `hinge`, `shut` and `swung` are where its free end is when closed and when open. */
export interface Leaf {
  readonly hinge: PlanPoint;
  readonly shut: PlanPoint;
  readonly swung: PlanPoint;
  readonly open: boolean;
  readonly head: number;
}

/** A door wider than this has two leaves, metres. */
const ONE_LEAF = 1.3;
const ARC_STEPS = 16;
const INK: LineStyle = { width: 1.25, colour: COLOUR.ink };
const FINE: LineStyle = { width: 1, colour: COLOUR.ink };
const FAINT: LineStyle = { width: 1, colour: COLOUR.ink, alpha: 0.45 };

/** The leaves of every door, in local metres. They hang in the wall's face on the side into which they swing. */
export function listLeaves(floor: Floor, walls: Walls, frame: LocalFrame): Leaf[] {
  const pieceOf = new Map<Gap['opening'], WallPiece[]>();
  for (const piece of walls.pieces) {
    if (piece.gap?.opening.kind !== 'door') continue;
    pieceOf.set(piece.gap.opening, [...(pieceOf.get(piece.gap.opening) ?? []), piece]);
  }
  return [...pieceOf].flatMap(([opening, pieces]) => {
    const gap = pieces[0]?.gap;
    if (!gap) return [];
    const [fx, fy] = opening.from;
    const { ux, uy, length } = gap;
    const into = (side: number): PlanPoint => {
      const far = gap.halfDepth + 0.1;
      return [fx + (ux * length) / 2 - side * uy * far, fy + (uy * length) / 2 + side * ux * far];
    };
    const side =
      findRoomAt(floor.rooms, into(1)) === undefined && findRoomAt(floor.rooms, into(-1)) !== undefined ? -1 : 1;
    const nx = -uy * side;
    const ny = ux * side;
    const inFace = pieces.find((piece) => piece.nx * nx + piece.ny * ny < -0.5);
    const off = inFace === undefined ? 0 : (inFace.a[0] - fx) * nx + (inFace.a[1] - fy) * ny;
    const x = fx + nx * off - frame.x;
    const y = fy + ny * off - frame.y;
    const leaf = (start: number, end: number): Leaf => {
      const wide = Math.abs(end - start);
      const hinge: PlanPoint = [x + ux * start, y + uy * start];
      return {
        hinge,
        shut: [x + ux * end, y + uy * end],
        swung: [hinge[0] + nx * wide, hinge[1] + ny * wide],
        open: isOpen(opening, 'stated'),
        head: gap.head,
      };
    };
    return length > ONE_LEAF ? [leaf(0, length / 2), leaf(length, length / 2)] : [leaf(0, length)];
  });
}

/** Leaves as upright faces. */
export function writeLeaves(writer: FaceWriter, leaves: readonly Leaf[]): void {
  for (const { hinge, shut, swung, open, head } of leaves) {
    const end = open ? swung : shut;
    const length = Math.hypot(end[0] - hinge[0], end[1] - hinge[1]) || 1;
    const shade = shadeOfSide((end[1] - hinge[1]) / length, (hinge[0] - end[0]) / length) * 0.6;
    writer.upright(hinge[0], hinge[1], end[0], end[1], 0, head, shade);
  }
}

/** Outlines of leaves and panes where the walls stand up. */
export function drawUprightOpenings(batch: LineBatch, leaves: readonly Leaf[], walls: Walls, frame: LocalFrame): void {
  for (const { hinge, shut, swung, open, head } of leaves) {
    const end = open ? swung : shut;
    batch.add(hinge[0], hinge[1], 0, hinge[0], hinge[1], head, INK);
    batch.add(end[0], end[1], 0, end[0], end[1], head, INK);
    batch.add(hinge[0], hinge[1], head, end[0], end[1], head, INK);
  }
  for (const piece of walls.pieces) {
    if (piece.gap?.opening.kind !== 'window') continue;
    const { sill, head } = piece.gap;
    const [ax = 0, ay = 0, px = 0, py = 0, qx = 0, qy = 0, bx = 0, by = 0] = footprint(piece, frame);
    const [cx, cy, dx, dy] = [(ax + px) / 2, (ay + py) / 2, (bx + qx) / 2, (by + qy) / 2];
    batch.add(ax, ay, sill, bx, by, sill, FINE);
    batch.add(ax, ay, head, bx, by, head, FINE);
    batch.add(cx, cy, sill, dx, dy, sill, FAINT);
    batch.add(cx, cy, head, dx, dy, head, FAINT);
    const panes = Math.max(1, Math.round(Math.hypot(dx - cx, dy - cy) / 1.2));
    for (let k = 0; k <= panes; k++) {
      const [x, y] = [cx + ((dx - cx) * k) / panes, cy + ((dy - cy) * k) / panes];
      batch.add(x, y, sill, x, y, head, FAINT);
    }
  }
}

/** The signs of openings seen from above. */
export function drawOpeningSigns(batch: LineBatch, leaves: readonly Leaf[], walls: Walls, frame: LocalFrame): void {
  const z = 0.01;
  for (const leaf of leaves) drawSwing(batch, leaf, z);
  for (const piece of walls.pieces) {
    const kind = piece.gap?.opening.kind;
    if (kind === undefined) continue;
    const [ax = 0, ay = 0, px = 0, py = 0, qx = 0, qy = 0, bx = 0, by = 0] = footprint(piece, frame);
    const along = (share: number, style: LineStyle) => {
      const [x0, y0] = [ax + (px - ax) * share, ay + (py - ay) * share];
      batch.add(x0, y0, z, bx + (qx - bx) * share, by + (qy - by) * share, z, style);
    };
    if (kind === 'window') {
      along(0, INK);
      along(1, INK);
      along(0.42, FAINT);
      along(0.58, FAINT);
    } else if (kind === 'passage') {
      along(0, { ...FAINT, dash: [3, 3] });
    }
    batch.add(ax, ay, z, px, py, z, FINE);
    batch.add(bx, by, z, qx, qy, z, FINE);
  }
}

/** A closed leaf lies in its wall and its swing is faint; an open one stands in the room. */
function drawSwing(batch: LineBatch, { hinge, shut, swung, open }: Leaf, z: number): void {
  batch.add(hinge[0], hinge[1], z, swung[0], swung[1], z, open ? INK : FAINT);
  if (!open) batch.add(hinge[0], hinge[1], z, shut[0], shut[1], z, INK);
  let [x, y] = shut;
  for (let k = 1; k <= ARC_STEPS; k++) {
    const angle = (k / ARC_STEPS) * (Math.PI / 2);
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    const nextX = hinge[0] + (shut[0] - hinge[0]) * c + (swung[0] - hinge[0]) * s;
    const nextY = hinge[1] + (shut[1] - hinge[1]) * c + (swung[1] - hinge[1]) * s;
    batch.add(x, y, z, nextX, nextY, z, open ? FINE : FAINT);
    [x, y] = [nextX, nextY];
  }
}
