/** While a detector is moved: where it was, the way from there, how far the walls are, and the tiles it can hang in. */
import { Group } from 'three';
import { type Detector, type Floor, findRoomAt, lensHeightOf, type Room } from '../../../core/floor/index.ts';
import type { EditorState } from '../../../editor/store.ts';
import { DASH, LINE } from '../../tokens.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { MarkBatch } from '../geometry/mark-batch.ts';
import { GLYPH } from '../materials/mark-material.ts';
import { COLOUR } from '../paint.ts';
import { findNearestWalls } from '../pointer/nearest-walls.ts';
import type { Layer, SceneContext } from './layer.ts';
import { ORDER } from './layer.ts';

const PATH: LineStyle = { width: 1.25, colour: COLOUR.ink, dash: DASH.before };
const REACH: LineStyle = { width: 1.25, colour: COLOUR.ink };
const REACH_CASING: LineStyle = { width: LINE.range + 2.5, colour: COLOUR.paper, alpha: 0.8 };
/** How far the ceiling grid shows round the hand, metres. */
const TILES = 4;

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
    if (state.preview !== null && state.preview.detectors !== state.floor.detectors) {
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
      overlay.set(key, { ...place, align: axis === 0 ? 'centre' : 'left', text: distance.toFixed(2) });
    }
    this.drawTiles(room, x, y, z);
  }

  private drawTiles({ tiles }: Room, x: number, y: number, z: number): void {
    if (tiles === undefined) return;
    const { frame } = this.context;
    const turn = (tiles.turn * Math.PI) / 180;
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const [ox, oy] = [tiles.origin[0] - frame.x, tiles.origin[1] - frame.y];
    const u0 = c * (x - ox) + s * (y - oy);
    const v0 = c * (y - oy) - s * (x - ox);
    const put = (u: number, v: number): readonly [number, number] => [ox + c * u - s * v, oy + s * u + c * v];
    const family = (
      middle: number,
      pitch: number,
      point: (across: number, along: number) => readonly [number, number],
    ) => {
      for (let k = Math.ceil((middle - TILES) / pitch); k * pitch <= middle + TILES; k++) {
        const across = k * pitch;
        const half = Math.sqrt(Math.max(0, TILES ** 2 - (across - middle) ** 2));
        // A hairline fades out towards the rim in four steps to either side.
        for (let step = -4; step < 4; step++) {
          const fade = 1 - Math.hypot(across - middle, (Math.abs(step + 0.5) / 4) * half) / TILES;
          const [ax, ay] = point(across, (step / 4) * half);
          const [bx, by] = point(across, ((step + 1) / 4) * half);
          this.tiles.add(ax, ay, z, bx, by, z, { width: 1, colour: COLOUR.ink3, alpha: 0.55 * Math.max(0, fade) });
        }
      }
    };
    family(u0, tiles.pitch[0], (across, along) => put(across, v0 + along));
    family(v0, tiles.pitch[1], (across, along) => put(u0 + along, across));
  }

  dispose(): void {
    for (const batch of [this.casing, this.lines, this.tiles, this.marks]) batch.dispose();
  }
}
