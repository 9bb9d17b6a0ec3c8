/**
 * The plan without WebGL: the scene's own layers, drawn as SVG, with the heat map on a 2D canvas between what stands under
 * the plane and what stands over it. Pointer, tools and keys are those of the scene.
 */
import type { EditorState, EditorStore } from '../../../editor/store.ts';
import { magnificationOf, presentation } from '../../presentation.ts';
import { PALETTES } from '../../tokens.ts';
import { differs } from '../layers/layer.ts';
import { SceneView } from '../scene-view.ts';
import { createSvg } from './create-svg.ts';
import { drawFieldOn } from './field-canvas.ts';
import { drawOverField, drawUnderField } from './svg-bodies.ts';
import { type Placing, SvgLines } from './svg-lines.ts';
import { drawWords } from './svg-words.ts';

/** Device px a frame's heat map has at most: finer screens are drawn coarser. */
const MOST_PIXELS = 2_500_000;
/** The edge of the largest texture; nothing is put on a card. */
const LARGEST = 4096;

export class FlatPage {
  readonly view: SceneView;
  private readonly page: HTMLElement;
  private readonly store: EditorStore;
  private readonly canvas = document.createElement('canvas');
  private readonly under = createSvg('g');
  private readonly over = createSvg('g');
  private readonly words = createSvg('g');
  private readonly lines = new SvgLines();
  private readonly observer: ResizeObserver;
  private drawn: EditorState | null = null;
  private drawnFrame: unknown = null;
  private placing: Placing = { x: 0, y: 0, scale: 0 };
  private writings = -1;
  private size = '';
  /** Real px to each the view counts. */
  private larger = 1;
  private readonly stopPresenting: () => void;
  private isAsked = false;
  private isGone = false;

  /**
   * @param page what it fills
   * @param overlay for the words that follow the hand, over the drawing
   */
  constructor(page: HTMLElement, overlay: HTMLElement, store: EditorStore) {
    this.page = page;
    this.store = store;
    this.view = new SceneView(store, overlay, LARGEST, () => this.ask());
    this.view.bringRest();
    const low = createSvg('svg', { class: 'flat-layer', 'aria-hidden': 'true' });
    const high = createSvg('svg', { class: 'flat-layer', 'aria-hidden': 'true' });
    low.append(this.under);
    high.append(this.over, this.lines.element, this.words);
    this.canvas.className = 'flat-layer';
    page.prepend(low, this.canvas, high);
    this.observer = new ResizeObserver(() => this.measure());
    this.observer.observe(page);
    this.stopPresenting = presentation.subscribe(() => this.measure());
    this.measure();
    void document.fonts.ready.then(() => {
      if (!this.isGone) this.view.repaintLabels();
    });
  }

  private get dpr(): number {
    return (window.devicePixelRatio || 1) * this.larger;
  }

  private measure(): void {
    const { clientWidth, clientHeight } = this.page;
    this.larger = magnificationOf(presentation.getState(), clientWidth);
    this.page.style.setProperty('--larger', String(this.larger));
    this.view.setScreen(clientWidth / this.larger, clientHeight / this.larger, this.dpr);
  }

  /** One frame is drawn, however often one is asked for. */
  private ask(): void {
    if (this.isAsked || this.isGone) return;
    this.isAsked = true;
    requestAnimationFrame(() => {
      this.isAsked = false;
      if (!this.isGone) this.draw();
    });
  }

  private draw(): void {
    const { view, store, drawn } = this;
    const state = store.getState();
    const moving = view.prepare(null, performance.now());
    const { frame } = view.context;
    const { rig } = view;
    const origin = rig.project(0, 0, 0) ?? [0, 0];
    const { x, y, scale } = this.placing;
    const hasMoved = x !== origin[0] || y !== origin[1] || scale !== rig.view.scale;
    if (hasMoved) this.placing = { x: origin[0], y: origin[1], scale: rig.view.scale };
    const { placing } = this;
    const isNew = drawn === null || frame !== this.drawnFrame || state.theme !== drawn.theme;
    const shown = isNew || state.hiddenKinds !== drawn.hiddenKinds || state.plane !== drawn.plane;
    if (shown || differs(state, drawn, 'furniture', 'analysis', 'rooms', 'openings')) {
      this.under.replaceChildren(...drawUnderField(state, frame));
      this.over.replaceChildren(...drawOverField(state, frame));
    }
    const transform = `translate(${placing.x} ${placing.y}) scale(${placing.scale})`;
    for (const group of [this.under, this.over]) group.setAttribute('transform', transform);
    const { width, height } = rig.screen;
    const finest = Math.sqrt(MOST_PIXELS / (width * height));
    const dpr = Math.min(this.dpr, finest);
    const size = `${width} ${height} ${dpr}`;
    const isOther = isNew || hasMoved || size !== this.size;
    this.size = size;
    if (
      isOther ||
      state.coverageVersion !== drawn.coverageVersion ||
      state.plane !== drawn.plane ||
      state.show !== drawn.show
    )
      drawFieldOn(this.canvas, state, frame, placing, { width, height, dpr });
    this.lines.draw(view.root, state.theme, placing);
    if (isOther || this.writings !== view.labels.writings) {
      this.writings = view.labels.writings;
      this.words.replaceChildren(...drawWords(view.labels.listWritten(), placing, rig.screen));
    }
    const { paper, surround } = PALETTES[state.theme];
    this.page.style.background = state.floor.rooms.length === 0 ? paper : surround;
    this.drawn = state;
    this.drawnFrame = frame;
    window.__lacunaFrames = (window.__lacunaFrames ?? 0) + 1;
    if (state.coverage !== null) document.documentElement.dataset.heatmap = 'ready';
    for (const told of view.drawnListeners) told();
    if (moving) this.ask();
  }

  dispose(): void {
    this.isGone = true;
    this.stopPresenting();
    this.observer.disconnect();
    this.view.dispose();
    for (const layer of this.page.querySelectorAll(':scope > .flat-layer')) layer.remove();
  }
}
