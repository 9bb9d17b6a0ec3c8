/** Everything written on the floor: one texture, one draw call. */
import { type CanvasTexture, Group, type Vector2 } from 'three';
import type { WorkplaceResult } from '../../../core/coverage/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { PALETTES } from '../../tokens.ts';
import {
  type Label,
  labelDetectors,
  labelFurniture,
  labelRooms,
  labelSources,
  labelWorkplaces,
  labelZones,
  shareText,
} from '../labels/floor-labels.ts';
import { LabelAtlas, type LabelText } from '../labels/label-atlas.ts';
import { LabelBatch } from '../labels/label-batch.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';
import { CLOSE_UP } from './places-layer.ts';

type Section = 'rooms' | 'furniture' | 'workplaces' | 'sources' | 'zones' | 'detectors';

export class LabelLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly atlas: LabelAtlas;
  private readonly batch: LabelBatch;
  private sections: Record<Section, readonly Label[]> = {
    rooms: [],
    furniture: [],
    workplaces: [],
    sources: [],
    zones: [],
    detectors: [],
  };
  private readonly shares = new Map<string, LabelText>();
  private workplaces: readonly WorkplaceResult[] | null = null;
  private without: ReadonlySet<string> = new Set();
  private scale = 0;
  private stale = false;

  constructor(context: SceneContext, largest: number) {
    this.context = context;
    this.atlas = new LabelAtlas(largest);
    this.batch = new LabelBatch(context.materials.label, ORDER.labels);
    this.root.add(this.batch.mesh);
  }

  sync(state: EditorState, before: EditorState | null): void {
    const floor = shownFloor(state);
    const { frame } = this.context;
    const palette = PALETTES[state.theme];
    const anew = before === null || state.theme !== before.theme;
    const changed = (...keys: Parameters<typeof differs>[2][]) => anew || differs(state, before, ...keys);
    const verdicts = state.coverage?.workplaces ?? null;
    if (anew) {
      this.shares.clear();
      for (let k = 0; k <= 100; k++) {
        const text = shareText(k / 100, palette);
        this.shares.set(JSON.stringify(text), text);
      }
    }
    const set = (section: Section, labels: readonly Label[]) => {
      this.sections[section] = labels;
      this.stale = true;
    };
    // While a thing is dragged the room's name stays where it is.
    if (changed('rooms') || (state.preview === null && changed('furniture')))
      set('rooms', labelRooms(floor, palette, frame));
    if (changed('furniture', 'rooms')) set('furniture', labelFurniture(floor, palette, frame));
    if (changed('workplaces') || verdicts !== this.workplaces) {
      this.workplaces = verdicts;
      set('workplaces', labelWorkplaces(floor, verdicts, palette, frame, CLOSE_UP));
    }
    if (changed('sources')) set('sources', labelSources(floor, palette, frame));
    if (changed('zones') || state.result !== before?.result) {
      set('zones', labelZones(floor, state.result?.zones ?? null, palette, frame));
    }
    if (changed('detectors', 'rooms', 'types')) set('detectors', labelDetectors(floor, palette, frame, this.without));
  }

  /** Leaves the names of some detectors away: they are said elsewhere. */
  leaveAway(without: ReadonlySet<string>, state: EditorState): void {
    if (without.size === 0 && this.without.size === 0) return;
    this.without = without;
    this.sections.detectors = labelDetectors(shownFloor(state), PALETTES[state.theme], this.context.frame, without);
    this.stale = true;
  }

  /** Forgets what was painted: the typeface has arrived. */
  repaint(): void {
    this.scale = 0;
    this.stale = true;
  }

  follow(): void {
    const scale = this.context.shared.dpr.value;
    if (!this.stale && scale === this.scale) return;
    this.stale = false;
    const all = Object.values(this.sections).flat();
    if (scale !== this.scale || all.some(({ key }) => !this.atlas.knows(key))) {
      this.scale = scale;
      const texts = new Map(all.map(({ key, text }) => [key, text]));
      if (this.sections.workplaces.length > 0) for (const [key, text] of this.shares) texts.set(key, text);
      this.atlas.paint(texts, scale);
      const { uniforms } = this.context.materials.label;
      (uniforms.atlas as { value: CanvasTexture }).value = this.atlas.texture;
      (uniforms.atlasSize as { value: Vector2 }).value.set(this.atlas.canvas.width, this.atlas.canvas.height);
    }
    this.batch.clear();
    for (const { key, place } of all) {
      const slot = this.atlas.slotOf(key);
      if (slot) this.batch.add(place, slot);
    }
    this.batch.flush();
  }

  dispose(): void {
    this.atlas.dispose();
    this.batch.dispose();
  }
}
