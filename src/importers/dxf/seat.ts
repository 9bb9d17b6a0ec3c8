/** Where in its wall an opening stands: how thick the wall is, and where its middle line runs. Metres. */
import type { Point } from '../../core/floor/index.ts';
import type { SegmentIndex } from './segments.ts';

/** Thinnest and thickest wall that is looked for. */
const THIN = 0.03;
const THICK = 0.65;
/** A wall's face ends this near to the jamb. */
const BEYOND = 0.4;
/** Lines within 5° are parallel. */
const PARALLEL = 0.09;
/** Faces within this are one. */
const SAME = 0.02;

export interface Seat {
  readonly from: Point;
  readonly to: Point;
  /** Thickness of the wall, null where only one face or none was found. */
  readonly depth: number | null;
  /** How many metres of wall face run along the opening's line beside it. */
  readonly support: number;
}

/** Moves an opening onto the middle line of the wall whose faces run on from its ends. */
export function seatInWall(from: Point, to: Point, walls: SegmentIndex): Seat {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (!(length > 0)) return { from, to, depth: null, support: 0 };
  const ux = (to[0] - from[0]) / length;
  const uy = (to[1] - from[1]) / length;
  const faces: { offset: number; weight: number; sides: number }[] = [];
  let support = 0;
  const take = (offset: number, weight: number, side: number): void => {
    const known = faces.find((face) => Math.abs(face.offset - offset) < SAME);
    if (known === undefined) faces.push({ offset, weight, sides: side });
    else {
      known.weight += weight;
      known.sides |= side;
    }
  };
  const [mx, my] = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  walls.near(mx, my, length / 2 + BEYOND, ({ x0, y0, x1, y1 }) => {
    const size = Math.hypot(x1 - x0, y1 - y0);
    const cross = (x1 - x0) * uy - (y1 - y0) * ux;
    if (Math.abs(cross) > PARALLEL * size) return;
    const along0 = (x0 - from[0]) * ux + (y0 - from[1]) * uy;
    const along1 = (x1 - from[0]) * ux + (y1 - from[1]) * uy;
    const [start, end] = along0 < along1 ? [along0, along1] : [along1, along0];
    const before = Math.max(0, Math.min(end, 0) - Math.max(start, -BEYOND));
    const after = Math.max(0, Math.min(end, length + BEYOND) - Math.max(start, length));
    if (before + after < 0.01) return;
    const offset = ((x0 + x1) / 2 - from[0]) * -uy + ((y0 + y1) / 2 - from[1]) * ux;
    if (Math.abs(offset) > THICK) return;
    take(offset, before + after, (before > 0.01 ? 1 : 0) | (after > 0.01 ? 2 : 0));
    if (Math.abs(offset) < 0.1) support += before + after;
  });
  const seat = middleOf(faces);
  if (seat === null) return { from, to, depth: null, support };
  const [dx, dy] = [-uy * seat.offset, ux * seat.offset];
  return { from: [from[0] + dx, from[1] + dy], to: [to[0] + dx, to[1] + dy], depth: seat.depth, support };
}

/** The pair of faces the opening's line lies between or on: on both sides before on one, near before far. */
function middleOf(
  faces: readonly { offset: number; weight: number; sides: number }[],
): { offset: number; depth: number } | null {
  let best: { offset: number; depth: number; cost: number } | null = null;
  for (const a of faces) {
    for (const b of faces) {
      const depth = b.offset - a.offset;
      if (depth < THIN || depth > THICK) continue;
      // The line lies between the faces, or on one.
      if (a.offset > 0.08 || b.offset < -0.08) continue;
      const oneSided = (a.sides === 3 ? 0 : 0.3) + (b.sides === 3 ? 0 : 0.3);
      const cost = depth + oneSided + Math.min(Math.abs(a.offset), Math.abs(b.offset));
      if (best === null || cost < best.cost) best = { offset: (a.offset + b.offset) / 2, depth, cost };
    }
  }
  return best;
}
