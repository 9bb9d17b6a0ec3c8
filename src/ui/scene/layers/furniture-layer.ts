/** Furniture, and luminaires as faint outlines: two geometries of faces and two batches of lines, however many pieces. */
import { type BufferGeometry, Group, Mesh, type ShaderMaterial } from 'three';
import type { Floor } from '../../../core/floor/index.ts';
import { luminaireOutline } from '../../../core/sight/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { buildPrisms, drawPrismEdges, localOutline } from '../geometry/prisms.ts';
import { referenceCeiling } from '../local-frame.ts';
import { COLOUR } from '../paint.ts';
import { replace } from './ground-layer.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';

const LUMINAIRE: LineStyle = { width: 1, colour: COLOUR.hair, alpha: 0.7 };

export class FurnitureLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly solid: Mesh<BufferGeometry, ShaderMaterial>;
  private readonly glass: Mesh<BufferGeometry, ShaderMaterial>;
  private readonly tops: LineBatch;
  private readonly sides: LineBatch;
  private readonly luminaires: LineBatch;

  constructor(context: SceneContext) {
    const { materials } = context;
    this.context = context;
    this.solid = new Mesh(undefined, materials.flat);
    this.glass = new Mesh(undefined, materials.glass);
    this.glass.renderOrder = ORDER.glass;
    this.tops = new LineBatch(materials.line, ORDER.edges);
    this.sides = new LineBatch(materials.line, ORDER.edges);
    this.luminaires = new LineBatch(materials.line, ORDER.edges);
    this.root.add(this.solid, this.glass, this.tops.mesh, this.sides.mesh, this.luminaires.mesh);
    this.solid.frustumCulled = false;
    this.glass.frustumCulled = false;
  }

  sync(state: EditorState, before: EditorState | null): void {
    const floor = shownFloor(state);
    const moved = differs(state, before, 'furniture', 'rooms');
    if (moved) {
      const { solid, glass } = buildPrisms(floor.furniture, referenceCeiling(floor), this.context.frame);
      replace(this.solid, solid);
      replace(this.glass, glass);
    }
    if (moved || before === null || state.plane !== before.plane || differs(state, before, 'analysis')) {
      // Walking people are looked for on the floor: there no piece lies under the field.
      const plane = state.plane === 'seated' ? floor.analysis.seatedPlane : 0;
      this.tops.clear();
      this.sides.clear();
      drawPrismEdges({ tops: this.tops, sides: this.sides }, floor.furniture, plane, this.context.frame);
      this.tops.flush();
      this.sides.flush();
    }
    if (differs(state, before, 'luminaires')) this.drawLuminaires(floor);
  }

  private drawLuminaires(floor: Floor): void {
    const { luminaires } = this;
    luminaires.clear();
    for (const { at, size, turn, base, top } of floor.luminaires) {
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
    this.sides.mesh.visible = this.sides.length > 0 && !flat;
    this.glass.visible = !flat;
    // Over the model they would only float.
    this.luminaires.mesh.visible = this.luminaires.length > 0 && (lean < 0.3 || walk > 0.7);
  }

  dispose(): void {
    this.solid.geometry.dispose();
    this.glass.geometry.dispose();
    for (const batch of [this.tops, this.sides, this.luminaires]) batch.dispose();
  }
}
