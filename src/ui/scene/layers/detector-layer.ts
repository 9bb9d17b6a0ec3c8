/** Detectors: discs at their lenses, and in the model a dashed line down to the floor. */
import { Group } from 'three';
import type { Floor } from '../../../core/floor/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { MarkBatch } from '../geometry/mark-batch.ts';
import { heightOfLens } from '../lens-height.ts';
import { GLYPH } from '../materials/mark-material.ts';
import { COLOUR } from '../paint.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';

/** Radius of a detector's disc, px. */
const DISC = 5.5;
const DROP: LineStyle = { width: 1, colour: COLOUR.ink, dash: [4, 4], alpha: 0.5 };

export class DetectorLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly marks: MarkBatch;
  private readonly drops: LineBatch;
  /** Detectors that miss the place asked about: drawn hollow. */
  private hollow: ReadonlySet<string> = new Set();

  constructor(context: SceneContext) {
    this.context = context;
    this.marks = new MarkBatch(context.materials.lensMark, ORDER.detectors);
    this.drops = new LineBatch(context.materials.line, ORDER.edges);
    this.root.add(this.marks.mesh, this.drops.mesh);
  }

  sync(state: EditorState, before: EditorState | null): void {
    this.root.visible = !state.hiddenKinds.has('detector');
    if (differs(state, before, 'detectors', 'groups', 'rooms', 'types')) this.draw(shownFloor(state));
  }

  /** Says which detectors miss the place asked about. */
  showHollow(hollow: ReadonlySet<string>, floor: Floor): void {
    if (hollow.size === 0 && this.hollow.size === 0) return;
    this.hollow = hollow;
    this.draw(floor);
  }

  private draw(floor: Floor): void {
    const { marks, drops, hollow } = this;
    const { frame } = this.context;
    const mains = new Set<string>(floor.groups.map((group) => group.main));
    marks.clear();
    drops.clear();
    for (const detector of floor.detectors) {
      const main = mains.has(detector.id);
      const z = heightOfLens(detector, floor);
      const x = detector.at[0] - frame.x;
      const y = detector.at[1] - frame.y;
      const missing = hollow.has(detector.id);
      const glyph =
        detector.status === 'remove'
          ? GLYPH.removed
          : missing
            ? main
              ? GLYPH.hollowMain
              : GLYPH.hollow
            : main
              ? GLYPH.main
              : GLYPH.detector;
      marks.add(x, y, z, { glyph, colour: COLOUR.ink, radius: DISC });
      drops.add(x, y, z, x, y, 0, DROP);
    }
    marks.flush();
    drops.flush();
  }

  follow(): void {
    const { lean, walk } = this.context.rig;
    this.drops.mesh.visible = this.drops.length > 0 && lean > 0.5 && walk < 0.5;
  }

  dispose(): void {
    this.marks.dispose();
    this.drops.dispose();
  }
}
