import type { Box } from './polygon.ts';

const NODE_SIZE = 16;

/** Boxes packed into a tree once, to be asked which of them meet a box. Near-linear to build, whatever their sizes. */
export interface BoxIndex {
  /** Calls `visit` with the position of every box that meets (or touches) the asked one, until it returns true. */
  query(box: Box, visit: (item: number) => boolean): boolean;
}

/**
 * Sort-tile-recursive packing: slices in x, runs in y, sixteen boxes a node, level upon level. A uniform grid would
 * be quicker on an office, but a few boxes as large as the floor make it huge.
 */
export function createBoxIndex(boxes: readonly Box[]): BoxIndex {
  const order = sortIntoTiles(boxes);
  const levels: Float64Array[] = [];
  let level = new Float64Array(boxes.length * 4);
  order.forEach((item, at) => {
    const box = boxes[item] as Box;
    level.set([box.minX, box.minY, box.maxX, box.maxY], at * 4);
  });
  levels.push(level);
  while (level.length > NODE_SIZE * 4) {
    level = packLevel(level);
    levels.push(level);
  }

  const queryLevel = (depth: number, from: number, to: number, box: Box, visit: (item: number) => boolean): boolean => {
    const bounds = levels[depth] as Float64Array;
    const end = Math.min(to, bounds.length / 4);
    for (let at = from; at < end; at++) {
      if ((bounds[at * 4] as number) > box.maxX || (bounds[at * 4 + 2] as number) < box.minX) continue;
      if ((bounds[at * 4 + 1] as number) > box.maxY || (bounds[at * 4 + 3] as number) < box.minY) continue;
      const stop =
        depth === 0
          ? visit(order[at] as number)
          : queryLevel(depth - 1, at * NODE_SIZE, (at + 1) * NODE_SIZE, box, visit);
      if (stop) return true;
    }
    return false;
  };
  return { query: (box, visit) => queryLevel(levels.length - 1, 0, NODE_SIZE, box, visit) };
}

/** The positions of the boxes, neighbours close together: slices of about √(nodes) nodes by x, each ordered by y. */
function sortIntoTiles(boxes: readonly Box[]): Int32Array {
  const count = boxes.length;
  const x = Float64Array.from(boxes, (box) => box.minX + box.maxX);
  const y = Float64Array.from(boxes, (box) => box.minY + box.maxY);
  const order = Int32Array.from(boxes, (_, item) => item).sort((a, b) => (x[a] as number) - (x[b] as number));
  const slice = NODE_SIZE * Math.max(1, Math.ceil(Math.sqrt(count / NODE_SIZE)));
  for (let from = 0; from < count; from += slice) {
    order.subarray(from, from + slice).sort((a, b) => (y[a] as number) - (y[b] as number));
  }
  return order;
}

function packLevel(below: Float64Array): Float64Array<ArrayBuffer> {
  const count = below.length / 4;
  const level = new Float64Array(Math.ceil(count / NODE_SIZE) * 4);
  for (let node = 0; node * 4 < level.length; node++) {
    let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
    for (let at = node * NODE_SIZE; at < Math.min(count, (node + 1) * NODE_SIZE); at++) {
      minX = Math.min(minX, below[at * 4] as number);
      minY = Math.min(minY, below[at * 4 + 1] as number);
      maxX = Math.max(maxX, below[at * 4 + 2] as number);
      maxY = Math.max(maxY, below[at * 4 + 3] as number);
    }
    level.set([minX, minY, maxX, maxY], node * 4);
  }
  return level;
}
