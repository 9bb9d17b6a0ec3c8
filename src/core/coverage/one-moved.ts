/** The fields after one detector has changed: only words in which it sees, or saw, and only cells it touches. */
import type { Lens, Raster } from '../sight/index.ts';
import { SLACK } from '../sight/index.ts';
import { measureAreas } from './areas.ts';
import type { Change, Coverage } from './coverage.ts';
import type { Field } from './field.ts';
import { CELLS, recount, writeCount, writeWhy } from './field.ts';
import { headingStep } from './headings.ts';
import type { Others } from './others.ts';
import { keepOthers, learnWord, nearestOther } from './others.ts';
import { listFeet, outermostShare, shareWith } from './outermost.ts';
import type { ServedLayer, ServedLayers } from './served.ts';
import type { Sums, Window } from './sums.ts';
import { addSeen, createSums, orInto, SLICES } from './sums.ts';
import { orNearFoot } from './walking.ts';

/** What one detector says of a plane over a window, before and now. */
interface Turn {
  readonly seenBefore: Int32Array;
  readonly seen: Int32Array;
  readonly hiddenBefore: Int32Array;
  readonly hidden: Int32Array;
  readonly maskedBefore: Int32Array;
  readonly masked: Int32Array;
}

/** Everything a step works with. */
interface Step {
  readonly coverage: Coverage;
  readonly detector: number;
  readonly lens: Lens;
  readonly window: Window;
  readonly across: number;
  readonly others: Others;
}

/** One word's counts: the others' with the detector's added. */
const word: Sums = createSums(1);

/**
 * Brings both fields up to date; the detector's layers in `coverage.served` are the new ones.
 * @param before what it saw until now
 * @param window holds all of both
 */
export function refreshOne(coverage: Coverage, detector: number, before: ServedLayers, window: Window): Change {
  const { grid, scene, seated, walking } = coverage;
  const now = coverage.served[detector]!;
  const across = window.w1 - window.w0;
  const others = keepOthers(coverage, detector, window);
  const step: Step = { coverage, detector, lens: scene.lenses[detector]!, window, across, others };
  const cells = {
    seated: refreshSeated(step, turnOf(window, before.seated, now.seated)),
    walking: refreshWalking(step, turnOf(window, before.walking, now.walking), before, now),
  };
  coverage.areas = { seated: measureAreas(seated, grid.lattice), walking: measureAreas(walking, grid.lattice) };
  return {
    i0: 32 * window.w0,
    i1: Math.min(32 * window.w1, grid.lattice.nx),
    j0: window.j0,
    j1: window.j1,
    cells,
  };
}

function turnOf(window: Window, before: ServedLayer | null, now: ServedLayer | null): Turn {
  return {
    seenBefore: over(window, before?.seen),
    seen: over(window, now?.seen),
    hiddenBefore: over(window, before?.hidden),
    hidden: over(window, now?.hidden),
    maskedBefore: over(window, before?.masked),
    masked: over(window, now?.masked),
  };
}

/** A raster's words over a window. */
function over(window: Window, raster: Raster | null | undefined): Int32Array {
  const words = new Int32Array((window.w1 - window.w0) * (window.j1 - window.j0));
  orInto(words, window, raster);
  return words;
}

function rasterOver({ coverage, window, across }: Step): Raster {
  const rows = window.j1 - window.j0;
  const { lattice } = coverage.grid;
  return { lattice, w0: window.w0, j0: window.j0, words: across, rows, bits: new Int32Array(across * rows) };
}

/** Place of a word among what the others make of it, worked out when it was not yet. */
function placeOf({ others, coverage }: Step, w: number, j: number): number {
  const at = (j - others.region.j0) * others.across + w - others.region.w0;
  if (others.known[at] === 0) learnWord(others, coverage, at, w, j);
  return at;
}

function refreshSeated(step: Step, turn: Turn): Raster {
  const { coverage, window, others } = step;
  const field = coverage.seated;
  const changed = rasterOver(step);
  const fullWords = field.occupiable.words;
  for (let j = window.j0, at = 0; j < window.j1; j++) {
    for (let w = window.w0; w < window.w1; w++, at++) {
      const free = field.occupiable.bits[j * fullWords + w]!;
      if (((touches(turn, at) | turn.seenBefore[at]! | turn.seen[at]!) & free) === 0) continue;
      const place = placeOf(step, w, j);
      const see = (others.seated.any[place]! | turn.seen[at]!) & free;
      changed.bits[at] = writeWord(step, field, 'seated', turn, at, place, w, j, see, 0, turn.seenBefore[at]!, 0);
    }
  }
  return changed;
}

/** Cells that the detector misses or missed. */
function touches({ hiddenBefore, hidden, maskedBefore, masked }: Turn, at: number): number {
  return hiddenBefore[at]! | hidden[at]! | maskedBefore[at]! | masked[at]!;
}

/**
 * Writes one word of a plane.
 * @param sawSome,seesSome walking: what the detector saw and sees walking past
 * @returns the cells that look otherwise
 */
function writeWord(
  step: Step,
  field: Field,
  plane: 'seated' | 'walking',
  turn: Turn,
  at: number,
  place: number,
  w: number,
  j: number,
  see: number,
  few: number,
  sawSome: number,
  seesSome: number,
): number {
  const { coverage, others } = step;
  const { lattice, inRoom } = coverage.grid;
  const full = j * field.occupiable.words + w;
  const free = field.occupiable.bits[full]!;
  const sums = others[plane];
  const blind = free & ~see & ~few;
  const hidden = (sums.hidden[place]! | turn.hidden[at]!) & blind;
  const masked = (sums.masked[place]! | turn.masked[at]!) & blind & ~hidden;
  const hiddenBefore = field.hidden.bits[full]!;
  const maskedBefore = field.masked.bits[full]!;
  const fewBefore = field.tooFew ? field.tooFew.bits[full]! : 0;
  let changed = writeWhy(field, lattice, inRoom, j, w, see, hidden, masked, few);
  if (((turn.seenBefore[at]! ^ turn.seen[at]!) & free) !== 0) {
    for (let s = 0; s < SLICES; s++) word.slices[s]![0] = sums.slices[s]![place]!;
    word.over[0] = sums.over[place]!;
    if (turn.seen[at] !== 0) addSeen(word, 0, turn.seen[at]!);
    changed |= writeCount(field, lattice, j, w, word, 0);
  }

  // Nearest misses.
  const { nearest } = field;
  const first = j * lattice.nx + 32 * w;
  let gone = (hiddenBefore | maskedBefore | fewBefore) & ~(hidden | masked | few);
  while (gone !== 0) {
    nearest[first + 31 - Math.clz32(gone & -gone)] = -1;
    gone &= gone - 1;
  }
  const otherwise = (hiddenBefore ^ hidden) | (maskedBefore ^ masked) | (fewBefore ^ few);
  const mine = (hidden & turn.hidden[at]!) | (masked & turn.masked[at]!) | (few & seesSome);
  const touched = mine | otherwise | touches(turn, at) | sawSome;
  let rest = (hidden | masked | few) & touched;
  if (rest === 0) return changed;
  const { detector, lens } = step;
  const { x0, y0, cell } = lattice;
  const kept = others.nearest[plane];
  const y = y0 + (j + 0.5) * cell;
  const ly = y - lens.y;
  while (rest !== 0) {
    const bit = rest & -rest;
    rest &= rest - 1;
    const b = 31 - Math.clz32(bit);
    const k = first + b;
    const cause = (hidden & bit) !== 0 ? 1 : (masked & bit) !== 0 ? 2 : 4;
    const x = x0 + (32 * w + b + 0.5) * cell;
    const was = nearest[k]!;
    const known = 32 * place + b;
    if (kept.cause[known] !== cause) {
      const stays = (otherwise & bit) === 0 && was >= 0 && was !== detector;
      kept.detector[known] = stays ? was : nearestOther(others, plane, cause, w, j, b, x, y);
      kept.cause[known] = cause;
    }
    let best = kept.detector[known]!;
    if ((mine & bit) !== 0) {
      if (best < 0) best = detector;
      else {
        const lx = x - lens.x;
        const own = lx * lx + ly * ly;
        const dx = x - others.lenses[best]!.x;
        const dy = y - others.lenses[best]!.y;
        const other = dx * dx + dy * dy;
        if (own < other || (own === other && detector < best)) best = detector;
      }
    }
    if (best !== was) {
      nearest[k] = best;
      changed |= bit;
    }
  }
  return changed;
}

function refreshWalking(step: Step, turn: Turn, before: ServedLayers, now: ServedLayers): Raster {
  const { coverage, window, others, detector, lens } = step;
  const field = coverage.walking;
  const { lattice } = coverage.grid;
  const { headings, crossingAngle } = coverage.floor.analysis;
  const { x0, y0, cell, nx } = lattice;
  const feet = listFeet(coverage.scene.lenses);
  const changed = rasterOver(step);
  const someBefore = over(window, before.tangential);
  const some = over(window, now.tangential);
  const wholeBefore = over(window, before.radial);
  const whole = over(window, now.radial);
  if (now.tangential) orNearFoot(whole, window, now.tangential, lattice, lens);
  const heading = field.heading!;
  const every = field.every!;
  const { low, high } = others.outermost;
  const fullWords = field.occupiable.words;
  for (let j = window.j0, at = 0; j < window.j1; j++) {
    const y = y0 + (j + 0.5) * cell;
    for (let w = window.w0; w < window.w1; w++, at++) {
      const full = j * fullWords + w;
      const free = field.occupiable.bits[full]!;
      // Where it neither sees nor saw, everything is as before.
      const mine = (someBefore[at]! | some[at]! | wholeBefore[at]! | whole[at]!) & free;
      if (mine === 0 && (touches(turn, at) & free) === 0) continue;
      const place = placeOf(step, w, j);
      const seenBefore = field.seen.bits[full]!;
      const fewBefore = field.tooFew!.bits[full]!;
      const everyBefore = every.bits[full]!;
      const all = (others.full[place]! | whole[at]!) & mine;
      const open = (others.some[place]! | some[at]!) & mine & ~all;
      const none = mine & ~all & ~open;
      const first = j * nx + 32 * w;
      let turned = 0;
      let seen = all;
      let ever = all;
      let rest = open;
      while (rest !== 0) {
        const bit = rest & -rest;
        rest &= rest - 1;
        const b = 31 - Math.clz32(bit);
        const x = x0 + (32 * w + b + 0.5) * cell;
        const known = 32 * place + b;
        const share =
          (some[at]! & bit) !== 0
            ? shareWith(low[known]!, high[known]!, x, y, detector, feet, crossingAngle)
            : outermostShare(low[known]!, high[known]!, x, y, feet, crossingAngle);
        if (share > SLACK && share >= headings - SLACK) seen |= bit;
        if (share >= 1 - SLACK) ever |= bit;
        const k = first + b;
        if (headingStep(heading[k]!) !== headingStep(share)) turned |= bit;
        heading[k] = share;
      }
      const few = (fewBefore & ~mine) | (open & ~seen);
      seen |= seenBefore & ~mine;
      ever |= everyBefore & ~mine;
      turned |= setHeadings(heading, first, all & ~everyBefore, 1);
      turned |= setHeadings(heading, first, none & (seenBefore | fewBefore), 0);
      recount(field.cells, CELLS.every, everyBefore, ever);
      every.bits[full] = ever;
      changed.bits[at] =
        turned | writeWord(step, field, 'walking', turn, at, place, w, j, seen, few, someBefore[at]!, some[at]!);
    }
  }
  return changed;
}

function setHeadings(heading: Float32Array, first: number, bits: number, share: number): number {
  let rest = bits;
  while (rest !== 0) {
    heading[first + 31 - Math.clz32(rest & -rest)] = share;
    rest &= rest - 1;
  }
  return bits;
}
