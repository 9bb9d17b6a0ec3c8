import type { FloorFile } from '../../src/core/floor/schema.ts';
import type { XY } from './floor-draft.ts';
import { isInside, ringClearance } from './random-outlines.ts';

const STEP = 0.1;
/** Half the depth of a walking body, metres: what keeps somebody off a piece of furniture. */
const BODY = 0.2;

/**
 * Ids of the workplaces to which nobody can walk: a flood over a grid of 0.1 m from the rooms' doors that lead outside and
 * from wherever `from` says, through doors and passages, 0.2 m clear of everything that stands in the way.
 */
export function listUnreachable(file: FloorFile, from: readonly XY[]): string[] {
  const corners = file.rooms.flatMap(({ outline }) => outline);
  const x0 = Math.min(...corners.map(([x]) => x)) - STEP;
  const y0 = Math.min(...corners.map(([, y]) => y)) - STEP;
  const nx = Math.ceil((Math.max(...corners.map(([x]) => x)) - x0) / STEP) + 2;
  const ny = Math.ceil((Math.max(...corners.map(([, y]) => y)) - y0) / STEP) + 2;
  const free = new Uint8Array(nx * ny);
  const paint = (ring: readonly (readonly [number, number])[], margin: number, value: 0 | 1): void => {
    const xs = ring.map(([x]) => x);
    const ys = ring.map(([, y]) => y);
    const [i0, i1] = [
      Math.floor((Math.min(...xs) - margin - x0) / STEP),
      Math.ceil((Math.max(...xs) + margin - x0) / STEP),
    ];
    const [j0, j1] = [
      Math.floor((Math.min(...ys) - margin - y0) / STEP),
      Math.ceil((Math.max(...ys) + margin - y0) / STEP),
    ];
    for (let j = Math.max(0, j0); j <= Math.min(ny - 1, j1); j += 1) {
      for (let i = Math.max(0, i0); i <= Math.min(nx - 1, i1); i += 1) {
        const [x, y] = [x0 + i * STEP, y0 + j * STEP];
        if (isInside(ring, x, y) || (margin > 0 && ringClearance(ring, x, y) < margin)) free[j * nx + i] = value;
      }
    }
  };
  for (const { outline } of file.rooms) paint(outline, 0, 1);
  for (const { kind, from: a, to: b, depth = 0.4 } of file.openings ?? []) {
    if (kind === 'window') continue;
    const width = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const [ox, oy] = [(-(b[1] - a[1]) / width) * depth * 0.5, ((b[0] - a[0]) / width) * depth * 0.5];
    paint(
      [
        [a[0] + ox, a[1] + oy],
        [b[0] + ox, b[1] + oy],
        [b[0] - ox, b[1] - oy],
        [a[0] - ox, a[1] - oy],
      ],
      0,
      1,
    );
  }
  for (const { outline, base = 0, top } of file.furniture ?? []) if (base < 1.8 && top > 0.1) paint(outline, BODY, 0);

  const cellAt = ([x, y]: readonly [number, number]): number =>
    Math.round((y - y0) / STEP) * nx + Math.round((x - x0) / STEP);
  const queue = from.map(cellAt).filter((cell) => free[cell] === 1);
  const reached = new Uint8Array(nx * ny);
  for (const cell of queue) reached[cell] = 1;
  for (let head = 0; head < queue.length; head += 1) {
    const cell = queue[head] ?? 0;
    for (const next of [cell - 1, cell + 1, cell - nx, cell + nx]) {
      if (free[next] === 1 && reached[next] === 0) {
        reached[next] = 1;
        queue.push(next);
      }
    }
  }
  return (file.workplaces ?? []).filter(({ at }) => reached[cellAt(at)] === 0).map(({ id }) => id);
}
