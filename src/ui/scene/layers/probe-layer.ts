/** Who sees the place pointed at: a sight line from every lens that could, to where it fails. */
import { BufferGeometry, DoubleSide, Group, Mesh } from 'three';
import { rangeAt } from '../../../core/sight/index.ts';
import { explainPlace, type Probe, type ProbeLine } from '../../../editor/probe.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { findThing, indexOfId } from '../../../editor/things.ts';
import { sayLength } from '../../../editor/tools/words.ts';
import { DASH, LINE } from '../../tokens.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { MarkBatch } from '../geometry/mark-batch.ts';
import { buildPrisms, localOutline } from '../geometry/prisms.ts';
import { createVeilMaterial } from '../materials/flat-material.ts';
import { GLYPH } from '../materials/mark-material.ts';
import { COLOUR } from '../paint.ts';
import { type Layer, ORDER, type SceneContext } from './layer.ts';

const SOLID: LineStyle = { width: LINE.sight, colour: COLOUR.ink };
const BEYOND: LineStyle = { width: LINE.sight, colour: COLOUR.ink, dash: DASH.sightHidden };
const CASING: LineStyle = { width: LINE.sight + 2.5, colour: COLOUR.paper, alpha: 0.85 };
const LIT: LineStyle = { width: 2, colour: COLOUR.ink };
/** No more lines than can be told apart. */
const MOST_LINES = 24;

export class ProbeLayer implements Layer {
  readonly root = new Group();
  /** Detectors named by a sight line, and those of them that miss. */
  named: ReadonlySet<string> = new Set();
  missing: ReadonlySet<string> = new Set();
  private readonly context: SceneContext;
  private readonly casing: LineBatch;
  private readonly lines: LineBatch;
  private readonly marks: MarkBatch;
  private readonly veil: Mesh<BufferGeometry, ReturnType<typeof createVeilMaterial>>;
  private lit: string | null = null;

  constructor(context: SceneContext) {
    const { overLine, overMark } = context.materials;
    this.context = context;
    this.casing = new LineBatch(overLine, ORDER.sightCasing);
    this.lines = new LineBatch(overLine, ORDER.sight);
    this.marks = new MarkBatch(overMark, ORDER.sight + 1);
    this.veil = new Mesh(new BufferGeometry(), createVeilMaterial(context.shared, COLOUR.accent, 0.14, DoubleSide));
    this.veil.renderOrder = ORDER.curtain;
    this.veil.frustumCulled = false;
    this.root.add(this.veil, this.casing.mesh, this.lines.mesh, this.marks.mesh);
  }

  /** True: the detectors named or missing may have changed. */
  sync(state: EditorState, before: EditorState | null): boolean {
    const same =
      before !== null &&
      state.probe === before.probe &&
      state.plane === before.plane &&
      state.coverageVersion === before.coverageVersion &&
      (state.preview ?? state.floor) === (before.preview ?? before.floor);
    if (same) return false;
    const { coverage, probe } = state;
    const idle = this.named.size === 0 && this.marks.length === 0;
    if ((probe === null || coverage === null) && idle) return false;
    const batches = [this.casing, this.lines, this.marks];
    for (const batch of batches) batch.clear();
    const shown = new Set<string>();
    const named = new Set<string>();
    const missing = new Set<string>();
    let lit: string | null = null;
    if (probe !== null && coverage !== null) {
      const answer = explainPlace(coverage, probe.at, state.plane);
      for (const line of answer.lines.slice(0, MOST_LINES)) {
        named.add(line.detector.id);
        if (!line.sight.seen) missing.add(line.detector.id);
        this.draw(line, answer, state, shown);
      }
      const { x, y } = this.local(answer.target);
      this.marks.add(x, y, answer.target.h, { glyph: GLYPH.target, colour: COLOUR.ink, radius: 11 });
      const cut = answer.section?.line.sight;
      lit = cut !== undefined && !cut.seen && cut.why === 'hidden' ? cut.by : null;
    }
    this.named = named;
    this.missing = missing;
    this.context.overlay.clear('probe ', shown);
    this.light(lit, state);
    for (const batch of batches) batch.flush();
    return true;
  }

  private local({ x, y }: { readonly x: number; readonly y: number }) {
    return { x: x - this.context.frame.x, y: y - this.context.frame.y };
  }

  private draw(line: ProbeLine, { target, plane }: Probe, state: EditorState, shown: Set<string>): void {
    const { sight, lens, distance } = line;
    const from = this.local({ x: lens[0], y: lens[1] });
    const to = this.local(target);
    const at = (share: number): readonly [number, number, number] => [
      from.x + (to.x - from.x) * share,
      from.y + (to.y - from.y) * share,
      lens[2] + (target.h - lens[2]) * share,
    ];
    let share = 1;
    let words = 'sees it';
    if (!sight.seen && sight.why === 'hidden') {
      share = distance > 0 ? Math.hypot(sight.at[0] - lens[0], sight.at[1] - lens[1]) / distance : 1;
      words = `hidden by ${nameOf(state, sight.by)}`;
    } else if (!sight.seen && sight.why === 'masked') {
      share = 0;
      words = 'masked';
    } else if (!sight.seen) {
      share = this.shareInRange(line, state, plane, target.h);
      words =
        sight.why === 'range' && sight.shortM !== null
          ? `${sayLength(sight.shortM, this.context.units)} short`
          : 'out of range';
    } else if (line.pastOnly) words = 'sees it walking past';
    const lensPlace = at(0);
    const end = at(share);
    const place = at(1);
    this.casing.add(...lensPlace, ...end, CASING);
    if (share < 1) this.casing.add(...end, ...place, { ...CASING, alpha: 0.6 });
    if (share > 0) this.lines.add(...lensPlace, ...end, SOLID);
    if (share < 1) this.lines.add(...end, ...place, BEYOND);
    if (!sight.seen && sight.why === 'hidden') {
      this.marks.add(...end, { glyph: GLYPH.cross, colour: COLOUR.ink, radius: 8.5, facing: true });
    } else if (!sight.seen && share > 0 && share < 1) {
      this.drawBar(end, (to.x - from.x) / distance, (to.y - from.y) / distance);
    }
    const key = `probe ${line.detector.id}`;
    shown.add(key);
    // On the side away from the place, so that the line does not run through its own words.
    const right = from.x >= to.x;
    this.context.overlay.set(key, {
      x: from.x,
      y: from.y,
      z: lens[2],
      dx: right ? 13 : -13,
      dy: from.y >= to.y ? -9 : 11,
      align: right ? 'left' : 'right',
      name: line.detector.name,
      text: words,
    });
  }

  /** How far along its line a detector still reaches: where its outline is crossed on the plane. */
  private shareInRange(line: ProbeLine, state: EditorState, plane: Probe['plane'], h: number): number {
    const { detector, distance, lens } = line;
    const extent = rangeAt(shownFloor(state), detector, plane === 'seated' ? 'minor' : 'radial', h);
    if (extent === null || distance === 0) return 0;
    if (extent.kind === 'round') return Math.min(1, extent.radius / distance);
    const turn = (detector.turn * Math.PI) / 180;
    const dx = (state.probe?.at[0] ?? lens[0]) - lens[0];
    const dy = (state.probe?.at[1] ?? lens[1]) - lens[1];
    const u = Math.abs(dx * Math.cos(turn) + dy * Math.sin(turn));
    const v = Math.abs(dy * Math.cos(turn) - dx * Math.sin(turn));
    return Math.min(1, extent.length / 2 / Math.max(u, 1e-9), extent.width / 2 / Math.max(v, 1e-9));
  }

  private drawBar([x, y, z]: readonly [number, number, number], ux: number, uy: number): void {
    const half = 6 / this.context.shared.pxPerMetre.value;
    this.lines.add(x - uy * half, y + ux * half, z, x + uy * half, y - ux * half, z, LIT);
  }

  /** Lights the piece that stands in the nearest missed line. */
  private light(id: string | null, state: EditorState): void {
    const floor = shownFloor(state);
    const piece = id === null ? undefined : floor.furniture[indexOfId(floor.furniture, id)];
    if (piece !== undefined) {
      const xy = localOutline(piece.outline, this.context.frame);
      this.lines.addPolyline(xy, piece.top, LIT, true);
    }
    if (this.lit === (piece?.id ?? null)) return;
    this.lit = piece?.id ?? null;
    this.veil.geometry.dispose();
    if (piece === undefined) this.veil.geometry = new BufferGeometry();
    else {
      const { solid, glass } = buildPrisms([{ ...piece, glass: false }], 3, this.context.frame);
      glass.dispose();
      this.veil.geometry = solid;
    }
    this.veil.visible = piece !== undefined;
  }

  dispose(): void {
    for (const batch of [this.casing, this.lines, this.marks]) batch.dispose();
    this.veil.geometry.dispose();
    this.veil.material.dispose();
  }
}

/** What a blocker is called: a piece by its name, a wall as the wall of its room. */
function nameOf(state: EditorState, id: string): string {
  const thing = findThing(shownFloor(state), id);
  if (thing === undefined) return 'something';
  return thing.kind === 'room'
    ? `a wall of ${thing.value.name}`
    : 'name' in thing.value
      ? thing.value.name
      : thing.value.id;
}
