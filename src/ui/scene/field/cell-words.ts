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
import { BLIND, CAUSES, type Field, headingStep, SEEN, TAKEN } from '../../../core/coverage/index.ts';
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

/** Bits of words, 32 columns of words a number, row by row over a window. */
interface Turned {
  readonly w0: number;
  readonly j0: number;
  /** Numbers a row, and rows. */
  readonly across: number;
  readonly rows: number;
  readonly bits: Int32Array;
}

/**
 * Brings the words up to date where cells of `window` have changed.
 * @param stale bits of the words that may have changed, 32 a number, whole rows of the grid; cleared as they are read.
 * Null: all of the window
 * @returns the window of words that have changed, an empty one for none
 */
export function writeCellWords(
  words: Uint32Array,
  source: CellSource,
  window: CellWindow,
  stale: Int32Array | null = null,
): CellWindow {
  const w0 = window.i0 >> 5;
  const across = Math.max(0, ((window.i1 + 31) >> 5) - w0);
  const rows = Math.max(0, window.j1 - window.j0);
  const turned: Turned = { w0, j0: window.j0, across, rows, bits: new Int32Array(across * rows) };
  const blindness = writeLooks(words, source, window, stale, turned);
  const box = boxOf(turned, source);
  if (box === null) return { i0: 0, j0: 0, i1: 0, j1: 0 };
  const felt = blindness ? widen(box, FELT, source) : null;
  if (felt) writeBreadths(words, source.nx, source.ny, felt, SHIFTS.breadth);
  writeSurroundings(words, source, turned, widen(box, 1, source));
  return felt ?? widen(box, 1, source);
}

/** The smallest window, whole numbers across, that holds every bit. */
function boxOf({ w0, j0, across, rows, bits }: Turned, { nx }: CellSource): CellWindow | null {
  let first = across;
  let last = -1;
  let low = -1;
  let high = -1;
  for (let r = 0, k = 0; r < rows; r++) {
    for (let w = 0; w < across; w++, k++) {
      if (bits[k] === 0) continue;
      if (low < 0) low = r;
      high = r;
      if (w < first) first = w;
      if (w > last) last = w;
    }
  }
  if (low < 0) return null;
  return { i0: 32 * (w0 + first), i1: Math.min(nx, 32 * (w0 + last + 1)), j0: j0 + low, j1: j0 + high + 1 };
}

/**
 * Writes everything of a word that follows from its own cell, and notes which words have turned; the rest is kept.
 * @returns whether a cell has become blind or ceased to be
 */
function writeLooks(
  words: Uint32Array,
  source: CellSource,
  { i0, j0, i1, j1 }: CellWindow,
  stale: Int32Array | null,
  turned: Turned,
): boolean {
  const staleAcross = (source.nx + 31) >> 5;
  let blindness = 0;
  for (let j = j0; j < j1; j++) {
    for (let w = turned.w0; w < turned.w0 + turned.across; w++) {
      const head = 32 * w < i0 ? -1 << (i0 & 31) : -1;
      const tail = 32 * w + 31 >= i1 ? -1 >>> (31 - ((i1 - 1) & 31)) : -1;
      let bits = head & tail;
      if (stale) {
        bits &= stale[j * staleAcross + w] as number;
        stale[j * staleAcross + w] = (stale[j * staleAcross + w] as number) & ~bits;
      }
      let changed = 0;
      while (bits !== 0) {
        const b = 31 - Math.clz32(bits & -bits);
        bits &= bits - 1;
        const at = j * source.nx + 32 * w + b;
        const before = words[at] as number;
        const look = lookOf(source, 32 * w + b, j);
        if ((before & LOOK) === look) continue;
        changed |= 1 << b;
        // BLIND alone of the states has the higher bit and not the lower.
        blindness |= Number((before & 3) === BLIND) ^ Number((look & 3) === BLIND);
        // Only blind cells have a breadth.
        words[at] = look | (before & ~LOOK & ((look & 3) === BLIND ? -1 : ~BREADTH));
      }
      turned.bits[(j - turned.j0) * turned.across + w - turned.w0] = changed;
    }
  }
  return blindness !== 0;
}

/** What of a word follows from its own cell, a signed number. */
function lookOf({ across, step: pitch, room, tags, headings, field }: CellSource, i: number, j: number): number {
  const k = j * pitch * across + i * pitch;
  const own = field.state[k] as number;
  const inRoom = room[k] as number;
  const tag = inRoom < 0 ? 0 : (tags[inRoom] as number) << SHIFTS.tag;
  if (own !== SEEN && own !== BLIND) return (own === TAKEN ? own : 0) | tag | (NO_DETECTOR << SHIFTS.nearest);
  const step = field.heading === null ? 0 : headingStep(field.heading[k] as number) << SHIFTS.step;
  if (own === SEEN || (headings && field.cause[k] === TOO_FEW)) {
    const look = Math.min(5, field.count[k] as number) << SHIFTS.look;
    return SEEN | look | step | tag | (NO_DETECTOR << SHIFTS.nearest);
  }
  const from = field.nearest[k] as number;
  const look = (field.cause[k] as number) << SHIFTS.look;
  return own | look | step | tag | ((from < 0 ? NO_DETECTOR : from) << SHIFTS.nearest);
}

/**
 * Writes what follows from the eight cells round each turned cell and its neighbours: even, plain, softness. What a
 * shader leaves out does not count: cells outside, under furniture and in other rooms.
 */
function writeSurroundings(words: Uint32Array, source: CellSource, turned: Turned, window: CellWindow): void {
  const { across, bits } = turned;
  const at = (w: number, r: number) =>
    w < 0 || r < 0 || w >= across || r >= turned.rows ? 0 : (bits[r * across + w] as number);
  const first = window.i0 >> 5;
  const last = (window.i1 - 1) >> 5;
  for (let j = window.j0; j < window.j1; j++) {
    const r = j - turned.j0;
    for (let w = first; w <= last; w++) {
      const c = w - turned.w0;
      const here = at(c, r - 1) | at(c, r) | at(c, r + 1);
      const before = at(c - 1, r - 1) | at(c - 1, r) | at(c - 1, r + 1);
      const after = at(c + 1, r - 1) | at(c + 1, r) | at(c + 1, r + 1);
      let near = here | (here << 1) | (here >>> 1) | (before >>> 31) | (after << 31);
      while (near !== 0) {
        const b = 31 - Math.clz32(near & -near);
        near &= near - 1;
        const i = 32 * w + b;
        if (i < source.nx) writeSurrounding(words, source, i, j);
      }
    }
  }
}

function writeSurrounding(words: Uint32Array, { nx, ny }: CellSource, i: number, j: number): void {
  const k = j * nx + i;
  const word = words[k] as number;
  const own = word & LOOK;
  const state = own & 3;
  if (state < BLIND) {
    words[k] = word & ~(EVEN | PLAIN | SOFT);
    return;
  }
  const v0 = Math.max(0, j - 1);
  const v1 = Math.min(ny - 1, j + 1);
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
    return;
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

/**
 * Sixteen steps: of a blind cell from over a half to whole, of a seen one from none to under a half. A cell that its
 * surroundings would turn over is a thin thing, and keeps its whole self.
 */
function softness(isBlind: boolean, share: number): number {
  if (isBlind) return share <= 0.5 ? 15 : Math.max(0, Math.round((share - 0.5) * 32) - 1);
  return share >= 0.5 ? 0 : Math.min(15, Math.round(share * 32));
}
