import { createStore } from 'zustand/vanilla';
import type { EditorStore } from '../../../editor/store.ts';

export type QuestionName = 'what-if' | 'compare' | 'stress' | 'move-room' | 'bodies' | 'walk-test' | 'arrange';

/** The question whose note stands in the margin; null: none. Nothing in the document asks for it. */
export const questions = createStore<{ readonly open: QuestionName | null }>()(() => ({ open: null }));

export function openQuestion(store: EditorStore, open: QuestionName): void {
  clearAnswers(store);
  questions.setState({ open });
}

export function closeQuestion(store: EditorStore): void {
  clearAnswers(store);
  questions.setState({ open: null });
}

/** Takes what a question has drawn off the floor. */
function clearAnswers(store: EditorStore): void {
  store.setState({ sketch: [], difference: null });
}
