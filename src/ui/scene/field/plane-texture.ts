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
import type { Change, Coverage, PlaneName } from '../../../core/coverage/index.ts';
import type { Raster } from '../../../core/sight/index.ts';
import { type CellSource, type CellWindow, joinWindows, writeCellWords } from './cell-words.ts';
import { type FieldTiles, markBusyTiles, type WordGrid } from './field-tiles.ts';

/** Up to this many words (1 MB) the whole texture goes up at once: that takes less than asking the card how it stands. */
const SMALL = 262_144;

/** The words of a coverage's grid on a card that takes textures up to `largest` wide and high. */
export function gridOfWords(coverage: Coverage, largest: number): WordGrid & { readonly step: number } {
  const { x0, y0, cell, nx, ny } = coverage.grid.lattice;
  const step = Math.max(1, Math.ceil(Math.max(nx, ny) / largest));
  return { x0, y0, cell: cell * step, nx: Math.ceil(nx / step), ny: Math.ceil(ny / step), step };
}

/** Sets what a window is read by to what it is: otherwise the card is asked, and answers once it has drawn all it was given. */
function knowUnpacking(renderer: WebGLRenderer): void {
  const gl = renderer.getContext() as WebGL2RenderingContext;
  for (const name of [
    gl.UNPACK_ROW_LENGTH,
    gl.UNPACK_IMAGE_HEIGHT,
    gl.UNPACK_SKIP_PIXELS,
    gl.UNPACK_SKIP_ROWS,
    gl.UNPACK_SKIP_IMAGES,
  ])
    renderer.state.pixelStorei(name, 0);
}

/** Words written at once: they take a few milliseconds. */
const MOST_WORDS = 131_072;
const NOTHING: CellWindow = { i0: 0, j0: 0, i1: 0, j1: 0 };

/** The first rows of a window, as many as are written at once. */
function cutRows(window: CellWindow): CellWindow {
  const rows = Math.max(1, Math.floor(MOST_WORDS / Math.max(1, window.i1 - window.i0)));
  return { ...window, j1: Math.min(window.j1, window.j0 + rows) };
}

export class PlaneTexture {
  readonly texture: DataTexture;
  /** Tiles with something to draw in the blind view, and those that had when `remember` was called. */
  readonly busy: Uint8Array;
  busyEarlier: Uint8Array | null = null;
  private readonly plane: PlaneName;
  private readonly tags: Uint8Array;
  private readonly grid: WordGrid & { readonly step: number };
  private readonly tiles: FieldTiles;
  private readonly words: Uint32Array;
  /** Never put on the card: what `copyTextureToTexture` reads a window from. */
  private readonly source: DataTexture;
  private stale: CellWindow | null = null;
  /** Bits of the stale words, 32 a number; none is set outside `stale`. */
  private readonly staleCells: Int32Array;
  /** What has been written and is not on the card. */
  private written: CellWindow | null = null;
  private headings = false;
  private earlier: DataTexture | null = null;

  constructor(plane: PlaneName, grid: WordGrid & { readonly step: number }, tags: Uint8Array, tiles: FieldTiles) {
    const { nx, ny } = grid;
    this.plane = plane;
    this.grid = grid;
    this.tags = tags;
    this.tiles = tiles;
    this.words = new Uint32Array(nx * ny);
    this.busy = new Uint8Array(tiles.across * tiles.down);
    this.texture = createTexture(this.words, nx, ny);
    this.source = createTexture(this.words, nx, ny);
    this.staleCells = new Int32Array(((nx + 31) >> 5) * ny);
    this.markAll();
  }

  private markAll(): void {
    const { nx, ny } = this.grid;
    this.stale = { i0: 0, j0: 0, i1: nx, j1: ny };
    this.staleCells.fill(-1);
  }

  /** Remembers that cells have changed; they are read when the plane is next shown. */
  markStale(change: Change): void {
    const { step, nx, ny } = this.grid;
    const window: CellWindow = {
      i0: Math.floor(change.i0 / step),
      j0: Math.floor(change.j0 / step),
      i1: Math.min(nx, Math.ceil(change.i1 / step)),
      j1: Math.min(ny, Math.ceil(change.j1 / step)),
    };
    this.stale = joinWindows(this.stale, window);
    markCells(this.staleCells, (nx + 31) >> 5, window, step === 1 ? (change.cells?.[this.plane] ?? null) : null);
  }

  /** Whether there are words left to write: the card keeps what it has until all are. */
  get isBehind(): boolean {
    return this.stale !== null;
  }

  /** Whether the card has, or gets with the next frame, words to draw. */
  get isWritten(): boolean {
    return this.texture.version > 0;
  }

  /**
   * Brings the words, and with a renderer the card, up to date, for the headings view or the others: of many words some
   * rows at a time, so that no frame waits for all of them. True: the card has something else to draw.
   */
  refresh(coverage: Coverage, headings: boolean, renderer: WebGLRenderer | null): boolean {
    const { texture, words, grid } = this;
    if (headings !== this.headings) this.markAll();
    this.headings = headings;
    if (this.stale === null) return false;
    const slice = cutRows(this.stale);
    this.stale = slice.j1 < this.stale.j1 ? { ...this.stale, j0: slice.j1 } : null;
    const written = writeCellWords(words, this.sourceOf(coverage), slice, this.staleCells);
    if (written.i1 > written.i0) this.written = joinWindows(this.written, written);
    if (this.stale !== null) return false;
    const changed = this.written ?? NOTHING;
    this.written = null;
    if (changed === NOTHING && texture.version > 0) return false;
    markBusyTiles(words, grid, this.tiles, changed, this.busy);
    const whole = changed.i1 - changed.i0 === grid.nx && changed.j1 - changed.j0 === grid.ny;
    if (whole || words.length <= SMALL || renderer === null || texture.version === 0) {
      texture.needsUpdate = true;
      return true;
    }
    const from = new Vector2(changed.i0, changed.j0);
    knowUnpacking(renderer);
    renderer.copyTextureToTexture(this.source, texture, new Box2(from, new Vector2(changed.i1, changed.j1)), from);
    return true;
  }

  private sourceOf(coverage: Coverage): CellSource {
    const { lattice, room } = coverage.grid;
    const { nx, ny, step } = this.grid;
    const { tags, headings } = this;
    return { nx, ny, across: lattice.nx, step, room, tags, headings, field: coverage[this.plane] };
  }

  /** The cells as they stand on the card now, for as long as a gesture runs. */
  remember(): DataTexture {
    this.earlier ??= createTexture(new Uint32Array(this.words.length), this.grid.nx, this.grid.ny);
    (this.earlier.image.data as Uint32Array).set(this.words);
    this.earlier.needsUpdate = true;
    this.busyEarlier = this.busy.slice();
    return this.earlier;
  }

  /** The gesture is over. */
  forget(): void {
    this.busyEarlier = null;
  }

  dispose(): void {
    this.texture.dispose();
    this.earlier?.dispose();
  }
}

/**
 * Sets the bits of cells, all of a window's where they are not told one by one.
 * @param across numbers a row
 */
function markCells(stale: Int32Array, across: number, window: CellWindow, cells: Raster | null): void {
  if (cells === null) {
    // Whole numbers: a cell that is not stale is read and found as it was.
    for (let j = window.j0; j < window.j1; j++) {
      stale.fill(-1, j * across + (window.i0 >> 5), j * across + ((window.i1 + 31) >> 5));
    }
    return;
  }
  const { w0, j0, words, rows, bits } = cells;
  for (let r = 0, k = 0; r < rows; r++) {
    let at = (j0 + r) * across + w0;
    for (let w = 0; w < words; w++, k++, at++) stale[at] = (stale[at] as number) | (bits[k] as number);
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
