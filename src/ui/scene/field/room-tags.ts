/** Small numbers for rooms, such that rooms that touch have different ones. */
import type { Floor } from '../../../core/floor/index.ts';
import { createBins, queryBins } from '../../../core/geometry/bins.ts';
import { computeBox } from '../../../core/geometry/polygon.ts';

export const MOST_TAGS = 15;
/** Rooms nearer than this touch: the shader reads cells two cells of up to a metre away. */
const NEAR = 2;

/** Per room of the floor, 1 to `MOST_TAGS`; where more rooms crowd together than there are tags, the last is given twice. */
export function tagRooms({ rooms, analysis }: Floor): Uint8Array {
  const near = Math.min(NEAR, 2 * analysis.cell + 0.05);
  const boxes = new Float64Array(rooms.length * 4);
  rooms.forEach((room, k) => {
    const { minX, minY, maxX, maxY } = computeBox(room.outline);
    boxes.set([minX, minY, maxX, maxY], 4 * k);
  });
  const bins = createBins(boxes);
  const found = new Int32Array(Math.max(1, rooms.length));
  const tags = new Uint8Array(rooms.length);
  rooms.forEach((_, k) => {
    const [x0 = 0, y0 = 0, x1 = 0, y1 = 0] = boxes.subarray(4 * k, 4 * k + 4);
    const count = queryBins(bins, x0 - near, y0 - near, x1 + near, y1 + near, found);
    const used = new Set<number>();
    for (let f = 0; f < count; f++) {
      const other = found[f] as number;
      const [u0 = 0, v0 = 0, u1 = 0, v1 = 0] = boxes.subarray(4 * other, 4 * other + 4);
      const touches = u0 <= x1 + near && u1 >= x0 - near && v0 <= y1 + near && v1 >= y0 - near;
      if (touches) used.add(tags[other] as number);
    }
    let tag = 1;
    while (tag < MOST_TAGS && used.has(tag)) tag++;
    tags[k] = tag;
  });
  return tags;
}
