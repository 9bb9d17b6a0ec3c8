/** The keys of the page whose work depends on the camera and on what is in hand. */
import { goToFinding } from '../../editor/findings.ts';
import {
  addMaskToHeld,
  heldDetector,
  nudgeDetector,
  nudgeMaskHandle,
  nudgeProbe,
  nudgeTurn,
  stepMaskHandle,
  tilePitchOver,
} from '../../editor/nudges.ts';
import type { EditorStore } from '../../editor/store.ts';
import { holdMaskHandle } from '../../editor/view.ts';
import { act } from './actions.ts';
import { focusField } from './focus.ts';
import { view } from './scene-port.ts';
import { walk } from './walk.ts';

/** Px the page moves at one press. */
const PAN = 48;
/** Metres of a large step where no ceiling tiles say how long it is. */
const TILE = 0.6;

type Direction = readonly [number, number];
const ARROWS: Readonly<Record<string, Direction>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** True: the key has done its work. `space`: the space bar is held down. */
export function handlePageKey(store: EditorStore, event: KeyboardEvent, space: boolean): boolean {
  if (event.ctrlKey || event.metaKey) return false;
  const arrow = ARROWS[event.key];
  if (arrow !== undefined) return handleArrow(store, event, arrow, space);
  const { maskHandle } = store.getState();
  switch (event.key) {
    case 'Tab':
      if (maskHandle === null) return false;
      stepMaskHandle(store, event.shiftKey ? -1 : 1);
      return true;
    case 'Enter':
      return handleEnter(store);
    case '{':
      return turnBy(store, 1);
    case '}':
      return turnBy(store, -1);
    default:
      break;
  }
  return false;
}

function turnBy(store: EditorStore, degrees: number): boolean {
  if (heldDetector(store.getState()) !== null) return nudgeTurn(store, degrees);
  if (store.getState().selection.length > 0) act((actions) => actions.turnSelected(store, degrees));
  return true;
}

/** A digit typed with a mask handle in hand begins the angle in its field: the focus goes there and the digit follows it. */
export function startsAngle(store: EditorStore, event: KeyboardEvent): boolean {
  const { maskHandle } = store.getState();
  if (maskHandle === null || maskHandle.part === 'turn' || event.ctrlKey || event.metaKey) return false;
  return /^\d$/u.test(event.key) && focusField(`${maskHandle.part} ${maskHandle.mask}`);
}

function handleArrow(store: EditorStore, event: KeyboardEvent, [right, up]: Direction, space: boolean): boolean {
  const { camera, maskHandle, tool } = store.getState();
  const moveView = (): boolean => {
    view()?.pan(right * PAN, -up * PAN);
    return true;
  };
  if (space) return moveView();
  if (maskHandle !== null) {
    const step = event.altKey ? 0.1 : event.shiftKey ? 5 : 1;
    const isRadial = maskHandle.part === 'inner' || maskHandle.part === 'outer';
    nudgeMaskHandle(store, (isRadial ? right + up : up - right) * step);
    return true;
  }
  if (camera === 'walk') {
    walk(store, right, up, event.shiftKey);
    return true;
  }
  if (tool === 'probe') {
    nudgeProbe(store, right * (event.shiftKey ? 10 : 1), up * (event.shiftKey ? 10 : 1));
    return true;
  }
  if (camera === 'model') {
    if (event.shiftKey) return moveView();
    view()?.orbitBy(right * 15, up * 15);
    return true;
  }
  const detector = heldDetector(store.getState());
  const fine = event.altKey ? 0.01 : 0.1;
  if (detector === null) {
    if (store.getState().selection.length === 0) return moveView();
    const step = event.shiftKey ? TILE : fine;
    act((actions) => actions.nudgeSelected(store, [right * step, up * step]));
    return true;
  }
  const [dx, dy] = event.shiftKey ? tilePitchOver(store.getState(), detector) : [fine, fine];
  return nudgeDetector(store, right * dx, up * dy);
}

function handleEnter(store: EditorStore): boolean {
  const state = store.getState();
  if (state.tool === 'mask' && state.maskHandle === null && heldDetector(state) !== null) return addMaskToHeld(store);
  if (state.maskHandle !== null) {
    const { part, mask } = state.maskHandle;
    holdMaskHandle(store, null);
    return focusField(`${part === 'turn' ? 'from' : part} ${mask}`);
  }
  if (state.tool === 'probe') {
    if (state.probe === null) nudgeProbe(store, 0, 0);
    else store.setState({ probe: { at: state.probe.at, pinned: true } });
    return true;
  }
  if (state.selection.length > 0) return focusField();
  if (state.finding !== null) {
    goToFinding(store, state.finding);
    return true;
  }
  return false;
}
