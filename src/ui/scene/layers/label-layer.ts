/** Everything written on the floor: one texture, one draw call. */
import { type CanvasTexture, Group, type Vector2 } from 'three';
import type { WorkplaceResult } from '../../../core/coverage/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import type { ThingKind } from '../../../editor/things.ts';
import { PALETTES } from '../../tokens.ts';
import {
  isSameVerdicts,
  type Label,
  labelDetectors,
  labelSources,
  labelWorkplaces,
  labelZones,
  shareText,
} from '../labels/floor-labels.ts';
import { FurnitureLabels } from '../labels/furniture-labels.ts';
import { LabelAtlas, type LabelText } from '../labels/label-atlas.ts';
import { LabelBatch, type LabelPlace } from '../labels/label-batch.ts';
import { LabelCache } from '../labels/label-cache.ts';
import type { Spot } from '../labels/overlay.ts';
import { partLabels, type Sign, type SizedLabel } from '../labels/part-labels.ts';
import { RoomLabels } from '../labels/room-labels.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';
import { CLOSE_UP } from './places-layer.ts';

/** More labels than these are not followed by hand, and not added one by one. */
const MOST_IN_HAND = 12;
const MOST_ADDED = 64;

const SECTIONS = ['rooms', 'furniture', 'workplaces', 'sources', 'zones', 'detectors'] as const;
type Section = (typeof SECTIONS)[number];
/** Whose words stay where words would lie on one another, the first before the others. */
const IN_THE_WAY: readonly Section[] = ['detectors', 'rooms', 'workplaces', 'sources', 'zones', 'furniture'];
/** Px about a lens, and about a source, that are kept free of words. */
const LENS = 8;
const SOURCE = 9;

export class LabelLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly atlas: LabelAtlas;
  private readonly batches: Readonly<Record<Section, LabelBatch>>;
  /** Sections whose words have changed since they were drawn. */
  private readonly changed = new Set<Section>();
  /** Labels that follow the hand as words over the canvas until they stay. */
  private readonly unpainted = new Map<Section, readonly Label[]>();
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
  private readonly pieces = new FurnitureLabels();
  private readonly shares = new Map<string, LabelText>();
  private workplaces: readonly WorkplaceResult[] | null = null;
  private without: ReadonlySet<string> = new Set();
  /** Where labels are written so that none lies on another, by section and place in its list. */
  private parted = new Map<string, LabelPlace>();
  private state: EditorState | null = null;
  private scale = 0;
  private stale = false;
  /** Something is in hand: words that are not painted yet follow it over the canvas. */
  private isMoving = false;
  private version = -1;
  /** Counts up whenever what is written has changed. */
  writings = 0;

  constructor(context: SceneContext, largest: number) {
    this.context = context;
    this.atlas = new LabelAtlas(largest);
    const batch = (order: number) => new LabelBatch(context.materials.label, ORDER.labels + order);
    this.batches = {
      rooms: batch(0),
      furniture: batch(0.1),
      workplaces: batch(0.2),
      sources: batch(0.3),
      zones: batch(0.4),
      detectors: batch(0.5),
    };
    this.root.add(...Object.values(this.batches).map(({ mesh }) => mesh));
  }

  sync(state: EditorState, before: EditorState | null): void {
    const floor = shownFloor(state);
    const { frame, units } = this.context;
    const palette = PALETTES[state.theme];
    const anew = before === null || state.theme !== before.theme;
    const changed = (...keys: Parameters<typeof differs>[2][]) => anew || differs(state, before, ...keys);
    const verdicts = state.coverage?.workplaces ?? null;
    if (anew) {
      this.names.clear();
      this.rooms.clear();
      this.pieces.clear();
      this.shares.clear();
      for (let k = 0; k <= 100; k++) {
        const text = shareText(k / 100, palette);
        this.shares.set(JSON.stringify(text), text);
      }
    }
    const set = (section: Section, labels: readonly Label[]) => {
      this.sections[section] = labels;
      this.changed.add(section);
      this.stale = true;
    };
    this.state = state;
    const shows = (kind: ThingKind, label: () => readonly Label[]) => (state.hiddenKinds.has(kind) ? [] : label());
    const again = anew || state.hiddenKinds !== before.hiddenKinds;
    // While a thing is dragged the room's name stays where it is.
    const settled = state.preview === null;
    if (settled === this.isMoving) this.stale = true;
    this.isMoving = !settled;
    if (again || changed('rooms') || (settled && (changed('furniture') || before?.preview)))
      set('rooms', this.rooms.list(floor, settled, palette, frame, units));
    if (again || changed('furniture', 'rooms', 'analysis'))
      set(
        'furniture',
        shows('furniture', () => this.pieces.list(floor, palette, frame, units)),
      );
    if (again || changed('workplaces', 'analysis') || !isSameVerdicts(verdicts, this.workplaces)) {
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
    this.changed.add('detectors');
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
    this.writings += 1;
    this.version = rig.version;
    const followsHand = this.isMoving && scale === this.scale;
    const fresh = followsHand ? [...this.changed] : SECTIONS;
    for (const section of fresh)
      this.unpainted.set(
        section,
        this.sections[section].filter(({ key }) => !this.atlas.knows(key)),
      );
    const unpainted = [...this.unpainted.values()].flat();
    if (followsHand) this.followHand(unpainted);
    else {
      this.context.overlay.clear('label ');
      this.unpainted.clear();
      if (scale !== this.scale || unpainted.length > 0) this.paint(unpainted, scale);
    }
    if (!followsHand) this.part(scale);
    for (const section of fresh) this.write(section);
    this.changed.clear();
  }

  /** What is written and where, for whoever draws without WebGL. */
  *listWritten(): Generator<Label> {
    for (const section of SECTIONS)
      for (const [i, label] of this.sections[section].entries())
        yield { ...label, place: this.placeOf(section, i, label) };
  }

  /** Where on the screen the names of detectors stand. */
  listStanding(): Spot[] {
    const { rig, shared } = this.context;
    return this.sections.detectors.flatMap((label, i): Spot[] => {
      const slot = this.atlas.slotOf(label.key);
      const { x, y, z, dx, dy, anchorX, anchorY, from } = this.placeOf('detectors', i, label);
      const at = rig.project(x, y, z);
      if (slot === undefined || at === null || shared.pxPerMetre.value < from) return [];
      const [width, height] = [slot.width / this.scale, slot.height / this.scale];
      const left = at[0] + dx - anchorX * width;
      // On the floor y points up, on the screen down.
      const top = at[1] - dy - (1 - anchorY) * height;
      return [{ left, top, right: left + width, bottom: top + height }];
    });
  }

  private placeOf(section: Section, index: number, { place }: Label): LabelPlace {
    const { x, y, z } = place;
    return { ...(this.parted.get(`${section} ${index}`) ?? place), x, y, z };
  }

  private write(section: Section): void {
    const batch = this.batches[section];
    batch.clear();
    for (const [i, label] of this.sections[section].entries()) {
      const slot = this.atlas.slotOf(label.key);
      if (slot) batch.add(this.placeOf(section, i, label), slot);
    }
    batch.flush();
  }

  /** Keeps words off one another, once nothing moves. */
  private part(scale: number): void {
    const sized: SizedLabel[] = [];
    const keys: string[] = [];
    for (const section of IN_THE_WAY)
      for (const [i, { key, place }] of this.sections[section].entries()) {
        const slot = this.atlas.slotOf(key);
        if (slot === undefined) continue;
        keys.push(`${section} ${i}`);
        sized.push({ place, width: slot.width / scale, height: slot.height / scale });
      }
    const places = partLabels(sized, this.listSigns());
    this.parted = new Map(
      keys.flatMap((key, i) => (places[i] === sized[i]?.place ? [] : [[key, places[i] as LabelPlace]])),
    );
  }

  /** Lenses and sources: what no words should lie on. */
  private listSigns(): readonly Sign[] {
    const { state } = this;
    const { frame } = this.context;
    if (state === null) return [];
    const { detectors, sources } = shownFloor(state);
    const signs = (kind: ThingKind, things: typeof detectors | typeof sources, radius: number): readonly Sign[] =>
      state.hiddenKinds.has(kind) ? [] : things.map(({ at: [x, y] }) => ({ x: x - frame.x, y: y - frame.y, radius }));
    return [...signs('detector', detectors, LENS), ...signs('source', sources, SOURCE)];
  }

  private paint(unpainted: readonly Label[], scale: number): void {
    const few = new Map(unpainted.map(({ key, text }) => [key, text]));
    if (scale === this.scale && few.size <= MOST_ADDED && this.atlas.append(few)) return;
    this.scale = scale;
    const all = Object.values(this.sections).flat();
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
      const bold = text.lines.filter(({ weight }) => weight > 500).map((line) => line.text);
      const plain = text.lines.filter(({ weight }) => weight <= 500).map((line) => line.text);
      const words = { text: plain.join(' '), ...(bold.length === 0 ? {} : { name: bold.join(' ') }) };
      overlay.set(key, { x, y, z, dx, dy: -dy, align, ...words });
    }
    overlay.clear('label ', shown);
  }

  dispose(): void {
    this.atlas.dispose();
    for (const batch of Object.values(this.batches)) batch.dispose();
  }
}
