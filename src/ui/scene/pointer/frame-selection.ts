/** A frame drawn on empty floor: what lies in it is selected. */
import type { EditorStore } from '../../../editor/store.ts';
import { select } from '../../../editor/view.ts';
import type { SceneView } from '../scene-view.ts';
import { floorOf, type Gesture, type PointerAt } from './gestures.ts';
import { pickInFrame } from './pick.ts';

export class FrameSelection implements Gesture {
  private readonly store: EditorStore;
  private readonly view: SceneView;
  private readonly start: PointerAt;
  private readonly element = document.createElement('div');

  constructor(store: EditorStore, view: SceneView, start: PointerAt) {
    this.store = store;
    this.view = view;
    this.start = start;
    this.element.className = 'scene-frame';
    view.context.overlay.element.append(this.element);
  }

  private boxTo(at: PointerAt): readonly [number, number, number, number] {
    const { start } = this;
    return [Math.min(start.x, at.x), Math.min(start.y, at.y), Math.max(start.x, at.x), Math.max(start.y, at.y)];
  }

  move(at: PointerAt): void {
    const [x0, y0, x1, y1] = this.boxTo(at);
    const { style } = this.element;
    style.transform = `translate(${x0}px, ${y0}px)`;
    style.width = `${x1 - x0}px`;
    style.height = `${y1 - y0}px`;
  }

  end(at: PointerAt): void {
    this.element.remove();
    const { store, view } = this;
    const found = pickInFrame(floorOf(store), view.rig, view.context.frame, this.boxTo(at));
    const { selection } = store.getState();
    select(store, at.shift ? [...new Set([...selection, ...found])] : found);
  }

  cancel(): void {
    this.element.remove();
  }
}
