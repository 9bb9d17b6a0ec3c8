/** The cells of one plane on the card, kept up to date where they change. */
import {
  Box2,
  DataTexture,
  NearestFilter,
  RedIntegerFormat,
  UnsignedIntType,
  Vector2,
  type WebGLRenderer,
} from 'three';
import type { Coverage, PlaneName } from '../../../core/coverage/index.ts';
import { type CellSource, type CellWindow, joinWindows, writeCellWords } from './cell-words.ts';

/** Below this many words the whole texture goes up at once: one call of a size that no longer matters. */
const SMALL = 16_384;

export class PlaneTexture {
  readonly texture: DataTexture;
  readonly words: Uint32Array;
  readonly nx: number;
  readonly ny: number;
  /** Cells a word stands for, each way. */
  readonly step: number;
  private readonly plane: PlaneName;
  private readonly tags: Uint8Array;
  /** Never put on the card: what `copyTextureToTexture` reads a window from. */
  private readonly source: DataTexture;
  private stale: CellWindow | null;
  private earlier: DataTexture | null = null;

  constructor(coverage: Coverage, plane: PlaneName, tags: Uint8Array, largest: number) {
    this.tags = tags;
    const { nx, ny } = coverage.grid.lattice;
    this.plane = plane;
    this.step = Math.max(1, Math.ceil(Math.max(nx, ny) / largest));
    this.nx = Math.ceil(nx / this.step);
    this.ny = Math.ceil(ny / this.step);
    this.words = new Uint32Array(this.nx * this.ny);
    this.texture = createTexture(this.words, this.nx, this.ny);
    this.source = createTexture(this.words, this.nx, this.ny);
    this.stale = { i0: 0, j0: 0, i1: this.nx, j1: this.ny };
  }

  /** Remembers that cells have changed; they are read when the plane is next shown. */
  markStale(change: CellWindow): void {
    const { step } = this;
    this.stale = joinWindows(this.stale, {
      i0: Math.floor(change.i0 / step),
      j0: Math.floor(change.j0 / step),
      i1: Math.min(this.nx, Math.ceil(change.i1 / step)),
      j1: Math.min(this.ny, Math.ceil(change.j1 / step)),
    });
  }

  /** Brings the words, and with a renderer the card, up to date. */
  refresh(coverage: Coverage, renderer: WebGLRenderer | null): void {
    const { stale, texture, words, nx, ny } = this;
    if (stale === null) return;
    this.stale = null;
    const changed = writeCellWords(words, this.sourceOf(coverage), stale);
    const whole = changed.i1 - changed.i0 === nx && changed.j1 - changed.j0 === ny;
    if (whole || words.length <= SMALL || renderer === null || texture.version === 0) {
      texture.needsUpdate = true;
      return;
    }
    const from = new Vector2(changed.i0, changed.j0);
    renderer.copyTextureToTexture(this.source, texture, new Box2(from, new Vector2(changed.i1, changed.j1)), from);
  }

  private sourceOf(coverage: Coverage): CellSource {
    const { nx, ny, step, tags, plane } = this;
    const { lattice, room } = coverage.grid;
    return { nx, ny, across: lattice.nx, step, room, tags, field: coverage[plane] };
  }

  /** The cells as they stand on the card now, for as long as a gesture runs. */
  remember(): DataTexture {
    this.earlier ??= createTexture(new Uint32Array(this.words.length), this.nx, this.ny);
    (this.earlier.image.data as Uint32Array).set(this.words);
    this.earlier.needsUpdate = true;
    return this.earlier;
  }

  dispose(): void {
    this.texture.dispose();
    this.earlier?.dispose();
  }
}

function createTexture(words: Uint32Array, width: number, height: number): DataTexture {
  const texture = new DataTexture(words, width, height, RedIntegerFormat, UnsignedIntType);
  texture.internalFormat = 'R32UI';
  texture.minFilter = NearestFilter;
  texture.magFilter = NearestFilter;
  texture.generateMipmaps = false;
  texture.unpackAlignment = 4;
  return texture;
}
