/** The lines of the picture under the plan, to be asked what lies near a place. */
import type { Point } from '../../core/floor/index.ts';
import { type BoxIndex, createBoxIndex } from '../../core/geometry/box-index.ts';
import type { Box } from '../../core/geometry/polygon.ts';
import { toFloor } from '../underlay.ts';
import type { SnapUnder } from './snap-kinds.ts';

interface Laid {
  readonly under: SnapUnder;
  /** Flat x0, y0, x1, y1 on the floor, metres. */
  readonly ends: Float64Array;
  readonly index: BoxIndex;
}

/** One picture lies under one floor: the last one laid is kept. */
let laid: Laid | null = null;

/** Calls for the ends of every line of the picture that comes near a box. */
export function visitUnderLines(
  under: SnapUnder | null | undefined,
  box: Box,
  visit: (a: Point, b: Point) => void,
): void {
  if (under === null || under === undefined || under.lines.length === 0) return;
  if (laid === null || laid.under.lines !== under.lines || laid.under.placement !== under.placement) laid = lay(under);
  const { ends, index } = laid;
  index.query(box, (item) => {
    const at = (i: number): number => ends[4 * item + i] ?? 0;
    visit([at(0), at(1)], [at(2), at(3)]);
    return false;
  });
}

function lay(under: SnapUnder): Laid {
  const { lines, placement } = under;
  const ends = new Float64Array(lines.length);
  const boxes: Box[] = [];
  for (let i = 0; i + 3 < lines.length; i += 4) {
    const [ax, ay] = toFloor(placement, lines[i] ?? 0, lines[i + 1] ?? 0);
    const [bx, by] = toFloor(placement, lines[i + 2] ?? 0, lines[i + 3] ?? 0);
    ends.set([ax, ay, bx, by], i);
    boxes.push({ minX: Math.min(ax, bx), minY: Math.min(ay, by), maxX: Math.max(ax, bx), maxY: Math.max(ay, by) });
  }
  return { under, ends, index: createBoxIndex(boxes) };
}
