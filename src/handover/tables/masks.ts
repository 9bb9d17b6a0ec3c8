/** Every mask of the floor: its sector, what it hides, and the seats it costs. */
import type { HandoverJob } from '../job.ts';
import { findMaskFacts } from '../masks/mask-facts.ts';
import type { Cell, Table } from './table.ts';

export function writeMasks(job: HandoverJob): Table {
  const { floor, names } = job;
  const rows = floor.detectors
    .filter((detector) => detector.status !== 'remove')
    .flatMap((detector) => {
      const type = floor.types.find((each) => each.id === detector.type);
      return findMaskFacts(job, detector).map(({ mask, sources, seats }, k): readonly Cell[] => [
        names.numberOf(detector.id),
        type?.lensDiameter === undefined ? 'none: lens diameter not stated' : `M-${names.numberOf(detector.id)}`,
        k + 1,
        mask.from,
        mask.to,
        mask.inner,
        mask.outer,
        names.listOf(sources.map((each) => each.id)),
        seats.map(({ seat, met }) => `${names.numberOf(seat.id)}${met ? '' : ' (not met)'}`).join(', '),
      ]);
    });
  return {
    title: 'Masks',
    columns: [
      { title: 'Detector', width: 14 },
      { title: 'Template', width: 24 },
      { title: 'Sector', width: 10, decimals: 0 },
      { title: 'From °', width: 12, decimals: 1 },
      { title: 'To °', width: 12, decimals: 1 },
      { title: 'Nadir from °', width: 14, decimals: 1 },
      { title: 'Nadir to °', width: 14, decimals: 1 },
      { title: 'Hides the sources', width: 50 },
      { title: 'Hides these seats from the lens', width: 50 },
    ],
    rows,
  };
}
