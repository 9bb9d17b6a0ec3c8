/** Puts the scene into the renderer and draws it when something has changed. */
import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useState } from 'react';
import { useStore } from 'zustand';
import type { EditorStore } from '../../editor/store.ts';
import { magnificationOf, presentation } from '../presentation.ts';
import { FONT } from '../tokens.ts';
import { SceneView } from './scene-view.ts';

declare global {
  interface Window {
    /** Frames drawn since the page was opened; a test waits for it to rise, or to stand still. */
    __lacunaFrames?: number;
  }
}

/** Milliseconds after which pointers and the rest of the scene come, heat map or not. */
const LATEST_REST = 3_000;

interface StageProps {
  readonly store: EditorStore;
  readonly overlay: HTMLElement;
  /** Told the view once it stands, and null when it is taken down. */
  readonly onView: (view: SceneView | null) => void;
}

export function Stage({ store, overlay, onView }: StageProps) {
  const gl = useThree((state) => state.gl);
  const set = useThree((state) => state.set);
  const size = useThree((state) => state.size);
  const dpr = useThree((state) => state.viewport.dpr);
  const invalidate = useThree((state) => state.invalidate);
  const larger = useStore(presentation, (state) => magnificationOf(state, size.width));
  const [view, setView] = useState<SceneView | null>(null);

  useEffect(() => {
    const made = new SceneView(store, overlay, gl.capabilities.maxTextureSize, () => invalidate());
    set({ camera: made.rig.camera });
    setView(made);
    onView(made);
    let gone = false;
    // A heat map that takes its time does not keep the hand waiting.
    const late = setTimeout(() => made.bringRest(), LATEST_REST);
    const weights = [450, 620].map((weight) => document.fonts.load(`${weight} 12px ${FONT.working}`));
    void Promise.all(weights).then(() => {
      if (!gone) made.repaintLabels();
    });
    return () => {
      gone = true;
      clearTimeout(late);
      onView(null);
      setView(null);
      made.dispose();
    };
  }, [store, overlay, gl, set, invalidate, onView]);

  useEffect(() => {
    view?.setScreen(size.width / larger, size.height / larger, dpr * larger);
    overlay.style.cssText =
      larger === 1 ? '' : `transform: scale(${larger}); width: ${100 / larger}%; height: ${100 / larger}%`;
  }, [view, size, dpr, larger, overlay]);

  // Above priority 0 the drawing itself is ours: the heat map is on the screen once this has run.
  useFrame(({ scene, camera }) => {
    if (view === null) return;
    const moving = view.prepare(gl, performance.now());
    gl.setClearColor(view.background, 1);
    gl.render(scene, camera);
    for (const told of view.drawnListeners) told();
    window.__lacunaFrames = (window.__lacunaFrames ?? 0) + 1;
    if (view.showsField && document.documentElement.dataset.heatmap === undefined) {
      document.documentElement.dataset.heatmap = 'ready';
      performance.mark('lacuna:heatmap');
    }
    if (view.showsField || store.getState().floor.rooms.length === 0) view.bringRest();
    if (moving) invalidate();
  }, 1);

  return view === null ? null : <primitive object={view.root} />;
}
