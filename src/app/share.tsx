/** The page that shows one floor from one file: nothing is fetched, nothing is kept, nothing can be changed. */
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import './share-fonts.css';
import { formatFault, validateFloor } from '../core/floor/index.ts';
import { createEditorStore } from '../editor/store.ts';
import { setReducedMotion, setTheme } from '../editor/view.ts';
import { EditorProvider } from '../ui/panels/context.tsx';
import { loadScene } from '../ui/panels/scene-port.ts';
import { SharedFloor } from '../ui/share/SharedFloor.tsx';
import { createInlinePool } from '../workers/inline-pool.ts';
import { createComputation, followFloor } from './computation.ts';

void loadScene();

const root = document.getElementById('root');
if (root === null) throw new Error('The page has no element with the id "root".');
const parsed = validateFloor(JSON.parse(document.getElementById('floor')?.textContent ?? 'null'));
if (parsed.ok) {
  const store = createEditorStore(parsed.file, createComputation());
  store.setState({ isLookOnly: true });
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const still = matchMedia('(prefers-reduced-motion: reduce)');
  const follow = (): void => {
    setTheme(store, dark.matches ? 'dark' : 'light');
    setReducedMotion(store, still.matches);
  };
  follow();
  dark.addEventListener('change', follow);
  still.addEventListener('change', follow);
  createRoot(root).render(
    <StrictMode>
      <EditorProvider store={store} host={null}>
        <SharedFloor />
      </EditorProvider>
    </StrictMode>,
  );
  followFloor(store, createInlinePool());
} else {
  const words = document.createElement('p');
  words.textContent = `This file holds no floor that can be shown. ${parsed.faults.slice(0, 3).map(formatFault).join(' ')}`;
  root.append(words);
}
