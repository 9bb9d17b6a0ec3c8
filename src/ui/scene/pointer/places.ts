/** Floor places under a px. */
import type { Point } from '../../../core/floor/index.ts';
import type { EditorStore } from '../../../editor/store.ts';
import type { SceneView } from '../scene-view.ts';
import { floorOf, type PointerAt } from './gestures.ts';

/** Where the ray behind a px meets a height; null above the horizon. */
export function placeUnder(view: SceneView, at: PointerAt, height = 0): Point | null {
  const place = view.rig.placeAt(at.x, at.y, height);
  const { frame } = view.context;
  return place && [place[0] + frame.x, place[1] + frame.y];
}

/** Height of the plane shown, metres. */
export function heightOfPlane(store: EditorStore): number {
  const { analysis } = floorOf(store);
  return store.getState().plane === 'seated' ? analysis.seatedPlane : analysis.walkingPlane;
}

/** The place of the shown field under a px: on the plane, on a walk on the floor. */
export function placeOnField(store: EditorStore, view: SceneView, at: PointerAt): Point | null {
  return placeUnder(view, at, store.getState().camera === 'walk' ? 0 : heightOfPlane(store));
}
