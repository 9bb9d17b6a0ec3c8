import { type ComponentType, lazy, Suspense, useEffect, useRef } from 'react';
import { useStore } from 'zustand';
import { useEditorStore } from '../context.tsx';
import { focusPage } from '../focus.ts';
import { closeQuestion, type QuestionName, questions } from './question-state.ts';
import './questions.css';

const TITLES: Readonly<Record<QuestionName, string>> = {
  'what-if': 'What if it were taller',
  compare: 'Compare',
  stress: 'Stress',
  'move-room': 'Move-room',
  bodies: 'People, not planes',
  'walk-test': 'Walk test',
  arrange: 'Arrange detectors',
};

const NOTES: Readonly<Record<QuestionName, ComponentType>> = {
  'what-if': lazy(() => import('./WhatIf.tsx')),
  compare: lazy(() => import('./Compare.tsx')),
  stress: lazy(() => import('./Stress.tsx')),
  'move-room': lazy(() => import('./MoveRoom.tsx')),
  bodies: lazy(() => import('./Bodies.tsx')),
  'walk-test': lazy(() => import('./WalkTest.tsx')),
  arrange: lazy(() => import('../arrange/Arrange.tsx')),
};

/** The question that is open, above the note of the thing in hand. */
export default function QuestionNote() {
  const store = useEditorStore();
  const open = useStore(questions, (state) => state.open);
  const section = useRef<HTMLElement>(null);
  useEffect(() => {
    if (open !== null) section.current?.querySelector<HTMLElement>('.question-close')?.focus();
  }, [open]);
  if (open === null) return null;
  const Note = NOTES[open];
  const close = (): void => {
    closeQuestion(store);
    focusPage();
  };
  return (
    <section
      ref={section}
      className="note question"
      aria-label={TITLES[open]}
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return;
        event.stopPropagation();
        close();
      }}
    >
      <h2 className="note-head question-head">
        {TITLES[open]}
        <button type="button" className="word question-close" onClick={close}>
          Close <kbd>Esc</kbd>
        </button>
      </h2>
      <Suspense>
        <Note key={open} />
      </Suspense>
    </section>
  );
}
