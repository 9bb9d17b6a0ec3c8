/** Ranges and masks on a bit raster. */
import type { Mask } from '../floor/index.ts';
import type { Lens } from './lenses.ts';
import type { Extent } from './range.ts';
import { SLACK } from './range.ts';
import type { Clip, Raster } from './raster.ts';
import { clearConvex, clearSpan, keepSpan } from './raster.ts';
import { spanOf } from './trace.ts';

/** Cells of a window that a square of half-width `reach` about the foot can hold; null where it misses the window. */
export function clipAround(raster: Raster, x: number, y: number, reach: number): Clip | null {
  const { x0, y0, cell } = raster.lattice;
  const fx = (x - x0) / cell - 0.5 - 32 * raster.w0;
  const fy = (y - y0) / cell - 0.5 - raster.j0;
  const half = (reach + SLACK) / cell;
  const i0 = Math.max(0, Math.ceil(fx - half));
  const i1 = Math.min(32 * raster.words - 1, Math.floor(fx + half));
  const r0 = Math.max(0, Math.ceil(fy - half));
  const r1 = Math.min(raster.rows - 1, Math.floor(fy + half));
  return i0 <= i1 && r0 <= r1 ? { i0, i1, r0, r1 } : null;
}

/** Keeps only the cells whose centre lies in the extent about (x, y), turned by `turn` degrees when rectangular. */
export function keepExtent(raster: Raster, x: number, y: number, extent: Extent, turn: number): void {
  const { x0, y0, cell } = raster.lattice;
  const { bits, words, rows } = raster;
  const fx = (x - x0) / cell - 0.5 - 32 * raster.w0;
  const fy = (y - y0) / cell - 0.5 - raster.j0;
  const last = 32 * words - 1;
  for (let r = 0; r < rows; r++) {
    let from = -Infinity;
    let to = Infinity;
    const dy = (r - fy) * cell;
    if (extent.kind === 'round') {
      const reach = extent.radius + SLACK;
      const half = Math.sqrt(reach * reach - dy * dy);
      from = -half;
      to = half;
    } else {
      // |u| <= length/2 and |v| <= width/2 with u = dx·c + dy·s and v = dy·c − dx·s are two strips across the row.
      const c = Math.cos((turn * Math.PI) / 180);
      const s = Math.sin((turn * Math.PI) / 180);
      for (const [step, offset, limit] of [
        [c, dy * s, extent.length / 2 + SLACK],
        [-s, dy * c, extent.width / 2 + SLACK],
      ] as const) {
        if (Math.abs(step) < 1e-12) {
          if (Math.abs(offset) > limit) to = -Infinity;
          continue;
        }
        const a = (-limit - offset) / step;
        const b = (limit - offset) / step;
        from = Math.max(from, Math.min(a, b));
        to = Math.min(to, Math.max(a, b));
      }
    }
    // A row beyond the circle gives NaN, which keeps nothing.
    const i0 = from <= to ? Math.max(0, Math.ceil(fx + from / cell - 1e-9)) : 1;
    const i1 = from <= to ? Math.min(last, Math.floor(fx + to / cell + 1e-9)) : 0;
    keepSpan(bits, r * words, words, i0, i1);
  }
}

/** The cells of `inRange` that some mask of the lens covers on the plane at height h. */
export function castLensMasks(lens: Lens, inRange: Raster, h: number): Raster {
  const masked: Raster = { ...inRange, bits: new Int32Array(inRange.bits.length) };
  const one: Raster = { ...inRange, bits: new Int32Array(inRange.bits.length) };
  for (const mask of lens.masks) {
    one.bits.fill(-1);
    keepMask(one, lens.x, lens.y, lens.h - h, lens.turn, mask);
    for (let k = 0; k < masked.bits.length; k++) masked.bits[k]! |= one.bits[k]! & inRange.bits[k]!;
  }
  return masked;
}

const wedgeX = new Float64Array(3);
const wedgeY = new Float64Array(3);

/**
 * Sets the cells of `raster` (all set on entry) that one mask covers on a plane `drop` metres below the lens: a ring
 * between its two nadir angles, less the sector it leaves open.
 */
function keepMask(raster: Raster, x: number, y: number, drop: number, turn: number, mask: Mask): void {
  const { x0, y0, cell } = raster.lattice;
  const { bits, words, rows } = raster;
  const fx = (x - x0) / cell - 0.5 - 32 * raster.w0;
  const fy = (y - y0) / cell - 0.5 - raster.j0;
  const last = 32 * words - 1;
  const outer = mask.outer >= 90 ? Infinity : drop * Math.tan((mask.outer * Math.PI) / 180);
  const inner = drop * Math.tan((mask.inner * Math.PI) / 180);
  for (let r = 0; r < rows; r++) {
    const dy = (r - fy) * cell;
    if (outer !== Infinity) {
      const half = Math.sqrt(outer * outer - dy * dy) / cell;
      if (half >= 0)
        keepSpan(bits, r * words, words, Math.max(0, Math.ceil(fx - half)), Math.min(last, Math.floor(fx + half)));
      else keepSpan(bits, r * words, words, 1, 0);
    }
    const half = Math.sqrt(inner * inner - dy * dy) / cell;
    if (half > 0) {
      // The inner circle itself belongs to the mask.
      const i0 = Math.max(0, Math.floor(fx - half) + 1);
      const i1 = Math.min(last, Math.ceil(fx + half) - 1);
      if (i0 <= i1) clearSpan(bits, r * words, i0, i1);
    }
  }
  // The sector left open is taken out in convex wedges; a whole ring has none and must not be cut.
  const open = 360 - spanOf(mask);
  if (open <= 0) return;
  const foot = footCell(raster, fx, fy, cell);
  const keepFoot = foot !== null && inner <= 0 && hasBit(raster, foot);
  const wedges = Math.ceil(open / 90);
  const far = 2 * (words * 32 + rows) + Math.abs(fx) + Math.abs(fy);
  const clip = { i0: 0, i1: last, r0: 0, r1: rows - 1 };
  for (let w = 0; w < wedges; w++) {
    const a = ((mask.to + turn + (open * w) / wedges) * Math.PI) / 180;
    const b = ((mask.to + turn + (open * (w + 1)) / wedges) * Math.PI) / 180;
    wedgeX.set([fx, fx + far * Math.cos(a), fx + far * Math.cos(b)]);
    wedgeY.set([fy, fy + far * Math.sin(a), fy + far * Math.sin(b)]);
    clearConvex(bits, words, clip, wedgeX, wedgeY, 3);
  }
  // At the foot every azimuth counts.
  if (keepFoot && foot) bits[foot.r * words + (foot.i >> 5)]! |= 1 << (foot.i & 31);
}

interface FootCell {
  readonly i: number;
  readonly r: number;
}

/** The cell whose centre is the foot itself, within 1 mm. */
function footCell(raster: Raster, fx: number, fy: number, cell: number): FootCell | null {
  const i = Math.round(fx);
  const r = Math.round(fy);
  if (i < 0 || r < 0 || i >= 32 * raster.words || r >= raster.rows) return null;
  return Math.hypot(fx - i, fy - r) * cell <= 0.001 ? { i, r } : null;
}

function hasBit(raster: Raster, at: FootCell): boolean {
  return (raster.bits[at.r * raster.words + (at.i >> 5)]! & (1 << (at.i & 31))) !== 0;
}
