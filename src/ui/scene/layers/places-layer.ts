/** Workplaces, sources and zones. */
import { Group } from 'three';
import type { WorkplaceResult } from '../../../core/coverage/index.ts';
import type { Floor } from '../../../core/floor/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { MarkBatch } from '../geometry/mark-batch.ts';
import { localOutline } from '../geometry/prisms.ts';
import { isSameVerdicts } from '../labels/floor-labels.ts';
import { GLYPH } from '../materials/mark-material.ts';
import { COLOUR } from '../paint.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';

/** From this many px per metre on a workplace is drawn as its true disc. */
export const CLOSE_UP = 45;
const ZONE: LineStyle = { width: 1, colour: COLOUR.ink2, dash: [1.5, 3] };

export class PlacesLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly met: MarkBatch;
  private readonly missed: MarkBatch;
  private readonly missedBehind: MarkBatch;
  private readonly sources: MarkBatch;
  private readonly zones: LineBatch;
  private workplaces: readonly WorkplaceResult[] | null = null;
  private closeUp = false;
  private leaning = false;
  private floor: Floor | null = null;
  private hidden: EditorState['hiddenKinds'] = new Set();

  constructor(context: SceneContext) {
    const { mark, behindMark, overMark, line } = context.materials;
    this.context = context;
    this.met = new MarkBatch(mark, ORDER.places);
    this.missed = new MarkBatch(mark, ORDER.places);
    this.missedBehind = new MarkBatch(behindMark, ORDER.places);
    this.sources = new MarkBatch(overMark, ORDER.places);
    this.zones = new LineBatch(line, ORDER.zones);
    this.root.add(this.met.mesh, this.missed.mesh, this.missedBehind.mesh, this.sources.mesh, this.zones.mesh);
  }

  sync(state: EditorState, before: EditorState | null): void {
    const floor = shownFloor(state);
    this.floor = floor;
    this.hidden = state.hiddenKinds;
    const workplaces = state.coverage?.workplaces ?? null;
    if (differs(state, before, 'workplaces', 'analysis') || !isSameVerdicts(workplaces, this.workplaces)) {
      this.workplaces = workplaces;
      this.drawWorkplaces();
    }
    if (differs(state, before, 'sources')) this.drawSources(floor);
    if (differs(state, before, 'zones')) this.drawZones(floor);
  }

  private drawWorkplaces(): void {
    const { met, missed, missedBehind, closeUp, leaning, floor } = this;
    if (floor === null) return;
    const { frame } = this.context;
    const verdicts = new Map(this.workplaces?.map((each) => [each.id, each]));
    for (const batch of [met, missed, missedBehind]) batch.clear();
    for (const { id, at, radius } of floor.workplaces) {
      const x = at[0] - frame.x;
      const y = at[1] - frame.y;
      const z = leaning ? floor.analysis.seatedPlane + 0.03 : floor.analysis.seatedPlane + 0.01;
      const verdict = verdicts.get(id);
      if (verdict === undefined || verdict.met) {
        const colour = COLOUR.ink2;
        if (closeUp)
          met.add(x, y, z, { glyph: GLYPH.circleOutline, colour, radius: 3, metres: radius, width: 1, alpha: 0.75 });
        else met.add(x, y, z, { glyph: GLYPH.ring, colour: COLOUR.ink, radius: 3, width: 1.1 });
      } else if (closeUp && !leaning) {
        const look = { colour: COLOUR.accent, radius: 6, metres: radius, width: 2.25 };
        missed.add(x, y, z, { glyph: GLYPH.circleOutline, ...look });
      } else {
        const look = { glyph: GLYPH.missed, colour: COLOUR.accent, radius: leaning ? 7 : 6.5, facing: leaning };
        missed.add(x, y, z, look);
        missedBehind.add(x, y, z, look);
      }
    }
    for (const batch of [met, missed, missedBehind]) batch.flush();
  }

  private drawSources(floor: Floor): void {
    const { frame } = this.context;
    this.sources.clear();
    for (const { at, radius, top } of floor.sources) {
      const look = { glyph: GLYPH.source, colour: COLOUR.ink, radius: 7, metres: radius, width: 1.25 };
      this.sources.add(at[0] - frame.x, at[1] - frame.y, top, look);
    }
    this.sources.flush();
  }

  private drawZones(floor: Floor): void {
    this.zones.clear();
    for (const zone of floor.zones)
      this.zones.addPolyline(localOutline(zone.outline, this.context.frame), 0.015, ZONE, true);
    this.zones.flush();
  }

  follow(): void {
    const { rig, shared } = this.context;
    const closeUp = shared.pxPerMetre.value >= CLOSE_UP;
    const leaning = rig.lean > 0.3;
    if (closeUp !== this.closeUp || leaning !== this.leaning) {
      this.closeUp = closeUp;
      this.leaning = leaning;
      this.drawWorkplaces();
    }
    const seats = !this.hidden.has('workplace');
    this.met.mesh.visible = seats && this.met.length > 0 && !leaning;
    this.missedBehind.mesh.visible = seats && this.missedBehind.length > 0 && leaning && rig.walk < 0.5;
    this.missed.mesh.visible = seats && this.missed.length > 0 && rig.walk < 0.5;
    this.sources.mesh.visible = this.sources.length > 0 && !this.hidden.has('source');
    this.zones.mesh.visible = !this.hidden.has('zone') && this.zones.length > 0 && rig.walk < 0.5;
  }

  dispose(): void {
    for (const batch of [this.met, this.missed, this.missedBehind, this.sources, this.zones]) batch.dispose();
  }
}
