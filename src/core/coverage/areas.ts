/** Areas of a field by what is seen and why not, whole cells counted. */
import type { Lattice } from '../sight/index.ts';
import { countBits, countCells } from '../sight/index.ts';
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
  const byCount = countByNumber(field);
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

/** Cells seen by exactly 1, 2, 3, 4 and by 5 or more. */
function countByNumber({ slices: [ones, twos, fours, more] }: Field): number[] {
  const cells = [0, 0, 0, 0, 0];
  for (let k = 0; k < ones.bits.length; k++) {
    const a = ones.bits[k]!;
    const b = twos.bits[k]!;
    const c = fours.bits[k]!;
    const d = more.bits[k]!;
    if ((a | b | c | d) === 0) continue;
    cells[0]! += countBits(a & ~b & ~c & ~d);
    cells[1]! += countBits(b & ~a & ~c & ~d);
    cells[2]! += countBits(a & b & ~c & ~d);
    cells[3]! += countBits(c & ~a & ~b & ~d);
    cells[4]! += countBits((c & (a | b)) | d);
  }
  return cells;
}
