/** What a detector sees, and why it misses, where its group serves. */
import type { DetectorLayers, Layer, Raster } from '../sight/index.ts';
import { createRaster } from '../sight/index.ts';

/** A detector's answer on one plane, cut to the cells that its group serves. All rasters share one window. */
export interface ServedLayer {
  readonly seen: Raster;
  /** In range and unmasked, but something stands between. */
  readonly hidden: Raster;
  readonly masked: Raster | null;
}

export interface ServedLayers {
  /** Small movements at the seated plane. */
  readonly seated: ServedLayer | null;
  /** Walking, past it or at it, at the walking plane. */
  readonly walking: ServedLayer | null;
  /** Seen for walking past it, and for walking at it. */
  readonly tangential: Raster | null;
  readonly radial: Raster | null;
}

export const NOTHING_SERVED: ServedLayers = { seated: null, walking: null, tangential: null, radial: null };

export function cutToServed(layers: DetectorLayers, area: Raster): ServedLayers {
  const tangential = cutLayer(layers.tangential, area);
  const radial = cutLayer(layers.radial, area);
  return {
    seated: cutLayer(layers.minor, area),
    walking: tangential && radial ? joinLayers(tangential, radial) : (tangential ?? radial),
    tangential: tangential?.seen ?? null,
    radial: radial?.seen ?? null,
  };
}

function cutLayer(layer: Layer | null, area: Raster): ServedLayer | null {
  if (!layer) return null;
  const { seen, inRange, masked } = layer;
  const like = (): Raster => ({ ...seen, bits: new Int32Array(seen.bits.length) });
  const served = { seen: like(), hidden: like(), masked: masked ? like() : null };
  const shift = seen.w0 - area.w0;
  const first = Math.max(0, -shift);
  const last = Math.min(seen.words, area.words - shift);
  for (let r = 0; r < seen.rows; r++) {
    const areaRow = seen.j0 + r - area.j0;
    if (areaRow < 0 || areaRow >= area.rows) continue;
    for (let w = first; w < last; w++) {
      const k = r * seen.words + w;
      const serves = area.bits[areaRow * area.words + w + shift]!;
      const see = seen.bits[k]! & serves;
      const mask = masked ? masked.bits[k]! & serves : 0;
      served.seen.bits[k] = see;
      served.hidden.bits[k] = inRange.bits[k]! & serves & ~mask & ~see;
      if (served.masked) served.masked.bits[k] = mask;
    }
  }
  return served;
}

/** Does one layer say all that another does? Walking at it is seen over a part of what is seen walking past. */
function holdsLayer(a: ServedLayer, b: ServedLayer): boolean {
  if (a.masked || b.masked) return false;
  const dw = b.seen.w0 - a.seen.w0;
  const dj = b.seen.j0 - a.seen.j0;
  if (dw < 0 || dj < 0 || dw + b.seen.words > a.seen.words || dj + b.seen.rows > a.seen.rows) return false;
  for (let r = 0; r < b.seen.rows; r++) {
    const from = (r + dj) * a.seen.words + dw;
    const row = r * b.seen.words;
    for (let w = 0; w < b.seen.words; w++) {
      if ((b.seen.bits[row + w]! & ~a.seen.bits[from + w]!) !== 0) return false;
      if ((b.hidden.bits[row + w]! & ~a.hidden.bits[from + w]!) !== 0) return false;
    }
  }
  return true;
}

/** What either of two layers of one lens says, in a window that holds both. */
function joinLayers(a: ServedLayer, b: ServedLayer): ServedLayer {
  if (holdsLayer(a, b)) return a;
  const w0 = Math.min(a.seen.w0, b.seen.w0);
  const j0 = Math.min(a.seen.j0, b.seen.j0);
  const words = Math.max(a.seen.w0 + a.seen.words, b.seen.w0 + b.seen.words) - w0;
  const rows = Math.max(a.seen.j0 + a.seen.rows, b.seen.j0 + b.seen.rows) - j0;
  const join = (one: Raster | null, other: Raster | null): Raster => {
    const joined = createRaster(a.seen.lattice, w0, j0, words, rows);
    for (const raster of [one, other]) {
      if (!raster) continue;
      for (let r = 0; r < raster.rows; r++) {
        const to = (raster.j0 + r - j0) * words + raster.w0 - w0;
        const from = r * raster.words;
        for (let w = 0; w < raster.words; w++) joined.bits[to + w] = joined.bits[to + w]! | raster.bits[from + w]!;
      }
    }
    return joined;
  };
  return {
    seen: join(a.seen, b.seen),
    hidden: join(a.hidden, b.hidden),
    masked: a.masked || b.masked ? join(a.masked, b.masked) : null,
  };
}
