/** Small steps by keys: the selected detector, a mask handle, the probed place. */
import { type Detector, type FloorFile, findRoomAt, type Point } from '../core/floor/index.ts';
import { edit, nudge } from './history.ts';
import { sayLocked } from './locks.ts';
import { addMask, moveDetector, setMaskPart, tidy, turnDetector, turnMask } from './recipes.ts';
import type { EditorState, EditorStore, MaskHandle } from './store.ts';
import { indexOfId } from './things.ts';
import { holdMaskHandle, say } from './view.ts';

/** The one selected detector; null when something else or more is selected. */
export function heldDetector(state: EditorState): Detector | null {
  const [id, ...others] = state.selection;
  if (id === undefined || others.length > 0) return null;
  return state.floor.detectors[indexOfId(state.floor.detectors, id)] ?? null;
}

/** Pitch of the ceiling tiles over a detector, metres; 0.6 where no tiles are stated. */
export function tilePitchOver(state: EditorState, detector: Detector): readonly [number, number] {
  return findRoomAt(state.floor.rooms, detector.at)?.tiles?.pitch ?? [0.6, 0.6];
}

/** Moves the selected detector by metres. False: none is selected. */
export function nudgeDetector(store: EditorStore, dx: number, dy: number): boolean {
  const detector = heldDetector(store.getState());
  if (detector === null) return false;
  const { id, name, at } = detector;
  if (sayLocked(store, id)) return true;
  const placeIn = (file: FloorFile): Point => file.detectors?.[indexOfId(file.detectors, id)]?.at ?? at;
  const outcome = nudge(
    store,
    `move ${id}`,
    (before, after) => {
      const [from, to] = [placeIn(before), placeIn(after)];
      return `Moved ${name} by ${Math.hypot(to[0] - from[0], to[1] - from[1]).toFixed(2)} m`;
    },
    moveDetector(id, [at[0] + dx, at[1] + dy]),
  );
  if (!outcome.ok) sayRefusal(store, name);
  return true;
}

/** Turns the selected detector by degrees, counter-clockwise. False: none is selected. */
export function nudgeTurn(store: EditorStore, by: number): boolean {
  const detector = heldDetector(store.getState());
  if (detector === null) return false;
  const { id, name, turn } = detector;
  if (sayLocked(store, id)) return true;
  nudge(store, `turn ${id}`, () => `Turned ${name}`, turnDetector(id, turn + by));
  return true;
}

const HANDLES: readonly MaskHandle['part'][] = ['from', 'to', 'inner', 'outer', 'turn'];

/** Takes the next handle of the detector's masks in hand, or the one before; round the end. */
export function stepMaskHandle(store: EditorStore, by: 1 | -1): void {
  const { maskHandle, floor } = store.getState();
  if (maskHandle === null) return;
  const masks = floor.detectors[indexOfId(floor.detectors, maskHandle.detector)]?.masks.length ?? 0;
  if (masks === 0) return;
  const all = masks * HANDLES.length;
  const at = (maskHandle.mask * HANDLES.length + HANDLES.indexOf(maskHandle.part) + by + all) % all;
  const part = HANDLES[at % HANDLES.length] ?? 'from';
  holdMaskHandle(store, { detector: maskHandle.detector, mask: Math.floor(at / HANDLES.length), part });
}

/** Moves the mask handle in hand by degrees: edges and turn counter-clockwise, inner and outer away from the foot. */
export function nudgeMaskHandle(store: EditorStore, by: number): void {
  const { maskHandle, floor } = store.getState();
  if (maskHandle === null) return;
  const { detector: id, mask: index, part } = maskHandle;
  const detector = floor.detectors[indexOfId(floor.detectors, id)];
  const mask = detector?.masks[index];
  if (detector === undefined || mask === undefined || sayLocked(store, id)) return;
  if (part === 'turn') {
    nudge(store, `turn mask ${id} ${index}`, () => `Turned the mask of ${detector.name}`, turnMask(id, index, by));
    return;
  }
  const next = tidy(mask[part] + by);
  const span = part === 'to' ? next - mask.from : mask.to - next;
  const isEdge = part === 'from' || part === 'to';
  const holds = isEdge
    ? span % 360 !== 0 || span === 360
    : next >= 0 && next <= 90 && (part === 'inner' ? next < mask.outer : next > mask.inner);
  if (!holds) return;
  const outcome = nudge(
    store,
    `mask ${id} ${index} ${part}`,
    () => `Mask of ${detector.name}, ${part}: ${next}°`,
    setMaskPart(id, index, part, next),
  );
  if (!outcome.ok) sayRefusal(store, detector.name);
}

/** Adds a mask to the selected detector and takes its edge in hand. False: no detector is selected. */
export function addMaskToHeld(store: EditorStore): boolean {
  const detector = heldDetector(store.getState());
  if (detector === null) return false;
  if (sayLocked(store, detector.id)) return true;
  const outcome = edit(
    store,
    `Added a mask to ${detector.name}`,
    addMask(detector.id, { from: 0, to: 30, inner: 40, outer: 90 }),
  );
  if (outcome.ok) holdMaskHandle(store, { detector: detector.id, mask: detector.masks.length, part: 'to' });
  return true;
}

/** Moves the probed place by cells; without one it begins at the walker. */
export function nudgeProbe(store: EditorStore, columns: number, rows: number): void {
  const { probe, floor, walker, pointer } = store.getState();
  const from = probe?.at ?? pointer ?? walker.at;
  const { cell } = floor.analysis;
  store.setState({ probe: { at: [tidy(from[0] + columns * cell), tidy(from[1] + rows * cell)], pinned: true } });
}

/** A step that would leave the floor faulty is not taken; the foot says why. */
function sayRefusal(store: EditorStore, name: string): void {
  if (store.getState().isLookOnly) return;
  const fault = store.getState().refusal?.faults[0];
  store.setState({ refusal: null });
  if (fault !== undefined) say(store, `${name} ${fault.what}. ${fault.remedy}`.trim());
}
