/** Everything the pointer does on the page. Nothing here renders React: it changes the view or calls the editor's actions. */
import { lensHeightOf, type Point } from '../../../core/floor/index.ts';
import { edit } from '../../../editor/history.ts';
import { addMask } from '../../../editor/recipes.ts';
import type { EditorStore } from '../../../editor/store.ts';
import {
  holdMaskHandle,
  select,
  setCamera,
  setPointer,
  setProbe,
  setWalker,
  toggleSelected,
} from '../../../editor/view.ts';
import { MOTION } from '../../tokens.ts';
import { boxOf } from '../geometry/extents.ts';
import { nadirOfRadius } from '../geometry/mask-shape.ts';
import { selectedDetector } from '../layers/range-layer.ts';
import type { SceneView } from '../scene-view.ts';
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
import { pickDetector, pickGrip, pickThing } from './pick.ts';
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
  private readonly stop = new AbortController();
  private press: Press | null = null;
  private space = false;
  private left = 0;
  private top = 0;
  private hovered: { readonly at: PointerAt; readonly alt: boolean } | null = null;
  private scheduled = false;

  constructor(element: HTMLElement, store: EditorStore, view: SceneView) {
    this.element = element;
    this.store = store;
    this.view = view;
    this.pinch = new Pinch(view);
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
    on('dblclick', (event) => this.doubleClick(event));
    on('contextmenu', (event) => event.preventDefault());
    const key = (event: KeyboardEvent) => {
      if (event.code === 'Space') this.space = event.type === 'keydown';
      if (event.key === 'Alt' && event.type === 'keyup') this.endAltProbe();
    };
    window.addEventListener('keydown', key, { signal });
    window.addEventListener('keyup', key, { signal });
    window.addEventListener('blur', () => this.endAltProbe(), { signal });
  }

  dispose(): void {
    this.press?.gesture?.cancel();
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

  private placeAt(at: PointerAt, height = 0): Point | null {
    const place = this.view.rig.placeAt(at.x, at.y, height);
    const { frame } = this.view.context;
    return place && [place[0] + frame.x, place[1] + frame.y];
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
    if (event.altKey) return press(moveView, (at) => this.walkFrom(at));
    const empty = () => {
      if (camera === 'walk') return lookAbout(store, view, start);
      if (camera === 'model') return orbitModel(view, start);
      return event.pointerType === 'touch' || tool !== 'select'
        ? panPage(view, start)
        : new FrameSelection(store, view, start);
    };
    if (tool === 'probe') return press(empty, (at) => this.pinProbe(at));
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
    return press(empty, (at) => this.click(at));
  }

  private click(at: PointerAt): void {
    const { store, view } = this;
    const id = pickThing(floorOf(store), view.rig, view.context.frame, at.x, at.y);
    if (id === null && store.getState().tool === 'mask' && this.addMaskAt(at)) return;
    if (id === null) {
      if (!at.shift) select(store, []);
    } else if (at.shift) toggleSelected(store, id);
    else select(store, [id]);
  }

  /** With the mask tool a click beside the selected detector lays a mask there. */
  private addMaskAt(at: PointerAt): boolean {
    const { store } = this;
    const state = store.getState();
    const detector = selectedDetector(state);
    const { floor, plane } = state;
    const place = this.placeAt(at, plane === 'seated' ? floor.analysis.seatedPlane : floor.analysis.walkingPlane);
    if (detector === null || place === null || detector.locked) return false;
    const [dx, dy] = [place[0] - detector.at[0], place[1] - detector.at[1]];
    const azimuth = Math.round((Math.atan2(dy, dx) * 180) / Math.PI - detector.turn + 720) % 360;
    const height = plane === 'seated' ? floor.analysis.seatedPlane : floor.analysis.walkingPlane;
    const nadir = nadirOfRadius(Math.hypot(dx, dy), lensHeightOf(detector, floor) - height);
    const inner = Math.max(0, Math.min(80, Math.round(nadir - 8)));
    const mask = { from: (azimuth + 345) % 360, to: (azimuth + 15) % 360, inner, outer: 90 };
    if (!edit(store, `Added a mask to ${detector.name}`, addMask(detector.id, mask)).ok) return false;
    holdMaskHandle(store, { detector: detector.id, mask: detector.masks.length, part: 'to' });
    return true;
  }

  private move(event: PointerEvent): void {
    const at = this.at(event);
    if (this.pinch.move(event.pointerId, at)) return;
    const { press } = this;
    if (press === null) {
      this.hover(at, event.altKey);
      return;
    }
    if (!press.moved) {
      if (Math.hypot(at.x - press.start.x, at.y - press.start.y) < STILL) return;
      press.moved = true;
      press.gesture = press.drag();
      this.element.style.cursor = 'grabbing';
    }
    press.gesture?.move(at);
    this.hovered = { at, alt: false };
    this.schedulePointer();
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

  private hover(at: PointerAt, alt: boolean): void {
    this.hovered = { at, alt };
    this.schedulePointer();
  }

  /** One reading a frame, however often the pointer moved. */
  private schedulePointer(): void {
    if (this.scheduled) return;
    this.scheduled = true;
    requestAnimationFrame(() => {
      this.scheduled = false;
      if (this.hovered === null || this.stop.signal.aborted) return;
      this.readPointer(this.hovered.at, this.hovered.alt);
    });
  }

  private readPointer(at: PointerAt, alt: boolean): void {
    const { store, view } = this;
    const state = store.getState();
    const place = this.placeAt(at);
    setPointer(store, place);
    if (this.press !== null) return;
    const probing = (state.tool === 'probe' || alt) && !state.probe?.pinned;
    if (probing && place !== null) setProbe(store, { at: this.placeOnPlane(at) ?? place, pinned: false });
    const over =
      state.tool !== 'probe' &&
      (pickGrip(view.rig, view.grips, at.x, at.y) !== null ||
        pickDetector(floorOf(store), view.rig, view.context.frame, at.x, at.y) !== null);
    this.element.style.cursor = state.tool === 'probe' ? 'crosshair' : over ? 'grab' : '';
  }

  private placeOnPlane(at: PointerAt): Point | null {
    const { camera, plane } = this.store.getState();
    const { analysis } = floorOf(this.store);
    // On a walk the field lies on the floor.
    return this.placeAt(at, camera === 'walk' ? 0 : plane === 'seated' ? analysis.seatedPlane : analysis.walkingPlane);
  }

  private pinProbe(at: PointerAt): void {
    const place = this.placeOnPlane(at);
    if (place !== null) setProbe(this.store, { at: place, pinned: true });
  }

  private endAltProbe(): void {
    const { tool, probe } = this.store.getState();
    if (tool !== 'probe' && probe !== null && !probe.pinned) setProbe(this.store, null);
  }

  private leave(): void {
    if (this.press !== null) return;
    this.hovered = null;
    setPointer(this.store, null);
    const { probe } = this.store.getState();
    if (probe !== null && !probe.pinned) setProbe(this.store, null);
  }

  private walkFrom(at: PointerAt): void {
    const place = this.placeAt(at);
    if (place === null) return;
    setWalker(this.store, { at: place, heading: this.store.getState().walker.heading });
    setProbe(this.store, null);
    setCamera(this.store, 'walk');
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

  private doubleClick(event: MouseEvent): void {
    const { store, view } = this;
    const at = this.at(event);
    const { camera, reducedMotion, tool } = store.getState();
    if (tool !== 'select') return;
    if (camera === 'walk') {
      const place = this.placeAt(at);
      if (place !== null) setWalker(store, { at: place, heading: store.getState().walker.heading });
      return;
    }
    const floor = floorOf(store);
    const id = pickThing(floor, view.rig, view.context.frame, at.x, at.y);
    const box = id === null ? null : boxOf(floor, id, view.context.frame);
    const place = view.rig.placeAt(at.x, at.y);
    const time = reducedMotion ? 0 : MOTION.move;
    if (box !== null) {
      const room = Math.max(box.halfU, box.halfV, 1) * 2;
      const scale = Math.max(
        view.rig.view.scale,
        Math.min(view.rig.screen.width, view.rig.screen.height) / (room * 2.4),
      );
      view.rig.glide({ x: box.x, y: box.y, scale }, performance.now(), time);
    } else if (place !== null) {
      view.rig.glide({ x: place[0], y: place[1], scale: view.rig.goal.scale * 2 }, performance.now(), time);
    }
    view.redraw();
  }
}
