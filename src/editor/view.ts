/** What is looked at and what is in hand: nothing here changes the document. */

import type { PlaneName } from '../core/coverage/result.ts';
import type { Point } from '../core/floor/index.ts';
import { cancelGesture, nextNotice } from './history.ts';
import type { Camera, EditorState, EditorStore, MaskHandle, Refusal, Show, Theme, Tool } from './store.ts';

/** Selects these things in place of the others; the last is the one in hand. An empty list selects the floor. */
export function select(store: EditorStore, ids: readonly string[]): void {
  const { selection, maskHandle } = store.getState();
  if (selection.length === ids.length && selection.every((id, i) => id === ids[i]) && maskHandle === null) return;
  store.setState({ selection: ids, maskHandle: null });
}

/** Adds a thing to the selection, or takes it out when it is in already. */
export function toggleSelected(store: EditorStore, id: string): void {
  const { selection } = store.getState();
  select(store, selection.includes(id) ? selection.filter((each) => each !== id) : [...selection, id]);
}

/** Takes a mask handle in hand (its detector is then the selection), or lets go of it. */
export function holdMaskHandle(store: EditorStore, handle: MaskHandle | null): void {
  store.setState(handle === null ? { maskHandle: null } : { maskHandle: handle, selection: [handle.detector] });
}

export function setCamera(store: EditorStore, camera: Camera): void {
  store.setState({ camera });
}

/** Switches the plane; headings belong to walking people, so the seated plane shows blind in their place. */
export function setPlane(store: EditorStore, plane: PlaneName): void {
  const { show } = store.getState();
  store.setState({ plane, show: plane === 'seated' && show === 'headings' ? 'blind' : show });
}

/** Switches what the field shows; headings bring the walking plane with them. */
export function setShow(store: EditorStore, show: Show): void {
  store.setState(show === 'headings' ? { show, plane: 'walking' } : { show });
}

/** Takes a tool in hand. A running gesture is cancelled; an unpinned probe leaves with its tool. */
export function setTool(store: EditorStore, tool: Tool): void {
  cancelGesture(store);
  store.setState({
    tool,
    ...(tool === 'probe' ? {} : { probe: null }),
    ...(tool === 'mask' ? {} : { maskHandle: null }),
  });
}

export function setProbe(store: EditorStore, probe: EditorState['probe']): void {
  store.setState({ probe });
}

export function setPointer(store: EditorStore, pointer: Point | null): void {
  store.setState({ pointer });
}

export function setWalker(store: EditorStore, walker: EditorState['walker']): void {
  store.setState({ walker });
}

export function setTheme(store: EditorStore, theme: Theme): void {
  store.setState({ theme });
}

export function setReducedMotion(store: EditorStore, reducedMotion: boolean): void {
  store.setState({ reducedMotion });
}

/** Brings a place into sight and brackets the things that are there. */
export function flyTo(store: EditorStore, at: Point, ids: readonly string[]): void {
  const serial = (store.getState().flyTo?.serial ?? 0) + 1;
  store.setState({ flyTo: { at, ids, serial } });
}

/** Says something in the foot for a few seconds. */
export function say(store: EditorStore, text: string): void {
  store.setState({ notice: nextNotice(store, text) });
}

export function refuse(store: EditorStore, refusal: Refusal | null): void {
  store.setState({ refusal });
}

/**
 * One step back: a running gesture, else the mask handle, else the faults shown, else a pinned probe, else the tool, else the selection.
 * False: there was nothing to go back from.
 */
export function stepBack(store: EditorStore): boolean {
  const state = store.getState();
  if (state.gesture !== null) cancelGesture(store);
  else if (state.maskHandle !== null) store.setState({ maskHandle: null });
  else if (state.refusal !== null) store.setState({ refusal: null });
  else if (state.probe?.pinned) store.setState({ probe: null });
  else if (state.tool !== 'select') setTool(store, 'select');
  else if (state.selection.length > 0 || state.finding !== null) store.setState({ selection: [], finding: null });
  else return false;
  return true;
}
