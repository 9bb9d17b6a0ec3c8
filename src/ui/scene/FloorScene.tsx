/** The page: the floor as plan, model or walk. Fills its parent. */
import { Canvas } from '@react-three/fiber';
import { type ReactNode, useCallback, useEffect, useState } from 'react';
import type { EditorStore } from '../../editor/store.ts';
import { PointerInput } from './pointer/pointer-input.ts';
import { Stage } from './Stage.tsx';
import type { SceneView } from './scene-view.ts';
import { createViewApi, type ViewApi } from './view-api.ts';
import './scene.css';

export type { ViewApi } from './view-api.ts';

/** The view of the page, for the shell's keys; null while nothing is drawn. */
export const viewApi: { current: ViewApi | null } = { current: null };

interface FloorSceneProps {
  readonly store: EditorStore;
  /** Told once when the browser draws no WebGL; what `fallback` holds is shown instead. */
  readonly onNoWebgl?: (reason: string) => void;
  readonly fallback?: ReactNode;
}

const NO_WEBGL = 'This browser draws no WebGL 2.';

function drawsWebgl(): boolean {
  const context = document.createElement('canvas').getContext('webgl2');
  context?.getExtension('WEBGL_lose_context')?.loseContext();
  return context !== null;
}

export function FloorScene({ store, onNoWebgl, fallback }: FloorSceneProps) {
  const [able] = useState(() => {
    const can = drawsWebgl();
    if (!can) queueMicrotask(() => onNoWebgl?.(NO_WEBGL));
    return can;
  });
  const [page, setPage] = useState<HTMLElement | null>(null);
  const [overlay, setOverlay] = useState<HTMLElement | null>(null);
  const [view, setView] = useState<SceneView | null>(null);
  const keepView = useCallback((made: SceneView | null) => setView(made), []);
  useEffect(() => {
    if (page === null || view === null) return;
    const input = new PointerInput(page, store, view);
    return () => input.dispose();
  }, [page, view, store]);
  useEffect(() => {
    viewApi.current = view === null ? null : createViewApi(view, store);
    return () => {
      viewApi.current = null;
    };
  }, [view, store]);

  if (!able) return <div className="scene scene-unable">{fallback ?? NO_WEBGL}</div>;
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
