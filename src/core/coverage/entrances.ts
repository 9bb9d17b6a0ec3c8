/** How far one walks in through a door before the light comes on. */
import type { Opening, Point } from '../floor/index.ts';
import { findRoomAt } from '../floor/index.ts';
import type { Box } from '../geometry/polygon.ts';
import { computeBox, computeSegmentDistance, isInRing } from '../geometry/polygon.ts';
import { createSurroundings, SLACK, WHEN_OPEN, watchFrom } from '../sight/index.ts';
import type { Coverage } from './coverage.ts';
import { blocksWalking } from './grid.ts';
import { crosses, EVERY_HEADING_WITHIN } from './headings.ts';
import type { EntranceResult } from './result.ts';
import { servesCell } from './serving.ts';

/** Distance between places asked along a line, metres. */
const STEP = 0.05;

/** One straight line into a room: places a step apart, until a wall or a piece. */
interface Line {
  readonly places: readonly Point[];
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
      const lines = found.lines.filter((line) => line.places.length > 0);
      const steps = watch(lines, heading);
      const never = steps.length === 0 || steps.some((step) => step === null);
      return [
        {
          id: opening.id,
          room: floor.rooms[roomIndex]!.id,
          firstSeenM: never ? null : Math.max(...steps.map((step) => (step ?? 0) * STEP)),
          opening,
          roomIndex,
          at,
          served: coverage.serving.groups.some((group) => servesCell(group, coverage.grid.lattice, at[0], at[1])),
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
  const pieces = floor.furniture.filter((piece) => blocksWalking(piece) && overlaps(computeBox(piece.outline), box));
  const lines: Line[] = starts.map(([x, y]) => {
    const places: Point[] = [];
    for (let step = 0; ; step++) {
      const px = x + step * STEP * nx;
      const py = y + step * STEP * ny;
      const probe: Point = step === 0 ? [px + 0.001 * nx, py + 0.001 * ny] : [px, py];
      if (findRoomAt([room], probe) === undefined || pieces.some((piece) => isInRing(piece.outline, px, py))) break;
      places.push(step === 0 ? probe : [px, py]);
    }
    return { places };
  });
  const heading = (Math.atan2(ny, nx) * 180) / Math.PI;
  return { roomIndex: floor.rooms.indexOf(room), lines, heading, at: starts[0]! };
}

/** Returns, per line, the first step at which a serving detector sees the heading; null where none does. */
function createWatcher(coverage: Coverage) {
  const { scene, serving, floor, grid } = coverage;
  const surroundings = createSurroundings(scene);
  const h = coverage.walking.height;
  const { crossingAngle } = floor.analysis;
  return (lines: readonly Line[], heading: number): (number | null)[] => {
    const first = lines.map(() => Infinity);
    serving.groups.forEach((group) => {
      const serves = lines.map((line) => line.places.map(([x, y]) => servesCell(group, grid.lattice, x, y)));
      if (!serves.some((line) => line.some(Boolean))) return;
      for (const detector of group.detectors) {
        const lens = scene.lenses[detector]!;
        const layers = coverage.layers[detector]!;
        const reach = Math.max(
          ...[layers.tangential, layers.radial].map((layer) => (layer ? spanOfLayer(layer.seen) : 0)),
        );
        if (!lines.some((line) => comesWithin(line, lens.x, lens.y, reach))) continue;
        const watch = watchFrom(scene, surroundings, lens, h, WHEN_OPEN);
        lines.forEach((line, index) => {
          for (let step = 0; step < Math.min(line.places.length, first[index]!); step++) {
            if (!serves[index]![step]) continue;
            const [x, y] = line.places[step]!;
            if (watch.sees(x, y, h, 'radial') || seesPast(watch, x, y)) {
              first[index] = step;
              break;
            }
          }
        });
        function seesPast(by: typeof watch, x: number, y: number): boolean {
          if (!by.sees(x, y, h, 'tangential')) return false;
          const dx = x - lens.x;
          const dy = y - lens.y;
          if (Math.hypot(dx, dy) <= EVERY_HEADING_WITHIN + SLACK) return true;
          return crosses(heading, (Math.atan2(dy, dx) * 180) / Math.PI, crossingAngle);
        }
      }
    });
    return first.map((step) => (step === Infinity ? null : step));
  };
}

function overlaps(a: Box, b: Box): boolean {
  return a.minX <= b.maxX && a.maxX >= b.minX && a.minY <= b.maxY && a.maxY >= b.minY;
}

function comesWithin({ places }: Line, x: number, y: number, reach: number): boolean {
  const first = places[0];
  const last = places[places.length - 1];
  return first !== undefined && last !== undefined && computeSegmentDistance(first, last, x, y) <= reach;
}

function spanOfLayer(raster: {
  readonly words: number;
  readonly rows: number;
  readonly lattice: { readonly cell: number };
}): number {
  return Math.hypot(32 * raster.words, raster.rows) * raster.lattice.cell;
}
