/** The scene of a floor without React: layers, camera and overlay, brought up to date from the store. */
import { Color, Group, LinearSRGBColorSpace, type WebGLRenderer } from 'three';
import { type EditorState, type EditorStore, shownFloor } from '../../editor/store.ts';
import { setMetresPerPixel } from '../../editor/tool-run.ts';
import { MOTION, PALETTES } from '../tokens.ts';
import { CameraRig } from './camera/camera-rig.ts';
import { nearestTurn } from './camera/easing.ts';
import { Overlay } from './labels/overlay.ts';
import { ScaleBar } from './labels/scale-bar.ts';
import { DetectorLayer } from './layers/detector-layer.ts';
import { FieldLayer } from './layers/field-layer.ts';
import { FurnitureLayer } from './layers/furniture-layer.ts';
import { GridLayer } from './layers/grid-layer.ts';
import { GroundLayer } from './layers/ground-layer.ts';
import type { GuideLayer } from './layers/guide-layer.ts';
import { LabelLayer } from './layers/label-layer.ts';
import { createMaterials, differs, type Layer, type SceneContext } from './layers/layer.ts';
import type { Grip, MaskLayer } from './layers/mask-layer.ts';
import { PlacesLayer } from './layers/places-layer.ts';
import type { ProbeLayer } from './layers/probe-layer.ts';
import { frameFloor, keepFrame } from './local-frame.ts';
import { createSharedUniforms, paintUniforms } from './materials/shared-uniforms.ts';
import { toRgb } from './paint.ts';

export class SceneView {
  readonly root = new Group();
  readonly rig: CameraRig;
  readonly context: SceneContext;
  readonly background = new Color();
  private readonly store: EditorStore;
  private readonly layers: Layer[];
  /** Comes when a floor has a picture under it. */
  private hasUnderlay = false;
  private hasRest = false;
  private isGone = false;
  private settle: () => void = () => {};
  /** Fulfilled when the first picture stands. */
  readonly settled = new Promise<void>((resolve) => {
    this.settle = resolve;
  });
  private readonly field: FieldLayer;
  readonly labels: LabelLayer;
  private readonly detectors: DetectorLayer;
  private masks: MaskLayer | null = null;
  private probe: ProbeLayer | null = null;
  private guides: GuideLayer | null = null;
  private readonly scaleBar: ScaleBar;
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
      units: store.getState().units,
    };
    this.field = new FieldLayer(this.context, largest);
    this.labels = new LabelLayer(this.context, largest);
    this.scaleBar = new ScaleBar(overlay);
    this.detectors = new DetectorLayer(this.context);
    this.layers = [
      new GridLayer(this.context),
      new GroundLayer(this.context),
      new FurnitureLayer(this.context),
      this.field,
      new PlacesLayer(this.context),
      this.detectors,
      this.labels,
    ];
    this.root.add(...this.layers.map((layer) => layer.root));
    this.sync(store.getState(), null);
    this.rig.change(store.getState().camera, 0, 0);
    this.unsubscribe = store.subscribe((state, before) => {
      this.sync(state, before);
    });
  }

  private sync(state: EditorState, before: EditorState | null): void {
    const { context, rig } = this;
    if (state.units !== context.units) before = null;
    context.units = state.units;
    if (differs(state, before, 'rooms')) {
      const floor = shownFloor(state);
      const isOther = before === null || isOtherDocument(state, before);
      const frame = isOther ? frameFloor(floor) : keepFrame(floor, context.frame);
      const moved = frame.x !== context.frame.x || frame.y !== context.frame.y;
      // Every coordinate on the card is counted from the scene's origin.
      if (moved) before = null;
      context.frame = frame;
      rig.setFloor(frame);
      if (isOther && this.drawn !== null) this.fit(0);
    }
    if (before === null || state.theme !== before.theme) {
      paintUniforms(context.shared, state.theme);
    }
    if (before === null || state.theme !== before.theme || differs(state, before, 'rooms')) {
      // Before there is a room the whole page is paper.
      const { paper, surround } = PALETTES[state.theme];
      const ground = shownFloor(state).rooms.length === 0 ? paper : surround;
      this.background.setRGB(...toRgb(ground), LinearSRGBColorSpace);
    }
    if (before === null || state.walker !== before.walker) {
      const [x, y] = state.walker.at;
      const heading = nearestTurn(state.walker.heading, rig.walker.heading);
      rig.walker = { ...rig.walker, x: x - context.frame.x, y: y - context.frame.y, heading };
    }
    if (before !== null && state.camera !== before.camera) this.changeCamera(state, before);
    for (const layer of this.layers) layer.sync(state, before);
    if (state.underlay !== null && !this.hasUnderlay) this.bringUnderlay();
    this.syncProbe(state, before);
    if (before !== null && state.flyTo !== null && state.flyTo !== before.flyTo)
      this.bringIntoSight(state.flyTo.at, state);
    this.drawn = state;
    if (before === null || this.guides?.changed || isSeen(state, before)) this.invalidate();
  }

  private syncProbe(state: EditorState, before: EditorState | null): void {
    if (!this.probe?.sync(state, before)) return;
    this.detectors.showHollow(this.probe.missing, shownFloor(state));
    this.labels.leaveAway(this.probe.named, state);
  }

  private bringUnderlay(): void {
    this.hasUnderlay = true;
    void import('./layers/underlay-layer.ts').then(({ UnderlayLayer }) => this.add([new UnderlayLayer(this.context)]));
  }

  /** Loads what the first picture did not need; called once that picture stands. Calls after the first do nothing. */
  bringRest(): void {
    if (this.hasRest) return;
    this.hasRest = true;
    this.settle();
    void import('./layers/later-layers.ts').then(({ createLaterLayers }) => {
      const { probe, guides, masks, layers } = createLaterLayers(this.context);
      this.probe = probe;
      this.guides = guides;
      this.masks = masks;
      this.root.add(probe.root);
      this.add(layers);
      if (this.isGone) probe.dispose();
      else this.syncProbe(this.store.getState(), null);
    });
  }

  private add(layers: readonly Layer[]): void {
    if (this.isGone) {
      for (const layer of layers) layer.dispose();
      return;
    }
    this.layers.push(...layers);
    this.root.add(...layers.map((layer) => layer.root));
    for (const layer of layers) layer.sync(this.store.getState(), null);
    this.invalidate();
  }

  private changeCamera(state: EditorState, before: EditorState): void {
    const { rig } = this;
    const time = state.reducedMotion ? 0 : MOTION.camera;
    // The plan opens centred on the walker.
    if (before.camera === 'walk') rig.setView({ x: rig.walker.x, y: rig.walker.y });
    if (state.camera === 'walk') rig.walker = { ...rig.walker, shift: 0 };
    rig.change(state.camera, performance.now(), time);
  }

  /** Moves the camera to a place only if that is out of sight. */
  private bringIntoSight(at: readonly [number, number], state: EditorState): void {
    const { rig, context } = this;
    const [x, y] = [at[0] - context.frame.x, at[1] - context.frame.y];
    const { width, height } = rig.screen;
    const on = rig.project(x, y, state.floor.analysis.seatedPlane);
    const seen = on !== null && on[0] > 40 && on[1] > 40 && on[0] < width - 40 && on[1] < height - 40;
    if (seen) return;
    if (state.camera === 'walk') {
      // Two metres before it, looking at it.
      const heading = (state.walker.heading * Math.PI) / 180;
      const place: [number, number] = [at[0] - 2 * Math.cos(heading), at[1] - 2 * Math.sin(heading)];
      this.store.setState({ walker: { at: place, heading: state.walker.heading } });
    } else rig.glide({ x, y }, performance.now(), state.reducedMotion ? 0 : MOTION.camera);
  }

  /** Mask handles on the screen, local metres. */
  get grips(): readonly Grip[] {
    return this.masks?.grips ?? [];
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

  /** Makes the scene ready for drawing at `now` (ms), without a renderer but for its textures. True: something is still moving. */
  prepare(renderer: WebGLRenderer | null, now: number): boolean {
    const moving = this.rig.step(now);
    const { drawnLine, lensMark } = this.context.materials;
    drawnLine.depthTest = this.rig.lean > 0.02;
    lensMark.depthTest = this.rig.lean > 0.5;
    for (const layer of this.layers) layer.follow?.();
    const isBehind = renderer !== null && this.field.upload(renderer);
    this.context.overlay.follow(this.rig, () => this.labels.listStanding());
    // Handles keep their size and their distance on screen.
    if (!moving && this.state.toolRun !== null) setMetresPerPixel(this.store, 1 / this.rig.view.scale);
    this.scaleBar.follow(this.rig, this.context.shared.pxPerMetre.value, this.context.units);
    return moving || isBehind;
  }

  /** Who wants to know when a frame has been drawn. */
  readonly drawnListeners = new Set<() => void>();

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
    this.isGone = true;
    this.unsubscribe();
    this.probe?.dispose();
    this.scaleBar.dispose();
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

/** What the words in the foot alone tell of: nothing is drawn of it. */
const UNSEEN: ReadonlySet<string> = new Set(['pointer', 'toolRun', 'notice', 'gesture']);

function isSeen(state: EditorState, before: EditorState): boolean {
  return Object.entries(state).some(([key, value]) => !UNSEEN.has(key) && value !== before[key as 'pointer']);
}

/** Whether another document has been put in the place of the one before: its history begins anew. */
function isOtherDocument(state: EditorState, before: EditorState): boolean {
  const isNew = state.past.length === 0 && state.future.length === 0 && state.savedFile === state.file;
  return isNew && state.file !== before.file;
}
