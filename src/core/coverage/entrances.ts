/** How far one walks in through a door before the light comes on. */
import type { Opening, Point } from '../floor/index.ts';
import { findRoomAt } from '../floor/index.ts';
import { computeBox, isInRing } from '../geometry/polygon.ts';
import type { Watch } from '../sight/index.ts';
import {
  createSurroundings,
  extentAt,
  listFurnitureNear,
  outerRadius,
  SLACK,
  WHEN_OPEN,
  watchFrom,
} from '../sight/index.ts';
import type { Coverage } from './coverage.ts';
import { blocksWalking } from './grid.ts';
import { crosses, EVERY_HEADING_WITHIN } from './headings.ts';
import { tidy } from './measure.ts';
import type { EntranceResult } from './result.ts';
import { servesPlace } from './serving.ts';

/** Distance between places asked along a line, metres. */
const STEP = 0.05;

/** One straight line into a room: places a step apart, until a wall or a piece. */
interface Line {
  /** The place after so many steps; null from the first wall or piece on. */
  placeAt(step: number): Point | null;
}

/** An entrance with what a finding needs besides. */
export interface Entrance extends EntranceResult {
  readonly opening: Opening;
  readonly roomIndex: number;
  /** Where the middle line enters. */
  readonly at: Point;
  /** Does any group serve the room just inside? */
  readonly served: boolean;
}

/** Every door and passage from each room it leads into, with every door open, walking straight in. */
export function judgeEntrances(coverage: Coverage): Entrance[] {
  const { floor } = coverage;
  const watch = createWatcher(coverage);
  return floor.openings.flatMap((opening) => {
    if (opening.kind === 'window') return [];
    return [1, -1].flatMap((side) => {
      const found = enter(coverage, opening, side);
      if (!found) return [];
      const { roomIndex, heading, at } = found;
      // A line with a piece in its mouth is none that can be walked.
      const lines = found.lines.filter((line) => line.placeAt(0) !== null);
      const steps = watch(lines, heading, roomIndex);
      const never = steps.length === 0 || steps.some((step) => step === null);
      return [
        {
          id: opening.id,
          room: floor.rooms[roomIndex]!.id,
          firstSeenM: never ? null : tidy(Math.max(...steps.map((step) => step ?? 0)) * STEP),
          opening,
          roomIndex,
          at,
          served: coverage.serving.groups.some((group) => servesPlace(group, floor, roomIndex, at[0], at[1])),
        },
      ];
    });
  });
}

function enter(coverage: Coverage, opening: Opening, side: number) {
  const { floor } = coverage;
  const [fx, fy] = opening.from;
  const dx = opening.to[0] - fx;
  const dy = opening.to[1] - fy;
  const width = Math.hypot(dx, dy);
  const nx = (-side * dy) / width;
  const ny = (side * dx) / width;
  const starts = [0.5, 0.25, 0.75].map(
    (part): Point => [fx + part * dx + (nx * opening.depth) / 2, fy + part * dy + (ny * opening.depth) / 2],
  );
  // A start may lie on the wall itself: ask a millimetre further in.
  const room = starts.map(([x, y]) => findRoomAt(floor.rooms, [x + 0.001 * nx, y + 0.001 * ny])).find((each) => each);
  if (!room) return null;
  const reach = computeBox(room.outline);
  const across = Math.max(reach.maxX - reach.minX, reach.maxY - reach.minY);
  const box = computeBox(
    starts.flatMap(([x, y]): Point[] => [
      [x, y],
      [x + across * nx, y + across * ny],
    ]),
  );
  const pieces = listFurnitureNear(coverage.scene, box)
    .map((index) => floor.furniture[index]!)
    .filter(blocksWalking);
  const lines: Line[] = starts.map(([x, y]) => {
    const placeAt = (step: number): Point | null => {
      const px = x + step * STEP * nx;
      const py = y + step * STEP * ny;
      const place: Point = step === 0 ? [px + 0.001 * nx, py + 0.001 * ny] : [px, py];
      const ends = findRoomAt([room], place) === undefined || pieces.some((piece) => isInRing(piece.outline, px, py));
      return ends ? null : place;
    };
    return { placeAt };
  });
  const heading = (Math.atan2(ny, nx) * 180) / Math.PI;
  return { roomIndex: floor.rooms.indexOf(room), lines, heading, at: starts[0]! };
}

/** Returns, per line, the first step at which a serving detector sees the heading; null where none does. */
function createWatcher(coverage: Coverage) {
  const { scene, serving, floor } = coverage;
  const h = coverage.walking.height;
  const { crossingAngle } = floor.analysis;
  const found = new Int32Array(scene.occluders.count);
  const watches = new Map<number, Watch>();
  const watchOf = (detector: number): Watch => {
    const known = watches.get(detector);
    if (known) return known;
    const watch = watchFrom(scene, createSurroundings(scene, found), scene.lenses[detector]!, h, WHEN_OPEN);
    watches.set(detector, watch);
    return watch;
  };
  const reaches = scene.lenses.map(({ ranges, h: lensHeight }) =>
    Math.max(
      outerRadius(extentAt(ranges.tangential, lensHeight, h)),
      outerRadius(extentAt(ranges.radial, lensHeight, h)),
    ),
  );
  const sees = (detector: number, [x, y]: Point, heading: number): boolean => {
    const lens = scene.lenses[detector]!;
    const dx = x - lens.x;
    const dy = y - lens.y;
    const distance = Math.hypot(dx, dy);
    if (distance > reaches[detector]! + SLACK) return false;
    const watch = watchOf(detector);
    if (watch.sees(x, y, h, 'radial')) return true;
    if (!watch.sees(x, y, h, 'tangential')) return false;
    return (
      distance <= EVERY_HEADING_WITHIN + SLACK || crosses(heading, (Math.atan2(dy, dx) * 180) / Math.PI, crossingAngle)
    );
  };
  return (lines: readonly Line[], heading: number, room: number): (number | null)[] =>
    lines.map((line) => {
      for (let step = 0; ; step++) {
        const place = line.placeAt(step);
        if (!place) return null;
        const seen = serving.groups.some(
          (group) =>
            servesPlace(group, floor, room, place[0], place[1]) &&
            group.detectors.some((detector) => sees(detector, place, heading)),
        );
        if (seen) return step;
      }
    });
}
