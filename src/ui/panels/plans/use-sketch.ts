import { useEffect } from 'react';
import type { Guide } from '../../../editor/tools/guide.ts';
import { useEditorStore } from '../context.tsx';
import { questions } from '../questions/question-state.ts';

/** Draws over the floor while the panel is there. A question that is open draws its own answer instead. */
export function useSketch(sketch: readonly Guide[]): void {
  const store = useEditorStore();
  const key = JSON.stringify(sketch);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the same signs are not drawn again
  useEffect(() => {
    if (questions.getState().open !== null) return;
    store.setState({ sketch });
    return () => {
      if (store.getState().sketch === sketch) store.setState({ sketch: [] });
    };
  }, [store, key]);
}
