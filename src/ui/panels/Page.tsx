import { lazy, Suspense } from 'react';
import type { EditorState } from '../../editor/store.ts';
import { startTool } from '../../editor/tool-run.ts';
import { useEditor, useEditorStore, useHost } from './context.tsx';
import { openDialog } from './dialog-state.ts';
import { focusPage } from './focus.ts';
import { Guard } from './Guard.tsx';
import { Key } from './Key.tsx';
import { PageThings } from './PageThings.tsx';
import { loadScene } from './scene-port.ts';

const FloorScene = lazy(loadScene);

interface Props {
  /** Told why there is the plan alone, where there is. */
  readonly onFlat: (reason: string) => void;
  /** Told when the floor is drawn, or cannot be. */
  readonly onPicture: () => void;
}

/** The floor itself, its key above it. */
export function Page({ onFlat, onPicture }: Props) {
  const store = useEditorStore();
  const isBare = useEditor((state) => isEmptyAtRest(state));
  const units = useEditor((state) => state.units);
  return (
    <main className="page-column">
      <Key key={units} />
      <div
        className="page"
        data-region="page"
        role="application"
        aria-label="The floor. Tab walks through its things, F6 leaves it."
        // biome-ignore lint/a11y/noNoninteractiveTabindex: an application takes the keys itself
        tabIndex={0}
      >
        <Guard what="The drawn floor" onFail={onPicture}>
          <Suspense>
            <FloorScene store={store} onNoWebgl={onFlat} onPicture={onPicture} />
          </Suspense>
        </Guard>
        {isBare && <EmptyPage />}
        <PageThings />
      </div>
    </main>
  );
}

/** Nothing is drawn and nothing is being drawn. */
function isEmptyAtRest({ floor, preview, tool }: EditorState): boolean {
  return floor.rooms.length === 0 && preview === null && tool === 'select';
}

/** The gap as the place to begin: four keys, no tour. */
function EmptyPage() {
  const host = useHost();
  const store = useEditorStore();
  return (
    <div className="empty">
      <p className="figure">Drop a floor here.</p>
      <p className="say">A Lacuna floor file. It stays on this machine.</p>
      <div className="words upright">
        <button type="button" className="word" onClick={() => host.openFile()}>
          <kbd>Ctrl O</kbd> <b>Open a file</b>
        </button>
        <button
          type="button"
          className="word"
          onClick={() => {
            startTool(store, 'room');
            focusPage();
          }}
        >
          <kbd>R</kbd>
          <span>
            <b>Draw a room</b> by dragging, or corner by corner
          </span>
        </button>
        <button type="button" className="word" onClick={() => openDialog('files')}>
          <kbd>Ctrl E</kbd>
          <span>
            <b>Open an example</b> or a recent floor
          </span>
        </button>
        <button type="button" className="word" onClick={() => openDialog('find')}>
          <kbd>Ctrl K</kbd>
          <span>
            <b>Find anything</b> by its name
          </span>
        </button>
      </div>
    </div>
  );
}
