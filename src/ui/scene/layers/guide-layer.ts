/** What the tool in hand shows beside the floor: lines, lengths, angles, marks with the word of what they stand on. */
import { Group } from 'three';
import type { Point, Ring } from '../../../core/floor/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import type { Guide, GuideMark, GuideStyle } from '../../../editor/tools/guide.ts';
import { DASH, LINE, TARGET } from '../../tokens.ts';
import { drawAngles } from '../geometry/guide-angles.ts';
import { crossSegments, isSameGuides } from '../geometry/guide-shapes.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { MarkBatch, type MarkLook } from '../geometry/mark-batch.ts';
import { drawNearTiles } from '../geometry/near-tiles.ts';
import { GLYPH } from '../materials/mark-material.ts';
import { COLOUR } from '../paint.ts';
import { type Layer, ORDER, type SceneContext } from './layer.ts';
import { workLevel } from './work-level.ts';

const INK = COLOUR.ink;
const STYLES: Readonly<Record<GuideStyle, LineStyle>> = {
  drawn: { width: LINE.drawing + 0.25, colour: INK },
  help: { width: 1, colour: COLOUR.ink2, dash: [4, 4] },
  path: { width: 1.25, colour: INK, dash: DASH.before },
  fault: { width: 2.5, colour: INK, dash: [2, 3] },
  cable: { width: 1, colour: INK },
};
const CASING: LineStyle = { width: LINE.drawing + 3, colour: COLOUR.paper, alpha: 0.8 };
const DIMENSION: LineStyle = { width: 1, colour: COLOUR.ink2 };
const FRAME: LineStyle = { width: 1, colour: INK, dash: [4, 3] };
/** Px: half the cross of the hand, half the tick at the end of a dimension, an arrow and its head. */
const CROSS = 9;
const TICK = 4;
const ARROW = 30;
const HEAD = 6;
/** A dimension shorter than this on screen has no room for its number, px. */
const LEAST_DIMENSION = 14;
const MOST_WORDS = 48;
const CIRCLE_STEPS = 72;

const MARKS: Readonly<Record<Exclude<GuideMark, 'hand'>, Pick<MarkLook, 'glyph' | 'radius' | 'width'>>> = {
  corner: { glyph: GLYPH.square, radius: 4 },
  midpoint: { glyph: GLYPH.circle, radius: 4 },
  edge: { glyph: GLYPH.circleOutline, radius: 4, width: 1.5 },
  crossing: { glyph: GLYPH.cross, radius: 6 },
  centre: { glyph: GLYPH.target, radius: 5 },
  tile: { glyph: GLYPH.circleOutline, radius: 6, width: 1.5 },
  handle: { glyph: GLYPH.square, radius: TARGET.handleDrawn / 2 },
  held: { glyph: GLYPH.squareFull, radius: TARGET.handleDrawn / 2 },
  turn: { glyph: GLYPH.circle, radius: TARGET.handleDrawn / 2 },
  turning: { glyph: GLYPH.circleFull, radius: TARGET.handleDrawn / 2 },
  fault: { glyph: GLYPH.cross, radius: 7 },
};

export class GuideLayer implements Layer {
  readonly root = new Group();
  /** Whether the last sync has changed what is drawn. */
  changed = false;
  private readonly context: SceneContext;
  private readonly casing: LineBatch;
  private readonly lines: LineBatch;
  private readonly tiles: LineBatch;
  private readonly marks: MarkBatch;
  private guides: readonly Guide[] = [];
  private sketch: readonly Guide[] = [];
  private state: EditorState | null = null;
  private version = -1;

  constructor(context: SceneContext) {
    const { overLine, overMark } = context.materials;
    this.context = context;
    this.casing = new LineBatch(overLine, ORDER.guides - 1);
    this.lines = new LineBatch(overLine, ORDER.guides);
    this.tiles = new LineBatch(overLine, ORDER.tiles);
    this.marks = new MarkBatch(overMark, ORDER.handles);
    this.root.add(this.tiles.mesh, this.casing.mesh, this.lines.mesh, this.marks.mesh);
  }

  sync(state: EditorState, before: EditorState | null): void {
    const guides = state.toolRun?.guides ?? [];
    this.changed = before === null || !isSameGuides(guides, this.guides) || state.sketch !== this.sketch;
    this.state = state;
    if (!this.changed) return;
    this.guides = guides;
    this.sketch = state.sketch;
    this.version = -1;
  }

  follow(): void {
    const { rig, shared, overlay } = this.context;
    if (this.version === rig.version) return;
    this.version = rig.version;
    const batches = [this.casing, this.lines, this.tiles, this.marks];
    for (const batch of batches) batch.clear();
    const shown = new Set<string>();
    if (this.state !== null && rig.walk < 0.5) {
      const metre = 1 / shared.pxPerMetre.value;
      const pen = { z: workLevel(this.state), metre, shown };
      for (const guide of this.sketch) this.draw(guide, pen, this.state);
      for (const guide of this.guides) this.draw(guide, pen, this.state);
      this.drawCrossings(pen);
    }
    overlay.clear('guide ', shown);
    for (const batch of batches) batch.flush();
  }

  private draw(guide: Guide, pen: Pen, state: EditorState): void {
    switch (guide.kind) {
      case 'mark':
        this.drawMark(guide, pen);
        break;
      case 'line':
        this.line(guide.from, guide.to, STYLES[guide.style], pen, guide.style !== 'help');
        if (guide.style === 'path') this.mark(guide.from, pen, { glyph: GLYPH.dashedRing, radius: 6, width: 1.5 });
        break;
      case 'length':
        this.drawLength(guide, pen);
        break;
      case 'outline':
        this.ring(guide.ring, STYLES[guide.style], pen, guide.isClosed);
        if (guide.style === 'drawn') this.drawAngles(guide.ring, guide.isClosed, pen);
        break;
      case 'circle': {
        const [x, y] = guide.at;
        const steps = Array.from({ length: CIRCLE_STEPS }, (_, i): Point => {
          const angle = (i / CIRCLE_STEPS) * 2 * Math.PI;
          return [x + guide.radius * Math.cos(angle), y + guide.radius * Math.sin(angle)];
        });
        this.ring(steps, STYLES[guide.style], pen, true);
        break;
      }
      case 'words':
        this.say(guide.at, guide.text, pen, { dx: 0, dy: -11, align: 'centre' });
        break;
      case 'arrow':
        this.drawArrow(guide.at, guide.direction, pen);
        break;
      case 'tiles': {
        const tiles = shownFloor(state).rooms.find(({ id }) => id === guide.room)?.tiles;
        const [x, y] = this.local(guide.at);
        if (tiles !== undefined) drawNearTiles(this.tiles, tiles, this.context.frame, x, y, pen.z);
        break;
      }
      case 'frame': {
        const [[ax, ay], [bx, by]] = [guide.from, guide.to];
        const ring: Ring = [guide.from, [bx, ay], guide.to, [ax, by]];
        this.ring(ring, FRAME, pen, true);
        break;
      }
    }
  }

  private local([x, y]: Point): readonly [number, number] {
    return [x - this.context.frame.x, y - this.context.frame.y];
  }

  private line(from: Point, to: Point, style: LineStyle, { z }: Pen, cased: boolean): void {
    const [[ax, ay], [bx, by]] = [this.local(from), this.local(to)];
    if (cased) this.casing.add(ax, ay, z, bx, by, z, CASING);
    this.lines.add(ax, ay, z, bx, by, z, style);
  }

  private ring(ring: Ring, style: LineStyle, { z }: Pen, isClosed: boolean): void {
    const xy = ring.flatMap((corner) => this.local(corner));
    this.casing.addPolyline(xy, z, CASING, isClosed);
    this.lines.addPolyline(xy, z, style, isClosed);
  }

  private mark(at: Point, { z }: Pen, look: Pick<MarkLook, 'glyph' | 'radius' | 'width'>): void {
    const [x, y] = this.local(at);
    this.marks.add(x, y, z, { ...look, colour: INK });
  }

  private drawMark({ mark, at, words }: Extract<Guide, { kind: 'mark' }>, pen: Pen): void {
    if (mark === 'hand') this.drawCross(at, pen);
    else this.mark(at, pen, MARKS[mark]);
    if (words !== undefined) this.say(at, words, pen, { dx: 14, dy: 16, align: 'left', className: 'scene-snap' });
  }

  /** Where the hand is, by pointer or by keys. */
  private drawCross([x, y]: Point, pen: Pen): void {
    const half = CROSS * pen.metre;
    for (const [dx, dy] of [
      [half, 0],
      [0, half],
    ] as const)
      this.line([x - dx, y - dy], [x + dx, y + dy], STYLES.drawn, pen, true);
  }

  private drawLength({ from, to, text }: Extract<Guide, { kind: 'length' }>, pen: Pen): void {
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (length === 0) return;
    this.line(from, to, DIMENSION, pen, true);
    const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
    const [tx, ty] = [-uy * TICK * pen.metre, ux * TICK * pen.metre];
    for (const [x, y] of [from, to]) this.line([x - tx, y - ty], [x + tx, y + ty], DIMENSION, pen, false);
    const [a, b] = [from, to].map((end) => {
      const [x, y] = this.local(end as Point);
      return this.context.rig.project(x, y, pen.z);
    });
    if (!a || !b || Math.hypot(a[0] - b[0], a[1] - b[1]) < LEAST_DIMENSION) return;
    // Beside an upright line, above a level one.
    const isUpright = Math.abs(a[1] - b[1]) > Math.abs(a[0] - b[0]);
    const place = isUpright
      ? ({ dx: 8, dy: 0, align: 'left' } as const)
      : ({ dx: 0, dy: -11, align: 'centre' } as const);
    this.say([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], text, pen, place);
  }

  private drawAngles(ring: Ring, isClosed: boolean, pen: Pen): void {
    for (const { lines, at, text, towards } of drawAngles(ring, isClosed, pen.metre)) {
      for (const [from, to] of lines) this.line(from, to, DIMENSION, pen, false);
      if (text !== null) {
        const [dx, dy] = [towards[0] * 30, -towards[1] * 22];
        this.say(at, text, pen, { dx, dy, align: 'centre' });
      }
    }
  }

  private drawArrow([x, y]: Point, direction: number, pen: Pen): void {
    const angle = (direction * Math.PI) / 180;
    const put = (from: Point, turn: number, px: number): Point => [
      from[0] + Math.cos(angle + turn) * px * pen.metre,
      from[1] + Math.sin(angle + turn) * px * pen.metre,
    ];
    const tip = put([x, y], 0, ARROW);
    this.line([x, y], tip, STYLES.drawn, pen, true);
    for (const turn of [2.6, -2.6]) this.line(tip, put(tip, turn, HEAD), STYLES.drawn, pen, false);
  }

  /** A cross where an outline would cross itself. */
  private drawCrossings(pen: Pen): void {
    const faults = this.guides.filter((guide) => guide.kind === 'line').filter(({ style }) => style === 'fault');
    const [first, second] = faults;
    if (first === undefined) return;
    const met = second === undefined ? null : crossSegments(first.from, first.to, second.from, second.to);
    const at: Point = met ?? [(first.from[0] + first.to[0]) / 2, (first.from[1] + first.to[1]) / 2];
    this.mark(at, pen, MARKS.fault);
  }

  private say(at: Point, text: string, pen: Pen, place: Beside): void {
    if (pen.shown.size >= MOST_WORDS) return;
    const [x, y] = this.local(at);
    const key = `guide ${pen.shown.size}`;
    pen.shown.add(key);
    this.context.overlay.set(key, { x, y, z: pen.z, ...place, text });
  }

  dispose(): void {
    for (const batch of [this.casing, this.lines, this.tiles, this.marks]) batch.dispose();
  }
}

interface Pen {
  readonly z: number;
  /** Metres of a px. */
  readonly metre: number;
  /** Keys of the words that are on screen. */
  readonly shown: Set<string>;
}

interface Beside {
  readonly dx: number;
  readonly dy: number;
  readonly align: 'left' | 'centre';
  readonly className?: string;
}
