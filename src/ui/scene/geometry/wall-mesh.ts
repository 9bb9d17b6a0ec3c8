/** Walls, floors and ceilings as faces and lines. Local metres; a cut presses what stands above it down to its height. */
import type { BufferGeometry } from 'three';
import type { Floor } from '../../../core/floor/index.ts';
import { triangulate } from '../../../core/geometry/triangulate.ts';
import { type LocalFrame, shadeOfSide } from '../local-frame.ts';
import { COLOUR } from '../paint.ts';
import { FaceWriter, NO_REACH } from './face-writer.ts';
import type { LineBatch, LineStyle } from './line-batch.ts';
import type { WallPiece, Walls } from './wall-pieces.ts';

const EDGE: LineStyle = { width: 1.1, colour: COLOUR.ink };

/** The paper of every room, with the ground of every opening, at z = 0. */
export function buildFloors(floor: Floor, walls: Walls, frame: LocalFrame): BufferGeometry {
  const writer = new FaceWriter();
  for (const room of floor.rooms) {
    const { xy, index } = triangulate(room.outline, room.holes);
    writer.triangles(toLocal(xy, frame), index, 0, 0, NO_REACH);
  }
  for (const piece of walls.pieces) {
    if (piece.gap !== null) writer.level(footprint(piece, frame), 0, 0, NO_REACH);
  }
  return writer.finish();
}

/** The ceilings, facing down: from above one looks through them. */
export function buildCeilings(floor: Floor, frame: LocalFrame): BufferGeometry {
  const writer = new FaceWriter();
  for (const room of floor.rooms) {
    const { xy, index } = triangulate(room.outline, room.holes);
    writer.triangles(toLocal(xy, frame), index, room.ceiling, 0.03, NO_REACH, true);
  }
  return writer.finish();
}

/** Walls without what an opening takes out of them; `more` adds what is cut with them. */
export function buildWalls(
  floor: Floor,
  walls: Walls,
  frame: LocalFrame,
  more: (writer: FaceWriter) => void,
): BufferGeometry {
  const writer = new FaceWriter();
  more(writer);
  for (const piece of walls.pieces) {
    if (piece.gap === null) writeBody(writer, piece, 0, ceilingOver(floor, piece), frame);
    else writeJambs(writer, piece, frame);
  }
  for (const { room, xy, free } of walls.corners) {
    const local = toLocal(xy, frame);
    const top = floor.rooms[room]?.ceiling ?? 0;
    writer.level(local, top, 0, 1);
    if (!free) continue;
    for (let k = 1; k + 1 < local.length / 2; k++) writeSide(writer, local, k, top);
  }
  return writer.finish();
}

/** What is solid below the openings' sills. */
export function buildSills(walls: Walls, frame: LocalFrame): BufferGeometry {
  const writer = new FaceWriter();
  for (const piece of walls.pieces) {
    if (piece.gap !== null && piece.gap.sill > 0) writeBody(writer, piece, 0, piece.gap.sill, frame);
  }
  return writer.finish();
}

/** What is solid above the openings' heads. */
export function buildLintels(floor: Floor, walls: Walls, frame: LocalFrame): BufferGeometry {
  const writer = new FaceWriter();
  for (const piece of walls.pieces) {
    if (piece.gap === null) continue;
    const ceiling = ceilingOver(floor, piece);
    if (piece.gap.head < ceiling) {
      writeBody(writer, piece, piece.gap.head, ceiling, frame);
      writer.level([...footprint(piece, frame)], piece.gap.head, 0.12, NO_REACH);
    }
  }
  return writer.finish();
}

/** Edges along the cut: all that shows of the walls' edges from above. */
export function drawWallTops(batch: LineBatch, floor: Floor, walls: Walls, frame: LocalFrame): void {
  drawWallRims(batch, walls, frame, (room) => floor.rooms[room]?.ceiling ?? 0);
}

/** Edges along the floor and at the corners of the rooms. */
export function drawWallFeet(batch: LineBatch, floor: Floor, walls: Walls, frame: LocalFrame): void {
  drawWallRims(batch, walls, frame, () => 0);
  for (const { room, xy } of walls.corners) {
    const [x = 0, y = 0] = toLocal(xy, frame);
    batch.add(x, y, 0, x, y, floor.rooms[room]?.ceiling ?? 0, EDGE);
  }
}

function drawWallRims(batch: LineBatch, walls: Walls, frame: LocalFrame, heightOf: (room: number) => number): void {
  for (const { room, a, b, nx, ny, ta, tb, free, gap } of walls.pieces) {
    if (gap !== null) continue;
    const z = heightOf(room);
    const [ax, ay, bx, by] = [a[0] - frame.x, a[1] - frame.y, b[0] - frame.x, b[1] - frame.y];
    batch.add(ax, ay, z, bx, by, z, EDGE);
    if (free) batch.add(ax + nx * ta, ay + ny * ta, z, bx + nx * tb, by + ny * tb, z, EDGE);
  }
  for (const { room, xy, free } of walls.corners) {
    if (!free) continue;
    const z = heightOf(room);
    const local = toLocal(xy, frame);
    for (let k = 1; k + 1 < local.length / 2; k++) {
      const [px, py, qx, qy] = local.slice(2 * k, 2 * k + 4) as [number, number, number, number];
      batch.add(px, py, z, qx, qy, z, EDGE);
    }
  }
}

/** Edges that show only from inside: of ceilings over openings, of heads and reveals. */
export function drawLintelEdges(batch: LineBatch, floor: Floor, walls: Walls, frame: LocalFrame): void {
  const style = EDGE;
  for (const piece of walls.pieces) {
    if (piece.gap === null) continue;
    const [ax = 0, ay = 0, px = 0, py = 0, qx = 0, qy = 0, bx = 0, by = 0] = footprint(piece, frame);
    const { head, sill } = piece.gap;
    const ceiling = ceilingOver(floor, piece);
    batch.add(ax, ay, ceiling, bx, by, ceiling, style);
    for (const [x, y] of [
      [ax, ay],
      [bx, by],
      [px, py],
      [qx, qy],
    ] as const) {
      batch.add(x, y, sill, x, y, head, style);
    }
    if (head < ceiling) batch.add(ax, ay, head, bx, by, head, style);
    if (sill > 0) batch.add(ax, ay, 0, bx, by, 0, style);
  }
}

/** The plan of a piece of wall, local and counter-clockwise. */
export function footprint({ a, b, nx, ny, ta, tb }: WallPiece, frame: LocalFrame): number[] {
  const [ax, ay, bx, by] = [a[0] - frame.x, a[1] - frame.y, b[0] - frame.x, b[1] - frame.y];
  return [ax, ay, ax + nx * ta, ay + ny * ta, bx + nx * tb, by + ny * tb, bx, by];
}

function toLocal(xy: readonly number[], frame: LocalFrame): number[] {
  return xy.map((value, i) => value - (i % 2 === 0 ? frame.x : frame.y));
}

function ceilingOver(floor: Floor, piece: WallPiece): number {
  return floor.rooms[piece.room]?.ceiling ?? 0;
}

function writeBody(writer: FaceWriter, piece: WallPiece, base: number, top: number, frame: LocalFrame): void {
  const [ax = 0, ay = 0, px = 0, py = 0, qx = 0, qy = 0, bx = 0, by = 0] = footprint(piece, frame);
  const { nx, ny, free } = piece;
  writer.level([ax, ay, px, py, qx, qy, bx, by], top, 0, 1);
  writer.upright(bx, by, ax, ay, base, top, shadeOfSide(-nx, -ny));
  if (free) writer.upright(px, py, qx, qy, base, top, shadeOfSide(nx, ny));
}

/** The two faces of the wall that an opening lays bare, from floor to head. */
function writeJambs(writer: FaceWriter, piece: WallPiece, frame: LocalFrame): void {
  const [ax = 0, ay = 0, px = 0, py = 0, qx = 0, qy = 0, bx = 0, by = 0] = footprint(piece, frame);
  const head = piece.gap?.head ?? 0;
  writer.upright(ax, ay, px, py, 0, head, shadeOfSide(-piece.ny, piece.nx));
  writer.upright(qx, qy, bx, by, 0, head, shadeOfSide(piece.ny, -piece.nx));
}

function writeSide(writer: FaceWriter, xy: readonly number[], k: number, top: number): void {
  const [px = 0, py = 0, qx = 0, qy = 0] = xy.slice(2 * k, 2 * k + 4);
  const length = Math.hypot(qx - px, qy - py) || 1;
  writer.upright(px, py, qx, qy, 0, top, shadeOfSide((qy - py) / length, -(qx - px) / length));
}
