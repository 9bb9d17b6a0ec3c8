/** Outlines of rooms, furniture and zones: what is wrong with one, told before it is committed. */
import { LIMITS, type Point, type Ring } from '../../core/floor/index.ts';
import { computeSignedArea } from '../../core/geometry/polygon.ts';
import { findCrossing, findNearCorners } from '../../core/geometry/simple-ring.ts';
import { type Refused, refuse } from './edit.ts';
import { distance, SAME } from './plane.ts';

const LEAST_AREA = 0.001;
const SLACK = 1e-9;

/**
 * Why an outline cannot stand, or null. Corners are counted from 1.
 * @param of what it is the outline of, in a sentence: `the outline of Office`
 */
export function findOutlineFault(ring: Ring, of: string): Refused | null {
  const subject = `${of.charAt(0).toUpperCase()}${of.slice(1)}`;
  if (ring.length < 3) return refuse(`${subject} has ${ring.length} corners`, 'An outline has at least three.');
  if (ring.length > LIMITS.outlinePoints)
    return refuse(`${subject} has ${ring.length} corners`, `An outline has at most ${LIMITS.outlinePoints}.`);
  if (!ring.every(isOnPlan))
    return refuse(
      `${subject} goes more than ${LIMITS.coordinate} m from the origin`,
      `Keep x and y within ${LIMITS.coordinate} m.`,
    );
  const near = findNearCorners(ring, SAME - SLACK);
  if (near !== undefined)
    return refuse(`${subject} has corners ${near[0] + 1} and ${near[1] + 1} in one place`, 'Leave one of them out.');
  const crossing = findCrossing(ring);
  if (crossing !== undefined)
    return refuse(
      `${subject} crosses itself between corners ${crossing[0] + 1} and ${crossing[1] + 1}`,
      'Move one of them.',
    );
  if (Math.abs(computeSignedArea(ring)) < LEAST_AREA - SLACK)
    return refuse(`${subject} encloses nothing`, `An outline encloses at least ${LEAST_AREA} m².`);
  return null;
}

/** Whether a place has finite coordinates within the bounds of a floor. */
export function isOnPlan([x, y]: Point): boolean {
  return Math.abs(x) <= LIMITS.coordinate && Math.abs(y) <= LIMITS.coordinate;
}

/** The outline without corners that stand where the one before stands. */
export function dropRepeatedCorners(ring: Ring): Ring {
  return ring.filter((corner, i) => distance(corner, ring[(i + ring.length - 1) % ring.length] as Point) >= SAME);
}
