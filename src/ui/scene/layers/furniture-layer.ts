/** Furniture, and luminaires as faint outlines: a geometry of solid faces, one of glass and two batches of lines, however many pieces. */
import { type BufferGeometry, Group, Mesh, type ShaderMaterial } from 'three';
import type { Floor } from '../../../core/floor/index.ts';
import { luminaireOutline } from '../../../core/sight/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { FurniturePool } from '../geometry/furniture-pool.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { localOutline } from '../geometry/prisms.ts';
import { referenceCeiling } from '../local-frame.ts';
import { COLOUR } from '../paint.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';

const LUMINAIRE: LineStyle = { width: 1, colour: COLOUR.hair, alpha: 0.7 };

export class FurnitureLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly pool: FurniturePool;
  private readonly glass: Mesh<BufferGeometry, ShaderMaterial>;
  private readonly luminaires: LineBatch;

  constructor(context: SceneContext) {
    const { materials } = context;
    this.context = context;
    this.pool = new FurniturePool(materials.line, ORDER.edges);
    const solid = new Mesh(this.pool.solid.geometry, materials.flat);
    this.glass = new Mesh(this.pool.glass.geometry, materials.glass);
    this.glass.renderOrder = ORDER.glass;
    this.luminaires = new LineBatch(materials.line, ORDER.edges);
    this.root.add(solid, this.glass, ...this.pool.meshes, this.luminaires.mesh);
    solid.frustumCulled = false;
    this.glass.frustumCulled = false;
  }

  sync(state: EditorState, before: EditorState | null): void {
    const floor = shownFloor(state);
    const shown = state.hiddenKinds !== before?.hiddenKinds;
    const moved = differs(state, before, 'furniture', 'rooms', 'analysis');
    if (shown || moved || state.plane !== before.plane) {
      // Walking people are looked for on the floor: there no piece lies under the field.
      const plane = state.plane === 'seated' ? floor.analysis.seatedPlane : 0;
      const pieces = state.hiddenKinds.has('furniture') ? [] : floor.furniture;
      this.pool.sync(pieces, { ceiling: referenceCeiling(floor), plane, frame: this.context.frame });
    }
    if (shown || differs(state, before, 'luminaires'))
      this.drawLuminaires(state.hiddenKinds.has('luminaire') ? [] : floor.luminaires);
  }

  private drawLuminaires(all: Floor['luminaires']): void {
    const { luminaires } = this;
    luminaires.clear();
    for (const { at, size, turn, base, top } of all) {
      const xy = localOutline(luminaireOutline(at, size, turn), this.context.frame);
      luminaires.addPolyline(xy, base, LUMINAIRE, true);
      luminaires.addPolyline(xy, top, LUMINAIRE, true);
    }
    luminaires.flush();
  }

  follow(): void {
    const { lean, walk } = this.context.rig;
    // From above nothing but tops can be seen.
    const flat = lean < 0.001 && walk < 0.001;
    const { batch } = this.pool.sides;
    batch.mesh.visible = batch.length > 0 && !flat;
    this.glass.visible = !flat;
    // Over the model they would only float.
    this.luminaires.mesh.visible = this.luminaires.length > 0 && (lean < 0.3 || walk > 0.7);
  }

  dispose(): void {
    this.pool.dispose();
    this.luminaires.dispose();
  }
}
