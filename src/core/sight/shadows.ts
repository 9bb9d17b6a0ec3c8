/**
 * What stands round one lens, and the shadows it throws on a plane.
 *
 * What a convex prism hides on a plane is the hull of its outline scaled about the lens's foot by
 * k0 = max(1, (H − h)/(H − base)) and k1 = (H − h)/(H − top); a wall panel is a prism of two corners whose shadow never
 * ends. Walls that reach from the plane past the lens hide the same at every plane, so they are cast once per lens; they
 * also say how far one can look in each direction, and what lies wholly beyond that is skipped.
 */
import { queryBins } from '../geometry/bins.ts';
import type { Occluders } from './occluders.ts';
import type { Clip, Raster } from './raster.ts';
import { clearConvex } from './raster.ts';
import type { Scene } from './scene.ts';

/** Directions the view is divided into: a quarter turn each holds this many. */
const PER_QUADRANT = 64;
const DIRECTIONS = 4 * PER_QUADRANT;

/** Unit vectors of the direction borders, evenly spaced in diamond angle (no trigonometry needed to find one). */
const BORDER_X = new Float64Array(DIRECTIONS + 1);
const BORDER_Y = new Float64Array(DIRECTIONS + 1);
for (let q = 0; q <= DIRECTIONS; q++) {
  const p = (q / PER_QUADRANT) % 4;
  const x = p < 2 ? 1 - p : p - 3;
  const y = p < 1 ? p : p < 3 ? 2 - p : p - 4;
  const length = Math.hypot(x, y);
  BORDER_X[q] = x / length;
  BORDER_Y[q] = y / length;
}

/** Monotone in the angle from +x, 0 to 4 for a full turn. */
function diamondAngle(x: number, y: number): number {
  if (y >= 0) return x >= 0 ? (x === 0 && y === 0 ? 0 : y / (x + y)) : 1 - x / (y - x);
  return x < 0 ? 2 - y / (-x - y) : 3 + x / (x - y);
}

/** Occluders near one lens, found once and cast on as many planes as wanted. Reused: valid until the next `gather`. */
export interface Surroundings {
  x: number;
  y: number;
  h: number;
  /** Occluders in the reach, by index: first those that hide at every plane below the lens, then the others. */
  full: Int32Array;
  fullCount: number;
  part: Int32Array;
  partCount: number;
  /** Metres beyond which each direction is closed by something of full height. */
  depth: Float64Array;
  found: Int32Array;
}

/** @param found room for a query's answer, to share between surroundings that are not gathered at once */
export function createSurroundings(scene: Scene, found?: Int32Array): Surroundings {
  return {
    x: 0,
    y: 0,
    h: 0,
    full: new Int32Array(64),
    fullCount: 0,
    part: new Int32Array(64),
    partCount: 0,
    depth: new Float64Array(DIRECTIONS),
    found: found ?? new Int32Array(scene.occluders.count),
  };
}

/**
 * Finds what can hide something inside a box (metres) from a lens: kept are occluders lower than the lens that come
 * nearer than `reach` and are not wholly beyond walls of full height.
 * @param lowest the lowest plane that will be cast: only what rises above it matters
 */
export function gather(
  surroundings: Surroundings,
  scene: Scene,
  x: number,
  y: number,
  h: number,
  reach: number,
  lowest: number,
  doors: number,
  minX: number,
  minY: number,
  maxX: number,
  maxY: number,
): void {
  const { occluders } = scene;
  const { found, depth } = surroundings;
  surroundings.x = x;
  surroundings.y = y;
  surroundings.h = h;
  const foundCount = queryBins(
    scene.bins,
    Math.min(minX, x),
    Math.min(minY, y),
    Math.max(maxX, x),
    Math.max(maxY, y),
    found,
  );
  if (surroundings.full.length < foundCount) {
    surroundings.full = new Int32Array(2 * foundCount);
    surroundings.part = new Int32Array(2 * foundCount);
  }
  const { full, part } = surroundings;
  depth.fill(Infinity);
  let fullCount = 0;
  let partCount = 0;
  for (let f = 0; f < foundCount; f++) {
    const k = found[f]!;
    if ((occluders.doors[k]! & doors) === 0) continue;
    const base = occluders.base[k]!;
    const top = occluders.top[k]!;
    if (base >= h || top <= lowest) continue;
    const dx = Math.max(occluders.boxes[4 * k]! - x, 0, x - occluders.boxes[4 * k + 2]!);
    const dy = Math.max(occluders.boxes[4 * k + 1]! - y, 0, y - occluders.boxes[4 * k + 3]!);
    if (dx * dx + dy * dy > reach * reach) continue;
    if (base <= lowest && top >= h) {
      full[fullCount++] = k;
      closeDirections(occluders, k, x, y, depth);
    } else {
      part[partCount++] = k;
    }
  }
  surroundings.fullCount = keepVisible(occluders, full, fullCount, x, y, depth);
  surroundings.partCount = keepVisible(occluders, part, partCount, x, y, depth);
}

/** Notes how far one can see in the directions that a full-height occluder closes completely. */
function closeDirections(occluders: Occluders, k: number, x: number, y: number, depth: Float64Array): void {
  const { xy } = occluders;
  const start = occluders.start[k]!;
  const end = occluders.start[k + 1]!;
  const edges = end - start === 2 ? 1 : end - start;
  for (let e = 0; e < edges; e++) {
    const v = start + e;
    const next = v + 1 === end ? start : v + 1;
    let ax = xy[2 * v]! - x;
    let ay = xy[2 * v + 1]! - y;
    let bx = xy[2 * next]! - x;
    let by = xy[2 * next + 1]! - y;
    let cross = ax * by - ay * bx;
    // Of a prism only the faces turned to the lens close a direction: counter-clockwise outline, so cross < 0.
    if (edges > 1 && cross >= 0) continue;
    if (cross < 0) {
      [ax, bx] = [bx, ax];
      [ay, by] = [by, ay];
      cross = -cross;
    }
    if (cross === 0) continue;
    const from = Math.ceil(diamondAngle(ax, ay) * PER_QUADRANT);
    let to = Math.floor(diamondAngle(bx, by) * PER_QUADRANT);
    if (to < from - 1) to += DIRECTIONS;
    const ex = bx - ax;
    const ey = by - ay;
    let atBorder = 0;
    for (let q = from; q <= to; q++) {
      const border = q >= DIRECTIONS ? q - DIRECTIONS : q;
      const distance = cross / (BORDER_X[border]! * ey - BORDER_Y[border]! * ex);
      if (q > from) {
        const direction = border === 0 ? DIRECTIONS - 1 : border - 1;
        const far = distance > atBorder ? distance : atBorder;
        if (far > 0 && far < depth[direction]!) depth[direction] = far;
      }
      atBorder = distance;
    }
  }
}

/** Drops occluders that lie wholly beyond what closes their directions; returns how many stay. */
function keepVisible(
  occluders: Occluders,
  list: Int32Array,
  count: number,
  x: number,
  y: number,
  depth: Float64Array,
): number {
  const { xy } = occluders;
  let kept = 0;
  for (let f = 0; f < count; f++) {
    const k = list[f]!;
    const start = occluders.start[k]!;
    const end = occluders.start[k + 1]!;
    const dx = Math.max(occluders.boxes[4 * k]! - x, 0, x - occluders.boxes[4 * k + 2]!);
    const dy = Math.max(occluders.boxes[4 * k + 1]! - y, 0, y - occluders.boxes[4 * k + 3]!);
    const nearest = dx * dx + dy * dy;
    let visible = nearest === 0;
    if (!visible) {
      // The box does not hold the foot, so the occluder spans less than half a turn: its outermost corners bound it.
      const px = xy[2 * start]! - x;
      const py = xy[2 * start + 1]! - y;
      let lx = px;
      let ly = py;
      let rx = px;
      let ry = py;
      for (let v = start + 1; v < end; v++) {
        const vx = xy[2 * v]! - x;
        const vy = xy[2 * v + 1]! - y;
        if (lx * vy - ly * vx > 0) {
          lx = vx;
          ly = vy;
        }
        if (rx * vy - ry * vx < 0) {
          rx = vx;
          ry = vy;
        }
      }
      const from = Math.floor(diamondAngle(rx, ry) * PER_QUADRANT);
      let to = Math.floor(diamondAngle(lx, ly) * PER_QUADRANT);
      if (to < from) to += DIRECTIONS;
      for (let q = from; q <= to && !visible; q++) {
        const far = depth[q >= DIRECTIONS ? q - DIRECTIONS : q]!;
        visible = far * far > nearest;
      }
    }
    if (visible) list[kept++] = k;
  }
  return kept;
}

const cornersX = new Float64Array(16_384);
const cornersY = new Float64Array(16_384);

/** Clears what the full-height surroundings hide, the same at every plane. */
export function castFull(surroundings: Surroundings, scene: Scene, raster: Raster, clip: Clip, radius: number): void {
  for (let f = 0; f < surroundings.fullCount; f++) {
    castOne(surroundings, scene.occluders, surroundings.full[f]!, 1, Infinity, raster, clip, radius);
  }
}

/** Clears what the rest of the surroundings hides on the plane at height h. */
export function castPart(
  surroundings: Surroundings,
  scene: Scene,
  h: number,
  raster: Raster,
  clip: Clip,
  radius: number,
): void {
  const { base, top } = scene.occluders;
  const H = surroundings.h;
  for (let f = 0; f < surroundings.partCount; f++) {
    const k = surroundings.part[f]!;
    const pieceTop = top[k]!;
    if (pieceTop <= h + 1e-12) continue;
    const k0 = Math.max(1, (H - h) / (H - base[k]!));
    const k1 = pieceTop >= H ? Infinity : (H - h) / (H - pieceTop);
    castOne(surroundings, scene.occluders, k, k0, k1, raster, clip, radius);
  }
}

/**
 * Clears one occluder's shadow.
 * @param radius metres from the foot within which the raster's cells of interest lie: an endless shadow ends beyond it
 */
function castOne(
  surroundings: Surroundings,
  occluders: Occluders,
  k: number,
  k0: number,
  k1: number,
  raster: Raster,
  clip: Clip,
  radius: number,
): void {
  const { xy, start } = occluders;
  const { x0, y0, cell } = raster.lattice;
  const first = start[k]!;
  const count = start[k + 1]! - first;
  const x = surroundings.x;
  const y = surroundings.y;
  const perCell = 1 / cell;
  // The foot in cells from the centre of the window's first cell.
  const fx = (x - x0) * perCell - 0.5 - 32 * raster.w0;
  const fy = (y - y0) * perCell - 0.5 - raster.j0;
  let n = 0;
  if (count === 2) {
    let ax = (xy[2 * first]! - x) * perCell;
    let ay = (xy[2 * first + 1]! - y) * perCell;
    let bx = (xy[2 * first + 2]! - x) * perCell;
    let by = (xy[2 * first + 3]! - y) * perCell;
    const cross = ax * by - ay * bx;
    if (cross === 0) return;
    if (cross < 0) {
      [ax, bx] = [bx, ax];
      [ay, by] = [by, ay];
    }
    const far = k1 === Infinity ? endless(ax, ay, bx, by, radius * perCell) : k1;
    cornersX[0] = fx + k0 * ax;
    cornersY[0] = fy + k0 * ay;
    cornersX[1] = fx + far * ax;
    cornersY[1] = fy + far * ay;
    cornersX[2] = fx + far * bx;
    cornersY[2] = fy + far * by;
    cornersX[3] = fx + k0 * bx;
    cornersY[3] = fy + k0 * by;
    n = 4;
  } else {
    let far = k1;
    if (k1 === Infinity) {
      far = 0;
      for (let v = 0; v < count; v++) {
        const a = first + v;
        const b = v + 1 === count ? first : a + 1;
        far = Math.max(
          far,
          endless(
            (xy[2 * a]! - x) * perCell,
            (xy[2 * a + 1]! - y) * perCell,
            (xy[2 * b]! - x) * perCell,
            (xy[2 * b + 1]! - y) * perCell,
            radius * perCell,
          ),
        );
      }
    }
    let vx = (xy[2 * first]! - x) * perCell;
    let vy = (xy[2 * first + 1]! - y) * perCell;
    const last = first + count - 1;
    const lx = (xy[2 * last]! - x) * perCell;
    const ly = (xy[2 * last + 1]! - y) * perCell;
    // Does the edge before this corner face away from the lens?
    let before = lx * vy - ly * vx > 0;
    for (let v = 0; v < count; v++) {
      const b = v + 1 === count ? first : first + v + 1;
      const wx = (xy[2 * b]! - x) * perCell;
      const wy = (xy[2 * b + 1]! - y) * perCell;
      const after = vx * wy - vy * wx > 0;
      if (!before || !after) {
        const nearFirst = !before;
        const one = nearFirst ? k0 : far;
        cornersX[n] = fx + one * vx;
        cornersY[n++] = fy + one * vy;
        if (before !== after) {
          const other = nearFirst ? far : k0;
          cornersX[n] = fx + other * vx;
          cornersY[n++] = fy + other * vy;
        }
      } else {
        cornersX[n] = fx + far * vx;
        cornersY[n++] = fy + far * vy;
      }
      before = after;
      vx = wx;
      vy = wy;
    }
  }
  clearConvex(raster.bits, raster.words, clip, cornersX, cornersY, n);
}

/** A scale at which the segment a–b, seen from the origin, lies wholly farther than `radius`. */
function endless(ax: number, ay: number, bx: number, by: number, radius: number): number {
  const ex = bx - ax;
  const ey = by - ay;
  const length = ex * ex + ey * ey;
  const t = length > 0 ? Math.min(1, Math.max(0, -(ax * ex + ay * ey) / length)) : 0;
  const nearX = ax + t * ex;
  const nearY = ay + t * ey;
  const nearest = Math.sqrt(nearX * nearX + nearY * nearY);
  return Math.max(1.000001, (radius + 2) / Math.max(nearest, 1e-9));
}
