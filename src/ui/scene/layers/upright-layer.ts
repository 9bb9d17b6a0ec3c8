/** Thin red uprights under the corners of blind areas, in the model. */
import { Group } from 'three';
import type { EditorState } from '../../../editor/store.ts';
import { findBlindCorners } from '../field/blind-corners.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { COLOUR } from '../paint.ts';
import { type Layer, ORDER, type SceneContext } from './layer.ts';

const UPRIGHT: LineStyle = { width: 1, colour: COLOUR.accent, alpha: 0.7 };

export class UprightLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly lines: LineBatch;
  private state: EditorState | null = null;
  private stale = true;

  constructor(context: SceneContext) {
    this.context = context;
    this.lines = new LineBatch(context.materials.line, ORDER.field + 1);
    this.root.add(this.lines.mesh);
  }

  sync(state: EditorState, before: EditorState | null): void {
    const same = state.coverageVersion === before?.coverageVersion && state.coverage === before.coverage;
    if (!same || state.plane !== before?.plane) this.stale = true;
    this.state = state;
  }

  follow(): void {
    const { rig, frame } = this.context;
    const shows = rig.lean > 0.5 && rig.walk < 0.5;
    const coverage = this.state?.coverage;
    if (shows && this.stale && this.state && coverage) {
      this.stale = false;
      this.lines.clear();
      const corners = findBlindCorners(coverage, this.state.plane);
      const { height } = coverage[this.state.plane];
      for (let k = 0; k < corners.length; k += 2) {
        const [x, y] = [(corners[k] as number) - frame.x, (corners[k + 1] as number) - frame.y];
        this.lines.add(x, y, height, x, y, 0, UPRIGHT);
      }
      this.lines.flush();
    }
    this.lines.mesh.visible = shows && this.lines.length > 0 && coverage !== null;
  }

  dispose(): void {
    this.lines.dispose();
  }
}
