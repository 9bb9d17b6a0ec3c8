/** What a click does: it selects, pins, lays a mask, goes for a walk, or comes nearer. */
import { lensHeightOf } from '../../../core/floor/index.ts';
import { edit } from '../../../editor/history.ts';
import { sayLocked } from '../../../editor/locks.ts';
import { addMask } from '../../../editor/recipes.ts';
import type { EditorStore } from '../../../editor/store.ts';
import { holdMaskHandle, select, setCamera, setProbe, setWalker, toggleSelected } from '../../../editor/view.ts';
import { MOTION } from '../../tokens.ts';
import { boxOf } from '../geometry/extents.ts';
import { nadirOfRadius } from '../geometry/mask-shape.ts';
import { selectedDetector } from '../layers/range-layer.ts';
import type { SceneView } from '../scene-view.ts';
import { floorOf, type PointerAt } from './gestures.ts';
import { pickThing } from './pick.ts';
import { heightOfPlane, placeOnField, placeUnder } from './places.ts';

/** Selects what is under the pointer; with Shift adds it or takes it out. */
export function clickThing(store: EditorStore, view: SceneView, at: PointerAt): void {
  const id = pickThing(floorOf(store), view.rig, view.context.frame, at.x, at.y, store.getState().hiddenKinds);
  if (id === null && store.getState().tool === 'mask' && layMask(store, view, at)) return;
  if (id === null) {
    if (!at.shift) select(store, []);
  } else if (at.shift) toggleSelected(store, id);
  else select(store, [id]);
}

/** With the mask tool a click beside the selected detector lays a mask there. False: there is nothing to lay it on. */
function layMask(store: EditorStore, view: SceneView, at: PointerAt): boolean {
  const detector = selectedDetector(store.getState());
  const height = heightOfPlane(store);
  const place = placeUnder(view, at, height);
  if (detector === null || place === null) return false;
  if (sayLocked(store, detector.id)) return true;
  const [dx, dy] = [place[0] - detector.at[0], place[1] - detector.at[1]];
  const azimuth = Math.round((Math.atan2(dy, dx) * 180) / Math.PI - detector.turn + 720) % 360;
  const nadir = nadirOfRadius(Math.hypot(dx, dy), lensHeightOf(detector, floorOf(store)) - height);
  const inner = Math.max(0, Math.min(80, Math.round(nadir - 8)));
  const mask = { from: (azimuth + 345) % 360, to: (azimuth + 15) % 360, inner, outer: 90 };
  if (!edit(store, `Added a mask to ${detector.name}`, addMask(detector.id, mask)).ok) return false;
  holdMaskHandle(store, { detector: detector.id, mask: detector.masks.length, part: 'to' });
  return true;
}

export function pinProbe(store: EditorStore, view: SceneView, at: PointerAt): void {
  const place = placeOnField(store, view, at);
  if (place !== null) setProbe(store, { at: place, pinned: true });
}

/** Goes on foot from the place under the pointer. */
export function walkFrom(store: EditorStore, view: SceneView, at: PointerAt): void {
  const place = placeUnder(view, at);
  if (place === null) return;
  setWalker(store, { at: place, heading: store.getState().walker.heading });
  setProbe(store, null);
  setCamera(store, 'walk');
}

/** A double click comes nearer: to the thing under the pointer, else to the place; on a walk it goes there. */
export function comeNearer(store: EditorStore, view: SceneView, at: PointerAt): void {
  const { camera, reducedMotion, tool } = store.getState();
  if (tool !== 'select') return;
  if (camera === 'walk') {
    walkFrom(store, view, at);
    return;
  }
  const { rig, context } = view;
  const floor = floorOf(store);
  const id = pickThing(floor, rig, context.frame, at.x, at.y, store.getState().hiddenKinds);
  const box = id === null ? null : boxOf(floor, id, context.frame);
  const place = rig.placeAt(at.x, at.y);
  const time = reducedMotion ? 0 : MOTION.move;
  if (box !== null) {
    const room = Math.max(box.halfU, box.halfV, 1) * 2;
    const scale = Math.max(rig.view.scale, Math.min(rig.screen.width, rig.screen.height) / (room * 2.4));
    rig.glide({ x: box.x, y: box.y, scale }, performance.now(), time);
  } else if (place !== null) {
    rig.glide({ x: place[0], y: place[1], scale: rig.goal.scale * 2 }, performance.now(), time);
  }
  view.redraw();
}
