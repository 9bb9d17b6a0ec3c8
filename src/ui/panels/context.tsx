/** What every panel reads: the store, and the host, which reaches files, the view and the page's focus. */
import { createContext, type ReactNode, useContext } from 'react';
import { useStore } from 'zustand';
import type { Keeper } from '../../editor/storage/keeper.ts';
import type { KeptFloor } from '../../editor/storage/kept-floor.ts';
import type { EditorState, EditorStore, Theme } from '../../editor/store.ts';
import type { Units } from '../../editor/tools/tool.ts';
import type { Papers } from './handover/papers.ts';
import type { Imports } from './import/import-port.ts';
import type { Questions } from './questions/question-port.ts';

/** An example floor that comes with Lacuna. */
export interface Example {
  readonly key: string;
  readonly name: string;
}

/** What the browser does for the panels. Handed in by the app. */
export interface Host {
  openFile(): void;
  saveFile(): void;
  listExamples(): readonly Example[];
  openExample(key: string): void;
  /** Keeps floors in the browser. */
  readonly keeper: Keeper;
  openKept(floor: KeptFloor): void;
  copyText(text: string): void;
  /** Copies a link that carries the open floor, or says that it is too large for one. */
  copyLink(): Promise<void>;
  /** Hands over what the clipboard holds, where the browser lets it be read. */
  readClipboard(take: (text: string) => void): void;
  /** Puts an empty floor in the place of the open one. */
  newFloor(): void;
  /** What makes the documents of a floor; loaded when it is asked for. */
  loadPapers(): Promise<Papers>;
  chooseUnits(units: Units): void;
  chooseTheme(theme: Theme | 'system'): void;
  /** Puts a picture under the plan, or gives the one the floor names again; another page of the same document without a file. */
  layUnderlay(file: File | null, page: number): void;
  /** What is asked of the computation beside verdicts. */
  readonly questions: Questions;
  /** Models, drawings and maps that become floors. */
  readonly imports: Imports;
}

const StoreContext = createContext<EditorStore | null>(null);
const HostContext = createContext<Host | null>(null);

/** `host` is null where a floor is only looked at: no panel that asks for it may stand there. */
export function EditorProvider(props: { store: EditorStore; host: Host | null; children: ReactNode }) {
  const { store, host, children } = props;
  return (
    <StoreContext value={store}>
      <HostContext value={host}>{children}</HostContext>
    </StoreContext>
  );
}

export function useEditorStore(): EditorStore {
  const store = useContext(StoreContext);
  if (store === null) throw new Error('A panel stands outside EditorProvider.');
  return store;
}

export function useHost(): Host {
  const host = useContext(HostContext);
  if (host === null) throw new Error('A panel stands outside EditorProvider.');
  return host;
}

/** A part of the editor's state; the panel is drawn again when that part is another. */
export function useEditor<Part>(selector: (state: EditorState) => Part): Part {
  return useStore(useEditorStore(), selector);
}
