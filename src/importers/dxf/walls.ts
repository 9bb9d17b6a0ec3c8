/** Wall lines and wall footprints out of what lies on wall layers. */
import type { Point, Ring } from '../../core/floor/index.ts';
import { computeBox, computeSignedArea } from '../../core/geometry/polygon.ts';
import { findCrossing, findNearCorners } from '../../core/geometry/simple-ring.ts';
import type { DrawnWall } from '../storey.ts';
import { type Segment, segmentsOf } from './segments.ts';
import type { Item } from './sorted.ts';

/** A closed outline thinner than this on average is a wall seen from above; a wider one is drawn round a room or a house. Metres. */
const THICKEST = 0.45;
const SHORTEST = 0.001;

export interface Walls {
  readonly walls: readonly DrawnWall[];
  readonly segments: readonly Segment[];
}

export function findWalls(items: readonly Item[]): Walls {
  const walls: DrawnWall[] = [];
  const segments: Segment[] = [];
  const seen = new Set<string>();
  const hasLines = items.some(({ entity }) => entity !== 'HATCH');
  for (const item of items) {
    const outline = item.closed ? toRing(item.points) : null;
    const isFootprint = outline !== null && isThin(outline) && isSimple(outline);
    // A hatch fills what lines draw; it counts alone, or where it fills a wall.
    if (item.entity === 'HATCH' && hasLines && !isFootprint) continue;
    if (isFootprint) {
      const { minX, minY, maxX, maxY } = computeBox(outline);
      const id = idOf([minX, minY, maxX, maxY, computeSignedArea(outline) ** 2]);
      if (seen.has(id)) continue;
      seen.add(id);
      walls.push({ kind: 'footprint', key: item.key, outline, base: 0, top: null });
      segments.push(...segmentsOf(item.points, true));
      continue;
    }
    const pieces = segmentsOf(item.points, item.closed);
    if (item.width > 0.02) {
      for (const [i, piece] of pieces.entries()) {
        const band = bandAlong(piece, item.width);
        walls.push({ kind: 'footprint', key: `${item.key}.${i}`, outline: band, base: 0, top: null });
        segments.push(...segmentsOf(band.flat(), true));
      }
      continue;
    }
    for (const [i, piece] of pieces.entries()) {
      if (Math.hypot(piece.x1 - piece.x0, piece.y1 - piece.y0) < SHORTEST) continue;
      const forward = piece.x0 < piece.x1 || (piece.x0 === piece.x1 && piece.y0 < piece.y1);
      const id = forward
        ? idOf([piece.x0, piece.y0, piece.x1, piece.y1])
        : idOf([piece.x1, piece.y1, piece.x0, piece.y0]);
      if (seen.has(id)) continue;
      seen.add(id);
      const key = pieces.length > 1 ? `${item.key}.${i}` : item.key;
      walls.push({ kind: 'line', key, from: [piece.x0, piece.y0], to: [piece.x1, piece.y1] });
      segments.push(piece);
    }
  }
  return { walls, segments };
}

/** Coordinates to 0.1 mm as one word: what lies on each other is the same. */
function idOf(numbers: readonly number[]): string {
  return numbers.map((value) => Math.round(value * 10_000)).join(',');
}

/** A wide polyline's piece as a rectangle, longer by half its width at both ends so that corners are filled. */
function bandAlong({ x0, y0, x1, y1 }: Segment, width: number): Ring {
  const length = Math.hypot(x1 - x0, y1 - y0);
  const ux = (((x1 - x0) / length) * width) / 2;
  const uy = (((y1 - y0) / length) * width) / 2;
  return [
    [x0 - ux + uy, y0 - uy - ux],
    [x1 + ux + uy, y1 + uy - ux],
    [x1 + ux - uy, y1 + uy + ux],
    [x0 - ux - uy, y0 - uy + ux],
  ];
}

/** A flat list as a ring without points on each other. */
export function toRing(points: readonly number[]): Ring | null {
  const ring: Point[] = [];
  for (let i = 0; i + 1 < points.length; i += 2) {
    const point: Point = [points[i] as number, points[i + 1] as number];
    const last = ring.at(-1);
    if (last === undefined || Math.hypot(point[0] - last[0], point[1] - last[1]) >= SHORTEST) ring.push(point);
  }
  const [first, last] = [ring[0], ring.at(-1)];
  if (
    first !== undefined &&
    last !== undefined &&
    ring.length > 1 &&
    Math.hypot(first[0] - last[0], first[1] - last[1]) < SHORTEST
  )
    ring.pop();
  return ring.length >= 3 ? ring : null;
}

function isThin(ring: Ring): boolean {
  let around = 0;
  for (const [i, point] of ring.entries()) {
    const next = ring[(i + 1) % ring.length] as Point;
    around += Math.hypot(next[0] - point[0], next[1] - point[1]);
  }
  const area = Math.abs(computeSignedArea(ring));
  return area > 0.001 && area / (around / 2) < THICKEST;
}

export function isSimple(ring: Ring): boolean {
  return findNearCorners(ring, SHORTEST) === undefined && findCrossing(ring) === undefined;
}
