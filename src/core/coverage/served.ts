/** What a detector sees, and why it misses, where its group serves. */
import type { DetectorLayers, Layer, Raster } from '../sight/index.ts';

/** One layer cut to the cells that the detector's group serves. All rasters share one window. */
export interface ServedLayer {
  readonly seen: Raster;
  /** In range and unmasked, but something stands between. */
  readonly hidden: Raster;
  readonly masked: Raster | null;
}

export interface ServedLayers {
  readonly minor: ServedLayer | null;
  readonly tangential: ServedLayer | null;
  readonly radial: ServedLayer | null;
}

export const NOTHING_SERVED: ServedLayers = { minor: null, tangential: null, radial: null };

export function cutToServed(layers: DetectorLayers, area: Raster): ServedLayers {
  return {
    minor: cutLayer(layers.minor, area),
    tangential: cutLayer(layers.tangential, area),
    radial: cutLayer(layers.radial, area),
  };
}

function cutLayer(layer: Layer | null, area: Raster): ServedLayer | null {
  if (!layer) return null;
  const { seen, inRange, masked } = layer;
  const like = (): Raster => ({ ...seen, bits: new Int32Array(seen.bits.length) });
  const served = { seen: like(), hidden: like(), masked: masked ? like() : null };
  for (let r = 0; r < seen.rows; r++) {
    const areaRow = seen.j0 + r - area.j0;
    if (areaRow < 0 || areaRow >= area.rows) continue;
    const shift = seen.w0 - area.w0;
    const first = Math.max(0, -shift);
    const last = Math.min(seen.words, area.words - shift);
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
