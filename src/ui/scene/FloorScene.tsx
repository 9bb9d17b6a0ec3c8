/** The page: the floor as plan, model or walk. Fills its parent. */
import { Canvas } from '@react-three/fiber';
import { lazy, Suspense, useCallback, useEffect, useState } from 'react';
import type { EditorStore } from '../../editor/store.ts';
import { Stage } from './Stage.tsx';
import type { SceneView } from './scene-view.ts';
import { createViewApi, type ViewApi } from './view-api.ts';
import './scene.css';

export type { ViewApi } from './view-api.ts';

const FlatPlan = lazy(() => import('./flat/FlatPlan.tsx'));

/** The view of the page, for the shell's keys; null while nothing is drawn. */
export const viewApi: { current: ViewApi | null } = { current: null };

interface FloorSceneProps {
  readonly store: EditorStore;
  /** Told once when the browser draws no WebGL: there is the plan alone. */
  readonly onNoWebgl?: (reason: string) => void;
  /** Told when the heat map is on screen, or when it takes so long that nothing else should wait for it. */
  readonly onPicture?: () => void;
}

const NO_WEBGL = 'They need WebGL 2.';

function drawsWebgl(): boolean {
  const context = document.createElement('canvas').getContext('webgl2');
  context?.getExtension('WEBGL_lose_context')?.loseContext();
  return context !== null;
}

export function FloorScene({ store, onNoWebgl, onPicture }: FloorSceneProps) {
  const [able] = useState(() => {
    const can = drawsWebgl();
    if (!can)
      queueMicrotask(() => {
        onNoWebgl?.(NO_WEBGL);
        onPicture?.();
      });
    return can;
  });
  const [page, setPage] = useState<HTMLElement | null>(null);
  const [overlay, setOverlay] = useState<HTMLElement | null>(null);
  const [view, setView] = useState<SceneView | null>(null);
  const keepView = useCallback((made: SceneView | null) => setView(made), []);
  useEffect(() => {
    if (view !== null) void view.settled.then(onPicture);
  }, [view, onPicture]);
  useEffect(() => {
    if (page === null || view === null) return;
    let input: { dispose(): void } | null = null;
    let gone = false;
    // The hand comes after the first picture: it is not needed for it.
    void view.settled
      .then(() => import('./pointer/pointer-input.ts'))
      .then(({ PointerInput }) => {
        if (!gone) input = new PointerInput(page, store, view);
      });
    return () => {
      gone = true;
      input?.dispose();
    };
  }, [page, view, store]);
  const keepApi = useCallback((api: ViewApi | null) => {
    viewApi.current = api;
  }, []);
  useEffect(() => {
    if (!able) return;
    viewApi.current = view === null ? null : createViewApi(view, store);
    return () => {
      viewApi.current = null;
    };
  }, [view, store, able]);

  if (!able)
    return (
      <Suspense>
        <FlatPlan store={store} reason={NO_WEBGL} onView={keepApi} />
      </Suspense>
    );
  return (
    <div className="scene" ref={setPage}>
      {overlay !== null && (
        <Canvas flat linear frameloop="demand" dpr={[1, 2]} gl={{ antialias: false, alpha: false, stencil: false }}>
          <Stage store={store} overlay={overlay} onView={keepView} />
        </Canvas>
      )}
      <div className="scene-words" aria-hidden="true" ref={setOverlay} />
    </div>
  );
}
