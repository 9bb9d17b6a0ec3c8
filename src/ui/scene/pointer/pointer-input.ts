/** Everything the pointer does on the page. Nothing here renders React: it changes the view or calls the editor's actions. */
import type { EditorStore } from '../../../editor/store.ts';
import { holdMaskHandle } from '../../../editor/view.ts';
import { magnificationOf, presentation } from '../../presentation.ts';
import type { SceneView } from '../scene-view.ts';
import { clickThing, comeNearer, pinProbe, walkFrom } from './clicks.ts';
import { dragMask, type Gesture, lookAbout, orbitModel, type PointerAt, panPage } from './gestures.ts';
import { Hover } from './hover.ts';
import { pickGrip } from './pick.ts';
import { Pinch } from './pinch.ts';
import { type PointerInfo, readPointerInfo, ToolInput } from './tool-input.ts';

/** A pointer that moves less than this between down and up has clicked, px. */
const STILL = 4;

interface Press {
  readonly start: PointerAt;
  /** What begins once the pointer moves. */
  readonly drag: () => Gesture | null;
  /** What happens when it does not. */
  readonly click: (at: PointerAt) => void;
  gesture: Gesture | null;
  moved: boolean;
}

export class PointerInput {
  private readonly store: EditorStore;
  private readonly view: SceneView;
  private readonly element: HTMLElement;
  private readonly pinch: Pinch;
  private readonly hover: Hover;
  private readonly tool: ToolInput;
  private readonly stop = new AbortController();
  private press: Press | null = null;
  private space = false;
  /** Real px to each the view counts: above 1 while the floor is presented. */
  private larger = 1;
  private left = 0;
  private top = 0;

  constructor(element: HTMLElement, store: EditorStore, view: SceneView) {
    this.element = element;
    this.store = store;
    this.view = view;
    this.pinch = new Pinch(view);
    this.tool = new ToolInput(store, view);
    this.hover = new Hover(element, store, view, this.tool);
    const { signal } = this.stop;
    const on = <Name extends keyof HTMLElementEventMap>(
      name: Name,
      listener: (event: HTMLElementEventMap[Name]) => void,
    ) => element.addEventListener(name, listener, { signal, passive: false });
    on('pointerenter', () => this.measure());
    on('pointerdown', (event) => this.down(event));
    on('pointermove', (event) => this.move(event));
    on('pointerup', (event) => this.up(event, false));
    on('pointercancel', (event) => this.up(event, true));
    on('pointerleave', () => this.leave());
    on('wheel', (event) => this.wheel(event));
    on('dblclick', (event) => comeNearer(store, view, this.at(event)));
    on('contextmenu', (event) => event.preventDefault());
    const key = (event: KeyboardEvent) => {
      if (event.code === 'Space') this.space = event.type === 'keydown';
      if (event.key === 'Alt' && event.type === 'keyup') this.hover.endAltProbe();
    };
    window.addEventListener('keydown', key, { signal });
    window.addEventListener('keyup', key, { signal });
    window.addEventListener('blur', () => this.hover.endAltProbe(), { signal });
  }

  dispose(): void {
    this.press?.gesture?.cancel();
    this.hover.dispose();
    this.tool.dispose();
    this.stop.abort();
  }

  private at(event: MouseEvent): PointerAt {
    const { larger } = this;
    return { x: (event.clientX - this.left) / larger, y: (event.clientY - this.top) / larger, shift: event.shiftKey };
  }

  private infoOf(event: PointerEvent): PointerInfo {
    const { x, y } = this.at(event);
    return readPointerInfo(event, x, y);
  }

  /** Asked only when the page may have moved: to ask lays the whole window out anew. */
  private measure(): void {
    const { left, top, width } = this.element.getBoundingClientRect();
    this.larger = magnificationOf(presentation.getState(), width);
    this.left = left;
    this.top = top;
  }

  private down(event: PointerEvent): void {
    this.measure();
    const at = this.at(event);
    this.element.setPointerCapture(event.pointerId);
    if (event.pointerType === 'touch' && this.pinch.down(event.pointerId, at)) {
      // Two fingers carry the page: what one of them has begun is taken back.
      this.tool.cancel(this.infoOf(event));
      this.press?.gesture?.cancel();
      this.press = null;
      return;
    }
    if (this.press !== null || this.tool.isPressed) return;
    if (this.isForTool(event, at)) this.tool.down(this.infoOf(event));
    else this.press = this.begin(event, at);
  }

  /** Whether a press goes to the tool in hand; else it moves the view, a mask, or asks. */
  private isForTool(event: PointerEvent, at: PointerAt): boolean {
    const { tool, view, store } = this;
    if (!tool.isDriving || event.button !== 0 || this.space) return false;
    const state = store.getState();
    if (state.tool !== 'select') return true;
    if (pickGrip(view.rig, view.grips, at.x, at.y) !== null) return false;
    const info = this.infoOf(event);
    if (tool.isOverHandle(info)) return true;
    if (event.altKey) return false;
    // On empty floor a finger moves the page, and in the model a hand turns it; with Shift it frames.
    const movesView = event.pointerType === 'touch' || (state.camera === 'model' && !event.shiftKey);
    return !movesView || tool.isOverThing(info);
  }

  private begin(event: PointerEvent, start: PointerAt): Press {
    const { store, view } = this;
    const press = (drag: Press['drag'], click: Press['click']): Press => ({
      start,
      drag,
      click,
      gesture: null,
      moved: false,
    });
    const { camera, tool } = store.getState();
    const moveView = () => (camera === 'walk' ? lookAbout(store, view, start) : panPage(view, start));
    if (event.button !== 0 || this.space) return press(moveView, () => {});
    if (event.altKey) return press(moveView, (at) => walkFrom(store, view, at));
    const empty = () => (camera === 'model' ? orbitModel(view, start) : moveView());
    if (tool === 'probe') return press(empty, (at) => pinProbe(store, view, at));
    const grip = pickGrip(view.rig, view.grips, start.x, start.y);
    if (grip !== null && camera !== 'walk') {
      return press(
        () => dragMask(store, view, grip, start),
        () => holdMaskHandle(store, { detector: grip.detector, mask: grip.mask, part: grip.part }),
      );
    }
    const info = this.infoOf(event);
    return press(empty, (at) => {
      if (this.tool.isDriving) this.tool.click({ ...info, x: at.x, y: at.y });
      else clickThing(store, view, at);
    });
  }

  private move(event: PointerEvent): void {
    const at = this.at(event);
    if (this.pinch.move(event.pointerId, at)) return;
    const { press } = this;
    if (press === null) {
      this.tellTool(event);
      this.hover.move(at, event.altKey, this.tool.isPressed);
      return;
    }
    if (!press.moved) {
      if (Math.hypot(at.x - press.start.x, at.y - press.start.y) < STILL) return;
      press.moved = true;
      press.gesture = press.drag();
      this.element.style.cursor = 'grabbing';
    }
    press.gesture?.move(at);
    this.hover.move(at, false, true);
  }

  /** A pointer that nothing else has in hand. */
  private tellTool(event: PointerEvent): void {
    const { tool } = this;
    // A finger that is left over from a pinch draws nothing.
    if (!tool.isDriving || (event.pointerType === 'touch' && !tool.isPressed)) return;
    tool.wake();
    tool.move(this.infoOf(event));
    if (tool.isPressed) this.element.style.cursor = this.store.getState().tool === 'select' ? 'grabbing' : 'crosshair';
  }

  private up(event: PointerEvent, cancelled: boolean): void {
    const wasPinch = this.pinch.up(event.pointerId);
    if (this.tool.isPressed && !wasPinch) {
      if (cancelled) this.tool.cancel(this.infoOf(event));
      else this.tool.up(this.infoOf(event));
      this.element.style.cursor = '';
      return;
    }
    const { press } = this;
    if (wasPinch || press === null) return;
    this.press = null;
    this.element.style.cursor = '';
    const at = this.at(event);
    if (cancelled) press.gesture?.cancel();
    else if (press.moved) press.gesture?.end(at);
    else press.click(at);
  }

  private leave(): void {
    if (this.press === null && !this.tool.isPressed) this.hover.leave();
  }

  private wheel(event: WheelEvent): void {
    event.preventDefault();
    this.measure();
    const { rig } = this.view;
    if (this.store.getState().camera === 'walk') return;
    const at = this.at(event);
    const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 20 : 1;
    // A pinch on a touchpad comes as a wheel with Ctrl, in small numbers.
    const factor = Math.exp(-event.deltaY * lines * (event.ctrlKey ? 0.01 : 0.0016));
    rig.zoomAt(at.x, at.y, Math.min(2, Math.max(0.5, factor)));
    this.view.redraw();
  }
}
