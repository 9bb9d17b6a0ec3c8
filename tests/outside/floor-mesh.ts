/** A floor as triangles, for ray casters that know nothing of floors. Built from the file's own numbers alone. */
import earcut from 'earcut';
import type { Doors, Floor, Opening, Point } from '../../src/core/floor/index.ts';
import { headOf, isOpen } from '../../src/core/floor/index.ts';

export interface FloorMesh {
  /** x, y, z a corner, metres from `origin`. */
  readonly positions: Float32Array;
  /** Three corners a triangle. */
  readonly index: Uint32Array;
  /** Plan point that the mesh is measured from, so that single precision suffices. */
  readonly origin: Point;
}

/** Walls have no top; no lens hangs as high as this, metres. */
export const WALL_TOP = 12;

/** An upright rectangle over the plan segment a–b, closed from `low` to `high`. */
export interface Panel {
  readonly a: Point;
  readonly b: Point;
  readonly low: number;
  readonly high: number;
}

/** Builds walls as tall panels cut by open openings, furniture and luminaires as closed prisms. */
export function buildMesh(floor: Floor, doors: Doors): FloorMesh {
  const origin: Point = floor.rooms[0]!.outline[0]!;
  const positions: number[] = [];
  const index: number[] = [];
  const put = (x: number, y: number, z: number): number => positions.push(x - origin[0], y - origin[1], z) / 3 - 1;
  const panel = ({ a, b, low, high }: Panel) => {
    const [p, q, r, s] = [put(...a, low), put(...b, low), put(...b, high), put(...a, high)];
    index.push(p, q, r, p, r, s);
  };
  const prism = (outline: readonly Point[], base: number, top: number) => {
    outline.forEach((a, k) => {
      panel({ a, b: outline[(k + 1) % outline.length]!, low: base, high: top });
    });
    const cap = earcut(outline.flat());
    for (const z of [base, top]) {
      const corners = outline.map(([x, y]) => put(x, y, z));
      index.push(...cap.map((corner) => corners[corner]!));
    }
  };
  for (const each of listPanels(floor, doors)) panel(each);
  for (const { outline, base, top } of floor.furniture) prism(outline, base, top);
  for (const { at, size, turn, base, top } of floor.luminaires) prism(turnedBox(at, size, turn), base, top);
  return { positions: Float32Array.from(positions), index: Uint32Array.from(index), origin };
}

/** What is left of all walls when their open openings are cut out. */
export function listPanels(floor: Floor, doors: Doors): Panel[] {
  const openings = floor.openings.filter((opening) => isOpen(opening, doors));
  const rings = floor.rooms.flatMap((room) => [room.outline, ...room.holes]);
  return rings.flatMap((ring) =>
    ring.flatMap((a, k) => [...cutWall(floor, a, ring[(k + 1) % ring.length]!, openings)]),
  );
}

/** What is left of a wall from a to b: between neighbouring borders of openings it is closed but for their heights. */
function* cutWall(floor: Floor, a: Point, b: Point, openings: readonly Opening[]): Generator<Panel> {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const length = Math.hypot(dx, dy);
  const at = (t: number): Point => [a[0] + t * dx, a[1] + t * dy];
  const along = openings.map(axesOf).filter(({ ux, uy }) => {
    const cosine = Math.min(1, Math.abs(dx * ux + dy * uy) / length);
    return (Math.acos(cosine) * 180) / Math.PI <= 30 + 1e-9;
  });
  const borders = [0, 1];
  for (const { fx, fy, ux, uy, width, opening } of along) {
    for (const [nx, ny, ends] of [
      [ux, uy, [0, width]],
      [-uy, ux, [-opening.depth / 2, opening.depth / 2]],
    ] as const) {
      const step = dx * nx + dy * ny;
      const start = (a[0] - fx) * nx + (a[1] - fy) * ny;
      for (const end of ends) borders.push((end - start) / step);
    }
  }
  const stops = borders.filter((t) => t >= 0 && t <= 1).sort((p, q) => p - q);
  for (let s = 0; s + 1 < stops.length; s++) {
    const [from, to] = [stops[s]!, stops[s + 1]!];
    if (to - from < 1e-12) continue;
    const [x, y] = at((from + to) / 2);
    const gaps = along
      .filter(({ fx, fy, ux, uy, width, opening }) => {
        const u = (x - fx) * ux + (y - fy) * uy;
        return u >= 0 && u <= width && Math.abs((y - fy) * ux - (x - fx) * uy) <= opening.depth / 2 + 1e-9;
      })
      .map(({ opening }) => ({ sill: opening.sill, head: headOf(opening, floor) }));
    const heights = [0, WALL_TOP, ...gaps.flatMap(({ sill, head }) => [sill, Math.min(head, WALL_TOP)])].sort(
      (p, q) => p - q,
    );
    for (const [k, high] of heights.slice(1).entries()) {
      const low = heights[k]!;
      const middle = (low + high) / 2;
      const isGap = gaps.some(({ sill, head }) => middle > sill && middle < head);
      if (high > low && !isGap) yield { a: at(from), b: at(to), low, high };
    }
  }
}

function axesOf(opening: Opening) {
  const [fx, fy] = opening.from;
  const [dx, dy] = [opening.to[0] - fx, opening.to[1] - fy];
  const width = Math.hypot(dx, dy);
  return { opening, fx, fy, ux: dx / width, uy: dy / width, width };
}

/** Corners of a rectangle about a centre, its length turned by `turn` degrees. */
export function turnedBox([x, y]: Point, [length, width]: Point, turn: number): Point[] {
  const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  return [
    [-length / 2, -width / 2],
    [length / 2, -width / 2],
    [length / 2, width / 2],
    [-length / 2, width / 2],
  ].map(([u, v]): Point => [x + u! * c - v! * s, y + u! * s + v! * c]);
}
