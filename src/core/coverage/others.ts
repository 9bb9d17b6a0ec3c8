/**
 * What all detectors but one make of the cells round it, kept while that one is dragged: then a step takes only what the
 * one sees now. Worked out word by word when first asked for; it follows from the layers alone, and is dropped as soon
 * as any of them is another object.
 */
import type { Lens, Raster } from '../sight/index.ts';
import type { Coverage } from './coverage.ts';
import type { Field } from './field.ts';
import { addSightLines, createOutermost, listFeet, type Outermost } from './outermost.ts';
import type { ServedLayer, ServedLayers } from './served.ts';
import type { Sums, Window } from './sums.ts';
import { addSeen, createSums, touchesWindow, wordAt } from './sums.ts';
import { orNearFoot } from './walking.ts';

/** How far beyond a step's window the region reaches: words across, rows up and down. */
const MARGIN_WORDS = 2;
const MARGIN_ROWS = 48;

export interface Others {
  readonly detector: number;
  readonly served: readonly ServedLayers[];
  readonly lenses: readonly Lens[];
  readonly region: Window;
  /** Words a row. */
  readonly across: number;
  /** Detectors that come near, by index. */
  readonly near: readonly number[];
  /** Per word of the region 1 when it has been worked out. */
  readonly known: Uint8Array;
  readonly seated: Sums;
  readonly walking: Sums;
  /** Cells seen for every heading, and for walking past. */
  readonly full: Int32Array;
  readonly some: Int32Array;
  readonly outermost: Outermost;
  readonly nearest: { readonly seated: Nearest; readonly walking: Nearest };
}

/** Per cell the detector whose miss is the nearest, and for which cause it was sought; 0: not yet. */
interface Nearest {
  readonly detector: Int16Array;
  readonly cause: Uint8Array;
}

const kept = new WeakMap<Field, Others>();

/** What the others make of a region that holds the window. */
export function keepOthers(coverage: Coverage, detector: number, window: Window): Others {
  const { walking, scene, served } = coverage;
  const known = kept.get(walking);
  if (known && known.detector === detector && holds(known.region, window) && isSame(known, coverage)) return known;
  const made = createOthers(coverage, detector, window);
  // Feet and layers of the moment: the lists themselves are changed in place.
  kept.set(walking, { ...made, served: [...served], lenses: [...scene.lenses] });
  return kept.get(walking)!;
}

function holds(region: Window, { w0, w1, j0, j1 }: Window): boolean {
  return region.w0 <= w0 && region.w1 >= w1 && region.j0 <= j0 && region.j1 >= j1;
}

function isSame({ detector, served, lenses }: Others, now: Coverage): boolean {
  if (served.length !== now.served.length) return false;
  for (let d = 0; d < served.length; d++) {
    if (d !== detector && (served[d] !== now.served[d] || lenses[d] !== now.scene.lenses[d])) return false;
  }
  return true;
}

function createOthers({ grid, served, scene }: Coverage, detector: number, window: Window): Others {
  const region: Window = {
    w0: Math.max(0, window.w0 - MARGIN_WORDS),
    w1: Math.min(grid.inRoom.words, window.w1 + MARGIN_WORDS),
    j0: Math.max(0, window.j0 - MARGIN_ROWS),
    j1: Math.min(grid.inRoom.rows, window.j1 + MARGIN_ROWS),
  };
  const across = region.w1 - region.w0;
  const size = across * (region.j1 - region.j0);
  const near = [...served.keys()].filter((d) => {
    const { seated, walking } = served[d]!;
    return d !== detector && [seated, walking].some((layer) => layer && touchesWindow(layer.seen, region));
  });
  const full = new Int32Array(size);
  for (const d of near) {
    const { tangential } = served[d]!;
    if (tangential) orNearFoot(full, region, tangential, grid.lattice, scene.lenses[d]!);
  }
  const nearest = (): Nearest => ({ detector: new Int16Array(32 * size), cause: new Uint8Array(32 * size) });
  return {
    detector,
    served,
    lenses: scene.lenses,
    region,
    across,
    near,
    known: new Uint8Array(size),
    seated: createSums(size),
    walking: createSums(size),
    full,
    some: new Int32Array(size),
    outermost: createOutermost(32 * size),
    nearest: { seated: nearest(), walking: nearest() },
  };
}

/** Works out one word of the region. */
export function learnWord(others: Others, coverage: Coverage, at: number, w: number, j: number): void {
  const { near, served, full, some, outermost } = others;
  others.known[at] = 1;
  for (const d of near) {
    const { seated, walking, tangential, radial } = served[d]!;
    addWord(others.seated, at, seated, w, j);
    addWord(others.walking, at, walking, w, j);
    if (radial) full[at] = full[at]! | wordAt(radial, w, j);
    if (tangential) some[at] = some[at]! | wordAt(tangential, w, j);
  }
  const open = some[at]! & ~full[at]! & coverage.walking.occupiable.bits[j * coverage.grid.inRoom.words + w]!;
  if (open === 0) return;
  const feet = listFeetOf(others);
  for (const d of near) {
    const { tangential } = served[d]!;
    const bits = tangential ? wordAt(tangential, w, j) & open : 0;
    if (bits !== 0) addSightLines(outermost, bits, 32 * at, coverage.grid.lattice, w, j, d, feet);
  }
}

const knownFeet = new WeakMap<readonly Lens[], Float64Array>();

function listFeetOf({ lenses }: Others): Float64Array {
  const known = knownFeet.get(lenses);
  if (known) return known;
  const feet = listFeet(lenses);
  knownFeet.set(lenses, feet);
  return feet;
}

function addWord(sums: Sums, at: number, layer: ServedLayer | null, w: number, j: number): void {
  if (!layer) return;
  const { seen, hidden, masked } = layer;
  const column = w - seen.w0;
  const row = j - seen.j0;
  if (column < 0 || row < 0 || column >= seen.words || row >= seen.rows) return;
  const from = row * seen.words + column;
  sums.hidden[at] = sums.hidden[at]! | hidden.bits[from]!;
  if (masked) sums.masked[at] = sums.masked[at]! | masked.bits[from]!;
  const bits = seen.bits[from]!;
  if (bits !== 0) addSeen(sums, at, bits);
}

/** The nearest of the others' misses of one cause at a cell, the first of equals; -1 for none. */
export function nearestOther(
  others: Others,
  plane: 'seated' | 'walking',
  cause: number,
  w: number,
  j: number,
  b: number,
  x: number,
  y: number,
): number {
  let nearest = -1;
  let best = Infinity;
  for (const d of others.near) {
    const raster = missOf(others.served[d]!, plane, cause);
    if (!raster || ((wordAt(raster, w, j) >>> b) & 1) === 0) continue;
    const dx = x - others.lenses[d]!.x;
    const dy = y - others.lenses[d]!.y;
    const distance = dx * dx + dy * dy;
    if (distance < best) {
      best = distance;
      nearest = d;
    }
  }
  return nearest;
}

/** The cells a detector misses for one cause, or sees for too few headings. */
function missOf(served: ServedLayers, plane: 'seated' | 'walking', cause: number): Raster | null | undefined {
  if (cause === 4) return served.tangential;
  return cause === 1 ? served[plane]?.hidden : served[plane]?.masked;
}
