/** Everything the pointer does on the page. Nothing here renders React: it changes the view or calls the editor's actions. */
import type { EditorStore } from '../../../editor/store.ts';
import { holdMaskHandle, select, toggleSelected } from '../../../editor/view.ts';
import type { SceneView } from '../scene-view.ts';
import { clickThing, comeNearer, pinProbe, walkFrom } from './clicks.ts';
import { FrameSelection } from './frame-selection.ts';
import {
  dragDetector,
  dragMask,
  floorOf,
  type Gesture,
  lookAbout,
  orbitModel,
  type PointerAt,
  panPage,
} from './gestures.ts';
import { Hover } from './hover.ts';
import { pickDetector, pickGrip } from './pick.ts';
import { Pinch } from './pinch.ts';

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
  private readonly stop = new AbortController();
  private press: Press | null = null;
  private space = false;
  private left = 0;
  private top = 0;

  constructor(element: HTMLElement, store: EditorStore, view: SceneView) {
    this.element = element;
    this.store = store;
    this.view = view;
    this.pinch = new Pinch(view);
    this.hover = new Hover(element, store, view);
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
    this.stop.abort();
  }

  private at(event: MouseEvent): PointerAt {
    return { x: event.clientX - this.left, y: event.clientY - this.top, shift: event.shiftKey };
  }

  /** Asked only when the page may have moved: to ask lays the whole window out anew. */
  private measure(): void {
    const { left, top } = this.element.getBoundingClientRect();
    this.left = left;
    this.top = top;
  }

  private down(event: PointerEvent): void {
    this.measure();
    const at = this.at(event);
    this.element.setPointerCapture(event.pointerId);
    if (event.pointerType === 'touch' && this.pinch.down(event.pointerId, at)) {
      this.press?.gesture?.cancel();
      this.press = null;
      return;
    }
    if (this.press !== null) return;
    this.press = this.begin(event, at);
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
    const empty = () => {
      if (camera === 'walk') return lookAbout(store, view, start);
      if (camera === 'model') return orbitModel(view, start);
      return event.pointerType === 'touch' || tool !== 'select'
        ? panPage(view, start)
        : new FrameSelection(store, view, start);
    };
    if (tool === 'probe') return press(empty, (at) => pinProbe(store, view, at));
    const grip = pickGrip(view.rig, view.grips, start.x, start.y);
    if (grip !== null && camera !== 'walk') {
      return press(
        () => dragMask(store, view, grip, start),
        () => holdMaskHandle(store, { detector: grip.detector, mask: grip.mask, part: grip.part }),
      );
    }
    const floor = floorOf(store);
    const { frame } = view.context;
    const detector = pickDetector(floor, view.rig, frame, start.x, start.y);
    if (detector !== null && camera !== 'walk') {
      // In hand at once: its ranges are there before it moves.
      if (!event.shiftKey && !store.getState().selection.includes(detector)) select(store, [detector]);
      return press(
        () => dragDetector(store, view, detector, start),
        (at) => (at.shift ? toggleSelected(store, detector) : select(store, [detector])),
      );
    }
    return press(empty, (at) => clickThing(store, view, at));
  }

  private move(event: PointerEvent): void {
    const at = this.at(event);
    if (this.pinch.move(event.pointerId, at)) return;
    const { press } = this;
    if (press === null) {
      this.hover.move(at, event.altKey, false);
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

  private up(event: PointerEvent, cancelled: boolean): void {
    const wasPinch = this.pinch.up(event.pointerId);
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
    if (this.press === null) this.hover.leave();
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
