/** Who walks, and who is looked at on the way: the walker's mark in plan and model, somebody at the place asked about. */
import { BufferAttribute, BufferGeometry, DoubleSide, Group, Mesh } from 'three';
import type { EditorState } from '../../../editor/store.ts';
import { isPlaceSeen } from '../field/place-seen.ts';
import { LineBatch, type LineStyle } from '../geometry/line-batch.ts';
import { MarkBatch } from '../geometry/mark-batch.ts';
import { crossPerson, drawPerson } from '../geometry/person.ts';
import { createVeilMaterial } from '../materials/flat-material.ts';
import { GLYPH } from '../materials/mark-material.ts';
import { COLOUR } from '../paint.ts';
import type { Layer, SceneContext } from './layer.ts';
import { ORDER } from './layer.ts';

const OUTLINE: LineStyle = { width: 2, colour: COLOUR.accent };
const HATCH: LineStyle = { width: 1.25, colour: COLOUR.accent };
const HATCH_PITCH = 0.075;

export class WalkLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly walker: MarkBatch;
  private readonly person = new Group();
  private readonly seen: Mesh<BufferGeometry, ReturnType<typeof createVeilMaterial>>;
  private readonly missed: Mesh<BufferGeometry, ReturnType<typeof createVeilMaterial>>;
  private readonly lines: LineBatch;
  /** Nobody is marked before somebody has walked. */
  private walked = false;

  constructor(context: SceneContext) {
    const { shared, materials } = context;
    this.context = context;
    this.walker = new MarkBatch(materials.overMark, ORDER.detectors - 1);
    this.seen = new Mesh(new BufferGeometry(), createVeilMaterial(shared, COLOUR.ink, 1, DoubleSide));
    this.missed = new Mesh(this.seen.geometry, createVeilMaterial(shared, COLOUR.tint, 1, DoubleSide));
    for (const mesh of [this.seen, this.missed]) {
      mesh.material.depthWrite = true;
      mesh.renderOrder = ORDER.field + 1;
      mesh.frustumCulled = false;
    }
    this.lines = new LineBatch(materials.line, ORDER.field + 2);
    this.person.add(this.seen, this.missed, this.lines.mesh);
    this.root.add(this.walker.mesh, this.person);
  }

  sync(state: EditorState, before: EditorState | null): void {
    if (state.camera === 'walk') this.walked = true;
    const { frame } = this.context;
    if (before === null || state.walker !== before.walker || state.camera !== before.camera) {
      this.walker.clear();
      if (this.walked && state.camera !== 'walk') {
        const { at, heading } = state.walker;
        const turn = (heading * Math.PI) / 180;
        this.walker.add(at[0] - frame.x, at[1] - frame.y, 0.02, {
          glyph: GLYPH.walker,
          colour: COLOUR.ink,
          radius: 5,
          turn,
        });
      }
      this.walker.flush();
    }
    const same = state.probe === before?.probe && state.plane === before?.plane && state.camera === before?.camera;
    if (same && state.coverageVersion === before?.coverageVersion) return;
    const shows = state.probe !== null && state.camera === 'walk' && state.coverage !== null;
    this.person.visible = shows;
    if (shows && state.probe !== null && state.coverage !== null) {
      this.drawPerson(
        state.plane === 'seated' ? 'seated' : 'standing',
        isPlaceSeen(state.coverage, state.plane, state.probe.at),
      );
      const [x, y] = state.probe.at;
      this.person.position.set(x - frame.x, y - frame.y, 0);
    }
  }

  private drawPerson(posture: 'seated' | 'standing', seen: boolean): void {
    const person = drawPerson(posture);
    const positions = new Float32Array((person.corners.length / 2) * 3);
    for (let i = 0; i < person.corners.length / 2; i++) {
      positions[3 * i] = person.corners[2 * i] as number;
      positions[3 * i + 2] = person.corners[2 * i + 1] as number;
    }
    this.seen.geometry.dispose();
    this.seen.geometry = new BufferGeometry().setAttribute('position', new BufferAttribute(positions, 3));
    this.missed.geometry = this.seen.geometry;
    this.seen.visible = seen;
    this.missed.visible = !seen;
    this.lines.clear();
    if (!seen) {
      for (const ring of person.rings) {
        for (let i = 0; i < ring.length; i += 2) {
          const j = (i + 2) % ring.length;
          const [ax = 0, az = 0, bx = 0, bz = 0] = [ring[i], ring[i + 1], ring[j], ring[j + 1]];
          this.lines.add(ax, -0.004, az, bx, -0.004, bz, OUTLINE);
        }
      }
      for (let z = HATCH_PITCH; z < 1.8; z += HATCH_PITCH) {
        const cuts = crossPerson(person, z);
        for (let k = 0; k + 1 < cuts.length; k += 2) {
          this.lines.add(cuts[k] as number, -0.002, z, cuts[k + 1] as number, -0.002, z, HATCH);
        }
      }
    }
    this.lines.flush();
  }

  follow(): void {
    const { rig } = this.context;
    // The figure turns its front to whoever looks.
    const { x, y } = this.person.position;
    this.person.rotation.z = Math.atan2(y - rig.walker.y, x - rig.walker.x) - Math.PI / 2;
  }

  dispose(): void {
    this.walker.dispose();
    this.lines.dispose();
    this.seen.geometry.dispose();
    this.seen.material.dispose();
    this.missed.material.dispose();
  }
}
