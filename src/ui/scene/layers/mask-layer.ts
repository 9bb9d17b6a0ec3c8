/** Masks of the selected detector: sectors with their handles, and a degree dial while one works on them. */
import { BufferAttribute, BufferGeometry, DoubleSide, Group, Mesh } from 'three';
import type { Detector, Floor } from '../../../core/floor/index.ts';
import { type EditorState, type MaskHandle, shownFloor } from '../../../editor/store.ts';
import { DASH, LINE, TARGET } from '../../tokens.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { MarkBatch } from '../geometry/mark-batch.ts';
import { arcOf, listGrips, type MaskShape, shapeMask } from '../geometry/mask-shape.ts';
import { createVeilMaterial } from '../materials/flat-material.ts';
import { GLYPH } from '../materials/mark-material.ts';
import { COLOUR } from '../paint.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';
import { selectedDetector } from './range-layer.ts';

const EDGE: LineStyle = { width: LINE.mask, colour: COLOUR.ink };
const OPEN_EDGE: LineStyle = { width: LINE.mask, colour: COLOUR.ink, dash: DASH.before };
const CASING: LineStyle = { width: LINE.mask + 2.5, colour: COLOUR.paper, alpha: 0.75 };
const GUIDE: LineStyle = { width: 1, colour: COLOUR.ink, dash: [1.5, 3], alpha: 0.6 };
const DIAL: LineStyle = { width: 1, colour: COLOUR.ink, alpha: 0.6 };
const DIAL_RADIUS = 1.05;

/** A handle that can be taken in hand, local metres. */
export interface Grip extends MaskHandle {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

export class MaskLayer implements Layer {
  readonly root = new Group();
  /** The handles on screen, for the pointer. */
  grips: readonly Grip[] = [];
  private readonly context: SceneContext;
  private readonly casing: LineBatch;
  private readonly lines: LineBatch;
  private readonly handles: MarkBatch;
  private readonly veil: Mesh<BufferGeometry, ReturnType<typeof createVeilMaterial>>;

  constructor(context: SceneContext) {
    const { overLine, overMark } = context.materials;
    this.context = context;
    this.casing = new LineBatch(overLine, ORDER.masks - 1);
    this.lines = new LineBatch(overLine, ORDER.masks);
    this.handles = new MarkBatch(overMark, ORDER.handles);
    this.veil = new Mesh(new BufferGeometry(), createVeilMaterial(context.shared, COLOUR.ink, 0.07, DoubleSide));
    this.veil.material.depthTest = false;
    this.veil.renderOrder = ORDER.masks - 2;
    this.veil.frustumCulled = false;
    this.root.add(this.veil, this.casing.mesh, this.lines.mesh, this.handles.mesh);
  }

  sync(state: EditorState, before: EditorState | null): void {
    const changed = differs(state, before, 'detectors', 'types', 'rooms', 'analysis');
    const same =
      state.selection === before?.selection &&
      state.maskHandle === before.maskHandle &&
      state.tool === before.tool &&
      state.plane === before.plane;
    if (!changed && same) return;
    const batches = [this.casing, this.lines, this.handles];
    for (const batch of batches) batch.clear();
    const shown = new Set<string>();
    const corners: number[] = [];
    const grips: Grip[] = [];
    const detector = selectedDetector(state);
    if (detector !== null) {
      const floor = shownFloor(state);
      const shapes = detector.masks.map((mask) => shapeMask(floor, detector, mask, state.plane, this.context.frame));
      shapes.forEach((shape, i) => {
        this.draw(detector, i, shape, state, corners, grips, shown);
      });
      if (state.tool === 'mask' || state.maskHandle !== null) this.drawDial(floor, detector, state, shown);
    }
    this.grips = grips;
    this.context.overlay.clear('mask ', shown);
    for (const batch of batches) batch.flush();
    this.veil.geometry.dispose();
    this.veil.geometry = new BufferGeometry().setAttribute(
      'position',
      new BufferAttribute(new Float32Array(corners), 3),
    );
    this.veil.visible = corners.length > 0;
  }

  private draw(
    detector: Detector,
    mask: number,
    shape: MaskShape,
    state: EditorState,
    corners: number[],
    grips: Grip[],
    shown: Set<string>,
  ): void {
    const { x, y, z, from, to, inner, outer, open } = shape;
    const innerArc = arcOf(shape, inner);
    const outerArc = arcOf(shape, outer);
    for (let i = 0; i + 3 < outerArc.length; i += 2) {
      const [ax = 0, ay = 0, bx = 0, by = 0] = innerArc.slice(i, i + 4);
      const [px = 0, py = 0, qx = 0, qy = 0] = outerArc.slice(i, i + 4);
      corners.push(ax, ay, z, px, py, z, qx, qy, z, ax, ay, z, qx, qy, z, bx, by, z);
    }
    const ring = to - from > 2 * Math.PI - 1e-6;
    this.casing.addPolyline(outerArc, z, CASING);
    this.casing.addPolyline(innerArc, z, CASING);
    this.lines.addPolyline(outerArc, z, open ? OPEN_EDGE : EDGE);
    this.lines.addPolyline(innerArc, z, EDGE);
    for (const angle of ring ? [] : [from, to]) {
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      this.casing.add(x + inner * c, y + inner * s, z, x + outer * c, y + outer * s, z, CASING);
      this.lines.add(x + inner * c, y + inner * s, z, x + outer * c, y + outer * s, z, EDGE);
      this.lines.add(x, y, z, x + inner * c, y + inner * s, z, GUIDE);
    }
    const held =
      state.maskHandle?.detector === detector.id && state.maskHandle.mask === mask ? state.maskHandle.part : null;
    const { from: a, to: b, inner: n, outer: m } = detector.masks[mask] ?? { from: 0, to: 0, inner: 0, outer: 90 };
    const words = { from: a, to: b, inner: n, outer: m, turn: null };
    for (const grip of listGrips(shape)) {
      const round = grip.part === 'turn';
      const full = held === grip.part;
      const glyph = round ? (full ? GLYPH.circleFull : GLYPH.circle) : full ? GLYPH.squareFull : GLYPH.square;
      this.handles.add(grip.x, grip.y, z, {
        glyph,
        colour: COLOUR.ink,
        radius: TARGET.handleDrawn / 2,
        turn: grip.turn,
      });
      grips.push({ detector: detector.id, mask, part: grip.part, x: grip.x, y: grip.y, z });
      const angle = words[grip.part];
      if (angle === null || (grip.part === 'outer' && !full)) continue;
      const key = `mask ${mask} ${grip.part}`;
      shown.add(key);
      // Beside the handle, on the far side of the mask.
      const way =
        grip.part === 'from' ? from - Math.PI / 2 : grip.part === 'to' ? to + Math.PI / 2 : grip.turn + Math.PI;
      const [dx, dy] = [14 * Math.cos(way), -14 * Math.sin(way)];
      const align = Math.abs(dx) < 5 ? 'centre' : dx > 0 ? 'left' : 'right';
      this.context.overlay.set(key, {
        x: grip.x,
        y: grip.y,
        z,
        dx,
        dy,
        align,
        name: `${grip.part} ${tidyDegrees(angle)}°`,
        text: '',
      });
    }
  }

  private drawDial(floor: Floor, detector: Detector, state: EditorState, shown: Set<string>): void {
    const { frame, overlay } = this.context;
    const shape = shapeMask(floor, detector, { from: 0, to: 360, inner: 0, outer: 90 }, state.plane, frame);
    const { x, y, z } = shape;
    this.lines.addPolyline(arcOf(shape, DIAL_RADIUS), z, DIAL);
    for (let degrees = 0; degrees < 360; degrees += 15) {
      const angle = ((degrees + detector.turn) * Math.PI) / 180;
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      const inner = DIAL_RADIUS - (degrees % 90 === 0 ? 0.16 : degrees % 45 === 0 ? 0.11 : 0.07);
      this.lines.add(x + inner * c, y + inner * s, z, x + DIAL_RADIUS * c, y + DIAL_RADIUS * s, z, DIAL);
      if (degrees % 90 !== 0) continue;
      const key = `mask dial ${degrees}`;
      shown.add(key);
      const [lx, ly] = [x + (DIAL_RADIUS + 0.02) * c, y + (DIAL_RADIUS + 0.02) * s];
      overlay.set(key, { x: lx, y: ly, z, dx: 14 * c, dy: -12 * s, align: 'centre', text: `${degrees}°` });
    }
  }

  dispose(): void {
    for (const batch of [this.casing, this.lines, this.handles]) batch.dispose();
    this.veil.geometry.dispose();
    this.veil.material.dispose();
  }
}

function tidyDegrees(angle: number): string {
  return String(Math.round(angle * 10) / 10);
}
