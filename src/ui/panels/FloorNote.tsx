import type { Floor } from '../../core/floor/index.ts';
import { useEditor } from './context.tsx';
import { count, formatArea, formatShare } from './format.ts';
import { Ledger, Row } from './Ledger.tsx';
import { NoteHead } from './NoteHead.tsx';

/** The note when nothing is in hand: the whole floor. */
export function FloorNote({ floor }: { floor: Floor }) {
  const coverage = useEditor((state) => state.coverage);
  useEditor((state) => state.coverageVersion);
  if (floor.rooms.length === 0)
    return <NoteHead title={floor.name}>Draw a room and hang a detector in it: what is blind is then shown.</NoteHead>;
  if (coverage === null) return <NoteHead title={floor.name} />;
  const { seated, walking } = coverage.areas;
  const kept = floor.detectors.filter((each) => each.status !== 'remove').length;
  const share = (part: number, whole: number): string => formatShare(whole === 0 ? null : part / whole);
  return (
    <>
      <NoteHead title={floor.name} aside={formatArea(seated.areaM2)}>
        {count(kept, 'detector sees', 'detectors see')} {share(seated.seenM2, seated.areaM2)} of the floor for seated
        people and {share(walking.seenM2, walking.areaM2)} for walking people.
      </NoteHead>
      <Ledger>
        <Row label="rooms, openings">
          {floor.rooms.length}, {floor.openings.length}
        </Row>
        <Row label="workplaces">{floor.workplaces.length}</Row>
        <Row label="furniture">{floor.furniture.length}</Row>
        <Row label="detectors, groups">
          {kept}, {floor.groups.length}
        </Row>
        <Row label="seen, seated" aside={formatArea(seated.seenM2)}>
          {share(seated.seenM2, seated.areaM2)}
        </Row>
        <Row label="seen, walking" aside={formatArea(walking.seenM2)}>
          {share(walking.seenM2, walking.areaM2)}
        </Row>
      </Ledger>
    </>
  );
}
