/** A pointer that is not pressed: its place in the foot, the probe that follows it, the shape of the cursor. */
import type { EditorStore } from '../../../editor/store.ts';
import { setPointer, setProbe } from '../../../editor/view.ts';
import type { SceneView } from '../scene-view.ts';
import type { PointerAt } from './gestures.ts';
import { pickGrip } from './pick.ts';
import { placeOnField, placeUnder } from './places.ts';
import type { PointerInfo, ToolInput } from './tool-input.ts';

export class Hover {
  private readonly element: HTMLElement;
  private readonly store: EditorStore;
  private readonly view: SceneView;
  private readonly tool: ToolInput;
  private last: { readonly at: PointerAt; readonly alt: boolean; readonly pressed: boolean } | null = null;
  private scheduled = false;

  constructor(element: HTMLElement, store: EditorStore, view: SceneView, tool: ToolInput) {
    this.element = element;
    this.store = store;
    this.view = view;
    this.tool = tool;
  }

  /** The pointer is here now. It is read once a frame, however often it moved. */
  move(at: PointerAt, alt: boolean, pressed: boolean): void {
    this.last = { at, alt, pressed };
    if (this.scheduled) return;
    this.scheduled = true;
    requestAnimationFrame(() => {
      this.scheduled = false;
      if (this.last !== null) this.read(this.last.at, this.last.alt, this.last.pressed);
    });
  }

  private read(at: PointerAt, alt: boolean, pressed: boolean): void {
    const { store, view, element } = this;
    const state = store.getState();
    const place = placeUnder(view, at);
    // A tool says itself where its hand is.
    if (!this.tool.isDriving || state.toolRun === null) setPointer(store, place);
    if (pressed) return;
    const probing = (state.tool === 'probe' || alt) && !state.probe?.pinned;
    if (probing && place !== null) setProbe(store, { at: placeOnField(store, view, at) ?? place, pinned: false });
    element.style.cursor = this.cursorAt(at);
  }

  private cursorAt(at: PointerAt): string {
    const { store, view, tool } = this;
    const state = store.getState();
    if (state.tool !== 'select' && state.tool !== 'mask') return 'crosshair';
    if (pickGrip(view.rig, view.grips, at.x, at.y) !== null) return 'grab';
    if (state.tool === 'mask' || state.camera === 'walk') return '';
    const info: PointerInfo = { ...at, alt: false, ctrl: false, pointerType: 'mouse' };
    return tool.isOverHandle(info) || tool.isOverThing(info) ? 'grab' : '';
  }

  /** The pointer has left the page. */
  leave(): void {
    this.last = null;
    setPointer(this.store, null);
    const { probe } = this.store.getState();
    if (probe !== null && !probe.pinned) setProbe(this.store, null);
  }

  /** Alt is no longer held: what it showed goes. */
  endAltProbe(): void {
    const { tool, probe } = this.store.getState();
    if (tool !== 'probe' && probe !== null && !probe.pinned) setProbe(this.store, null);
  }

  dispose(): void {
    this.last = null;
  }
}
