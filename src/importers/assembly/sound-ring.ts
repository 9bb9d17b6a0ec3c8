/** Outlines made such that a floor file holds them: corners at least 1 mm apart, no crossing, some area. */
import { LIMITS, type Point, type Ring } from '../../core/floor/index.ts';
import { computeSignedArea } from '../../core/geometry/polygon.ts';
import { findCrossing, findNearCorners } from '../../core/geometry/simple-ring.ts';
import { areaOf, type Face, grow, listFaces } from './region.ts';

/** Corners nearer to each other than this become one; a little above the 1 mm that a floor file asks for. */
const APART = 0.0011;
/** Corners that bulge less than this from a straight wall are no corners. */
const STRAIGHT = 0.0005;
const LEAST_AREA = 0.001;
/** Coarser and coarser ways to part what touches itself, metres. */
const TRIES = [0.0006, 0.002, 0.006, 0.02];

/**
 * A ring of such points, counter-clockwise and to a tenth of a millimetre, or undefined when nothing of it is left.
 * One that crosses itself becomes the largest piece of what it encloses.
 */
export function makeSound(ring: Ring): Ring | undefined {
  const first = tidyRing(ring.filter(isOnPlan));
  if (first !== undefined && isSound(first)) return first;
  const area = areaOf([ring.filter(isOnPlan)]);
  for (const width of TRIES) {
    // Shrunk and grown again, what hangs together by less than a point falls apart.
    const outline = listFaces(grow(grow(area, -width), width))[0]?.outline;
    const next = outline === undefined ? undefined : tidyRing(outline, Math.max(APART, width));
    if (next !== undefined && isSound(next)) return next;
  }
  return undefined;
}

/** A face whose outline and holes a floor file holds, or undefined. Holes that are too small for one are filled. */
export function makeSoundFace(face: Face): Face | undefined {
  const outline = makeSound(face.outline);
  if (outline === undefined) return undefined;
  const holes = face.holes.map(makeSound).filter((hole) => hole !== undefined);
  return { outline, holes };
}

function isOnPlan([x, y]: Point): boolean {
  return Math.abs(x) <= LIMITS.coordinate && Math.abs(y) <= LIMITS.coordinate;
}

function isSound(ring: Ring): boolean {
  return (
    ring.length <= LIMITS.outlinePoints &&
    findNearCorners(ring, 0.001) === undefined &&
    findCrossing(ring) === undefined &&
    Math.abs(computeSignedArea(ring)) >= LEAST_AREA
  );
}

/** Rounded, without repeated corners and corners on straight walls, counter-clockwise; undefined below three corners. */
function tidyRing(ring: Ring, apart = APART): Ring | undefined {
  const rounded: Point[] = [];
  for (const [x, y] of ring) {
    const point: Point = [toTenth(x), toTenth(y)];
    const before = rounded.at(-1);
    if (before === undefined || Math.hypot(point[0] - before[0], point[1] - before[1]) >= apart) rounded.push(point);
  }
  while (rounded.length > 1 && isNear(rounded[0], rounded.at(-1), apart)) rounded.pop();
  const corners = dropStraight(rounded);
  if (corners.length < 3) return undefined;
  return computeSignedArea(corners) < 0 ? corners.toReversed() : corners;
}

function isNear(a: Point | undefined, b: Point | undefined, apart: number): boolean {
  return a !== undefined && b !== undefined && Math.hypot(a[0] - b[0], a[1] - b[1]) < apart;
}

function dropStraight(ring: readonly Point[]): Point[] {
  let kept = [...ring];
  for (let round = 0; round < 3; round++) {
    const next: Point[] = [];
    for (let i = 0; i < kept.length; i++) {
      const before = next.at(-1) ?? kept.at(-1);
      const corner = kept[i];
      const after = kept[(i + 1) % kept.length];
      if (before === undefined || corner === undefined || after === undefined) continue;
      if (!isStraight(before, corner, after)) next.push(corner);
    }
    if (next.length === kept.length) break;
    kept = next;
  }
  return kept;
}

/** Whether a corner lies on the way from the one before to the one after, or runs back over it. */
function isStraight(a: Point, b: Point, c: Point): boolean {
  const [dx, dy] = [c[0] - a[0], c[1] - a[1]];
  const length = Math.hypot(dx, dy);
  if (length < APART) return true;
  return Math.abs((b[0] - a[0]) * dy - (b[1] - a[1]) * dx) / length < STRAIGHT;
}

function toTenth(value: number): number {
  return Math.round(value * 10_000) / 10_000 || 0;
}
