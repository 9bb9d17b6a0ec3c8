/**
 * One plane's cells as 32-bit words for the card. Bits, lowest first:
 * 0–1 state · 2–4 cause of a blind cell, count of a seen one (5: five or more) · 5–7 heading step · 8–10 breadth ·
 * 11–14 softness · 15–18 room tag · 19 even · 20 plain · 21–31 nearest detector (2047: none).
 *
 * `breadth` is how many cells wide the blind area is hereabouts (7: or more): a strip is narrow, the tip of a broad area
 * is not. `softness` says how blind the cells round it are, so that an edge can be drawn as a slope and not as stairs; it
 * never turns a cell into what it is not. Beside a `plain` cell every known cell of its room looks like it, beside an
 * `even` one every one is blind as it is, or is not: then a shader need not read them.
 */
import { BLIND, CAUSES, type Field, SEEN, TAKEN } from '../../../core/coverage/index.ts';
import { FELT, MOST_BREADTH, writeBreadths } from './breadth.ts';

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
  /** Per room its tag, 1 to 15: rooms that touch have different ones. */
  readonly tags: Uint8Array;
  /** For the headings view: what is blind for too few headings alone counts as seen, and shows how many. */
  readonly headings: boolean;
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
const TOO_FEW = CAUSES.indexOf('headings');
/** Where each part of a word begins; the shader reads by these. */
export const SHIFTS = { look: 2, step: 5, breadth: 8, soft: 11, tag: 15, nearest: 21 } as const;
export const EVEN = 1 << 19;
export const PLAIN = 1 << 20;
const BREADTH = MOST_BREADTH << SHIFTS.breadth;
const SOFT = 15 << SHIFTS.soft;
/** Everything that follows from the cell alone. */
const LOOK = ~(EVEN | PLAIN | BREADTH | SOFT);
const TAG = 15 << SHIFTS.tag;

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
function widen(window: CellWindow, by: number, { nx, ny }: Pick<CellSource, 'nx' | 'ny'>): CellWindow {
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
  writeBreadths(words, source.nx, source.ny, felt, SHIFTS.breadth);
  writeSurroundings(words, source, widen(window, 1, source));
  return felt;
}

/** Everything of a word that follows from its own cell; the rest is kept. */
function writeLooks(words: Uint32Array, source: CellSource, { i0, j0, i1, j1 }: CellWindow): void {
  const { nx, across, step: pitch, room, tags, headings, field } = source;
  const { state, cause, count, heading, nearest } = field;
  for (let j = j0; j < j1; j++) {
    const row = j * pitch * across;
    for (let i = i0; i < i1; i++) {
      const at = j * nx + i;
      const k = row + i * pitch;
      const own = state[k] as number;
      const inRoom = room[k] as number;
      const tag = inRoom < 0 ? 0 : (tags[inRoom] as number) << SHIFTS.tag;
      const kept = (words[at] as number) & ~LOOK;
      const step = heading === null ? 0 : headingStep(heading[k] as number) << SHIFTS.step;
      if (own === SEEN || (headings && own === BLIND && cause[k] === TOO_FEW)) {
        const look = Math.min(5, count[k] as number) << SHIFTS.look;
        words[at] = SEEN | look | step | tag | kept | (NO_DETECTOR << SHIFTS.nearest);
      } else if (own === BLIND) {
        const from = nearest[k] as number;
        const look = (cause[k] as number) << SHIFTS.look;
        words[at] = own | look | step | tag | kept | ((from < 0 ? NO_DETECTOR : from) << SHIFTS.nearest);
      } else {
        words[at] = (own === TAKEN ? own : 0) | tag | kept | (NO_DETECTOR << SHIFTS.nearest);
      }
    }
  }
}

/**
 * Writes what follows from the eight cells round a cell: even, plain, softness. What a shader leaves out does not count:
 * cells outside, under furniture and in other rooms.
 */
function writeSurroundings(words: Uint32Array, { nx, ny }: CellSource, { i0, j0, i1, j1 }: CellWindow): void {
  for (let j = j0; j < j1; j++) {
    const v0 = Math.max(0, j - 1);
    const v1 = Math.min(ny - 1, j + 1);
    for (let i = i0; i < i1; i++) {
      const k = j * nx + i;
      const word = words[k] as number;
      const own = word & LOOK;
      const state = own & 3;
      if (state < BLIND) {
        words[k] = word & ~(EVEN | PLAIN | SOFT);
        continue;
      }
      // Most cells look like all their neighbours.
      if (
        i > 0 &&
        i + 1 < nx &&
        v1 - v0 === 2 &&
        ((words[k - 1] as number) & LOOK) === own &&
        ((words[k + 1] as number) & LOOK) === own &&
        ((words[k - nx] as number) & LOOK) === own &&
        ((words[k + nx] as number) & LOOK) === own &&
        ((words[k - nx - 1] as number) & LOOK) === own &&
        ((words[k - nx + 1] as number) & LOOK) === own &&
        ((words[k + nx - 1] as number) & LOOK) === own &&
        ((words[k + nx + 1] as number) & LOOK) === own
      ) {
        words[k] = own | (word & BREADTH) | EVEN | PLAIN | (state === BLIND ? SOFT : 0);
        continue;
      }
      const u0 = Math.max(0, i - 1);
      const u1 = Math.min(nx - 1, i + 1);
      let plain = true;
      let known = 0;
      let blind = 0;
      for (let v = v0; v <= v1; v++) {
        for (let u = u0; u <= u1; u++) {
          const other = (words[v * nx + u] as number) & LOOK;
          if ((other & 3) < BLIND || ((other ^ own) & TAG) !== 0) continue;
          const weight = (v === j ? 2 : 1) * (u === i ? 2 : 1);
          known += weight;
          if ((other & 3) === BLIND) blind += weight;
          if (other !== own) plain = false;
        }
      }
      const isBlind = state === BLIND;
      const even = blind === (isBlind ? known : 0);
      const flags = (even ? EVEN : 0) | (plain ? PLAIN : 0);
      words[k] = (word & ~(EVEN | PLAIN | SOFT)) | flags | (softness(isBlind, blind / known) << SHIFTS.soft);
    }
  }
}

/**
 * Sixteen steps: of a blind cell from over a half to whole, of a seen one from none to under a half. A cell that its
 * surroundings would turn over is a thin thing, and keeps its whole self.
 */
function softness(isBlind: boolean, share: number): number {
  if (isBlind) return share <= 0.5 ? 15 : Math.max(0, Math.round((share - 0.5) * 32) - 1);
  return share >= 0.5 ? 0 : Math.min(15, Math.round(share * 32));
}
