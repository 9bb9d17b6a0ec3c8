/** What the keyboard does to the view; the shell's key map calls it. */
import type { Point } from '../../core/floor/index.ts';
import type { EditorStore } from '../../editor/store.ts';
import { MOTION } from '../tokens.ts';
import type { SceneView } from './scene-view.ts';

export interface ViewApi {
  /** Shows the whole floor. */
  fit(): void;
  /** Zooms about the middle of the page; above 1 is nearer. */
  zoomBy(factor: number): void;
  /** Moves the page by CSS px. */
  pan(dx: number, dy: number): void;
  /** Turns the model, degrees. */
  orbitBy(azimuth: number, polar: number): void;
  /** Brings a place to the middle of the page. */
  flyTo(at: Point): void;
  /** CSS px of a place in the page, y down; null behind the eye. */
  screenOf(at: Point, height: number): readonly [number, number] | null;
  /** Floor coordinates under a px of the page; null above the horizon. */
  placeAt(x: number, y: number, height: number): Point | null;
  /** Calls after every frame drawn, until the answer is called. */
  onDrawn(listener: () => void): () => void;
}

export function createViewApi(view: SceneView, store: EditorStore): ViewApi {
  const { rig } = view;
  const time = () => (store.getState().reducedMotion ? 0 : MOTION.move);
  const glide = (to: Parameters<typeof rig.glide>[0]) => {
    rig.glide(to, performance.now(), time());
    view.redraw();
  };
  return {
    fit: () => glide(rig.viewOfAll(view.context.frame)),
    zoomBy: (factor) => glide({ scale: rig.goal.scale * factor }),
    pan: (dx, dy) => {
      rig.panBy(dx, dy);
      view.redraw();
    },
    orbitBy: (azimuth, polar) => glide({ azimuth: rig.goal.azimuth + azimuth, polar: rig.goal.polar + polar }),
    flyTo: ([x, y]) => glide({ x: x - view.context.frame.x, y: y - view.context.frame.y }),
    screenOf: ([x, y], height) => rig.project(x - view.context.frame.x, y - view.context.frame.y, height),
    onDrawn: (listener) => {
      view.drawnListeners.add(listener);
      return () => view.drawnListeners.delete(listener);
    },
    placeAt: (x, y, height) => {
      const at = rig.placeAt(x, y, height);
      return at && [at[0] + view.context.frame.x, at[1] + view.context.frame.y];
    },
  };
}
