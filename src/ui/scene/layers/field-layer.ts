/** What a plane shows: one texture a plane, one draw call, cut to the outlines of the rooms. */
import { BufferAttribute, BufferGeometry, type DataTexture, Group, Mesh, type WebGLRenderer } from 'three';
import type { Coverage, PlaneName } from '../../../core/coverage/index.ts';
import type { Floor } from '../../../core/floor/index.ts';
import { triangulate } from '../../../core/geometry/triangulate.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { createFieldMaterial, SHOW_CODE } from '../field/field-material.ts';
import { createLensTexture, writeLenses } from '../field/lens-texture.ts';
import { PlaneTexture } from '../field/plane-texture.ts';
import { tagRooms } from '../field/room-tags.ts';
import type { LocalFrame } from '../local-frame.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';

/** Just above the paper, metres. */
const ON_FLOOR = 0.012;

export class FieldLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly material: ReturnType<typeof createFieldMaterial>;
  private readonly mesh: Mesh<BufferGeometry, ReturnType<typeof createFieldMaterial>>;
  private readonly planes: { [plane in PlaneName]: PlaneTexture | null } = { seated: null, walking: null };
  private readonly largest: number;
  private lenses: DataTexture | null = null;
  private coverage: Coverage | null = null;
  private plane: PlaneName = 'seated';
  private tags: Uint8Array = new Uint8Array();

  /** @param largest edge of the largest texture the card takes */
  constructor(context: SceneContext, largest: number) {
    this.context = context;
    this.largest = largest;
    this.material = createFieldMaterial(context.shared);
    this.mesh = new Mesh(new BufferGeometry(), this.material);
    this.mesh.frustumCulled = false;
    this.mesh.renderOrder = ORDER.field;
    this.root.add(this.mesh);
  }

  /** Whether the plane asked for is on the screen with the next frame. */
  get isReady(): boolean {
    return this.coverage !== null;
  }

  sync(state: EditorState, before: EditorState | null): void {
    const floor = shownFloor(state);
    const { coverage, plane } = state;
    this.plane = plane;
    if (differs(state, before, 'rooms')) {
      this.mesh.geometry.dispose();
      this.tags = tagRooms(floor);
      this.mesh.geometry = buildFieldGround(floor, this.tags, this.context.frame);
    }
    this.material.uniforms.show.value = SHOW_CODE[state.show];
    this.mesh.visible = coverage !== null;
    if (coverage === null) {
      this.drop();
      return;
    }
    const { lattice } = coverage.grid;
    const planes = [this.planes.seated, this.planes.walking].filter((each) => each !== null);
    const fits = planes.every(
      ({ nx, ny, step }) => nx === Math.ceil(lattice.nx / step) && ny === Math.ceil(lattice.ny / step),
    );
    if (coverage !== this.coverage || !fits || before === null) {
      this.drop();
      this.coverage = coverage;
    } else if (state.coverageVersion !== before.coverageVersion && state.coverageChange !== null) {
      for (const each of planes) each.markStale(state.coverageChange);
    }
    this.remember(state, before);
    if (this.planes[plane] === null) this.planes[plane] = new PlaneTexture(coverage, plane, this.tags, this.largest);
    const count = floor.detectors.length;
    if (this.lenses === null || this.lenses.image.width !== Math.max(1, count)) {
      this.lenses?.dispose();
      this.lenses = createLensTexture(count);
      writeLenses(this.lenses, floor, this.context.frame);
    } else if (differs(state, before, 'detectors', 'rooms', 'types')) {
      writeLenses(this.lenses, floor, this.context.frame);
    }
  }

  /** Keeps the edge that was there before a gesture; the words still hold it, for they are read with the next frame. */
  private remember(state: EditorState, before: EditorState | null): void {
    const { remembers, earlier } = this.material.uniforms;
    if (state.preview === null) remembers.value = false;
    else if (before !== null && before.preview === null) {
      const plane = this.planes[state.plane];
      earlier.value = plane?.remember() ?? null;
      remembers.value = plane !== null;
    }
  }

  /** Puts on the card what has changed since the last frame. */
  upload(renderer: WebGLRenderer | null): void {
    const { coverage, material, context } = this;
    const plane = this.planes[this.plane];
    if (coverage === null || plane === null) return;
    plane.refresh(coverage, renderer);
    const { lattice } = coverage.grid;
    const { uniforms } = material;
    uniforms.cells.value = plane.texture;
    // A sampler is bound whether it is read or not, and an integer one only to integers.
    uniforms.earlier.value ??= plane.texture;
    uniforms.lenses.value = this.lenses;
    uniforms.cell.value = lattice.cell * plane.step;
    uniforms.corner.value.set(lattice.x0 - context.frame.x, lattice.y0 - context.frame.y);
  }

  follow(): void {
    const { lean, walk } = this.context.rig;
    const height = this.coverage?.[this.plane].height ?? 0;
    // In plan a plane lies where its people stand: seated above the desks, walking on the floor between them.
    const flat = this.plane === 'seated' ? height : ON_FLOOR;
    const orbit = flat + (height - flat) * lean;
    this.material.uniforms.level.value = orbit + (ON_FLOOR - orbit) * walk;
  }

  private drop(): void {
    this.planes.seated?.dispose();
    this.planes.walking?.dispose();
    this.material.uniforms.earlier.value = null;
    this.material.uniforms.remembers.value = false;
    this.planes.seated = null;
    this.planes.walking = null;
    this.coverage = null;
  }

  dispose(): void {
    this.drop();
    this.lenses?.dispose();
    this.mesh.geometry.dispose();
    this.material.dispose();
  }
}

/** The rooms as triangles, each corner with the tag of its room. */
export function buildFieldGround(floor: Floor, tags: Uint8Array, frame: LocalFrame): BufferGeometry {
  const positions: number[] = [];
  const corners: number[] = [];
  const indices: number[] = [];
  floor.rooms.forEach((room, number) => {
    const { xy, index } = triangulate(room.outline, room.holes);
    const first = corners.length;
    for (let k = 0; k < xy.length; k += 2) {
      positions.push((xy[k] as number) - frame.x, (xy[k + 1] as number) - frame.y, 0);
      corners.push(tags[number] as number);
    }
    for (const corner of index) indices.push(first + corner);
  });
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(new Float32Array(positions), 3));
  geometry.setAttribute('tag', new BufferAttribute(new Float32Array(corners), 1));
  geometry.setIndex(indices);
  return geometry;
}
