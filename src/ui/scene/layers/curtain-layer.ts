/** The shadow of the one selected piece, in the model: what it hides from the nearest lens above it. */
import { BufferAttribute, BufferGeometry, DoubleSide, Group, Mesh } from 'three';
import { type Floor, findRoomAt, lensHeightOf } from '../../../core/floor/index.ts';
import { outerRadius, rangeAt } from '../../../core/sight/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { indexOfId, middleOf } from '../../../editor/things.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { type Curtain, hangCurtain } from '../geometry/shadow-curtain.ts';
import { createVeilMaterial } from '../materials/flat-material.ts';
import { COLOUR } from '../paint.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';

const RED: LineStyle = { width: 1.5, colour: COLOUR.accent };
const INK: LineStyle = { width: 1.5, colour: COLOUR.ink };

export class CurtainLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly veil: Mesh<BufferGeometry, ReturnType<typeof createVeilMaterial>>;
  private readonly lines: LineBatch;
  /** The state that has not been drawn yet. */
  private stale: EditorState | null = null;

  constructor(context: SceneContext) {
    this.context = context;
    this.veil = new Mesh(new BufferGeometry(), createVeilMaterial(context.shared, COLOUR.accent, 0.14, DoubleSide));
    this.veil.renderOrder = ORDER.curtain;
    this.veil.frustumCulled = false;
    this.lines = new LineBatch(context.materials.line, ORDER.curtain + 1);
    this.root.add(this.veil, this.lines.mesh);
  }

  sync(state: EditorState, before: EditorState | null): void {
    const changed = differs(state, before, 'detectors', 'furniture', 'types', 'rooms', 'analysis');
    if (!changed && state.selection === before?.selection && state.plane === before.plane) return;
    this.stale = state;
  }

  private draw(state: EditorState): void {
    const hung = this.hang(shownFloor(state), state);
    this.lines.clear();
    if (hung !== null) {
      for (const [from, to] of hung.curtain.rays) {
        this.lines.add(...hung.lens, ...from, INK);
        this.lines.add(...from, ...to, RED);
      }
      for (const [from, to] of hung.curtain.rim) this.lines.add(...from, ...to, RED);
    }
    this.lines.flush();
    const corners = new Float32Array(hung?.curtain.corners ?? []);
    this.veil.geometry.dispose();
    this.veil.geometry = new BufferGeometry().setAttribute('position', new BufferAttribute(corners, 3));
  }

  /** The curtain from the nearest lens whose range reaches the piece. */
  private hang(floor: Floor, state: EditorState): { curtain: Curtain; lens: readonly [number, number, number] } | null {
    const [id, ...others] = state.selection;
    if (id === undefined || others.length > 0) return null;
    const piece = floor.furniture[indexOfId(floor.furniture, id)];
    if (piece === undefined) return null;
    const { frame } = this.context;
    const middle = middleOf(piece.outline);
    const room = findRoomAt(floor.rooms, middle);
    const plane = state.plane === 'seated' ? floor.analysis.seatedPlane : floor.analysis.walkingPlane;
    const motion = state.plane === 'seated' ? 'minor' : 'radial';
    const near = floor.detectors
      .map((detector) => ({ detector, far: Math.hypot(detector.at[0] - middle[0], detector.at[1] - middle[1]) }))
      .sort((a, b) => a.far - b.far);
    for (const { detector, far } of near) {
      if (findRoomAt(floor.rooms, detector.at) !== room) continue;
      const reach = outerRadius(rangeAt(floor, detector, motion, plane));
      if (reach <= far) continue;
      const lens = [detector.at[0] - frame.x, detector.at[1] - frame.y, lensHeightOf(detector, floor)] as const;
      const curtain = hangCurtain(piece, lens, plane, reach, frame);
      if (curtain !== null) return { curtain, lens };
    }
    return null;
  }

  follow(): void {
    const { lean, walk } = this.context.rig;
    const shows = lean > 0.4 && walk < 0.5;
    // From above it cannot be seen, and is not worked out.
    if (shows && this.stale !== null) {
      this.draw(this.stale);
      this.stale = null;
    }
    this.veil.visible = shows && this.lines.length > 0;
    this.lines.mesh.visible = shows && this.lines.length > 0;
  }

  dispose(): void {
    this.lines.dispose();
    this.veil.geometry.dispose();
    this.veil.material.dispose();
  }
}
