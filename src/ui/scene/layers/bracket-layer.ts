/** Four corners round what is selected and round the place of a finding: brackets, no boxes. */
import { Group } from 'three';
import { type Floor, lensHeightOf } from '../../../core/floor/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { indexOfId } from '../../../editor/things.ts';
import { LINE } from '../../tokens.ts';
import { boxOf, joinBoxes, type TurnedBox } from '../geometry/extents.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { COLOUR } from '../paint.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';

const INK: LineStyle = { width: LINE.bracket, colour: COLOUR.ink };
const CASING: LineStyle = { width: LINE.bracket + 2, colour: COLOUR.paper, alpha: 0.85 };
/** Arm and distance of a bracket, px. */
const ARM = 11;
const PAD = 6;
/** Half the bracket round a detector, px. */
const LENS = 16;
/** Places of one finding further apart than this are bracketed one by one, metres. */
const TOGETHER = 14;

interface Bracket {
  readonly box: TurnedBox;
  /** Half-size in px at least: signs do not grow with the zoom. */
  readonly px: number;
}

export class BracketLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly casing: LineBatch;
  private readonly lines: LineBatch;
  private brackets: readonly Bracket[] = [];
  private version = -1;

  constructor(context: SceneContext) {
    this.context = context;
    this.casing = new LineBatch(context.materials.overLine, ORDER.brackets - 1);
    this.lines = new LineBatch(context.materials.overLine, ORDER.brackets);
    this.root.add(this.casing.mesh, this.lines.mesh);
  }

  sync(state: EditorState, before: EditorState | null): void {
    const moved = differs(
      state,
      before,
      'detectors',
      'furniture',
      'workplaces',
      'rooms',
      'zones',
      'openings',
      'sources',
    );
    const same =
      state.selection === before?.selection && state.flyTo === before.flyTo && state.finding === before.finding;
    if (!moved && same) return;
    const floor = shownFloor(state);
    this.brackets = [
      ...state.selection.flatMap((id) => this.bracketOf(floor, id)),
      ...(state.finding === null || state.flyTo === null ? [] : this.bracketsOfPlace(floor, state.flyTo)),
    ];
    this.version = -1;
  }

  private bracketOf(floor: Floor, id: string): Bracket[] {
    const { frame } = this.context;
    const detector = floor.detectors[indexOfId(floor.detectors, id)];
    if (detector !== undefined) {
      const z = lensHeightOf(detector, floor);
      const at = { x: detector.at[0] - frame.x, y: detector.at[1] - frame.y };
      return [{ box: { ...at, ux: 1, uy: 0, halfU: 0, halfV: 0, base: z, top: z }, px: LENS }];
    }
    const box = boxOf(floor, id, frame);
    return box === null ? [] : [{ box, px: 8 }];
  }

  /** A finding's workplaces together, else its own place. */
  private bracketsOfPlace(floor: Floor, { at, ids }: NonNullable<EditorState['flyTo']>): Bracket[] {
    const { frame } = this.context;
    const seats = ids.filter((id) => indexOfId(floor.workplaces, id) >= 0);
    const boxes = seats.flatMap((id) => boxOf(floor, id, frame) ?? []);
    const joined = joinBoxes(boxes);
    if (joined !== null && Math.max(joined.halfU, joined.halfV) * 2 <= TOGETHER) return [{ box: joined, px: 10 }];
    if (boxes.length > 0) return boxes.map((box) => ({ box, px: 10 }));
    const z = floor.analysis.seatedPlane;
    const place = { x: at[0] - frame.x, y: at[1] - frame.y, ux: 1, uy: 0, halfU: 0.6, halfV: 0.6 };
    return [{ box: { ...place, base: z, top: z }, px: 14 }];
  }

  follow(): void {
    const { rig, shared } = this.context;
    if (this.version === rig.version) return;
    this.version = rig.version;
    const metre = 1 / shared.pxPerMetre.value;
    for (const batch of [this.casing, this.lines]) batch.clear();
    for (const bracket of this.brackets) this.draw(bracket, metre, rig.lean > 0.3);
    for (const batch of [this.casing, this.lines]) batch.flush();
    this.root.visible = rig.walk < 0.5;
  }

  private draw({ box, px }: Bracket, metre: number, standing: boolean): void {
    const halfU = Math.max(box.halfU + PAD * metre, px * metre);
    const halfV = Math.max(box.halfV + PAD * metre, px * metre);
    const armU = Math.min(ARM * metre, halfU * 0.7);
    const armV = Math.min(ARM * metre, halfV * 0.7);
    const { x, y, ux, uy } = box;
    const z = box.top;
    const drop = Math.min(ARM * 1.6 * metre, (box.top - box.base) * 0.45);
    for (const su of [-1, 1]) {
      for (const sv of [-1, 1]) {
        const at = (u: number, v: number): readonly [number, number] => [x + u * ux - v * uy, y + u * uy + v * ux];
        const [cx, cy] = at(su * halfU, sv * halfV);
        const ends = [at(su * (halfU - armU), sv * halfV), at(su * halfU, sv * (halfV - armV))];
        for (const [ex, ey] of ends) {
          this.casing.add(cx, cy, z, ex, ey, z, CASING);
          this.lines.add(cx, cy, z, ex, ey, z, INK);
        }
        if (standing && drop > 0) this.lines.add(cx, cy, z, cx, cy, z - drop, INK);
      }
    }
  }

  dispose(): void {
    this.casing.dispose();
    this.lines.dispose();
  }
}
