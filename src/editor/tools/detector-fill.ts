/** One type of detector laid over a room: a draft to look at, in even steps that its range or a person gives. */
import type { Detector, DetectorType, Floor, Point, Room } from '../../core/floor/index.ts';
import { computeBox, computeRingDistance, isInRing } from '../../core/geometry/polygon.ts';
import { extentAt, hangRange } from '../../core/sight/range.ts';
import { along, distance, finePoint, locate, place, rectangleAbout } from '../edits/plane.ts';
import { snapToTile } from '../snapping.ts';

/** Metres a lens keeps from walls and from what stands at its height. */
const CLEAR = 0.05;
/** A detector that hangs nearer than this to a place already looks after it, metres. */
const TAKEN = 0.3;
/** Without a range to go by, metres. */
const SPACING = 4;

/** Metres between detectors along and across the room, so that their ranges leave no gap in the open. */
export interface Spacing {
  readonly along: number;
  readonly across: number;
}

/**
 * The spacing at which the ranges for small movements meet at the seated plane: of a round one the side of the square it
 * holds, of a rectangular one its sides. Where the type has none there, that of walking at it at the walking plane.
 */
export function deriveSpacing(floor: Floor, room: Room, type: DetectorType): Spacing {
  const lens = room.ceiling - type.drop;
  const { seatedPlane, walkingPlane } = floor.analysis;
  const extent =
    extentAt(hangRange(type, 'minor', lens, 1), lens, seatedPlane) ??
    extentAt(hangRange(type, 'radial', lens, 1), lens, walkingPlane);
  if (extent === null) return { along: SPACING, across: SPACING };
  if (extent.kind === 'rectangular') return { along: extent.length, across: extent.width };
  const side = extent.radius * Math.SQRT2;
  return { along: side, across: side };
}

/** The places of a room at which a type would hang, in the order of reading; on its ceiling tiles where it has them. */
export function layOverRoom(floor: Floor, room: Room, type: DetectorType, spacing: Spacing): readonly Point[] {
  const axis = room.tiles === undefined ? along(0) : along(room.tiles.turn);
  const origin: Point = room.tiles?.origin ?? [0, 0];
  const { minX, minY, maxX, maxY } = computeBox(room.outline.map((corner) => locate(origin, axis, corner)));
  const columns = countSteps(maxX - minX, spacing.along);
  const rows = countSteps(maxY - minY, spacing.across);
  const isFree = createFreeTest(floor, room, room.ceiling - type.drop);
  const places: Point[] = [];
  for (let row = rows - 1; row >= 0; row -= 1) {
    for (let column = 0; column < columns; column += 1) {
      const u = minX + ((column + 0.5) * (maxX - minX)) / columns;
      const v = minY + ((row + 0.5) * (maxY - minY)) / rows;
      const found = listAround(room, place(origin, axis, [u, v])).find(
        (at) => isFree(at) && places.every((other) => distance(other, at) >= TAKEN),
      );
      if (found !== undefined) places.push(found);
    }
  }
  return places;
}

/** How many detectors a spacing asks for over the room's box, before any is left out. */
export function countOver(room: Room, spacing: Spacing): number {
  const { minX, minY, maxX, maxY } = computeBox(room.outline);
  return countSteps(maxX - minX, spacing.along) * countSteps(maxY - minY, spacing.across);
}

function countSteps(length: number, step: number): number {
  return Math.max(1, Math.ceil(length / step - 1e-6));
}

/** A place, then those beside it: the next tiles, or 0.3 m off. */
function listAround(room: Room, at: Point): readonly Point[] {
  const { tiles } = room;
  const [px, py] = tiles?.pitch ?? [TAKEN, TAKEN];
  const axis = along(tiles?.turn ?? 0);
  const beside: readonly Point[] = [
    [0, 0],
    [px, 0],
    [-px, 0],
    [0, py],
    [0, -py],
  ];
  return beside.map((by) => {
    const to = place(at, axis, by);
    return tiles === undefined
      ? finePoint([Math.round(to[0] * 100) / 100, Math.round(to[1] * 100) / 100])
      : snapToTile(tiles, to);
  });
}

function createFreeTest(floor: Floor, room: Room, lens: number): (at: Point) => boolean {
  const box = computeBox(room.outline);
  const outlines = [
    ...floor.furniture.filter(({ base, top }) => base <= lens && lens <= top).map(({ outline }) => outline),
    ...floor.luminaires
      .filter(({ base, top }) => base <= lens && lens <= top)
      .map(({ at, size, turn }) => rectangleAbout(at, along(turn), size[0], size[1])),
  ];
  const hanging = floor.detectors.filter(
    ({ at, status }: Detector) =>
      status !== 'remove' && at[0] >= box.minX && at[0] <= box.maxX && at[1] >= box.minY && at[1] <= box.maxY,
  );
  return (at) => {
    const [x, y] = at;
    if (!isInRing(room.outline, x, y) || computeRingDistance(room.outline, x, y) < CLEAR) return false;
    if (room.holes.some((hole) => isInRing(hole, x, y) || computeRingDistance(hole, x, y) < CLEAR)) return false;
    if (outlines.some((ring) => isInRing(ring, x, y) || computeRingDistance(ring, x, y) < CLEAR)) return false;
    return hanging.every((detector) => distance(detector.at, at) >= TAKEN);
  };
}
