/** The scene of a floor without React: layers, camera and overlay, brought up to date from the store. */
import { Color, Group, LinearSRGBColorSpace, type WebGLRenderer } from 'three';
import { type EditorState, type EditorStore, shownFloor } from '../../editor/store.ts';
import { MOTION, PALETTES } from '../tokens.ts';
import { CameraRig } from './camera/camera-rig.ts';
import { nearestTurn } from './camera/easing.ts';
import { Overlay } from './labels/overlay.ts';
import { DetectorLayer } from './layers/detector-layer.ts';
import { FieldLayer } from './layers/field-layer.ts';
import { FurnitureLayer } from './layers/furniture-layer.ts';
import { GroundLayer } from './layers/ground-layer.ts';
import { LabelLayer } from './layers/label-layer.ts';
import { createMaterials, differs, type Layer, type SceneContext } from './layers/layer.ts';
import { PlacesLayer } from './layers/places-layer.ts';
import { frameFloor } from './local-frame.ts';
import { createSharedUniforms, paintUniforms } from './materials/shared-uniforms.ts';
import { toRgb } from './paint.ts';

export class SceneView {
  readonly root = new Group();
  readonly rig: CameraRig;
  readonly context: SceneContext;
  readonly background = new Color();
  private readonly store: EditorStore;
  private readonly layers: readonly Layer[];
  private readonly field: FieldLayer;
  private readonly labels: LabelLayer;
  private readonly unsubscribe: () => void;
  private readonly invalidate: () => void;
  private drawn: EditorState | null = null;
  private fitted = false;

  /**
   * @param overlay element over the canvas for words that follow the hand
   * @param largest edge of the largest texture the card takes
   * @param invalidate asks for a frame
   */
  constructor(store: EditorStore, overlay: HTMLElement, largest: number, invalidate: () => void) {
    const shared = createSharedUniforms();
    this.store = store;
    this.invalidate = invalidate;
    this.rig = new CameraRig(shared);
    this.context = {
      shared,
      materials: createMaterials(shared),
      rig: this.rig,
      overlay: new Overlay(overlay),
      frame: frameFloor(store.getState().floor),
    };
    this.field = new FieldLayer(this.context, largest);
    this.labels = new LabelLayer(this.context, largest);
    this.layers = [
      new GroundLayer(this.context),
      new FurnitureLayer(this.context),
      this.field,
      new PlacesLayer(this.context),
      new DetectorLayer(this.context),
      this.labels,
    ];
    for (const layer of this.layers) this.root.add(layer.root);
    this.sync(store.getState(), null);
    this.rig.change(store.getState().camera, 0, 0);
    this.unsubscribe = store.subscribe((state, before) => {
      this.sync(state, before);
    });
  }

  private sync(state: EditorState, before: EditorState | null): void {
    const { context, rig } = this;
    if (differs(state, before, 'rooms')) {
      const frame = frameFloor(shownFloor(state));
      const moved = before === null || frame.x !== context.frame.x || frame.y !== context.frame.y;
      // Every coordinate on the card is counted from the scene's origin.
      if (moved) before = null;
      context.frame = frame;
      rig.setFloor(frame);
      if (moved) this.fitted = false;
    }
    if (before === null || state.theme !== before.theme) {
      paintUniforms(context.shared, state.theme);
      this.background.setRGB(...toRgb(PALETTES[state.theme].surround), LinearSRGBColorSpace);
    }
    if (before === null || state.walker !== before.walker) {
      const [x, y] = state.walker.at;
      const heading = nearestTurn(state.walker.heading, rig.walker.heading);
      rig.walker = { ...rig.walker, x: x - context.frame.x, y: y - context.frame.y, heading };
    }
    if (before !== null && state.camera !== before.camera) this.changeCamera(state, before);
    for (const layer of this.layers) layer.sync(state, before);
    this.drawn = state;
    // The pointer's own place is said in the foot; nothing is drawn at it.
    if (
      before === null ||
      Object.entries(state).some(([key, value]) => key !== 'pointer' && value !== before[key as 'pointer'])
    ) {
      this.invalidate();
    }
  }

  private changeCamera(state: EditorState, before: EditorState): void {
    const { rig } = this;
    const time = state.reducedMotion ? 0 : MOTION.camera;
    // The plan opens centred on the walker.
    if (before.camera === 'walk') rig.setView({ x: rig.walker.x, y: rig.walker.y });
    if (state.camera === 'walk') rig.walker = { ...rig.walker, shift: 0 };
    rig.change(state.camera, performance.now(), time);
  }

  /** Shows the whole floor; `time` 0 cuts. */
  fit(time: number): void {
    this.rig.glide(this.rig.viewOfAll(this.context.frame), performance.now(), time);
    this.invalidate();
  }

  setScreen(width: number, height: number, dpr: number): void {
    this.rig.setScreen(width, height, dpr);
    if (!this.fitted && width > 1) {
      this.fitted = true;
      this.fit(0);
    }
    this.invalidate();
  }

  /** Makes the scene ready for drawing at `now` (ms). True: something is still moving. */
  prepare(renderer: WebGLRenderer, now: number): boolean {
    const moving = this.rig.step(now);
    const { drawnLine, lensMark } = this.context.materials;
    drawnLine.depthTest = this.rig.lean > 0.02;
    lensMark.depthTest = this.rig.lean > 0.5;
    for (const layer of this.layers) layer.follow?.();
    this.field.upload(renderer);
    this.context.overlay.follow(this.rig);
    return moving;
  }

  /** Whether the frame just drawn held a heat map. */
  get showsField(): boolean {
    return this.field.isReady && this.drawn !== null;
  }

  /** The typeface of the labels has arrived. */
  repaintLabels(): void {
    this.labels.repaint();
    this.invalidate();
  }

  dispose(): void {
    this.unsubscribe();
    for (const layer of this.layers) layer.dispose();
    for (const material of Object.values(this.context.materials)) material.dispose();
    this.context.overlay.clear('');
  }

  /** Asks for a frame. */
  redraw(): void {
    this.invalidate();
  }

  get state(): EditorState {
    return this.store.getState();
  }
}
