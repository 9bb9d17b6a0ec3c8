/** Floors whose fewest detectors are known, and the way to arrange on them. */
import type { FloorFile } from '../../../../src/core/floor/index.ts';
import {
  ARRANGE_DEFAULTS,
  type Arranged,
  type ArrangeOptions,
  arrange,
} from '../../../../src/core/planning/arrange/index.ts';
import { loadSolver } from '../../../../src/workers/highs-solver.ts';
import { row, type XY } from '../../sight/build-floor.ts';

/** One room with a zone over all of it, every cell to be seen by seated people; ranges without an end unless one is given. */
export function galleryFloor(
  outline: readonly XY[],
  holes: readonly (readonly XY[])[] = [],
  diameter = 100,
  cell = 0.1,
): FloorFile {
  return {
    format: 'lacuna/1',
    name: 'Gallery',
    rooms: [{ id: 'r', name: 'Gallery', outline: outline as never, holes: holes as never, ceiling: 3 }],
    zones: [{ id: 'z', name: 'All of it', outline: outline as never, need: 'seated', share: 1 }],
    types: [{ id: 't', name: 'Type', ranges: [row('minor', 3, 0.8, diameter)] }],
    detectors: [],
    analysis: { cell },
  };
}

/** A comb of k teeth, 3k corners: each tooth's tip is seen from its own strip alone. */
export function comb(teeth: number): XY[] {
  const outline: XY[] = [
    [0, 0],
    [4 * teeth - 2, 0],
  ];
  for (let k = teeth - 1; k >= 0; k--) {
    outline.push([4 * k + 2, 0.5], [4 * k + 1, 9], [4 * k, 0.5]);
  }
  return outline;
}

/** Arranges with the exact solver. */
export async function arrangeExactly(file: FloorFile, options: Partial<ArrangeOptions>): Promise<Arranged> {
  const solver = await loadSolver();
  return arrange(
    file,
    {
      ...ARRANGE_DEFAULTS,
      types: file.types.map(({ id }) => id) as never,
      keepOuts: { wall: 0, outlet: 0, lamp: 0, areas: [] },
      ...options,
    },
    { solver, now: () => performance.now(), shouldStop: () => false, onNews: () => {} },
  );
}
