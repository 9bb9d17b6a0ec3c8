/** What a step of a tool does to the store: a preview is a gesture, a commit one step of the history. */
import { beginGesture, cancelGesture, commitGesture, edit, type Outcome, previewGesture } from '../history.ts';
import type { EditorState, EditorStore } from '../store.ts';
import { say, select, setPointer } from '../view.ts';
import { createToolContext } from './context.ts';
import type { Shown, Step, ToolContext } from './tool.ts';

/** What a tool may know, from the store and what only the host knows. */
export function contextOf(state: EditorState, rest: Partial<Omit<ToolContext, 'file' | 'floor'>>): ToolContext {
  return createToolContext(state.file, { selection: state.selection, pointer: state.pointer, ...rest });
}

/**
 * Carries a step out. The history keeps at most one step for it, and none while it is only a preview.
 * @returns of a commit, whether it was made
 */
export function runStep(store: EditorStore, step: Step<unknown>): Outcome {
  const { commit, says, refused } = step;
  let outcome: Outcome = { ok: true };
  if (commit !== null) {
    const isRunning = store.getState().gesture !== null;
    outcome = (isRunning ? commitGesture : edit)(store, commit.name, commit.recipe);
  } else {
    showPreview(store, step);
  }
  if (step.select !== null && outcome.ok) select(store, step.select);
  setPointer(store, step.cursor);
  if (refused && says !== null) say(store, says);
  return outcome;
}

/** Shows what a tool would do, or nothing where it would do nothing. */
export function showPreview(store: EditorStore, { preview }: Shown): void {
  if (preview === null) {
    cancelGesture(store);
    return;
  }
  if (store.getState().gesture === null) beginGesture(store, preview.name);
  previewGesture(store, preview.recipe);
}
