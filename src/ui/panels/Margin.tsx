import { lazy, type RefObject, Suspense, useEffect, useRef } from 'react';
import type { Floor } from '../../core/floor/index.ts';
import { shownFloor } from '../../editor/store.ts';
import { findThing } from '../../editor/things.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { DetectorNote } from './DetectorNote.tsx';
import { Faults } from './Faults.tsx';
import { Findings } from './Findings.tsx';
import { FloorNote } from './FloorNote.tsx';
import { FurnitureNote } from './FurnitureNote.tsx';
import { joinNames } from './format.ts';
import { KeptNote } from './KeptNote.tsx';
import { NoteHead } from './NoteHead.tsx';
import { OtherNote, RoomNote } from './PlaceNotes.tsx';
import { WorkplaceNote } from './WorkplaceNote.tsx';
import { nameOf } from './words.ts';

const ProbeNote = lazy(() => import('./ProbeNote.tsx'));

/** A note about the thing in hand, then the findings: text beside the place. */
export function Margin() {
  const refusal = useEditor((state) => state.refusal);
  const margin = useRef<HTMLElement>(null);
  useNoteInSight(margin);
  return (
    <aside ref={margin} className="margin" data-region="margin" aria-label="Notes and findings">
      <KeptNote />
      {refusal !== null && <Faults refusal={refusal} />}
      <Note />
      <Findings />
    </aside>
  );
}

/** A new thing in hand, and faults, are seen at once: the margin goes back to its top. A finding stepped to keeps its row in sight. */
function useNoteInSight(margin: RefObject<HTMLElement | null>): void {
  const store = useEditorStore();
  useEffect(
    () =>
      store.subscribe((state, before) => {
        const isFaulty = state.refusal !== null && state.refusal !== before.refusal;
        const isTaken = state.selection !== before.selection && state.finding === before.finding;
        if (margin.current === null || !(isFaulty || isTaken)) return;
        margin.current.scrollTop = 0;
        // Where the margin does not scroll by itself, the window does.
        if (isFaulty)
          requestAnimationFrame(() => margin.current?.querySelector('.faults')?.scrollIntoView({ block: 'nearest' }));
      }),
    [store, margin],
  );
}

function Note() {
  const probing = useEditor((state) => state.probe !== null);
  const floor = useEditor(shownFloor);
  const committed = useEditor((state) => state.floor);
  const selection = useEditor((state) => state.selection);
  if (probing) {
    return (
      <section className="note" aria-label="Probe">
        <Suspense>
          <ProbeNote />
        </Suspense>
      </section>
    );
  }
  const id = selection.at(-1);
  return (
    <section className="note" aria-label="The thing in hand">
      {id === undefined ? (
        <FloorNote floor={floor} />
      ) : (
        <ThingNote key={id} floor={floor} committed={committed} id={id} />
      )}
      {selection.length > 1 && <Others floor={floor} ids={selection.slice(0, -1)} />}
    </section>
  );
}

function ThingNote({ floor, committed, id }: { floor: Floor; committed: Floor; id: string }) {
  const coverage = useEditor((state) => state.coverage);
  useEditor((state) => state.coverageVersion);
  const thing = findThing(floor, id);
  const before = findThing(committed, id);
  if (thing === undefined) return <FloorNote floor={floor} />;
  switch (thing.kind) {
    case 'detector':
      return (
        <DetectorNote
          floor={floor}
          detector={thing.value}
          before={before?.kind === 'detector' ? before.value : thing.value}
        />
      );
    case 'furniture':
      return (
        <FurnitureNote
          floor={floor}
          piece={thing.value}
          before={before?.kind === 'furniture' ? before.value : thing.value}
        />
      );
    case 'workplace':
      return (
        <WorkplaceNote
          floor={floor}
          workplace={thing.value}
          verdict={coverage?.workplaces.find((each) => each.id === id)}
        />
      );
    case 'room':
      return <RoomNote floor={floor} room={thing.value} />;
    default:
      return <OtherNote floor={floor} thing={thing} />;
  }
}

function Others({ floor, ids }: { floor: Floor; ids: readonly string[] }) {
  const names = ids.flatMap((id) => {
    const thing = findThing(floor, id);
    return thing === undefined ? [] : [nameOf(floor, thing)];
  });
  return <NoteHead title={`And ${joinNames(names)}`} aside="selected too" />;
}
