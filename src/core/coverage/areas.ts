/** Areas of a field by what is seen and why not, whole cells counted. */
import type { Lattice } from '../sight/index.ts';
import { countCells } from '../sight/index.ts';
import type { Field } from './field.ts';

/** Square metres. */
export interface Areas {
  /** Occupiable. */
  readonly areaM2: number;
  /** Seen enough to count. */
  readonly seenM2: number;
  readonly hiddenM2: number;
  readonly maskedM2: number;
  readonly rangeM2: number;
  /** Walking: seen, but for too few headings. */
  readonly headingsM2: number;
  /** Walking: seen for every heading. */
  readonly everyHeadingM2: number;
  /** Seen by 1, 2, 3, 4 and by 5 or more detectors. */
  readonly byCount: readonly number[];
}

export function measureAreas(field: Field, lattice: Lattice): Areas {
  const perCell = lattice.cell ** 2;
  const occupiable = countCells(field.occupiable);
  const seen = countCells(field.seen);
  const hidden = countCells(field.hidden);
  const masked = countCells(field.masked);
  const tooFew = field.tooFew ? countCells(field.tooFew) : 0;
  const every = field.every ? countCells(field.every) : 0;
  const byCount = [0, 0, 0, 0, 0];
  for (let k = 0; k < field.count.length; k++) {
    const count = field.count[k]!;
    if (count > 0) byCount[Math.min(count, 5) - 1]!++;
  }
  return {
    areaM2: occupiable * perCell,
    seenM2: seen * perCell,
    hiddenM2: hidden * perCell,
    maskedM2: masked * perCell,
    rangeM2: (occupiable - seen - hidden - masked - tooFew) * perCell,
    headingsM2: tooFew * perCell,
    everyHeadingM2: every * perCell,
    byCount: byCount.map((cells) => cells * perCell),
  };
}
