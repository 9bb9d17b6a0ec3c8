/** Rooms: paper, walls, openings, ceilings. */
import { type BufferGeometry, Group, Mesh, type ShaderMaterial } from 'three';
import type { Floor } from '../../../core/floor/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { drawCeilingTiles } from '../geometry/ceiling-tiles.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { drawOpeningSigns, drawUprightOpenings, type Leaf, listLeaves, writeLeaves } from '../geometry/openings.ts';
import {
  buildCeilings,
  buildFloors,
  buildLintels,
  buildSills,
  buildWalls,
  drawLintelEdges,
  drawWallFeet,
  drawWallTops,
} from '../geometry/wall-mesh.ts';
import { listWalls, type Walls } from '../geometry/wall-pieces.ts';
import { COLOUR } from '../paint.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';

const TILES: LineStyle = { width: 1, colour: COLOUR.hair, alpha: 0.8 };

export class GroundLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly floors: Mesh<BufferGeometry, ShaderMaterial>;
  private readonly walls: Mesh<BufferGeometry, ShaderMaterial>;
  private readonly sills: Mesh<BufferGeometry, ShaderMaterial>;
  private readonly lintels: Mesh<BufferGeometry, ShaderMaterial>;
  private readonly ceilings: Mesh<BufferGeometry, ShaderMaterial>;
  private readonly tops: LineBatch;
  private readonly feet: LineBatch;
  private readonly signs: LineBatch;
  private readonly panes: LineBatch;
  private readonly inside: LineBatch;
  /** Builds what is not seen in plan, once it is seen: from above a dragged wall costs what shows of it. */
  private upright: (() => void) | null = null;
  private inner: (() => void) | null = null;
  private hidden: EditorState['hiddenKinds'] = new Set();

  constructor(context: SceneContext) {
    const { materials } = context;
    this.context = context;
    this.floors = new Mesh(undefined, materials.flat);
    this.walls = new Mesh(undefined, materials.wall);
    this.sills = new Mesh(undefined, materials.wall);
    this.lintels = new Mesh(undefined, materials.lintel);
    this.ceilings = new Mesh(undefined, materials.ceiling);
    this.tops = new LineBatch(materials.cutLine, ORDER.edges);
    this.feet = new LineBatch(materials.cutLine, ORDER.edges);
    this.signs = new LineBatch(materials.line, ORDER.signs);
    this.panes = new LineBatch(materials.cutLine, ORDER.edges);
    this.inside = new LineBatch(materials.line, ORDER.signs);
    this.root.add(this.floors, this.walls, this.sills, this.lintels, this.ceilings);
    this.root.add(this.tops.mesh, this.feet.mesh, this.signs.mesh, this.panes.mesh, this.inside.mesh);
    // One geometry each over the whole floor: it is never out of sight as a whole.
    this.root.traverse((object) => {
      object.frustumCulled = false;
    });
  }

  sync(state: EditorState, before: EditorState | null): void {
    this.hidden = state.hiddenKinds;
    if (!differs(state, before, 'rooms', 'openings')) return;
    const floor = shownFloor(state);
    const { frame } = this.context;
    const walls = listWalls(floor);
    const leaves = listLeaves(floor, walls, frame);
    replace(this.floors, buildFloors(floor, walls, frame));
    replace(
      this.walls,
      buildWalls(floor, walls, frame, (writer) => writeLeaves(writer, leaves)),
    );
    draw(this.tops, () => drawWallTops(this.tops, floor, walls, frame));
    draw(this.signs, () => drawOpeningSigns(this.signs, leaves, walls, frame));
    this.upright = () => this.buildUpright(floor, walls, leaves);
    this.inner = () => this.buildInner(floor, walls);
  }

  /** What shows as soon as walls stand up. */
  private buildUpright(floor: Floor, walls: Walls, leaves: readonly Leaf[]): void {
    const { frame } = this.context;
    replace(this.sills, buildSills(walls, frame));
    draw(this.feet, () => drawWallFeet(this.feet, floor, walls, frame));
    draw(this.panes, () => drawUprightOpenings(this.panes, leaves, walls, frame));
  }

  /** What shows from inside alone. */
  private buildInner(floor: Floor, walls: Walls): void {
    const { frame } = this.context;
    replace(this.lintels, buildLintels(floor, walls, frame));
    replace(this.ceilings, buildCeilings(floor, frame));
    draw(this.inside, () => {
      drawLintelEdges(this.inside, floor, walls, frame);
      for (const room of floor.rooms) drawCeilingTiles(this.inside, room, frame, TILES);
    });
  }

  follow(): void {
    const { lean, walk } = this.context.rig;
    const flat = lean < 0.02 && walk < 0.02;
    if (!flat) {
      this.upright?.();
      this.upright = null;
    }
    if (walk > 0.02) {
      this.inner?.();
      this.inner = null;
    }
    const openings = !this.hidden.has('opening');
    this.root.visible = !this.hidden.has('room');
    this.signs.mesh.visible = openings && this.signs.length > 0 && walk < 0.02;
    this.feet.mesh.visible = this.feet.length > 0 && !flat;
    this.sills.visible = !flat;
    this.panes.mesh.visible = openings && this.panes.length > 0 && !flat;
    this.lintels.visible = walk > 0.02;
    this.inside.mesh.visible = this.inside.length > 0 && walk > 0.9;
    this.ceilings.visible = walk > 0.6;
  }

  dispose(): void {
    for (const mesh of [this.floors, this.walls, this.sills, this.lintels, this.ceilings]) mesh.geometry.dispose();
    for (const batch of [this.tops, this.feet, this.signs, this.panes, this.inside]) batch.dispose();
  }
}

function draw(batch: LineBatch, how: () => void): void {
  batch.clear();
  how();
  batch.flush();
}

/** Gives a mesh another geometry and frees the one it had. */
function replace(mesh: Mesh<BufferGeometry, ShaderMaterial>, geometry: BufferGeometry): void {
  mesh.geometry.dispose();
  mesh.geometry = geometry;
}
