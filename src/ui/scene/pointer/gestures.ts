/** What a pressed pointer does until it is let go. Each gesture is one undo step, or none. */
import { type Floor, lensHeightOf, type Mask } from '../../../core/floor/index.ts';
import { beginGesture, cancelGesture, commitGesture, previewGesture, type Recipe } from '../../../editor/history.ts';
import { sayLocked } from '../../../editor/locks.ts';
import { setMaskPart, turnInto360, turnMask } from '../../../editor/recipes.ts';
import type { EditorStore } from '../../../editor/store.ts';
import { indexOfId } from '../../../editor/things.ts';
import { holdMaskHandle } from '../../../editor/view.ts';
import { clamp, nearestTurn } from '../camera/easing.ts';
import { nadirOfRadius } from '../geometry/mask-shape.ts';
import type { Grip } from '../layers/mask-layer.ts';
import type { SceneView } from '../scene-view.ts';

/** Px from the page's upper left corner, with the keys held. */
export interface PointerAt {
  readonly x: number;
  readonly y: number;
  readonly shift: boolean;
}

export interface Gesture {
  move(at: PointerAt): void;
  /** The pointer is let go. */
  end(at: PointerAt): void;
  cancel(): void;
}

/** Turns or widens a mask by one of its handles. Null: the mask is gone. */
export function dragMask(store: EditorStore, view: SceneView, grip: Grip, start: PointerAt): Gesture | null {
  const { floor } = store.getState();
  const detector = floor.detectors[indexOfId(floor.detectors, grip.detector)];
  const mask = detector?.masks[grip.mask];
  if (detector === undefined || mask === undefined || sayLocked(store, detector.id)) return null;
  const { rig, context } = view;
  const foot = [detector.at[0] - context.frame.x, detector.at[1] - context.frame.y] as const;
  const below = lensHeightOf(detector, floor) - grip.z;
  const farthest = Math.hypot(grip.x - foot[0], grip.y - foot[1]);
  const azimuthAt = (at: PointerAt): number | null => {
    const place = rig.placeAt(at.x, at.y, grip.z);
    return place && (Math.atan2(place[1] - foot[1], place[0] - foot[0]) * 180) / Math.PI - detector.turn;
  };
  const first = azimuthAt(start) ?? 0;
  holdMaskHandle(store, { detector: grip.detector, mask: grip.mask, part: grip.part });
  beginGesture(
    store,
    grip.part === 'turn' ? `Turning the mask of ${detector.name}` : `Widening the mask of ${detector.name}`,
  );

  let recipe: Recipe = () => {};
  let name = `Mask of ${detector.name}`;
  const set = (part: Exclude<Grip['part'], 'turn'>, degrees: number) => {
    recipe = setMaskPart(detector.id, grip.mask, part, degrees);
    name = `Mask of ${detector.name}, ${part}: ${degrees}°`;
    previewGesture(store, recipe);
  };
  return {
    move(at) {
      const azimuth = azimuthAt(at);
      const place = rig.placeAt(at.x, at.y, grip.z);
      if (azimuth === null || place === null) return;
      const step = at.shift ? 5 : 1;
      const round = (value: number) => Math.round(value / step) * step;
      if (grip.part === 'turn') {
        const by = round(nearestTurn(azimuth - first, 0));
        recipe = turnMask(detector.id, grip.mask, by);
        name = `Turned the mask of ${detector.name} by ${by}°`;
        previewGesture(store, recipe);
      } else if (grip.part === 'inner' || grip.part === 'outer') {
        const radius = Math.hypot(place[0] - foot[0], place[1] - foot[1]);
        set(grip.part, boundNadir(mask, grip.part, round(nadirOfRadius(radius, below)), radius >= farthest * 1.15));
      } else {
        const degrees = turnInto360(round(azimuth));
        const other = turnInto360(grip.part === 'from' ? mask.to : mask.from);
        set(grip.part, degrees === other ? turnInto360(degrees + (grip.part === 'from' ? -1 : 1)) : degrees);
      }
    },
    end() {
      commitGesture(store, name, recipe);
      store.setState({ refusal: null });
    },
    cancel: () => cancelGesture(store),
  };
}

/** Keeps inner below outer and both from 0 to 90; a hand that goes on beyond the drawn arc means all the way out. */
function boundNadir(mask: Mask, part: 'inner' | 'outer', degrees: number, beyond: boolean): number {
  if (part === 'inner') return clamp(degrees, 0, mask.outer - 1);
  return beyond && degrees > 60 ? 90 : clamp(degrees, mask.inner + 1, 90);
}

/** Moves the page under the hand. */
export function panPage(view: SceneView, start: PointerAt): Gesture {
  let last = start;
  return {
    move(at) {
      view.rig.panBy(at.x - last.x, at.y - last.y);
      last = at;
      view.redraw();
    },
    end: () => {},
    cancel: () => {},
  };
}

/** Turns the model about the middle of the page. */
export function orbitModel(view: SceneView, start: PointerAt): Gesture {
  const { azimuth, polar } = view.rig.view;
  return {
    move(at) {
      view.rig.setView({ azimuth: azimuth - (at.x - start.x) * 0.35, polar: polar - (at.y - start.y) * 0.3 });
      view.redraw();
    },
    end: () => {},
    cancel: () => {},
  };
}

/** Looks about on a walk: sideways turns the head, up and down shifts the lens. */
export function lookAbout(store: EditorStore, view: SceneView, start: PointerAt): Gesture {
  const { heading, at: place } = store.getState().walker;
  const { shift } = view.rig.walker;
  return {
    move(at) {
      view.rig.walker = { ...view.rig.walker, shift: clamp(shift + (at.y - start.y) / 300, -0.9, 0.9) };
      const turned = heading + (at.x - start.x) * 0.18;
      store.setState({ walker: { at: place, heading: ((turned % 360) + 360) % 360 } });
      view.redraw();
    },
    end: () => {},
    cancel: () => {},
  };
}

/** A floor shown by a store, for picking. */
export function floorOf(store: EditorStore): Floor {
  const { preview, floor } = store.getState();
  return preview ?? floor;
}
