import { lazy, Suspense } from 'react';
import { useEditor, useEditorStore, useHost } from './context.tsx';
import { openDialog } from './dialog-state.ts';
import { Key } from './Key.tsx';
import { PageThings } from './PageThings.tsx';
import { loadScene } from './scene-port.ts';

const FloorScene = lazy(loadScene);

interface Props {
  /** Why the floor cannot be drawn here; null where it can. */
  readonly flat: string | null;
  readonly onFlat: (reason: string) => void;
}

/** The floor itself, its key above it. */
export function Page({ flat, onFlat }: Props) {
  const store = useEditorStore();
  const empty = useEditor((state) => state.floor.rooms.length === 0);
  return (
    <main className="page-column">
      <Key />
      <div
        className="page"
        data-region="page"
        role="application"
        aria-label="The floor. Tab walks through its things, F6 leaves it."
        // biome-ignore lint/a11y/noNoninteractiveTabindex: an application takes the keys itself
        tabIndex={0}
      >
        {empty ? (
          <EmptyPage />
        ) : flat === null ? (
          <Suspense>
            <FloorScene store={store} onNoWebgl={onFlat} />
          </Suspense>
        ) : (
          <div className="flat">
            <p className="figure">The floor is not drawn.</p>
            <p className="say">{flat} Everything in the margin works, and Tab walks through the things on the floor.</p>
          </div>
        )}
        <PageThings />
      </div>
    </main>
  );
}

function EmptyPage() {
  const host = useHost();
  return (
    <div className="empty">
      <p className="figure">Drop a floor here.</p>
      <p className="say">A Lacuna floor file. It stays on this machine.</p>
      <div className="words upright">
        <button type="button" className="word" onClick={() => host.openFile()}>
          <kbd>Ctrl O</kbd> Open a file
        </button>
        <button type="button" className="word" onClick={() => openDialog('files')}>
          <kbd>Ctrl E</kbd> Open an example
        </button>
        <button type="button" className="word" onClick={() => openDialog('find')}>
          <kbd>Ctrl K</kbd> Find anything by its name
        </button>
      </div>
    </div>
  );
}
