import { type Coverage, type PlaneName, SEEN } from '../../../core/coverage/index.ts';
import type { Point } from '../../../core/floor/index.ts';

/** Whether the cell that holds a place counts as seen; false outside the grid. */
export function isPlaceSeen(coverage: Coverage, plane: PlaneName, at: Point): boolean {
  const { x0, y0, cell, nx, ny } = coverage.grid.lattice;
  const i = Math.floor((at[0] - x0) / cell);
  const j = Math.floor((at[1] - y0) / cell);
  return i >= 0 && j >= 0 && i < nx && j < ny && coverage[plane].state[j * nx + i] === SEEN;
}
