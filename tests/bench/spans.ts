/** The sight lines of a set of layers, as runs of cells: the work that every contestant does. */
import type { Lens, Raster } from '../../src/core/sight/index.ts';

/** One detector's view of one plane. */
export interface SightLayer {
  readonly lens: Lens;
  /** Height of the plane, metres. */
  readonly h: number;
  readonly seen: Raster;
  /** The cells in range and in a room: each is one sight line. */
  readonly inRange: Raster;
}

/** Runs of cells whose centres are in range and in a room, layer by layer and row by row. */
export interface Spans {
  readonly count: number;
  /** Per span: index of its layer, row and first column on the lattice. */
  readonly layer: Int32Array;
  readonly row: Int32Array;
  readonly column: Int32Array;
  /** Per span: where it lies when every layer's window has a byte a cell; the end is one past its last. */
  readonly start: Int32Array;
  readonly end: Int32Array;
  readonly sightLines: number;
  /** Bytes of all windows together. */
  readonly bytes: number;
}

export function listSpans(layers: readonly SightLayer[]): Spans {
  const [layer, row, column, start, end]: [number[], number[], number[], number[], number[]] = [[], [], [], [], []];
  let bytes = 0;
  layers.forEach(({ inRange }, index) => {
    const { words, rows, bits, w0, j0 } = inRange;
    const width = 32 * words;
    for (let r = 0; r < rows; r++) {
      for (let i = 0; i < width; ) {
        if (!isSet(bits, r * words, i)) {
          i++;
          continue;
        }
        const first = i;
        while (i < width && isSet(bits, r * words, i)) i++;
        layer.push(index);
        row.push(j0 + r);
        column.push(32 * w0 + first);
        start.push(bytes + r * width + first);
        end.push(bytes + r * width + i);
      }
    }
    bytes += rows * width;
  });
  return {
    count: layer.length,
    layer: Int32Array.from(layer),
    row: Int32Array.from(row),
    column: Int32Array.from(column),
    start: Int32Array.from(start),
    end: Int32Array.from(end),
    sightLines: start.reduce((sum, from, span) => sum + end[span]! - from, 0),
    bytes,
  };
}

function isSet(bits: Int32Array, base: number, i: number): boolean {
  return (bits[base + (i >> 5)]! & (1 << (i & 31))) !== 0;
}

/** Writes one byte per sight line, in a plain loop. */
export function writeBytes({ count, start, end }: Spans, bytes: Uint8Array, value: number): void {
  for (let span = 0; span < count; span++) {
    const to = end[span]!;
    for (let k = start[span]!; k < to; k++) bytes[k] = value;
  }
}

/** Writes the same bytes with the built-in fill. */
export function fillBytes({ count, start, end }: Spans, bytes: Uint8Array, value: number): void {
  for (let span = 0; span < count; span++) bytes.fill(value, start[span], end[span]);
}
