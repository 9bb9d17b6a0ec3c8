import { createStore } from 'zustand/vanilla';
import type { ImportChange, ImportView } from './import-port.ts';

interface ImportState {
  /** The import that is worked on; null: none. */
  readonly view: ImportView | null;
  /** Whether the note lists what the open floor's import guessed. */
  readonly isReportOpen: boolean;
  /** What the last import changed on the floor it was brought onto. */
  readonly changes: readonly ImportChange[];
  /** The account, as the floor's notes keep it, to which the changes belong. */
  readonly changesOf: unknown;
}

/** Nothing in the document asks for it. */
export const imports = createStore<ImportState>()(() => ({
  view: null,
  isReportOpen: false,
  changes: [],
  changesOf: null,
}));
