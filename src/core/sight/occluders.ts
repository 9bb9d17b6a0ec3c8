/** What stands in the way, packed for casting. */
import { type Prism, partsOf } from './prisms.ts';
import type { Draft } from './wall-drafts.ts';
import { WHEN_OPEN, WHEN_STATED } from './wall-drafts.ts';

/**
 * Everything that can stand in the way, as flat arrays: wall panels (two corners) and convex prism parts (three or more
 * corners, counter-clockwise). Metres.
 */
export interface Occluders {
  readonly count: number;
  /** Corners of occluder k: `xy[2 * start[k]] … xy[2 * start[k + 1]]`. */
  readonly start: Int32Array;
  readonly xy: Float64Array;
  readonly base: Float64Array;
  /** Infinity for walls. */
  readonly top: Float64Array;
  /** Index into `blockers`. */
  readonly blocker: Int32Array;
  readonly doors: Uint8Array;
  /** min x, min y, max x, max y each. */
  readonly boxes: Float64Array;
}

export function compileOccluders(walls: readonly Draft[], prisms: readonly Prism[]): Occluders {
  const drafts = [...walls];
  for (const prism of prisms) {
    for (const xy of partsOf(prism.outline)) {
      drafts.push({ xy, base: prism.base, top: prism.top, blocker: prism.blocker, doors: WHEN_STATED | WHEN_OPEN });
    }
  }
  const count = drafts.length;
  const start = new Int32Array(count + 1);
  drafts.forEach((draft, k) => {
    start[k + 1] = start[k]! + draft.xy.length / 2;
  });
  const xy = new Float64Array(2 * start[count]!);
  const boxes = new Float64Array(4 * count);
  // Copied number by number: a call for every few of them would cost more than the copying.
  let end = 0;
  for (let k = 0; k < count; k++) {
    const part = drafts[k]!.xy;
    for (let v = 0; v < part.length; v++) xy[end + v] = part[v]!;
    end += part.length;
    writeBox(boxes, 4 * k, part);
  }
  return {
    count,
    start,
    xy,
    base: Float64Array.from(drafts, (draft) => draft.base),
    top: Float64Array.from(drafts, (draft) => draft.top),
    blocker: Int32Array.from(drafts, (draft) => draft.blocker),
    doors: Uint8Array.from(drafts, (draft) => draft.doors),
    boxes,
  };
}

export function writeBox(boxes: Float64Array, at: number, xy: readonly number[]): void {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (let v = 0; v < xy.length; v += 2) {
    const [x, y] = [xy[v]!, xy[v + 1]!];
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  boxes[at] = minX;
  boxes[at + 1] = minY;
  boxes[at + 2] = maxX;
  boxes[at + 3] = maxY;
}
