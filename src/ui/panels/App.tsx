import { lazy, Suspense, useCallback, useEffect, useLayoutEffect, useState } from 'react';
import { useStore } from 'zustand';
import { presentation } from '../presentation.ts';
import { cssVariables } from '../tokens.ts';
import { useEditor } from './context.tsx';
import { Dialog } from './Dialog.tsx';
import { dialogs } from './dialog-state.ts';
import { Foot } from './Foot.tsx';
import { writeLengthsIn } from './format.ts';
import { Guard } from './Guard.tsx';
import { Head } from './Head.tsx';
import { Margin } from './Margin.tsx';
import { Page } from './Page.tsx';
import { PhoneBar } from './PhoneBar.tsx';
import { Rule } from './Rule.tsx';
import { useKeyMap } from './use-key-map.ts';
import './head.css';
import './app.css';
import './ledger.css';
import './sheets.css';
import './narrow.css';

const Leader = lazy(() => import('./Leader.tsx'));

const Presentation = lazy(() => import('./Presentation.tsx'));

const SHEETS = {
  find: lazy(() => import('./FindDialog.tsx')),
  keys: lazy(() => import('./KeysDialog.tsx')),
  files: lazy(() => import('./FilesDialog.tsx')),
  types: lazy(() => import('./TypesDialog.tsx')),
  workplaces: lazy(() => import('./WorkplacesDialog.tsx')),
  handover: lazy(() => import('./handover/HandoverDialog.tsx')),
  import: lazy(() => import('./import/ImportDialog.tsx')),
  groups: lazy(() => import('./plans/GroupsDialog.tsx')),
  energy: lazy(() => import('./plans/EnergyDialog.tsx')),
  underlay: lazy(() => import('./underlay/UnderlayDialog.tsx')),
} as const;

/** Head, rule, page, margin and foot. */
export function App() {
  // Why there is the plan alone; null where there are all cameras.
  const [flat, setFlat] = useState<string | null>(null);
  // The picture comes first: what can wait for it does.
  const [isPictured, setPictured] = useState(false);
  const notePicture = useCallback(() => setPictured(true), []);
  const theme = useEditor((state) => state.theme);
  const name = useEditor((state) => state.floor.name);
  const units = useEditor((state) => state.units);
  // What is on screen is written anew in another unit: the keys below see to it.
  writeLengthsIn(units);
  const isOnFinding = useEditor((state) => state.finding !== null);
  const isPresented = useStore(presentation, (state) => state.isOn);
  const open = useStore(dialogs, (state) => state.open);
  useKeyMap();
  useLayoutEffect(() => {
    const { style, dataset } = document.documentElement;
    for (const [key, value] of Object.entries(cssVariables(theme))) style.setProperty(key, value);
    dataset.theme = theme;
  }, [theme]);
  useEffect(() => {
    document.title = `${name} · Lacuna`;
  }, [name]);
  useEffect(() => {
    // What is typed right after its key should find it there.
    if (isPictured) void import('./FindDialog.tsx').catch(() => undefined);
  }, [isPictured]);
  const Sheet = open === null ? null : SHEETS[open];
  return (
    <div className={isPresented ? 'app presenting' : 'app'}>
      <Head key={`head ${units}`} flat={flat} />
      <Guard what="The rule of heights">
        <Rule key={`rule ${units}`} />
      </Guard>
      <Page onFlat={setFlat} onPicture={notePicture} />
      <Margin key={`margin ${units}`} isPictured={isPictured} />
      <Foot key={`foot ${units}`} />
      <PhoneBar flat={flat} />
      {isPresented && (
        <Guard what="The presentation">
          <Suspense>
            <Presentation />
          </Suspense>
        </Guard>
      )}
      {isOnFinding && !isPresented && (
        <Guard what="The line to the finding">
          <Suspense>
            <Leader />
          </Suspense>
        </Guard>
      )}
      {Sheet !== null && (
        <Guard about={open} what="The sheet" frame={(said) => <Dialog title="Not to be shown">{said}</Dialog>}>
          <Suspense>
            <Sheet />
          </Suspense>
        </Guard>
      )}
    </div>
  );
}
