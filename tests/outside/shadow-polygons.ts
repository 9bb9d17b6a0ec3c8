/** What one lens sees on a plane as polygons: range, rooms, shadows and masks, each written down exactly. */
import type { Doors, Floor, Point } from '../../src/core/floor/index.ts';
import type { Extent, Lens } from '../../src/core/sight/index.ts';
import { listPanels, turnedBox, WALL_TOP } from './floor-mesh.ts';

export type Polygon = readonly Point[];

/** Corners of a full circle that stands for a round range or a mask: short of its area by 13 millionths. */
const ROUND = 720;

function arc(x: number, y: number, radius: number, from: number, to: number): Point[] {
  const steps = Math.max(1, Math.ceil((ROUND * Math.abs(to - from)) / 360 - 1e-9));
  return Array.from({ length: steps + 1 }, (_, k): Point => {
    const angle = ((from + ((to - from) * k) / steps) * Math.PI) / 180;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
  });
}

export function drawRange(lens: Lens, extent: Extent): Polygon {
  return extent.kind === 'round'
    ? arc(lens.x, lens.y, extent.radius, 0, 360).slice(1)
    : turnedBox([lens.x, lens.y], [extent.length, extent.width], lens.turn);
}

/** Polygons, counter-clockwise, whose union hides the plane at height h from the lens, as far as `reach`. */
export function drawShadows(floor: Floor, lens: Lens, h: number, reach: number, doors: Doors): Polygon[] {
  const shadows: Polygon[] = [];
  const relative = ([x, y]: Point): Point => [x - lens.x, y - lens.y];
  const take = (ring: Polygon) => {
    const area = signedArea(ring);
    if (Math.abs(area) < 1e-12) return;
    const placed = ring.map(([x, y]): Point => [x + lens.x, y + lens.y]);
    shadows.push(area > 0 ? placed : placed.reverse());
  };
  const scalesOf = (base: number, top: number) => {
    if (base >= lens.h || top <= h) return null;
    const k0 = Math.max(1, (lens.h - h) / (lens.h - base));
    return { k0, k1: top >= lens.h ? Infinity : (lens.h - h) / (lens.h - top) };
  };
  for (const { a, b, low, high } of listPanels(floor, doors)) {
    const scales = scalesOf(low, high >= WALL_TOP ? Infinity : high);
    if (scales) take(sweep(relative(a), relative(b), scales.k0, scales.k1, reach));
  }
  const luminaires = floor.luminaires.map(({ at, size, turn, base, top }) => ({
    outline: turnedBox(at, size, turn),
    base,
    top,
  }));
  // A solid scaled from k0 to k1 sweeps over its first and last outline and over what each edge sweeps, convex or not.
  for (const { outline, base, top } of [...floor.furniture, ...luminaires]) {
    const scales = scalesOf(base, top);
    if (!scales) continue;
    const ring = outline.map(relative);
    for (const k of [scales.k0, scales.k1]) if (k !== Infinity) take(ring.map(([x, y]) => [k * x, k * y]));
    ring.forEach((a, k) => {
      take(sweep(a, ring[(k + 1) % ring.length]!, scales.k0, scales.k1, reach));
    });
  }
  return shadows;
}

/** What the segment a–b sweeps when it is scaled about the origin from k0 to k1; endless ones end beyond `reach`. */
function sweep(a: Point, b: Point, k0: number, k1: number, reach: number): Polygon {
  const scale = ([x, y]: Point, k: number): Point => [k * x, k * y];
  if (k1 !== Infinity) return [scale(a, k0), scale(b, k0), scale(b, k1), scale(a, k1)];
  const degrees = ([x, y]: Point) => (Math.atan2(y, x) * 180) / Math.PI;
  const turn = ((((degrees(a) - degrees(b)) % 360) + 540) % 360) - 180;
  const far = 2 * Math.max(reach, Math.hypot(...scale(a, k0)), Math.hypot(...scale(b, k0)));
  return [scale(a, k0), scale(b, k0), ...arc(0, 0, far, degrees(b), degrees(b) + turn)];
}

/** Polygons whose union the lens's masks cover on the plane at height h, as far as `reach`. */
export function drawMasks(lens: Lens, h: number, reach: number): Polygon[] {
  const { x, y, turn } = lens;
  return lens.masks.flatMap(({ from, to, inner, outer }) => {
    const radius = (nadir: number) =>
      nadir >= 90 ? 2 * reach : Math.min(2 * reach, (lens.h - h) * Math.tan((nadir * Math.PI) / 180));
    const span = (((to - from) % 360) + 360) % 360 || 360;
    // In quarters, so that a whole ring needs no hole.
    return Array.from({ length: 4 }, (_, k): Polygon => {
      const [a, b] = [turn + from + (span * k) / 4, turn + from + (span * (k + 1)) / 4];
      return [...arc(x, y, radius(outer), a, b), ...arc(x, y, radius(inner), b, a)];
    });
  });
}

/** Square metres, above 0 counter-clockwise. */
export function signedArea(ring: Polygon): number {
  return ring.reduce((sum, [x, y], k) => {
    const [nx, ny] = ring[(k + 1) % ring.length]!;
    return sum + (x * ny - nx * y) / 2;
  }, 0);
}

export function perimeterOf(ring: Polygon): number {
  return ring.reduce((sum, [x, y], k) => {
    const [nx, ny] = ring[(k + 1) % ring.length]!;
    return sum + Math.hypot(nx - x, ny - y);
  }, 0);
}
