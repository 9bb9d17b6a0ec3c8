import type { Detector, DetectorType, Floor, Motion } from '../floor/index.ts';
import { lensHeightOf } from '../floor/index.ts';

/** Slack of every comparison of lengths and shares, in favour of seen. */
export const SLACK = 1e-9;

/** How far above its highest row a type still answers to small movements, metres. */
export const ABOVE_TABLE = 0.1;

export const MOTIONS: readonly Motion[] = ['minor', 'tangential', 'radial'];

/** What a detector's rows give for one motion once its lens hangs at a height: the size at the rows' own plane. */
export type HungRange = { readonly plane: number } & Extent;

/** Size of a range at one height, metres. Rectangles lie in axes turned by the detector's `turn`. */
export type Extent =
  | { readonly kind: 'round'; readonly radius: number }
  | { readonly kind: 'rectangular'; readonly length: number; readonly width: number };

/**
 * The range of a type hung at lens height H: interpolated between rows, along the lowest row's cone below it; above the
 * highest row walking sizes stay and small movements are lost.
 * @returns null where nothing is seen for this motion
 */
export function hangRange(type: DetectorType, motion: Motion, lensHeight: number, reach: number): HungRange | null {
  const rows = type.ranges.filter((row) => row.motion === motion).sort((a, b) => a.mounting - b.mounting);
  const lowest = rows[0];
  const highest = rows[rows.length - 1];
  if (!lowest || !highest || lensHeight <= lowest.plane) return null;
  if (motion === 'minor' && lensHeight > highest.mounting + ABOVE_TABLE + 0.001 + SLACK) return null;

  const plane = lowest.plane;
  let below = lowest;
  let above = lowest;
  let part = 0;
  let factor = reach;
  if (lensHeight <= lowest.mounting) {
    factor *= (lensHeight - plane) / (lowest.mounting - plane);
  } else if (lensHeight >= highest.mounting) {
    below = above = highest;
  } else {
    const upper = rows.findIndex((row) => row.mounting >= lensHeight);
    below = rows[upper - 1]!;
    above = rows[upper]!;
    part = (lensHeight - below.mounting) / (above.mounting - below.mounting);
  }
  const between = (a: number, b: number) => factor * (a + (b - a) * part);
  if ('diameter' in below && 'diameter' in above) {
    return { plane, kind: 'round', radius: between(below.diameter, above.diameter) / 2 };
  }
  if ('length' in below && 'length' in above) {
    return {
      plane,
      kind: 'rectangular',
      length: between(below.length, above.length),
      width: between(below.width, above.width),
    };
  }
  return null;
}

/** The hung range at height h: along the cone, never more than stated; null at or above the lens. */
export function extentAt(range: HungRange | null, lensHeight: number, h: number): Extent | null {
  if (!range || h >= lensHeight) return null;
  const k = Math.min(1, (lensHeight - h) / (lensHeight - range.plane));
  return range.kind === 'round'
    ? { kind: 'round', radius: k * range.radius }
    : { kind: 'rectangular', length: k * range.length, width: k * range.width };
}

/** Radius of the circle that holds an extent, metres. */
export function outerRadius(extent: Extent | null): number {
  if (!extent) return 0;
  return extent.kind === 'round' ? extent.radius : Math.hypot(extent.length, extent.width) / 2;
}

/** The size of a detector's range at height h on a floor. */
export function rangeAt(floor: Floor, detector: Detector, motion: Motion, h: number): Extent | null {
  const type = floor.types.find((each) => each.id === detector.type);
  if (!type || detector.status === 'remove') return null;
  const lensHeight = lensHeightOf(detector, floor);
  return extentAt(hangRange(type, motion, lensHeight, detector.reach), lensHeight, h);
}
