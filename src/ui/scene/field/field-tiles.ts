/**
 * The rooms cut into square tiles of cells, so that only tiles with something in them are drawn: in a good floor most of
 * the ground is seen, and there the blind view is bare paper.
 */

import { BLIND, SEEN } from '../../../core/coverage/index.ts';
import type { Floor } from '../../../core/floor/index.ts';
import { triangulate } from '../../../core/geometry/triangulate.ts';
import type { LocalFrame } from '../local-frame.ts';
import { type CellWindow, EVEN } from './cell-words.ts';

/** The words a plane's cells lie in. */
export interface WordGrid {
  /** Floor coordinates of its corner, metres. */
  readonly x0: number;
  readonly y0: number;
  /** Edge of what one word stands for, metres. */
  readonly cell: number;
  readonly nx: number;
  readonly ny: number;
}

export interface FieldTiles {
  /** Corners, flat x, y, local metres, and the tag of each one's room. */
  readonly xy: Float32Array;
  readonly tags: Float32Array;
  /** Corners of triangles; `index[starts[t] … starts[t + 1])` are those of tile t = row * across + column. */
  readonly index: Uint32Array;
  readonly starts: Uint32Array;
  readonly across: number;
  readonly down: number;
  /** Words a tile, each way. */
  readonly size: number;
}

const LEAST_WORDS = 16;
/** Smaller tiles than this would be more of them than cells are worth. */
const MOST_TILES = 20_000;

export function cutFieldTiles(floor: Floor, tags: Uint8Array, grid: WordGrid, frame: LocalFrame): FieldTiles {
  const { nx, ny, cell } = grid;
  const size = Math.max(LEAST_WORDS, Math.ceil(Math.sqrt((nx * ny) / MOST_TILES)));
  const across = Math.ceil(nx / size);
  const down = Math.ceil(ny / size);
  const pitch = size * cell;
  const x0 = grid.x0 - frame.x;
  const y0 = grid.y0 - frame.y;
  const xy: number[] = [];
  const cornerTags: number[] = [];
  const perTile: number[][] = Array.from({ length: across * down }, () => []);
  const put = (tile: number, polygon: readonly number[], tag: number) => {
    const first = cornerTags.length;
    for (let k = 0; k < polygon.length; k += 2) {
      xy.push(polygon[k] as number, polygon[k + 1] as number);
      cornerTags.push(tag);
    }
    const list = perTile[tile] as number[];
    for (let k = 1; k + 1 < polygon.length / 2; k++) list.push(first, first + k, first + k + 1);
  };
  floor.rooms.forEach((room, number) => {
    const cut = triangulate(room.outline, room.holes);
    for (let t = 0; t < cut.index.length; t += 3) {
      const triangle = [0, 1, 2].flatMap((k) => {
        const v = 2 * (cut.index[t + k] as number);
        return [(cut.xy[v] as number) - frame.x, (cut.xy[v + 1] as number) - frame.y];
      });
      const xs = triangle.filter((_, k) => k % 2 === 0);
      const ys = triangle.filter((_, k) => k % 2 === 1);
      const column = (x: number) => Math.min(across - 1, Math.max(0, Math.floor((x - x0) / pitch)));
      const row = (y: number) => Math.min(down - 1, Math.max(0, Math.floor((y - y0) / pitch)));
      for (let j = row(Math.min(...ys)); j <= row(Math.max(...ys)); j++) {
        const strip = clip(clip(triangle, 1, y0 + j * pitch, 1), 1, y0 + (j + 1) * pitch, -1, j + 1 === down);
        if (strip.length < 6) continue;
        for (let i = column(Math.min(...xs)); i <= column(Math.max(...xs)); i++) {
          const piece = clip(clip(strip, 0, x0 + i * pitch, 1), 0, x0 + (i + 1) * pitch, -1, i + 1 === across);
          if (piece.length >= 6) put(j * across + i, piece, tags[number] as number);
        }
      }
    }
  });
  const starts = new Uint32Array(perTile.length + 1);
  perTile.forEach((list, tile) => {
    starts[tile + 1] = (starts[tile] as number) + list.length;
  });
  const index = new Uint32Array(starts.at(-1) ?? 0);
  perTile.forEach((list, tile) => {
    index.set(list, starts[tile]);
  });
  return { xy: new Float32Array(xy), tags: new Float32Array(cornerTags), index, starts, across, down, size };
}

/** The part of a convex polygon on one side of a line along an axis; `open`: all of it, the line bounds nothing. */
function clip(polygon: readonly number[], axis: 0 | 1, at: number, sign: 1 | -1, open = false): readonly number[] {
  if (open) return polygon;
  const kept: number[] = [];
  const n = polygon.length;
  for (let k = 0; k < n; k += 2) {
    const [ax, ay] = [polygon[k] as number, polygon[k + 1] as number];
    const [bx, by] = [polygon[(k + 2) % n] as number, polygon[(k + 3) % n] as number];
    const a = ((axis === 0 ? ax : ay) - at) * sign;
    const b = ((axis === 0 ? bx : by) - at) * sign;
    if (a >= 0) kept.push(ax, ay);
    if (a > 0 === b > 0 || a === 0 || b === 0) continue;
    const t = a / (a - b);
    // On the line itself, to the last bit: neighbours meet there.
    kept.push(axis === 0 ? at : ax + (bx - ax) * t, axis === 1 ? at : ay + (by - ay) * t);
  }
  return kept;
}

/** Marks in `busy` which tiles of a window of words have anything to draw in the blind view. */
export function markBusyTiles(
  words: Uint32Array,
  { nx, ny }: Pick<WordGrid, 'nx' | 'ny'>,
  { across, down, size }: Pick<FieldTiles, 'across' | 'down' | 'size'>,
  window: CellWindow,
  busy: Uint8Array,
): void {
  const last = (word: number, count: number) => Math.min(count - 1, Math.floor((word - 1) / size));
  // A cell beside the tile reaches half into it.
  for (let tj = Math.max(0, Math.floor((window.j0 - 1) / size)); tj <= last(window.j1 + 1, down); tj++) {
    for (let ti = Math.max(0, Math.floor((window.i0 - 1) / size)); ti <= last(window.i1 + 1, across); ti++) {
      busy[tj * across + ti] = hasSomething(words, nx, ny, ti * size - 1, tj * size - 1, size + 2) ? 1 : 0;
    }
  }
}

function hasSomething(words: Uint32Array, nx: number, ny: number, i0: number, j0: number, size: number): boolean {
  for (let j = Math.max(0, j0); j < Math.min(ny, j0 + size); j++) {
    for (let k = j * nx + Math.max(0, i0); k < j * nx + Math.min(nx, i0 + size); k++) {
      const word = words[k] as number;
      const state = word & 3;
      if (state === BLIND || (state === SEEN && (word & EVEN) === 0)) return true;
    }
  }
  return false;
}

/** Writes the triangles of the busy tiles, of one reading or of either of two, into `into`; answers how many corners. */
export function gatherTiles(tiles: FieldTiles, busy: Uint8Array, also: Uint8Array | null, into: Uint32Array): number {
  const { index, starts } = tiles;
  let count = 0;
  for (let tile = 0; tile + 1 < starts.length; tile++) {
    if (busy[tile] === 0 && (also === null || also[tile] === 0)) continue;
    const part = index.subarray(starts[tile], starts[tile + 1]);
    into.set(part, count);
    count += part.length;
  }
  return count;
}
