import { lazy, Suspense, useEffect, useLayoutEffect, useState } from 'react';
import { type Camera, isResultStale, shownFloor } from '../../editor/store.ts';
import { setCamera } from '../../editor/view.ts';
import { useEditor, useEditorStore } from '../panels/context.tsx';
import Findings from '../panels/Findings.tsx';
import { FloorNote } from '../panels/FloorNote.tsx';
import { focusPage } from '../panels/focus.ts';
import { Key } from '../panels/Key.tsx';
import ProbeNote from '../panels/ProbeNote.tsx';
import { loadScene } from '../panels/scene-port.ts';
import { sayEntrances, sayWorkplaces } from '../panels/words.ts';
import { cssVariables } from '../tokens.ts';
import { KEYS, useSharedKeys } from './use-shared-keys.ts';
import '../panels/head.css';
import '../panels/app.css';
import '../panels/ledger.css';
import '../panels/narrow.css';

const FloorScene = lazy(loadScene);

const CAMERAS: readonly { readonly camera: Camera; readonly word: string; readonly key: string }[] = [
  { camera: 'plan', word: 'Plan', key: '1' },
  { camera: 'model', word: 'Model', key: '2' },
  { camera: 'walk', word: 'Walk', key: '3' },
];

/** A floor to be looked at: heat map, three cameras, probe and findings; nothing on it can be changed. */
export function SharedFloor() {
  const [flat, setFlat] = useState<string | null>(null);
  const store = useEditorStore();
  const theme = useEditor((state) => state.theme);
  const name = useEditor((state) => state.floor.name);
  const camera = useEditor((state) => state.camera);
  const probing = useEditor((state) => state.probe !== null);
  const floor = useEditor(shownFloor);
  useSharedKeys();
  useLayoutEffect(() => {
    const { style, dataset } = document.documentElement;
    for (const [key, value] of Object.entries(cssVariables(theme))) style.setProperty(key, value);
    dataset.theme = theme;
  }, [theme]);
  useEffect(() => {
    document.title = `${name} · Lacuna`;
  }, [name]);
  return (
    <div className="app shared">
      <header className="head" data-region="head">
        <span className="word files">
          <span className="brand">Lacuna</span>
          <span>A floor to look at</span>
        </span>
        <div className="title">
          <h1>
            <bdi>{name}</bdi> <span className="aside">look only</span>
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
              {word} <kbd>{key}</kbd>
            </button>
          ))}
        </nav>
      </header>
      <main className="page-column">
        <Key />
        <div
          className="page"
          data-region="page"
          role="application"
          aria-label="The floor, to be looked at"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: an application takes the keys itself
          tabIndex={0}
        >
          <Suspense>
            <FloorScene store={store} onNoWebgl={setFlat} />
          </Suspense>
        </div>
      </main>
      <aside className="margin" data-region="margin" aria-label="Notes and findings">
        <section className="note" aria-label={probing ? 'Probe' : 'The floor'}>
          {probing ? <ProbeNote /> : <FloorNote floor={floor} />}
        </section>
        <Findings />
      </aside>
      <footer className="foot" data-region="foot">
        <p className="hints">
          {KEYS} Declared ranges at full sensitivity; verdicts assume the furniture shown. A coverage estimate, not an
          approval.
        </p>
      </footer>
    </div>
  );
}

function Verdict() {
  const coverage = useEditor((state) => state.coverage);
  const result = useEditor((state) => state.result);
  const stale = useEditor(isResultStale);
  if (coverage === null) return <p className="verdict stale">Reading the floor.</p>;
  return (
    <p className="verdict" id="verdict">
      {sayWorkplaces(coverage.workplaces)}{' '}
      {result !== null && <span className={stale ? 'stale' : undefined}>{sayEntrances(result)}</span>}
    </p>
  );
}
