/** Furniture and luminaires as solid pieces over their outlines. */
import type { Floor, Point } from '../floor/index.ts';
import { cutIntoConvexParts } from '../geometry/convex-parts.ts';
import { computeBox } from '../geometry/polygon.ts';

/** A solid piece with its whole outline, as the reference sight line reads it. */
export interface Prism {
  readonly outline: readonly Point[];
  readonly base: number;
  readonly top: number;
  readonly blocker: number;
}

/** Corners of a luminaire's plan rectangle, counter-clockwise. */
export function luminaireOutline(at: Point, size: Point, turn: number): Point[] {
  const c = Math.cos((turn * Math.PI) / 180) / 2;
  const s = Math.sin((turn * Math.PI) / 180) / 2;
  const corner = (u: number, v: number): Point => [
    at[0] + u * size[0] * c - v * size[1] * s,
    at[1] + u * size[0] * s + v * size[1] * c,
  ];
  return [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)];
}

export function listPrisms(floor: Floor): Prism[] {
  const first = floor.rooms.length;
  const pieces = floor.furniture.map((_, index) => prismOf(floor, index));
  const luminaires = floor.luminaires.map((each, index) => ({
    outline: luminaireOutline(each.at, each.size, each.turn),
    base: each.base,
    top: each.top,
    blocker: first + floor.furniture.length + index,
  }));
  return [...pieces, ...luminaires];
}

export function prismOf({ rooms, furniture }: Floor, index: number): Prism {
  const { outline, base, top } = furniture[index]!;
  return { outline: counterClockwise(outline), base, top, blocker: rooms.length + index };
}

const knownTurned = new WeakMap<readonly Point[], readonly Point[]>();

/** The ring counter-clockwise; of one outline always the same object. */
function counterClockwise(ring: readonly Point[]): readonly Point[] {
  const known = knownTurned.get(ring);
  if (known) return known;
  const turned = turnCounterClockwise(ring);
  knownTurned.set(ring, turned);
  return turned;
}

function turnCounterClockwise(ring: readonly Point[]): readonly Point[] {
  let doubled = 0;
  ring.forEach(([x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length]!;
    doubled += x * ny - nx * y;
  });
  return doubled < 0 ? [...ring].reverse() : ring;
}

export function boxPrisms(prisms: readonly Prism[]): Float64Array {
  const boxes = new Float64Array(4 * prisms.length);
  prisms.forEach((prism, index) => {
    writePrismBox(boxes, index, prism);
  });
  return boxes;
}

export function writePrismBox(boxes: Float64Array, index: number, { outline }: Prism): void {
  const { minX, minY, maxX, maxY } = computeBox(outline);
  boxes[4 * index] = minX;
  boxes[4 * index + 1] = minY;
  boxes[4 * index + 2] = maxX;
  boxes[4 * index + 3] = maxY;
}

/** Parts by outline object: outlines are never changed in place, and most pieces stay while one is moved. */
const knownParts = new WeakMap<readonly Point[], number[][]>();

export function partsOf(outline: readonly Point[]): number[][] {
  const known = knownParts.get(outline);
  if (known) return known;
  const parts = cutIntoConvexParts(outline.flat());
  knownParts.set(outline, parts);
  return parts;
}
