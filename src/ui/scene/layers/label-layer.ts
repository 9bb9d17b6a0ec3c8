/** Everything written on the floor: one texture, one draw call. */
import { type CanvasTexture, Group, type Vector2 } from 'three';
import type { WorkplaceResult } from '../../../core/coverage/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import type { ThingKind } from '../../../editor/things.ts';
import { PALETTES } from '../../tokens.ts';
import {
  type Label,
  labelDetectors,
  labelFurniture,
  labelSources,
  labelWorkplaces,
  labelZones,
  shareText,
} from '../labels/floor-labels.ts';
import { LabelAtlas, type LabelText } from '../labels/label-atlas.ts';
import { LabelBatch } from '../labels/label-batch.ts';
import { LabelCache } from '../labels/label-cache.ts';
import { RoomLabels } from '../labels/room-labels.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';
import { CLOSE_UP } from './places-layer.ts';

/** More labels than these are not followed by hand, and not added one by one. */
const MOST_IN_HAND = 12;
const MOST_ADDED = 64;

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
  private readonly names = new LabelCache();
  private readonly rooms = new RoomLabels();
  private readonly shares = new Map<string, LabelText>();
  private workplaces: readonly WorkplaceResult[] | null = null;
  private without: ReadonlySet<string> = new Set();
  private scale = 0;
  private stale = false;
  /** Something is in hand: words that are not painted yet follow it over the canvas. */
  private isMoving = false;
  private version = -1;

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
      this.names.clear();
      this.rooms.clear();
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
    const shows = (kind: ThingKind, label: () => readonly Label[]) => (state.hiddenKinds.has(kind) ? [] : label());
    const again = anew || state.hiddenKinds !== before.hiddenKinds;
    // While a thing is dragged the room's name stays where it is.
    const settled = state.preview === null;
    if (settled === this.isMoving) this.stale = true;
    this.isMoving = !settled;
    if (again || changed('rooms') || (settled && (changed('furniture') || before?.preview)))
      set('rooms', this.rooms.list(floor, settled, palette, frame));
    if (again || changed('furniture', 'rooms', 'analysis'))
      set(
        'furniture',
        shows('furniture', () => labelFurniture(floor, palette, frame, this.names)),
      );
    if (again || changed('workplaces', 'analysis') || verdicts !== this.workplaces) {
      this.workplaces = verdicts;
      set(
        'workplaces',
        shows('workplace', () => labelWorkplaces(floor, verdicts, palette, frame, CLOSE_UP, this.names)),
      );
    }
    if (again || changed('sources'))
      set(
        'sources',
        shows('source', () => labelSources(floor, palette, frame)),
      );
    if (again || changed('zones') || state.result !== before.result)
      set(
        'zones',
        shows('zone', () => labelZones(floor, state.result?.zones ?? null, palette, frame)),
      );
    if (again || changed('detectors', 'rooms', 'types'))
      set(
        'detectors',
        shows('detector', () => labelDetectors(floor, palette, frame, this.without)),
      );
  }

  /** Leaves the names of some detectors away: they are said elsewhere. */
  leaveAway(without: ReadonlySet<string>, state: EditorState): void {
    if (without.size === 0 && this.without.size === 0) return;
    this.without = without;
    if (state.hiddenKinds.has('detector')) return;
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
    const { rig } = this.context;
    if (!this.stale && scale === this.scale && (!this.isMoving || this.version === rig.version)) return;
    this.stale = false;
    this.version = rig.version;
    const all = Object.values(this.sections).flat();
    const unknown = all.filter(({ key }) => !this.atlas.knows(key));
    if (scale === this.scale && this.isMoving) this.followHand(unknown);
    else {
      this.context.overlay.clear('label ');
      if (scale !== this.scale || unknown.length > 0) this.paint(all, unknown, scale);
    }
    this.batch.clear();
    for (const { key, place } of all) {
      const slot = this.atlas.slotOf(key);
      if (slot) this.batch.add(place, slot);
    }
    this.batch.flush();
  }

  private paint(all: readonly Label[], unknown: readonly Label[], scale: number): void {
    const few = new Map(unknown.map(({ key, text }) => [key, text]));
    if (scale === this.scale && few.size <= MOST_ADDED && this.atlas.append(few)) return;
    this.scale = scale;
    const texts = new Map(all.map(({ key, text }) => [key, text]));
    if (this.sections.workplaces.length > 0) for (const [key, text] of this.shares) texts.set(key, text);
    this.atlas.paint(texts, scale);
    const { uniforms } = this.context.materials.label;
    (uniforms.atlas as { value: CanvasTexture }).value = this.atlas.texture;
    (uniforms.atlasSize as { value: Vector2 }).value.set(this.atlas.canvas.width, this.atlas.canvas.height);
  }

  /** Words that change with every frame, as a room's area does, are not painted until they stay. */
  private followHand(unknown: readonly Label[]): void {
    const { overlay, shared, rig } = this.context;
    const shown = new Set<string>();
    const fit = unknown.filter(
      ({ place }) => shared.pxPerMetre.value >= place.from && (place.flat ? rig.lean < 0.02 : true),
    );
    for (const [i, { text, place }] of fit.slice(0, MOST_IN_HAND).entries()) {
      const key = `label ${i}`;
      shown.add(key);
      const { x, y, z, dx, dy, anchorX } = place;
      const align = anchorX === 0 ? 'left' : anchorX === 1 ? 'right' : 'centre';
      const [first, ...rest] = text.lines.map((line) => line.text);
      const words = rest.length === 0 ? { text: first ?? '' } : { name: first ?? '', text: rest.join(' ') };
      overlay.set(key, { x, y, z, dx, dy: -dy, align, ...words });
    }
    overlay.clear('label ', shown);
  }

  dispose(): void {
    this.atlas.dispose();
    this.batch.dispose();
  }
}
