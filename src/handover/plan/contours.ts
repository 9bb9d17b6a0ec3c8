/**
 * Outlines around cells: boundary tracing on the corners of the grid, then smoothing within half a cell.
 * Corner (x, y) of the grid is the lower left of cell (x, y); inside lies to the left of every step.
 */

/** Whether a cell belongs; also asked for cells outside the grid, which never do. */
export type Holds = (i: number, j: number) => boolean;

/** A closed line through places in cells from the grid's corner, flat: x0, y0, x1, y1 … Outer ones run counter-clockwise. */
export type Loop = readonly number[];

const DX = [1, 0, -1, 0] as const;
const DY = [0, 1, 0, -1] as const;

/**
 * The loops around all cells that belong, in the order of their first cell (least row, then least column). Two cells
 * that share only a corner are not joined. Vertices stand at turns only.
 */
export function traceLoops(nx: number, ny: number, holds: Holds): Loop[] {
  const loops: Loop[] = [];
  /** Cells whose lower edge has been walked along. */
  const walked = new Uint8Array(nx * ny);
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      if (walked[j * nx + i] === 1 || !holds(i, j) || holds(i, j - 1)) continue;
      loops.push(walkRound(i, j, nx, holds, walked));
    }
  }
  return loops;
}

function walkRound(i: number, j: number, nx: number, holds: Holds, walked: Uint8Array): Loop {
  const loop: number[] = [];
  let x = i;
  let y = j;
  let heading = 0;
  do {
    if (heading === 0) walked[y * nx + x] = 1;
    x += DX[heading] ?? 0;
    y += DY[heading] ?? 0;
    // The two cells beyond the corner: to the left of the way, and to its right.
    const left = holds(...cellAhead(x, y, heading, true));
    const right = holds(...cellAhead(x, y, heading, false));
    if (!left) heading = (heading + 1) % 4;
    else if (right) heading = (heading + 3) % 4;
    else continue;
    loop.push(x, y);
  } while (x !== i || y !== j || heading !== 0);
  return loop;
}

/** The cell beyond a corner on one side of the way: headings 0 to 3 run east, north, west, south. */
function cellAhead(x: number, y: number, heading: number, left: boolean): readonly [number, number] {
  switch (heading) {
    case 0:
      return left ? [x, y] : [x, y - 1];
    case 1:
      return left ? [x - 1, y] : [x, y];
    case 2:
      return left ? [x - 1, y - 1] : [x - 1, y];
    default:
      return left ? [x, y - 1] : [x - 1, y - 1];
  }
}

/** Runs at least this long, in cells, are taken for a straight side, and two of them for a true corner. */
const SIDE = 3;
/** Cells by which the smooth line may leave the middles of the steps. */
const TOLERANCE = 0.4;

/**
 * The stairs of a loop made straight: through the middles of short runs and the corners of long ones, then with as few
 * points as stay close to them. Only for the eye: areas are counted in cells.
 */
export function smoothLoop(loop: Loop): Loop {
  const count = loop.length / 2;
  if (count <= 4) return loop;
  const runOf = (k: number) => {
    const a = (k % count) * 2;
    const b = ((k + 1) % count) * 2;
    return { x0: at(loop, a), y0: at(loop, a + 1), x1: at(loop, b), y1: at(loop, b + 1) };
  };
  const points: number[] = [];
  for (let k = 0; k < count; k++) {
    const { x0, y0, x1, y1 } = runOf(k);
    const length = Math.abs(x1 - x0) + Math.abs(y1 - y0);
    if (length < SIDE) {
      points.push((x0 + x1) / 2, (y0 + y1) / 2);
      continue;
    }
    const before = runOf(k + count - 1);
    const after = runOf(k + 1);
    const cornerBefore = Math.abs(before.x1 - before.x0) + Math.abs(before.y1 - before.y0) >= SIDE;
    const cornerAfter = Math.abs(after.x1 - after.x0) + Math.abs(after.y1 - after.y0) >= SIDE;
    // A step of a stair turns one way and then the other: its middle lies on the line that it stands for.
    const turnBefore = (before.x1 - before.x0) * (y1 - y0) - (before.y1 - before.y0) * (x1 - x0);
    const turnAfter = (x1 - x0) * (after.y1 - after.y0) - (y1 - y0) * (after.x1 - after.x0);
    if (!cornerBefore && !cornerAfter && turnBefore * turnAfter < 0) {
      points.push((x0 + x1) / 2, (y0 + y1) / 2);
      continue;
    }
    const inset = 1 / length;
    if (cornerBefore) points.push(x0, y0);
    else points.push(x0 + (x1 - x0) * inset, y0 + (y1 - y0) * inset);
    // A corner at the end is the start of the next run, which puts it down.
    if (!cornerAfter) points.push(x1 - (x1 - x0) * inset, y1 - (y1 - y0) * inset);
  }
  return simplify(points);
}

/** Douglas and Peucker on a closed line: cut at the first point and at the one farthest from it. */
function simplify(points: readonly number[]): Loop {
  const count = points.length / 2;
  let far = 0;
  let farthest = -1;
  for (let k = 1; k < count; k++) {
    const distance = Math.hypot(at(points, 2 * k) - at(points, 0), at(points, 2 * k + 1) - at(points, 1));
    if (distance > farthest) {
      farthest = distance;
      far = k;
    }
  }
  const kept = new Uint8Array(count + 1);
  kept[0] = kept[far] = kept[count] = 1;
  const spans: [number, number][] = [
    [0, far],
    [far, count],
  ];
  for (let span = spans.pop(); span !== undefined; span = spans.pop()) {
    const [from, to] = span;
    let worst = TOLERANCE;
    let split = -1;
    for (let k = from + 1; k < to; k++) {
      const off = distanceToSpan(points, k, from, to % count);
      if (off > worst) {
        worst = off;
        split = k;
      }
    }
    if (split !== -1) {
      kept[split] = 1;
      spans.push([from, split], [split, to]);
    }
  }
  const result: number[] = [];
  for (let k = 0; k < count; k++) if (kept[k] === 1) result.push(at(points, 2 * k), at(points, 2 * k + 1));
  return result;
}

function distanceToSpan(points: readonly number[], k: number, from: number, to: number): number {
  const ax = at(points, 2 * from);
  const ay = at(points, 2 * from + 1);
  const dx = at(points, 2 * to) - ax;
  const dy = at(points, 2 * to + 1) - ay;
  const px = at(points, 2 * k) - ax;
  const py = at(points, 2 * k + 1) - ay;
  const length = dx * dx + dy * dy;
  const along = length === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / length));
  return Math.hypot(px - along * dx, py - along * dy);
}

function at(values: readonly number[], index: number): number {
  return values[index] ?? Number.NaN;
}
