/** How broad a blind area is round each of its cells: what is narrower than one spacing of the hatch is filled. */
import { BLIND } from '../../../core/coverage/index.ts';
import type { CellWindow } from './cell-words.ts';

export const MOST_BREADTH = 7;
/** How many cells a broad place lends its breadth to, each way. */
const LEND = 7;
/** How far the change of one cell is felt. */
export const FELT = MOST_BREADTH + LEND;

/**
 * Writes the breadth bits of the words in `felt`. The breadth of a cell is the
 * lesser of its blind runs along its row and its column; then each cell takes the greatest within `LEND` along its run,
 * first over rows, then over columns. So the tip of a broad area counts as broad, a strip does not.
 */
export function writeBreadths(words: Uint32Array, nx: number, ny: number, felt: CellWindow, shift: number): void {
  // What is lent within `felt` may come from beyond it.
  const margin = {
    i0: Math.max(0, felt.i0 - LEND),
    j0: Math.max(0, felt.j0 - LEND),
    i1: Math.min(nx, felt.i1 + LEND),
    j1: Math.min(ny, felt.j1 + LEND),
  };
  const width = margin.i1 - margin.i0;
  const height = margin.j1 - margin.j0;
  const runs = new Uint8Array(width * height);
  const lent = new Uint8Array(width * height);
  const isBlind = (k: number) => ((words[k] as number) & 3) === BLIND;
  for (let j = margin.j0; j < margin.j1; j++) {
    measureRuns(isBlind, j * nx, 1, nx, margin.i0, margin.i1, (i, run) => {
      runs[(j - margin.j0) * width + i - margin.i0] = run;
    });
  }
  for (let i = margin.i0; i < margin.i1; i++) {
    measureRuns(isBlind, i, nx, ny, margin.j0, margin.j1, (j, run) => {
      const at = (j - margin.j0) * width + i - margin.i0;
      runs[at] = Math.min(runs[at] as number, run);
    });
  }
  for (let j = 0; j < height; j++) lend(runs, lent, j * width, 1, width);
  for (let i = 0; i < width; i++) lend(lent, runs, i, width, height);
  for (let j = felt.j0; j < felt.j1; j++) {
    for (let i = felt.i0; i < felt.i1; i++) {
      const k = j * nx + i;
      const breadth = runs[(j - margin.j0) * width + i - margin.i0] as number;
      words[k] = ((words[k] as number) & ~(MOST_BREADTH << shift)) | (breadth << shift);
    }
  }
}

/** Tells each blind cell from `from` to `to` of a line how long its run is, up to `MOST_BREADTH`; runs may begin outside. */
function measureRuns(
  isBlind: (k: number) => boolean,
  first: number,
  stride: number,
  length: number,
  from: number,
  to: number,
  tell: (at: number, run: number) => void,
): void {
  let at = from;
  while (at < to) {
    if (!isBlind(first + at * stride)) {
      at++;
      continue;
    }
    let start = at;
    while (start > 0 && at - start < MOST_BREADTH && isBlind(first + (start - 1) * stride)) start--;
    let end = at + 1;
    while (end < length && (end < to || end - start < MOST_BREADTH) && isBlind(first + end * stride)) end++;
    const run = Math.min(MOST_BREADTH, end - start);
    for (; at < end && at < to; at++) tell(at, run);
  }
}

/** Along one line: the greatest value within `LEND` that is joined without a gap; 0 parts. */
function lend(from: Uint8Array, to: Uint8Array, first: number, stride: number, length: number): void {
  for (let at = 0; at < length; at++) {
    const k = first + at * stride;
    let most = from[k] as number;
    if (most > 0 && most < MOST_BREADTH) {
      for (const way of [-1, 1]) {
        for (let n = 1; n <= LEND; n++) {
          const next = at + way * n;
          const value = next < 0 || next >= length ? 0 : (from[first + next * stride] as number);
          if (value === 0) break;
          if (value > most) most = value;
        }
      }
    }
    to[k] = most;
  }
}
