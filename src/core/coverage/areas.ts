/** Areas of a field by what is seen and why not, whole cells counted. */
import type { Lattice } from '../sight/index.ts';
import type { Field } from './field.ts';
import { CELLS } from './field.ts';
import { areaOfCells } from './measure.ts';

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
  const area = (place: number) => areaOfCells(field.cells[place]!, lattice);
  const rest =
    field.cells[CELLS.occupiable]! -
    [CELLS.seen, CELLS.hidden, CELLS.masked, CELLS.tooFew].reduce((sum, place) => sum + field.cells[place]!, 0);
  return {
    areaM2: area(CELLS.occupiable),
    seenM2: area(CELLS.seen),
    hiddenM2: area(CELLS.hidden),
    maskedM2: area(CELLS.masked),
    rangeM2: areaOfCells(rest, lattice),
    headingsM2: area(CELLS.tooFew),
    everyHeadingM2: area(CELLS.every),
    byCount: [0, 1, 2, 3, 4].map((number) => area(CELLS.count + number)),
  };
}
