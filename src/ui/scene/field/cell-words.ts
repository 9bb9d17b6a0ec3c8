/**
 * One plane's cells as 32-bit words for the card. Bits, lowest first:
 * 0–1 state · 2–4 cause · 5–7 count (5: five or more) · 8–10 heading step · 11–14 run · 15–19 room tag · 20 plain ·
 * 21–31 nearest detector (2047: none).
 *
 * `run` is how many cells wide the blind area is at this cell, along its row or column, whichever is less (15: or more).
 * A `plain` cell looks like all its eight neighbours, so that a shader need not read them.
 */
import { BLIND, type Field, SEEN, TAKEN } from '../../../core/coverage/index.ts';

/** What a plane's words are made from. Word (i, j) stands for cell (i * step + offset, j * step + offset). */
export interface CellSource {
  /** Words a row, and rows. */
  readonly nx: number;
  readonly ny: number;
  /** Cells a row of the arrays. */
  readonly across: number;
  /** 1 where every cell has its word; more on floors of more cells than a texture holds, offset then half of it. */
  readonly step: number;
  readonly offset: number;
  /** Index of each cell's room, −1 outside. */
  readonly room: Int16Array;
  readonly field: Pick<Field, 'state' | 'cause' | 'count' | 'heading' | 'nearest'>;
}

/** Cells i0 … i1 − 1, j0 … j1 − 1. */
export interface CellWindow {
  readonly i0: number;
  readonly j0: number;
  readonly i1: number;
  readonly j1: number;
}

export const MOST_RUN = 15;
export const NO_DETECTOR = 2047;
const PLAIN = 1 << 20;
/** Everything but `plain` and `run`. */
const LOOK = ~(PLAIN | (15 << 11));

/** Tells rooms that touch each other apart, 1 to 31; 0 is outside. */
export function roomTag(room: number): number {
  return room < 0 ? 0 : (room % 31) + 1;
}

/** The five equal steps in which a share of headings is shown; 0 for none. */
export function headingStep(share: number): number {
  return share <= 0 ? 0 : Math.min(5, Math.max(1, Math.ceil(share * 5 - 1e-6)));
}

/** The smallest window that holds both. */
export function joinWindows(a: CellWindow | null, b: CellWindow | null): CellWindow | null {
  if (a === null || b === null) return a ?? b;
  return {
    i0: Math.min(a.i0, b.i0),
    j0: Math.min(a.j0, b.j0),
    i1: Math.max(a.i1, b.i1),
    j1: Math.max(a.j1, b.j1),
  };
}

/**
 * Brings the words up to date where cells of `window` have changed.
 * @returns the window of words that may have changed: runs and neighbours reach beyond the cells
 */
export function writeCellWords(words: Uint32Array, source: CellSource, window: CellWindow): CellWindow {
  const wide = widen(window, MOST_RUN, source);
  writeLooks(words, source, window);
  writeRuns(words, source, wide);
  markPlain(words, source, wide);
  return wide;
}

function widen(window: CellWindow, by: number, { nx, ny }: CellSource): CellWindow {
  return {
    i0: Math.max(0, window.i0 - by),
    j0: Math.max(0, window.j0 - by),
    i1: Math.min(nx, window.i1 + by),
    j1: Math.min(ny, window.j1 + by),
  };
}

/** Everything of a word that follows from its own cell; run and plain are kept. */
function writeLooks(words: Uint32Array, source: CellSource, { i0, j0, i1, j1 }: CellWindow): void {
  const { nx, across, step: pitch, offset, room, field } = source;
  const { state, cause, count, heading, nearest } = field;
  for (let j = j0; j < j1; j++) {
    const row = (j * pitch + offset) * across + offset;
    for (let i = i0; i < i1; i++) {
      const at = j * nx + i;
      const k = row + i * pitch;
      const own = state[k] as number;
      const kept = (words[at] as number) & ~LOOK;
      const tag = roomTag(room[k] as number) << 15;
      if (own === SEEN) {
        const seen = Math.min(5, count[k] as number);
        const step = heading === null ? 0 : headingStep(heading[k] as number);
        words[at] = own | (seen << 5) | (step << 8) | tag | kept | (NO_DETECTOR << 21);
      } else if (own === BLIND) {
        const from = nearest[k] as number;
        const step = heading === null ? 0 : headingStep(heading[k] as number);
        const detector = from < 0 ? NO_DETECTOR : from;
        words[at] = own | ((cause[k] as number) << 2) | (step << 8) | tag | kept | (detector << 21);
      } else {
        words[at] = (own === TAKEN ? own : 0) | tag | kept | (NO_DETECTOR << 21);
      }
    }
  }
}

const RUN_BITS = 15 << 11;

/** Widths of blind areas: along rows first, then the lesser along columns. */
function writeRuns(words: Uint32Array, { nx, ny }: CellSource, { i0, j0, i1, j1 }: CellWindow): void {
  for (let j = j0; j < j1; j++) runAlong(words, j * nx, nx, 1, i0, i1, false);
  for (let i = i0; i < i1; i++) runAlong(words, i, ny, nx, j0, j1, true);
}

function runAlong(
  words: Uint32Array,
  first: number,
  length: number,
  stride: number,
  from: number,
  to: number,
  keepLess: boolean,
): void {
  const isBlind = (at: number) => ((words[first + at * stride] as number) & 3) === BLIND;
  let at = from;
  while (at < to) {
    const k = first + at * stride;
    if (!isBlind(at)) {
      words[k] = (words[k] as number) & ~RUN_BITS;
      at++;
      continue;
    }
    let start = at;
    while (start > 0 && at - start < MOST_RUN && isBlind(start - 1)) start--;
    let end = at + 1;
    while (end < length && (end < to || end - start < MOST_RUN) && isBlind(end)) end++;
    const run = Math.min(MOST_RUN, end - start);
    for (; at < Math.min(end, to); at++) {
      const here = first + at * stride;
      const word = words[here] as number;
      const before = (word >>> 11) & 15;
      words[here] = (word & ~RUN_BITS) | ((keepLess ? Math.min(before, run) : run) << 11);
    }
  }
}

function markPlain(words: Uint32Array, { nx, ny }: CellSource, { i0, j0, i1, j1 }: CellWindow): void {
  for (let j = j0; j < j1; j++) {
    for (let i = i0; i < i1; i++) {
      const k = j * nx + i;
      const own = (words[k] as number) & LOOK;
      const inside = i > 0 && j > 0 && i + 1 < nx && j + 1 < ny;
      const same =
        inside &&
        ((words[k - 1] as number) & LOOK) === own &&
        ((words[k + 1] as number) & LOOK) === own &&
        ((words[k - nx] as number) & LOOK) === own &&
        ((words[k + nx] as number) & LOOK) === own &&
        ((words[k - nx - 1] as number) & LOOK) === own &&
        ((words[k - nx + 1] as number) & LOOK) === own &&
        ((words[k + nx - 1] as number) & LOOK) === own &&
        ((words[k + nx + 1] as number) & LOOK) === own;
      words[k] = same ? (words[k] as number) | PLAIN : (words[k] as number) & ~PLAIN;
    }
  }
}
