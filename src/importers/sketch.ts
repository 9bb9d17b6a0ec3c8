/** Small drawings of storeys and floors, as SVG path data: what a page shows before anything is opened. */
import type { FloorFile, Point, Ring } from '../core/floor/index.ts';
import { isPlace } from './assembly/region.ts';
import type { DrawnStorey } from './storey.ts';

export interface PlanSketch {
  /** x, y, width and height of what is drawn; y points down, as in SVG. Null: there is nothing. */
  readonly box: readonly [number, number, number, number] | null;
  readonly rooms: string;
  readonly walls: string;
  readonly openings: string;
  readonly pieces: string;
}

/** Points drawn at most of one kind: a small plan shows no more. */
const MOST_POINTS = 20_000;

interface Pen {
  ring(ring: Ring): void;
  line(from: Point, to: Point): void;
  readonly path: string;
}

/** Draws what a reader found. */
export function sketchStorey(storey: DrawnStorey): PlanSketch {
  return sketch((rooms, walls, openings, pieces) => {
    for (const { outline, holes } of storey.rooms) for (const ring of [outline, ...holes]) rooms.ring(ring);
    for (const wall of storey.walls) {
      if (wall.kind === 'footprint') walls.ring(wall.outline);
      else walls.line(wall.from, wall.to);
    }
    for (const { from, to } of storey.openings) openings.line(from, to);
    for (const { outline } of storey.pieces) pieces.ring(outline);
  });
}

/** Draws a floor; the edges of its rooms are its walls. */
export function sketchFloor(floor: FloorFile): PlanSketch {
  return sketch((rooms, _walls, openings, pieces) => {
    for (const { outline, holes = [] } of floor.rooms) for (const ring of [outline, ...holes]) rooms.ring(ring);
    for (const { from, to } of floor.openings ?? []) openings.line(from, to);
    for (const { outline } of floor.furniture ?? []) pieces.ring(outline);
  });
}

function sketch(draw: (rooms: Pen, walls: Pen, openings: Pen, pieces: Pen) => void): PlanSketch {
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  const pens = [createPen(box), createPen(box), createPen(box), createPen(box)] as const;
  draw(...pens);
  const [rooms, walls, openings, pieces] = pens;
  const { x0, y0, x1, y1 } = box;
  return {
    box: x0 <= x1 ? [x0, y0, Math.max(0.1, x1 - x0), Math.max(0.1, y1 - y0)] : null,
    rooms: rooms.path,
    walls: walls.path,
    openings: openings.path,
    pieces: pieces.path,
  };
}

function createPen(box: { x0: number; y0: number; x1: number; y1: number }): Pen {
  const parts: string[] = [];
  let points = 0;
  const write = ([x, y]: Point): string => {
    const down = -y;
    box.x0 = Math.min(box.x0, x);
    box.y0 = Math.min(box.y0, down);
    box.x1 = Math.max(box.x1, x);
    box.y1 = Math.max(box.y1, down);
    return `${round(x)} ${round(down)}`;
  };
  const add = (ends: readonly Point[], close: string): void => {
    if (points > MOST_POINTS || ends.length < 2 || !ends.every(isPlace)) return;
    points += ends.length;
    parts.push(`M${ends.map(write).join('L')}${close}`);
  };
  return {
    ring: (ring) => add(ring, 'Z'),
    line: (from, to) => add([from, to], ''),
    get path() {
      return parts.join('');
    },
  };
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
