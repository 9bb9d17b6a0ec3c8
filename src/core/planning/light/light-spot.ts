/** The spot under a main that its light sensor measures, and what falsifies it. Metres. */
import type { DetectorId, Floor, FurnitureId, LuminaireId, OpeningId, Point } from '../../floor/index.ts';
import { findRoomAt } from '../../floor/index.ts';
import { computeSegmentDistance, isInRing } from '../../geometry/polygon.ts';
import type { Lens } from '../../sight/index.ts';
import { luminaireOutline } from '../../sight/index.ts';
import type { Daylight } from './daylight.ts';

/** The plane that is lit for, and half the angle under which a sensor looks at it (common practice, no source). */
const TASK_PLANE = 0.8;
const HALF_ANGLE = Math.PI / 6;

/** Furniture up to this height is part of what is measured (own choice). */
const TALL = 1.2;

export interface SpotFault {
  readonly kind: 'window' | 'furniture' | 'luminaire';
  readonly id: OpeningId | FurnitureId | LuminaireId;
  /** In plan from under the lens. */
  readonly distance: number;
}

export interface LightSpot {
  readonly detector: DetectorId;
  readonly at: Point;
  /** (H − 0.8 m) · tan 30°; 0 for a lens no higher than the plane. */
  readonly radius: number;
  /** What lies in the spot, the nearest first. */
  readonly faults: readonly SpotFault[];
}

/** The radius of the spot under a lens at height H. */
export function spotRadius(lensHeight: number): number {
  return Math.max(0, (lensHeight - TASK_PLANE) * Math.tan(HALF_ANGLE));
}

/**
 * The spot of one detector. In it lie windows of its room that come as near as the radius, and bodies that reach into
 * the cone between lens and spot: tall furniture, and luminaires that hang below the lens.
 */
export function findLightSpot(floor: Floor, daylight: Daylight, lens: Lens, detector: number): LightSpot {
  const { x, y, h } = lens;
  const radius = spotRadius(h);
  const room = floor.rooms[lens.room];
  const faults: SpotFault[] = [];
  const take = (kind: SpotFault['kind'], id: SpotFault['id'], distance: number, reach: number) => {
    if (distance < reach - 1e-9) faults.push({ kind, id, distance });
  };
  for (const window of daylight.windows) {
    if (window.room !== room) continue;
    const { id, from, to } = window.opening;
    take('window', id, computeSegmentDistance(from, to, x, y), radius);
  }
  const inCone = (base: number) => Math.max(0, (h - Math.max(base, TASK_PLANE)) * Math.tan(HALF_ANGLE));
  const isBeside = (at: Point) => {
    const other = findRoomAt(floor.rooms, at);
    return other === undefined || other === room;
  };
  for (const piece of floor.furniture) {
    // Light passes glass.
    if (piece.glass || piece.top <= TALL || piece.base >= h) continue;
    const distance = distanceTo(piece.outline, x, y, radius);
    if (distance < radius && isBeside(piece.outline[0]!)) take('furniture', piece.id, distance, inCone(piece.base));
  }
  for (const each of floor.luminaires) {
    if (each.base >= h - 1e-9 || each.top <= TASK_PLANE) continue;
    const distance = distanceTo(luminaireOutline(each.at, each.size, each.turn), x, y, radius);
    if (distance < radius && isBeside(each.at)) take('luminaire', each.id, distance, inCone(each.base));
  }
  faults.sort((a, b) => a.distance - b.distance);
  return { detector: floor.detectors[detector]!.id, at: [x, y], radius, faults };
}

/** Metres from a place to an outline, 0 inside; Infinity where a corner already tells that it is far. */
function distanceTo(outline: readonly Point[], x: number, y: number, within: number): number {
  let minX = Infinity;
  let maxX = -Infinity;
  let minY = Infinity;
  let maxY = -Infinity;
  for (const [px, py] of outline) {
    minX = Math.min(minX, px);
    maxX = Math.max(maxX, px);
    minY = Math.min(minY, py);
    maxY = Math.max(maxY, py);
  }
  if (minX > x + within || maxX < x - within || minY > y + within || maxY < y - within) return Infinity;
  if (isInRing(outline, x, y)) return 0;
  return Math.min(...outline.map((a, k) => computeSegmentDistance(a, outline[(k + 1) % outline.length]!, x, y)));
}
