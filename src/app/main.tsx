import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import '@fontsource-variable/source-sans-3/wght.css';
import '@fontsource-variable/source-serif-4/opsz.css';
import { parseFloor } from '../core/floor/index.ts';
import { createKeeper, isAtRisk } from '../editor/storage/keeper.ts';
import { createEditorStore } from '../editor/store.ts';
import { App } from '../ui/panels/App.tsx';
import { EditorProvider, type Host } from '../ui/panels/context.tsx';
import { createComputation, followFloor } from './computation.ts';
import { EXAMPLES, FIRST_TEXT } from './examples.ts';
import { createFiles } from './files.ts';
import { followPreferences } from './preferences.ts';
import { askToStay, createKeeperPlatform } from './storage.ts';
import { followWindow } from './window.ts';

const root = document.getElementById('root');
if (root === null) throw new Error('index.html has no element with the id "root".');

const parsed = parseFloor(FIRST_TEXT);
if (!parsed.ok) throw new Error(`The first example is faulty: ${JSON.stringify(parsed.faults[0])}`);
const keeper = createKeeper(createKeeperPlatform());
const kept = await keeper.readLast();
const store = createEditorStore(kept?.file ?? parsed.file, createComputation());
keeper.follow(store, kept);
askToStay(store);
const chooseTheme = followPreferences(store);
const files = createFiles(store, keeper);

const host: Host = {
  openFile: () => void files.open(),
  saveFile: () => void files.save(),
  listExamples: () => EXAMPLES,
  openExample(key) {
    const example = EXAMPLES.find((each) => each.key === key);
    if (example !== undefined) void files.readExample(example.load);
  },
  keeper,
  openKept: (floor) => void files.openKept(floor),
  copyText: (text) => void navigator.clipboard.writeText(text),
  chooseTheme,
};

createRoot(root).render(
  <StrictMode>
    <EditorProvider store={store} host={host}>
      <App />
    </EditorProvider>
  </StrictMode>,
);
followWindow(
  (file) => void files.read(file),
  () => isAtRisk(keeper.state.getState(), store.getState()),
);
followFloor(store);
