/** What a plane shows: one texture a plane, one draw call, cut to the outlines of the rooms. */
import {
  BufferAttribute,
  BufferGeometry,
  type DataTexture,
  DynamicDrawUsage,
  Group,
  Mesh,
  type WebGLRenderer,
} from 'three';
import type { Coverage, PlaneName } from '../../../core/coverage/index.ts';
import type { Floor } from '../../../core/floor/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { createFieldMaterial, SHOW_CODE } from '../field/field-material.ts';
import { cutFieldTiles, type FieldTiles, gatherTiles } from '../field/field-tiles.ts';
import { createLensTexture, writeLenses } from '../field/lens-texture.ts';
import { gridOfWords, PlaneTexture } from '../field/plane-texture.ts';
import { tagRooms } from '../field/room-tags.ts';
import { differs, type Layer, ORDER, type SceneContext } from './layer.ts';

/** Just above the paper, metres. */
const ON_FLOOR = 0.012;

/** What is made anew with every coverage. */
interface Ground {
  readonly coverage: Coverage;
  readonly lattice: Coverage['grid']['lattice'];
  readonly grid: ReturnType<typeof gridOfWords>;
  readonly tags: Uint8Array;
  readonly tiles: FieldTiles;
  readonly planes: { [plane in PlaneName]: PlaneTexture | null };
}

interface Cut {
  readonly rooms: Floor['rooms'];
  readonly key: string;
  readonly tags: Uint8Array;
  readonly tiles: FieldTiles;
}

export class FieldLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly material: ReturnType<typeof createFieldMaterial>;
  private readonly mesh: Mesh<BufferGeometry, ReturnType<typeof createFieldMaterial>>;
  private readonly largest: number;
  private ground: Ground | null = null;
  private cut: Cut | null = null;
  private lenses: DataTexture | null = null;
  private plane: PlaneName = 'seated';
  /** The triangles drawn are those of another view. */
  private regather = false;
  /** Something else is shown in place of the heat map. */
  private isCovered = false;

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

  /** Whether the next frame shows a field. */
  get isReady(): boolean {
    return this.ground?.planes[this.plane]?.isWritten ?? false;
  }

  sync(state: EditorState, before: EditorState | null): void {
    const { coverage, plane, show } = state;
    const { uniforms } = this.material;
    this.regather ||= plane !== this.plane || uniforms.show.value !== SHOW_CODE[show];
    this.plane = plane;
    uniforms.show.value = SHOW_CODE[show];
    this.isCovered = state.difference !== null;
    this.mesh.visible = coverage !== null && !this.isCovered;
    if (coverage === null) {
      this.drop();
      return;
    }
    // A coverage made anew in place has another lattice, though it is the same object.
    const stands = this.ground?.coverage === coverage && this.ground.lattice === coverage.grid.lattice;
    if (!stands || before === null) this.lay(coverage);
    else if (state.coverageVersion !== before.coverageVersion && state.coverageChange !== null) {
      for (const each of Object.values(this.ground?.planes ?? {})) each?.markStale(state.coverageChange);
    }
    this.remember(state, before);
    const { ground } = this;
    if (ground !== null) ground.planes[plane] ??= new PlaneTexture(plane, ground.grid, ground.tags, ground.tiles);
    this.followLenses(state, before);
  }

  private lay(coverage: Coverage): void {
    this.drop();
    const grid = gridOfWords(coverage, this.largest);
    const { tags, tiles } = this.cutTiles(coverage.floor, grid);
    const planes = { seated: null, walking: null };
    this.ground = { coverage, lattice: coverage.grid.lattice, grid, tags, tiles, planes };
    const positions = new Float32Array(tiles.tags.length * 3);
    tiles.tags.forEach((_, k) => {
      positions.set(tiles.xy.subarray(2 * k, 2 * k + 2), 3 * k);
    });
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(positions, 3));
    geometry.setAttribute('tag', new BufferAttribute(tiles.tags, 1));
    geometry.setIndex(new BufferAttribute(new Uint32Array(tiles.index.length), 1).setUsage(DynamicDrawUsage));
    this.mesh.geometry.dispose();
    this.mesh.geometry = geometry;
    this.regather = true;
  }

  /** The floor cut into tiles: of the same rooms and cells, as after another plane, those that were. */
  private cutTiles(floor: Floor, grid: Ground['grid']): Cut {
    const { x0, y0, cell, nx, ny } = grid;
    const { frame } = this.context;
    const key = [x0, y0, cell, nx, ny, frame.x, frame.y].join(' ');
    if (this.cut?.rooms !== floor.rooms || this.cut.key !== key) {
      const tags = tagRooms(floor);
      this.cut = { rooms: floor.rooms, key, tags, tiles: cutFieldTiles(floor, tags, grid, frame) };
    }
    return this.cut;
  }

  /** Keeps the edge that was there before a gesture; the words still hold it, for they are read with the next frame. */
  private remember(state: EditorState, before: EditorState | null): void {
    const { remembers, earlier } = this.material.uniforms;
    const plane = this.ground?.planes[state.plane] ?? null;
    if (state.preview === null) {
      if (remembers.value === true) this.regather = true;
      remembers.value = false;
      plane?.forget();
    } else if (before !== null && before.preview === null && plane !== null) {
      earlier.value = plane.remember();
      remembers.value = true;
    }
  }

  private followLenses(state: EditorState, before: EditorState | null): void {
    const floor = shownFloor(state);
    const count = Math.max(1, floor.detectors.length);
    const fits = this.lenses?.image.width === count;
    if (fits && !differs(state, before, 'detectors', 'rooms', 'types')) return;
    if (!fits) {
      this.lenses?.dispose();
      this.lenses = createLensTexture(count);
    }
    if (this.lenses !== null) writeLenses(this.lenses, floor, this.context.frame);
  }

  /** Puts on the card what has changed since the last frame. True: another frame is needed for the rest. */
  upload(renderer: WebGLRenderer | null): boolean {
    const { ground, material, context, mesh } = this;
    const plane = ground?.planes[this.plane];
    if (!ground || !plane) return false;
    const changed = plane.refresh(ground.coverage, material.uniforms.show.value === SHOW_CODE.headings, renderer);
    if (!plane.isWritten) {
      mesh.visible = false;
      return plane.isBehind;
    }
    if (changed || this.regather) this.gather(ground.tiles, plane);
    const { uniforms } = material;
    uniforms.cells.value = plane.texture;
    // A sampler is bound whether it is read or not, and an integer one only to integers.
    uniforms.earlier.value ??= plane.texture;
    uniforms.lenses.value = this.lenses;
    uniforms.cell.value = ground.grid.cell;
    uniforms.corner.value.set(ground.grid.x0 - context.frame.x, ground.grid.y0 - context.frame.y);
    mesh.visible = mesh.geometry.drawRange.count > 0 && !this.isCovered;
    return plane.isBehind;
  }

  /** Chooses the tiles that are drawn: in the blind view those with something in them, else all. */
  private gather(tiles: FieldTiles, plane: PlaneTexture): void {
    this.regather = false;
    const { geometry } = this.mesh;
    const index = geometry.getIndex();
    if (index === null) return;
    const into = index.array as Uint32Array;
    let count = tiles.index.length;
    if (this.material.uniforms.show.value === SHOW_CODE.blind)
      count = gatherTiles(tiles, plane.busy, plane.busyEarlier, into);
    else into.set(tiles.index);
    index.clearUpdateRanges();
    index.addUpdateRange(0, count);
    index.needsUpdate = true;
    geometry.setDrawRange(0, count);
  }

  follow(): void {
    const { lean, walk } = this.context.rig;
    const height = this.ground?.coverage[this.plane].height ?? 0;
    // In plan a plane lies where its people stand: seated above the desks, walking on the floor between them.
    const flat = this.plane === 'seated' ? height : ON_FLOOR;
    const orbit = flat + (height - flat) * lean;
    this.material.uniforms.level.value = orbit + (ON_FLOOR - orbit) * walk;
  }

  private drop(): void {
    this.ground?.planes.seated?.dispose();
    this.ground?.planes.walking?.dispose();
    this.ground = null;
    this.material.uniforms.earlier.value = null;
    this.material.uniforms.remembers.value = false;
  }

  dispose(): void {
    this.drop();
    this.lenses?.dispose();
    this.mesh.geometry.dispose();
    this.material.dispose();
  }
}
