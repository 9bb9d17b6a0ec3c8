/** Where a room's name is written: a place inside it that is clear of what is drawn there, low and to the left. */
import { type Floor, findRoomAt, type Room } from '../../../core/floor/index.ts';
import { type Bins, createBins, queryBins } from '../../../core/geometry/bins.ts';
import { computeBox } from '../../../core/geometry/polygon.ts';

/** Boxes of everything a name should not lie on. */
export interface Clutter {
  readonly boxes: Float64Array;
  readonly bins: Bins;
  readonly found: Int32Array;
}

export interface Spot {
  /** Left end and middle height of the words, metres. */
  readonly x: number;
  readonly y: number;
}

const STEPS = 14;

export function listClutter(floor: Floor): Clutter {
  const items: number[][] = [];
  for (const { outline } of floor.furniture) {
    const box = computeBox(outline);
    items.push([box.minX, box.minY, box.maxX, box.maxY]);
  }
  const round = (at: readonly [number, number], r: number) => items.push([at[0] - r, at[1] - r, at[0] + r, at[1] + r]);
  for (const { at } of floor.workplaces) round(at, 0.25);
  for (const { at } of floor.detectors) round(at, 0.6);
  for (const { at, radius } of floor.sources) round(at, radius + 0.3);
  for (const { outline } of floor.zones) {
    // A zone's need is written in its upper left corner.
    const [x, y] = outline.reduce((best, at) => (at[1] - at[0] > best[1] - best[0] ? at : best));
    items.push([x, y - 0.8, x + 2.2, y]);
  }
  const boxes = new Float64Array(items.flat());
  return { boxes, bins: createBins(boxes), found: new Int32Array(Math.max(1, items.length)) };
}

/** The best spot for words of a size in metres; the middle of the room's box when they fit nowhere. */
export function findRoomSpot(room: Room, clutter: Clutter, width: number, height: number): Spot {
  const box = computeBox(room.outline);
  const margin = 0.3;
  let best: Spot = { x: (box.minX + box.maxX - width) / 2, y: (box.minY + box.maxY) / 2 };
  let least = Number.POSITIVE_INFINITY;
  const spanX = box.maxX - box.minX - width - 2 * margin;
  const spanY = box.maxY - box.minY - height - 2 * margin;
  if (spanX < 0 || spanY < 0) return best;
  for (let j = 0; j <= STEPS; j++) {
    for (let i = 0; i <= STEPS; i++) {
      const x = box.minX + margin + (spanX * i) / STEPS;
      const y = box.minY + margin + height / 2 + (spanY * j) / STEPS;
      const corners = [
        [x, y - height / 2],
        [x + width, y - height / 2],
        [x, y + height / 2],
        [x + width, y + height / 2],
      ] as const;
      if (corners.some((corner) => findRoomAt([room], corner) === undefined)) continue;
      const cost = 4 * measureOverlap(clutter, x, y - height / 2, x + width, y + height / 2) + (i + j) / STEPS;
      if (cost < least) {
        least = cost;
        best = { x, y };
      }
    }
  }
  return best;
}

/** Square metres of clutter under a box, each thing counted for itself. */
function measureOverlap({ boxes, bins, found }: Clutter, x0: number, y0: number, x1: number, y1: number): number {
  if (boxes.length === 0) return 0;
  let area = 0;
  const count = queryBins(bins, x0, y0, x1, y1, found);
  for (let k = 0; k < count; k++) {
    const at = 4 * (found[k] as number);
    const wide = Math.min(x1, boxes[at + 2] as number) - Math.max(x0, boxes[at] as number);
    const high = Math.min(y1, boxes[at + 3] as number) - Math.max(y0, boxes[at + 1] as number);
    if (wide > 0 && high > 0) area += wide * high;
  }
  return area;
}
