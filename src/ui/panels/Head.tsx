import { useStore } from 'zustand';
import { type Camera, hasUnsavedChanges, isResultStale } from '../../editor/store.ts';
import { setCamera } from '../../editor/view.ts';
import { useEditor, useEditorStore, useHost } from './context.tsx';
import { openDialog } from './dialog-state.ts';
import { focusPage } from './focus.ts';
import { sayEntrances, sayWorkplaces } from './words.ts';

const CAMERAS: readonly { readonly camera: Camera; readonly word: string; readonly key: string }[] = [
  { camera: 'plan', word: 'Plan', key: '1' },
  { camera: 'model', word: 'Model', key: '2' },
  { camera: 'walk', word: 'Walk', key: '3' },
];

/** The floor's name, the verdict as a sentence, and the words that change what is looked at. `flat`: why there is the plan alone. */
export function Head({ flat }: { readonly flat: string | null }) {
  const store = useEditorStore();
  const name = useEditor((state) => state.floor.name);
  const camera = useEditor((state) => state.camera);
  const unsaved = useEditor(hasUnsavedChanges);
  const isLookOnly = useEditor((state) => state.isLookOnly);
  const isKept = useStore(useHost().keeper.state, ({ trouble, isUnkept }) => trouble === null && !isUnkept);
  return (
    <header className="head" data-region="head">
      <button type="button" className="word files" aria-haspopup="dialog" onClick={() => openDialog('files')}>
        <span className="brand">Lacuna</span>
        <span>Files</span>
      </button>
      <div className="title">
        <h1>
          <bdi>{name}</bdi>
          {isLookOnly && <span className="aside">look only</span>}
          {unsaved && <span className="aside">{isKept ? 'not saved' : 'not saved, not kept'}</span>}
        </h1>
        <Verdict />
      </div>
      <nav className="words cameras" aria-label="Views">
        {CAMERAS.map(({ camera: each, word, key }) => (
          <button
            key={each}
            type="button"
            className="word"
            aria-pressed={camera === each}
            aria-keyshortcuts={key}
            disabled={flat !== null && each !== 'plan'}
            title={flat === null || each === 'plan' ? undefined : flat}
            onClick={(event) => {
              setCamera(store, each);
              if (event.detail > 0) focusPage();
            }}
          >
            {flat === null || each === 'plan' ? word : <s>{word}</s>} <kbd>{key}</kbd>
          </button>
        ))}
        {flat !== null && <span className="aside">{flat}</span>}
        <button
          type="button"
          className="word find"
          aria-haspopup="dialog"
          aria-keyshortcuts="Control+K"
          onClick={() => openDialog('find')}
        >
          Find <kbd>Ctrl K</kbd>
        </button>
      </nav>
    </header>
  );
}

/** Workplaces at once from the coverage; entrances from the last complete check, paler while that is of an older floor. */
function Verdict() {
  const coverage = useEditor((state) => state.coverage);
  useEditor((state) => state.coverageVersion);
  const result = useEditor((state) => state.result);
  const stale = useEditor(isResultStale);
  const empty = useEditor((state) => state.floor.rooms.length === 0);
  if (empty) return <p className="verdict">Nothing is drawn yet.</p>;
  if (coverage === null) return <p className="verdict stale">Reading the floor.</p>;
  return (
    <p className="verdict" id="verdict">
      {sayWorkplaces(coverage.workplaces)}{' '}
      {result !== null && <span className={stale ? 'stale' : undefined}>{sayEntrances(result)}</span>}
    </p>
  );
}
