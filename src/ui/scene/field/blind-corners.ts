/** The corners of blind areas: where thin uprights show that the field floats over the floor. */
import { BLIND, type Coverage, type PlaneName } from '../../../core/coverage/index.ts';

/** Half the window in which a corner must be sharp, cells. */
const HALF = 4;
/** A corner holds at most this share of the window; a straight edge holds half. */
const SHARP = 0.34;
/** Uprights stand at least this far apart, metres. */
const APART = 0.7;
/** Beyond this many cells nobody looks for corners. */
const MOST_CELLS = 2_000_000;

/** Floor coordinates of the corners, flat x, y. */
export function findBlindCorners(coverage: Coverage, plane: PlaneName): number[] {
  const { x0, y0, cell, nx, ny } = coverage.grid.lattice;
  const { state } = coverage[plane];
  if (nx * ny > MOST_CELLS) return [];
  const blindAt = (i: number, j: number) => i >= 0 && j >= 0 && i < nx && j < ny && state[j * nx + i] === BLIND;
  const taken = new Set<string>();
  const corners: number[] = [];
  for (let j = 0; j <= ny; j++) {
    for (let i = 0; i <= nx; i++) {
      const a = j > 0 && i > 0 && state[(j - 1) * nx + i - 1] === BLIND;
      const b = j > 0 && i < nx && state[(j - 1) * nx + i] === BLIND;
      const c = j < ny && i > 0 && state[j * nx + i - 1] === BLIND;
      const d = j < ny && i < nx && state[j * nx + i] === BLIND;
      if (Number(a) + Number(b) + Number(c) + Number(d) !== 1) continue;
      let held = 0;
      for (let v = j - HALF; v < j + HALF; v++) for (let u = i - HALF; u < i + HALF; u++) if (blindAt(u, v)) held++;
      if (held > SHARP * 4 * HALF * HALF) continue;
      const [bx, by] = [Math.floor((i * cell) / APART), Math.floor((j * cell) / APART)];
      let free = true;
      for (let v = by - 1; v <= by + 1; v++)
        for (let u = bx - 1; u <= bx + 1; u++) if (taken.has(`${u} ${v}`)) free = false;
      if (!free) continue;
      taken.add(`${bx} ${by}`);
      corners.push(x0 + i * cell, y0 + j * cell);
    }
  }
  return corners;
}
