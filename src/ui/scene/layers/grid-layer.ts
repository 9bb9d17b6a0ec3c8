/** The empty page: a grid to draw in, so that a length can be judged before there is a room. */
import { Group } from 'three';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { COLOUR } from '../paint.ts';
import { type Layer, ORDER, type SceneContext } from './layer.ts';

const FINE: LineStyle = { width: 1, colour: COLOUR.hair, alpha: 0.55 };
const STRONG: LineStyle = { width: 1, colour: COLOUR.hair };
/** Metres from line to line; the first that leaves room between two lines. */
const PITCHES = [0.1, 0.5, 1, 5, 10, 50, 100] as const;
const LEAST_PX = 14;
/** Every fifth line is strong. */
const STRONG_EVERY = 5;
/** Lines to either side of the middle at most. */
const MOST = 120;

export class GridLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly lines: LineBatch;
  private isEmpty = false;
  private version = -1;

  constructor(context: SceneContext) {
    this.context = context;
    this.lines = new LineBatch(context.materials.line, ORDER.grid);
    this.root.add(this.lines.mesh);
  }

  sync(state: EditorState, _before: EditorState | null): void {
    const isEmpty = state.floor.rooms.length === 0 || shownFloor(state).rooms.length === 0;
    if (isEmpty !== this.isEmpty) this.version = -1;
    this.isEmpty = isEmpty;
  }

  follow(): void {
    const { rig, shared, frame } = this.context;
    if (!this.isEmpty || this.version === rig.version) {
      if (!this.isEmpty) this.lines.mesh.visible = false;
      return;
    }
    this.version = rig.version;
    this.lines.clear();
    const px = shared.pxPerMetre.value;
    const pitch = PITCHES.find((each) => each * px >= LEAST_PX) ?? PITCHES[PITCHES.length - 1] ?? 100;
    const { width, height } = rig.screen;
    // In the model more of the floor is seen than straight from above.
    const span = (Math.hypot(width, height) / px) * (rig.lean > 0.02 ? 1.2 : 0.55);
    const reach = Math.min(MOST, Math.ceil(span / pitch));
    const { x, y } = rig.view;
    const middle = (local: number, origin: number): number => Math.round((local + origin) / pitch);
    const [i0, j0] = [middle(x, frame.x), middle(y, frame.y)];
    const far = reach * pitch;
    for (let k = -reach; k <= reach; k++) {
      const [i, j] = [i0 + k, j0 + k];
      const [u, v] = [i * pitch - frame.x, j * pitch - frame.y];
      const [cx, cy] = [i0 * pitch - frame.x, j0 * pitch - frame.y];
      this.lines.add(u, cy - far, 0, u, cy + far, 0, i % STRONG_EVERY === 0 ? STRONG : FINE);
      this.lines.add(cx - far, v, 0, cx + far, v, 0, j % STRONG_EVERY === 0 ? STRONG : FINE);
    }
    this.lines.flush();
    this.lines.mesh.visible = rig.walk < 0.5;
  }

  dispose(): void {
    this.lines.dispose();
  }
}
