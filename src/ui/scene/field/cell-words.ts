/**
 * One plane's cells as 32-bit words for the card. Bits, lowest first:
 * 0–1 state · 2–4 cause · 5–7 count (5: five or more) · 8–10 heading step · 11–14 breadth · 15–19 room tag · 20 plain ·
 * 21–31 nearest detector (2047: none).
 *
 * `breadth` is how many cells wide the blind area is hereabouts (15: or more): a strip is narrow, the tip of a broad area
 * is not. A `plain` cell looks like every cell within two of it, so that a shader need not read them.
 */
import { BLIND, type Field, SEEN, TAKEN } from '../../../core/coverage/index.ts';
import { MOST_BREADTH, writeBreadths } from './breadth.ts';

/** What a plane's words are made from. Word (i, j) stands for cell (i * step, j * step). */
export interface CellSource {
  /** Words a row, and rows. */
  readonly nx: number;
  readonly ny: number;
  /** Cells a row of the arrays. */
  readonly across: number;
  /** 1 where every cell has its word; more on floors of more cells than a texture holds. */
  readonly step: number;
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

export const NO_DETECTOR = 2047;
export const PLAIN = 1 << 20;
const BREADTH = MOST_BREADTH << 11;
/** Everything that follows from the cell alone. */
const LOOK = ~(PLAIN | BREADTH);
/** How far a change of one cell is felt: by breadths, which look further than `plain` does. */
const FELT = 2 * MOST_BREADTH;

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

/** A window with a margin, cut to the words there are. */
export function widen(window: CellWindow, by: number, { nx, ny }: Pick<CellSource, 'nx' | 'ny'>): CellWindow {
  return {
    i0: Math.max(0, window.i0 - by),
    j0: Math.max(0, window.j0 - by),
    i1: Math.min(nx, window.i1 + by),
    j1: Math.min(ny, window.j1 + by),
  };
}

/**
 * Brings the words up to date where cells of `window` have changed.
 * @returns the window of words that may have changed
 */
export function writeCellWords(words: Uint32Array, source: CellSource, window: CellWindow): CellWindow {
  const felt = widen(window, FELT, source);
  writeLooks(words, source, window);
  writeBreadths(words, source.nx, source.ny, felt);
  markPlain(words, source, widen(window, 2, source));
  return felt;
}

/** Everything of a word that follows from its own cell; the rest is kept. */
function writeLooks(words: Uint32Array, source: CellSource, { i0, j0, i1, j1 }: CellWindow): void {
  const { nx, across, step: pitch, room, field } = source;
  const { state, cause, count, heading, nearest } = field;
  for (let j = j0; j < j1; j++) {
    const row = j * pitch * across;
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

function markPlain(words: Uint32Array, { nx, ny }: CellSource, { i0, j0, i1, j1 }: CellWindow): void {
  for (let j = j0; j < j1; j++) {
    for (let i = i0; i < i1; i++) {
      const k = j * nx + i;
      const word = words[k] as number;
      const own = word & LOOK;
      let same = i > 1 && j > 1 && i + 2 < nx && j + 2 < ny;
      // Neighbours beside it first: where a border runs they differ most often.
      for (let dy = 0; same && dy <= 2; dy++) {
        for (let dx = -2; same && dx <= 2; dx++) {
          same =
            ((words[k + dy * nx + dx] as number) & LOOK) === own &&
            ((words[k - dy * nx + dx] as number) & LOOK) === own;
        }
      }
      words[k] = same ? word | PLAIN : word & ~PLAIN;
    }
  }
}
