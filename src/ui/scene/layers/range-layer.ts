/** The ranges of the selected detector, each at the plane where its people are, and in the model the cone between them. */
import { Group } from 'three';
import { type Detector, type Floor, lensHeightOf, type Motion } from '../../../core/floor/index.ts';
import { type Extent, rangeAt } from '../../../core/sight/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { indexOfId } from '../../../editor/things.ts';
import type { Units } from '../../../editor/tools/tool.ts';
import { sayLength } from '../../../editor/tools/words.ts';
import { DASH, LINE } from '../../tokens.ts';
import { outlineExtent } from '../geometry/extents.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { COLOUR } from '../paint.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';

const MOTIONS: readonly { readonly motion: Motion; readonly word: string; readonly angle: number }[] = [
  { motion: 'minor', word: 'small movements', angle: 207 },
  { motion: 'radial', word: 'walking at it', angle: 221 },
  { motion: 'tangential', word: 'walking past', angle: 235 },
];
const CASING: LineStyle = { width: LINE.range + 2.5, colour: COLOUR.paper, alpha: 0.8 };
const CONE: LineStyle = { width: 1, colour: COLOUR.ink, alpha: 0.16 };
const CONE_LINES = 16;

/** The one selected detector of the floor shown; null when none or more is. */
export function selectedDetector(state: EditorState): Detector | null {
  const [id, ...others] = state.selection;
  if (id === undefined || others.length > 0) return null;
  const { detectors } = shownFloor(state);
  return detectors[indexOfId(detectors, id)] ?? null;
}

/** The detector about to be hung by the detector tool; null: none, or several at once. */
function hangingDetector({ tool, preview, floor }: EditorState): Detector | null {
  if (tool !== 'detector' || preview === null) return null;
  return preview.detectors.length === floor.detectors.length + 1 ? (preview.detectors.at(-1) ?? null) : null;
}

/** The size of a range, to be written on its line. */
interface RangeWords {
  readonly key: string;
  readonly text: string;
  readonly extent: Extent;
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Where it is written first, degrees. */
  readonly angle: number;
  readonly turn: number;
}

/** Px kept between the middle of the words and the edge of the page, and places tried round the line. */
const BESIDE = 70;
const ABOVE = 14;
const TRIES = 24;

export class RangeLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly casing: LineBatch;
  private readonly lines: LineBatch;
  private readonly cone: LineBatch;
  private words: RangeWords[] = [];
  private version = -1;

  constructor(context: SceneContext) {
    const { drawnLine, line } = context.materials;
    this.context = context;
    this.casing = new LineBatch(drawnLine, ORDER.casing);
    this.lines = new LineBatch(drawnLine, ORDER.ranges);
    this.cone = new LineBatch(line, ORDER.edges);
    this.root.add(this.casing.mesh, this.lines.mesh, this.cone.mesh);
  }

  sync(state: EditorState, before: EditorState | null): void {
    const changed = differs(state, before, 'detectors', 'types', 'rooms', 'analysis');
    if (!changed && state.selection === before?.selection) return;
    const batches = [this.casing, this.lines, this.cone];
    for (const batch of batches) batch.clear();
    const detector = hangingDetector(state) ?? selectedDetector(state);
    const shown = new Set<string>();
    this.words = [];
    this.version = -1;
    if (detector !== null) this.draw(shownFloor(state), detector, shown);
    this.context.overlay.clear('range ', shown);
    for (const batch of batches) batch.flush();
  }

  private draw(floor: Floor, detector: Detector, shown: Set<string>): void {
    const { frame } = this.context;
    const { seatedPlane, walkingPlane } = floor.analysis;
    const x = detector.at[0] - frame.x;
    const y = detector.at[1] - frame.y;
    const lens = lensHeightOf(detector, floor);
    for (const { motion, word, angle } of MOTIONS) {
      const z = motion === 'minor' ? seatedPlane : walkingPlane;
      const extent = rangeAt(floor, detector, motion, z);
      if (extent === null) continue;
      const xy = outlineExtent(extent, x, y, detector.turn);
      this.casing.addPolyline(xy, z, CASING, true);
      this.lines.addPolyline(xy, z, { width: LINE.range, colour: COLOUR.ink, dash: DASH[motion] }, true);
      const every = Math.max(1, Math.floor(xy.length / 2 / CONE_LINES));
      for (let i = 0; i < xy.length / 2 && motion !== 'radial'; i += every) {
        this.cone.add(x, y, lens, xy[2 * i] as number, xy[2 * i + 1] as number, z, CONE);
      }
      const key = `range ${motion}`;
      shown.add(key);
      const text = `${word} ${sizeOf(extent, this.context.units)}`;
      this.words.push({ key, text, extent, x, y, z, angle, turn: detector.turn });
    }
  }

  /** Writes each size where its line is on the page. */
  private placeWords(): void {
    const { rig, overlay } = this.context;
    const isOnPage = (x: number, y: number, z: number): boolean => {
      const at = rig.project(x, y, z);
      const [width, height] = [rig.screen.width - BESIDE, rig.screen.height - ABOVE];
      return at !== null && at[0] > BESIDE && at[0] < width && at[1] > ABOVE && at[1] < height;
    };
    for (const { key, text, extent, x, y, z, angle, turn } of this.words) {
      const edges = Array.from({ length: extent.kind === 'round' ? TRIES : 1 }, (_, i) =>
        edgeAt(extent, angle + (i * 360) / TRIES, turn),
      );
      const [dx, dy] = edges.find((edge) => isOnPage(x + edge[0], y + edge[1], z)) ?? edgeAt(extent, angle, turn);
      overlay.set(key, { x: x + dx, y: y + dy, z, dx: 0, dy: 0, align: 'centre', text });
    }
  }

  follow(): void {
    const { rig } = this.context;
    const { lean, walk } = rig;
    if (this.version !== rig.version) {
      this.version = rig.version;
      this.placeWords();
    }
    this.cone.mesh.visible = this.cone.length > 0 && lean > 0.4 && walk < 0.5;
  }

  dispose(): void {
    for (const batch of [this.casing, this.lines, this.cone]) batch.dispose();
  }
}

/** The size of a range as a data sheet would say it, in the unit of lengths. */
function sizeOf(extent: Extent, units: Units): string {
  const say = (size: number): string => (units === 'feet' ? sayLength(size, units) : size.toFixed(1));
  return extent.kind === 'round' ? say(2 * extent.radius) : `${say(extent.length)} × ${say(extent.width)}`;
}

/** From the foot to the outline in a direction, degrees; a rectangle answers with a place on its lower edge. */
function edgeAt(extent: Extent, angle: number, turn: number): readonly [number, number] {
  const a = (angle * Math.PI) / 180;
  if (extent.kind === 'round') return [extent.radius * Math.cos(a), extent.radius * Math.sin(a)];
  const t = (turn * Math.PI) / 180;
  const along = -0.3 * extent.length;
  const across = -extent.width / 2;
  return [Math.cos(t) * along - Math.sin(t) * across, Math.sin(t) * along + Math.cos(t) * across];
}
