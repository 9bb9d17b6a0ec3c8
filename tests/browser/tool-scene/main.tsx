/** The drawn floor alone with its store in reach: what a pointer does to the document can be read exactly. */
import { createRoot } from 'react-dom/client';
import { createCoverage, updateCoverage } from '../../../src/core/coverage/index.ts';
import { type FloorFile, type Point, validateFloor } from '../../../src/core/floor/index.ts';
import { undo } from '../../../src/editor/history.ts';
import { createEditorStore, type EditorStore, type Tool } from '../../../src/editor/store.ts';
import { startTool, stepBackWithTool } from '../../../src/editor/tool-run.ts';
import { FloorScene, viewApi } from '../../../src/ui/scene/FloorScene.tsx';
import { cssVariables } from '../../../src/ui/tokens.ts';

export interface SceneUnderTest {
  readonly store: EditorStore;
  startTool(id: Tool): void;
  stepBack(): boolean;
  undo(): boolean;
  screenOf(at: Point, height: number): readonly [number, number] | null;
}

declare global {
  interface Window {
    openScene?: (file: FloorFile) => void;
    scene?: SceneUnderTest;
  }
}

window.openScene = (file) => {
  const store = createEditorStore(file, {
    createCoverage,
    updateCoverage,
    findFaults: (next) => {
      const parsed = validateFloor(next);
      return parsed.ok ? [] : parsed.faults;
    },
    schedule: (work) => void requestAnimationFrame(work),
  });
  store.setState({ reducedMotion: true });
  for (const [key, value] of Object.entries(cssVariables('light')))
    document.documentElement.style.setProperty(key, value);
  const root = document.getElementById('root');
  if (root !== null) createRoot(root).render(<FloorScene store={store} />);
  window.scene = {
    store,
    startTool: (id) => startTool(store, id),
    stepBack: () => stepBackWithTool(store),
    undo: () => undo(store),
    screenOf: (at, height) => viewApi.current?.screenOf(at, height) ?? null,
  };
};
