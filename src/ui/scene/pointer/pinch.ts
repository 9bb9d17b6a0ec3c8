/** Two fingers: they carry the page with them, and spread it. */
import type { SceneView } from '../scene-view.ts';
import type { PointerAt } from './gestures.ts';

export class Pinch {
  private readonly view: SceneView;
  private readonly fingers = new Map<number, PointerAt>();

  constructor(view: SceneView) {
    this.view = view;
  }

  /** True: this is the second finger, a pinch begins. */
  down(id: number, at: PointerAt): boolean {
    this.fingers.set(id, at);
    return this.fingers.size === 2;
  }

  /** True: the finger is part of a pinch. */
  move(id: number, at: PointerAt): boolean {
    const before = this.fingers.get(id);
    if (before === undefined) return false;
    this.fingers.set(id, at);
    if (this.fingers.size !== 2) return false;
    const other = [...this.fingers].find(([each]) => each !== id)?.[1];
    if (other === undefined) return false;
    const { rig } = this.view;
    const was = Math.hypot(before.x - other.x, before.y - other.y);
    const is = Math.hypot(at.x - other.x, at.y - other.y);
    rig.panBy((at.x - before.x) / 2, (at.y - before.y) / 2);
    if (was > 1) rig.zoomAt((at.x + other.x) / 2, (at.y + other.y) / 2, is / was);
    this.view.redraw();
    return true;
  }

  /** True: the finger was part of a pinch. */
  up(id: number): boolean {
    const was = this.fingers.size === 2;
    return this.fingers.delete(id) && was;
  }
}
