/** While a detector is moved: where it was, the way from there, how far the walls are, and the tiles it can hang in. */
import { Group } from 'three';
import { type Detector, type Floor, findRoomAt, lensHeightOf } from '../../../core/floor/index.ts';
import type { EditorState } from '../../../editor/store.ts';
import { sayBare } from '../../../editor/tools/words.ts';
import { DASH, LINE } from '../../tokens.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { MarkBatch } from '../geometry/mark-batch.ts';
import { drawNearTiles } from '../geometry/near-tiles.ts';
import { GLYPH } from '../materials/mark-material.ts';
import { COLOUR } from '../paint.ts';
import { findNearestWalls } from '../pointer/nearest-walls.ts';
import type { Layer, SceneContext } from './layer.ts';
import { ORDER } from './layer.ts';

const PATH: LineStyle = { width: 1.25, colour: COLOUR.ink, dash: DASH.before };
const REACH: LineStyle = { width: 1.25, colour: COLOUR.ink };
const REACH_CASING: LineStyle = { width: LINE.range + 2.5, colour: COLOUR.paper, alpha: 0.8 };

export class TrailLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly casing: LineBatch;
  private readonly lines: LineBatch;
  private readonly tiles: LineBatch;
  private readonly marks: MarkBatch;

  constructor(context: SceneContext) {
    const { overLine, overMark } = context.materials;
    this.context = context;
    this.casing = new LineBatch(overLine, ORDER.trails - 1);
    this.lines = new LineBatch(overLine, ORDER.trails);
    this.tiles = new LineBatch(overLine, ORDER.tiles);
    this.marks = new MarkBatch(overMark, ORDER.trails);
    this.root.add(this.casing.mesh, this.lines.mesh, this.tiles.mesh, this.marks.mesh);
  }

  sync(state: EditorState, before: EditorState | null): void {
    if (before !== null && state.preview === before.preview && state.floor === before.floor) return;
    const batches = [this.casing, this.lines, this.tiles, this.marks];
    for (const batch of batches) batch.clear();
    const shown = new Set<string>();
    // A tool draws the way itself.
    const isTold = state.toolRun?.guides.some(({ kind }) => kind === 'line') ?? false;
    if (!isTold && state.preview !== null && state.preview.detectors !== state.floor.detectors) {
      const { preview, floor } = state;
      floor.detectors.forEach((was, i) => {
        const now = preview.detectors[i];
        if (now === undefined || now === was || (now.at[0] === was.at[0] && now.at[1] === was.at[1])) return;
        this.draw(preview, was, now, shown);
      });
    }
    this.context.overlay.clear('trail ', shown);
    for (const batch of batches) batch.flush();
  }

  private draw(floor: Floor, was: Detector, now: Detector, shown: Set<string>): void {
    const { frame, overlay } = this.context;
    const z = lensHeightOf(now, floor);
    const [wx, wy] = [was.at[0] - frame.x, was.at[1] - frame.y];
    const [x, y] = [now.at[0] - frame.x, now.at[1] - frame.y];
    this.marks.add(wx, wy, z, { glyph: GLYPH.dashedRing, colour: COLOUR.ink, radius: 6, width: 1.5 });
    this.lines.add(wx, wy, z, x, y, z, PATH);
    const room = findRoomAt(floor.rooms, now.at);
    if (room === undefined) return;
    for (const { axis, to, distance } of findNearestWalls(room, now.at)) {
      const [tx, ty] = [to[0] - frame.x, to[1] - frame.y];
      this.casing.add(x, y, z, tx, ty, z, REACH_CASING);
      this.lines.add(x, y, z, tx, ty, z, REACH);
      const key = `trail ${now.id} ${axis}`;
      shown.add(key);
      const place = { x: (x + tx) / 2, y: (y + ty) / 2, z, dx: axis === 0 ? 0 : 8, dy: axis === 0 ? 12 : 0 };
      overlay.set(key, {
        ...place,
        align: axis === 0 ? 'centre' : 'left',
        text: sayBare(distance, this.context.units),
      });
    }
    if (room.tiles !== undefined) drawNearTiles(this.tiles, room.tiles, frame, x, y, z);
  }

  dispose(): void {
    for (const batch of [this.casing, this.lines, this.tiles, this.marks]) batch.dispose();
  }
}
