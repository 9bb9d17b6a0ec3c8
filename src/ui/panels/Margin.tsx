import { lazy, type RefObject, Suspense, useEffect, useRef } from 'react';
import { useStore } from 'zustand';
import type { Floor } from '../../core/floor/index.ts';
import { shownFloor } from '../../editor/store.ts';
import { findThing } from '../../editor/things.ts';
import { useEditor, useEditorStore, useHost } from './context.tsx';
import { FloorNote } from './FloorNote.tsx';
import { Guard } from './Guard.tsx';
import { nameNews } from './kept-news.ts';
import { NextStep } from './NextStep.tsx';
import { NoteHead } from './NoteHead.tsx';
import { questions } from './questions/question-state.ts';
import { nameOf } from './words.ts';

const KeptNote = lazy(() => import('./KeptNote.tsx'));
const Findings = lazy(() => import('./Findings.tsx'));
const QuestionNote = lazy(() => import('./questions/QuestionNote.tsx'));
const ImportNote = lazy(() => import('./import/ImportNote.tsx'));
const Faults = lazy(() => import('./Faults.tsx'));
const ThingNote = lazy(() => import('./notes/ThingNote.tsx'));
const SelectionNote = lazy(() => import('./notes/SelectionNote.tsx'));
const ProbeNote = lazy(() => import('./ProbeNote.tsx'));

/** A note about the thing in hand, then the findings: text beside the place. */
export function Margin({ isPictured }: { readonly isPictured: boolean }) {
  const refusal = useEditor((state) => state.refusal);
  const isEmpty = useEditor((state) => state.floor.rooms.length === 0);
  const isImported = useEditor(({ file: { notes } }) => typeof notes === 'object' && 'import' in notes);
  const held = useEditor((state) => state.selection);
  const asks = useStore(questions, (state) => state.open !== null);
  const { keeper } = useHost();
  const isNews = useStore(keeper.state, (kept) => nameNews(kept) !== null);
  // Its rows come with the first check, and after the picture.
  const isChecked = useEditor((state) => state.result !== null) && isPictured;
  const margin = useRef<HTMLElement>(null);
  useNoteInSight(margin);
  return (
    <aside ref={margin} className="margin" data-region="margin" aria-label="Notes and findings">
      {isNews && (
        <Guard what="How the floor is kept">
          <Suspense>
            <KeptNote />
          </Suspense>
        </Guard>
      )}
      {refusal !== null && (
        <Guard what="The faults of a file">
          <Suspense>
            <Faults refusal={refusal} />
          </Suspense>
        </Guard>
      )}
      {isImported && (
        <Guard what="The report of the import">
          <Suspense>
            <ImportNote />
          </Suspense>
        </Guard>
      )}
      {asks && (
        <Guard what="The question">
          <Suspense>
            <QuestionNote />
          </Suspense>
        </Guard>
      )}
      <NextStep />
      <Guard what="The note" about={held}>
        <Note />
      </Guard>
      {!isEmpty && (
        <Guard what="The list of findings">
          <Suspense fallback={<BeingChecked />}>{isChecked ? <Findings /> : <BeingChecked />}</Suspense>
        </Guard>
      )}
    </aside>
  );
}

/** The list of findings before there is one. */
function BeingChecked() {
  return (
    <section className="findings stale" aria-labelledby="findings-title">
      <h2 className="findings-title" id="findings-title">
        Findings<span className="aside">being checked</span>
      </h2>
    </section>
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
        <Suspense fallback={<NoteHead title={nameOfHeld(floor, id)} />}>
          {selection.length > 1 ? (
            <SelectionNote floor={floor} ids={selection} />
          ) : (
            <ThingNote key={id} floor={floor} committed={committed} id={id} />
          )}
        </Suspense>
      )}
    </section>
  );
}

function nameOfHeld(floor: Floor, id: string): string {
  const thing = findThing(floor, id);
  return thing === undefined ? '' : nameOf(floor, thing);
}
