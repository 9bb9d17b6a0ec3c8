/** Brings the picture that a floor names under it, as soon as one does; what reads pictures is loaded then. */
import type { EditorStore } from '../editor/store.ts';

/** @returns what puts a chosen picture under the plan */
export function followUnderlay(store: EditorStore): (file: File | null, page: number) => void {
  const bring = (): void => {
    const { notes } = store.getState().file;
    const names = typeof notes === 'object' && 'underlay' in notes;
    if (names || store.getState().underlay !== null)
      void import('./underlay.ts').then(({ bringUnderlay }) => bringUnderlay(store));
  };
  store.subscribe((state, before) => {
    if (state.file.notes !== before.file.notes || (state.underlay === null && before.underlay !== null)) bring();
  });
  bring();
  return (file, page) => void import('./underlay.ts').then(({ layUnderlay }) => layUnderlay(store, file, page));
}
