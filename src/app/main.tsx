import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import '@fontsource-variable/source-sans-3/wght.css';
import '@fontsource-variable/source-serif-4/opsz.css';
import { type FloorFile, parseFloor } from '../core/floor/index.ts';
import { createKeeper, isAtRisk } from '../editor/storage/keeper.ts';
import { createEditorStore } from '../editor/store.ts';
import { startTool } from '../editor/tool-run.ts';
import { say } from '../editor/view.ts';
import { App } from '../ui/panels/App.tsx';
import { loadActions } from '../ui/panels/actions.ts';
import { EditorProvider, type Host } from '../ui/panels/context.tsx';
import { Guard } from '../ui/panels/Guard.tsx';
import { loadScene } from '../ui/panels/scene-port.ts';
import { createPool } from '../workers/pool.ts';
import { createComputation, followFloor } from './computation.ts';
import { EXAMPLES, FIRST_EXAMPLE } from './examples.ts';
import { createFiles } from './files.ts';
import type { Importing } from './importing.ts';
import { loadCatalogue } from './new-floor.ts';
import { keepForOffline } from './offline.ts';
import { followPreferences, followUnits } from './preferences.ts';
import { createQuestions } from './questions.ts';
import { askToStay, createKeeperPlatform } from './storage.ts';
import { followUnderlay } from './underlay-follow.ts';
import { followWindow } from './window.ts';

// The drawn floor is the largest part: it is on its way while the rest begins. Where it does not come, its place says so.
loadScene().catch(() => undefined);

const root = document.getElementById('root');
if (root === null) throw new Error('index.html has no element with the id "root".');

const keeper = createKeeper(createKeeperPlatform());
const kept = await keeper.readLast();
const store = createEditorStore(kept?.file ?? (await readFirst()), createComputation());
keeper.follow(store, kept);
askToStay(store);
const chooseTheme = followPreferences(store);
const chooseUnits = followUnits(store);
const files = createFiles(store, keeper, (list) => withImporting((importing) => void importing.start(list)));
const pool = createPool();

/** What an import takes comes with the first one. */
let importing: Promise<Importing> | null = null;
function withImporting(run: (importing: Importing) => void): void {
  importing ??= import('./importing.ts').then(({ createImporting }) => createImporting(store, files));
  void importing.then(run);
}

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
  readClipboard: (take) =>
    void navigator.clipboard.readText().then(take, () => say(store, 'The clipboard cannot be read. Use Ctrl V.')),
  async copyLink() {
    const link = await files.writeLinked();
    if (link === null) {
      say(store, 'This floor is too large for a link. Hand over the page instead: one file that opens anywhere.');
      return;
    }
    await navigator.clipboard.writeText(link);
    say(store, 'Copied a link that carries this floor. Whoever has the link has the floor.');
  },
  newFloor: () => void files.begin(),
  loadPapers: async () => (await import('./papers.ts')).createPapers(),
  chooseUnits,
  chooseTheme,
  questions: createQuestions(pool, files),
  imports: {
    pick: () => void files.pickSources(),
    chooseStorey: (index) => withImporting((each) => each.chooseStorey(index)),
    answer: (part) => withImporting((each) => each.answer(part)),
    answerDrawing: (part) => withImporting((each) => each.answerDrawing(part)),
    open: (how) => withImporting((each) => void each.open(how)),
    cancel: () => withImporting((each) => each.cancel()),
    saveReport: () => withImporting((each) => void each.saveReport()),
  },
  layUnderlay: followUnderlay(store),
};

createRoot(root).render(
  <StrictMode>
    <Guard what="The page">
      <EditorProvider store={store} host={host}>
        <App />
      </EditorProvider>
    </Guard>
  </StrictMode>,
);
followWindow(
  (list) => void files.readAll(list),
  () => isAtRisk(keeper.state.getState(), store.getState()),
);
followFloor(store, pool);
keepForOffline();
if (location.hash !== '') openLinked();
window.addEventListener('hashchange', openLinked);

/** Opens what the address carries, and takes it out of the address: what is changed from then on is not in it. */
function openLinked(): void {
  const { hash } = location;
  history.replaceState(null, '', location.pathname + location.search);
  void files.readLinked(hash);
}

/** The floor that is shown where none is kept. */
async function readFirst(): Promise<FloorFile> {
  const parsed = parseFloor(await FIRST_EXAMPLE.load());
  if (!parsed.ok) throw new Error(`The first example is faulty: ${JSON.stringify(parsed.faults[0])}`);
  return parsed.file;
}

/** What changes a floor comes when a hand first stirs: reading the first floor does not wait for it. */
function bringTools(): void {
  for (const name of STIRS) window.removeEventListener(name, bringTools, { capture: true });
  startTool(store, store.getState().tool);
  void loadActions();
  void loadCatalogue().then((catalogue) => store.setState({ catalogue }));
}
const STIRS = ['pointermove', 'pointerdown', 'keydown'] as const;
for (const name of STIRS) window.addEventListener(name, bringTools, { capture: true });
