/** What differs between two states of a floor, and between two answers of one lens. */
import type { Floor, Furniture } from '../floor/index.ts';
import type { Box } from '../geometry/polygon.ts';
import { computeBox } from '../geometry/polygon.ts';
import type { Raster } from '../sight/index.ts';
import { takesAlike } from './grid.ts';
import type { ServedLayer, ServedLayers } from './served.ts';
import type { Window } from './sums.ts';
import { orInto } from './sums.ts';

/** The boxes of the walls that have moved, each with where it was: the stretch a room has won or lost lies in them. */
export function boxMovedWalls(before: Floor['rooms'], next: Floor['rooms']): Box[] {
  return next.flatMap((room, index) => {
    const was = before[index]!;
    if (room === was) return [];
    const { outline } = room;
    if (outline.length !== was.outline.length || room.holes !== was.holes) {
      return [computeBox([...was.outline, ...outline])];
    }
    return outline.flatMap((a, v) => {
      const b = outline[(v + 1) % outline.length]!;
      const wasA = was.outline[v]!;
      const wasB = was.outline[(v + 1) % outline.length]!;
      return a === wasA && b === wasB ? [] : [computeBox([a, b, wasA, wasB])];
    });
  });
}

/** What is in one of two lists only. */
export function listChanged<T extends object>(before: readonly T[], next: readonly T[]): T[] {
  if (before === next) return [];
  if (before.length === next.length) {
    return before.flatMap((each, index) => (each === next[index] ? [] : [each, next[index]!]));
  }
  const were = new Set(before);
  const are = new Set(next);
  return [...before.filter((each) => !are.has(each)), ...next.filter((each) => !were.has(each))];
}

/** Of changed pieces those that take other cells from people than before, as they were and as they are. */
export function listTaking(before: readonly Furniture[], next: readonly Furniture[], seatedPlane: number): Furniture[] {
  const changed = listChanged(before, next);
  if (before.length !== next.length) return changed;
  const alike = new Set<Furniture>();
  next.forEach((piece, index) => {
    const was = before[index]!;
    if (piece === was || !takesAlike(piece, was, seatedPlane)) return;
    alike.add(piece);
    alike.add(was);
  });
  return changed.filter((piece) => !alike.has(piece));
}

/** The windows in which two answers of one unmoved lens differ. */
export function findDifferences(before: ServedLayers, after: ServedLayers): Window[] {
  return [
    ...differ(before.seated, after.seated),
    ...differ(before.walking, after.walking),
    ...differRasters(before.tangential, after.tangential),
    ...differRasters(before.radial, after.radial),
  ];
}

function differ(before: ServedLayer | null, after: ServedLayer | null): Window[] {
  return [
    ...differRasters(before?.seen, after?.seen),
    ...differRasters(before?.hidden, after?.hidden),
    ...differRasters(before?.masked, after?.masked),
  ];
}

function differRasters(before: Raster | null | undefined, after: Raster | null | undefined): Window[] {
  if (!before || !after || before.bits.length !== after.bits.length) {
    return [before, after].flatMap((raster) => (raster ? [windowOf(raster)] : []));
  }
  let w0 = Infinity;
  let w1 = -1;
  let r0 = -1;
  let r1 = -1;
  for (let r = 0, k = 0; r < before.rows; r++) {
    for (let w = 0; w < before.words; w++, k++) {
      if (before.bits[k] === after.bits[k]) continue;
      if (r0 < 0) r0 = r;
      r1 = r;
      if (w < w0) w0 = w;
      if (w > w1) w1 = w;
    }
  }
  if (r0 < 0) return [];
  return [{ w0: before.w0 + w0, w1: before.w0 + w1 + 1, j0: before.j0 + r0, j1: before.j0 + r1 + 1 }];
}

/** Ors in the words of a window the cells that one unmoved lens sees walking by one of two answers and not by the other. */
export function orWalkedOtherwise(words: Int32Array, window: Window, before: ServedLayers, after: ServedLayers): void {
  for (const motion of ['tangential', 'radial'] as const) {
    const [was, is] = [before[motion], after[motion]];
    if (was && is && was.w0 === is.w0 && was.j0 === is.j0 && was.words === is.words && was.rows === is.rows) {
      const bits = is.bits.slice();
      for (let k = 0; k < bits.length; k++) bits[k] = bits[k]! ^ was.bits[k]!;
      orInto(words, window, { ...is, bits });
    } else {
      orInto(words, window, was);
      orInto(words, window, is);
    }
  }
}

export function windowOf(raster: Raster): Window {
  return { w0: raster.w0, w1: raster.w0 + raster.words, j0: raster.j0, j1: raster.j0 + raster.rows };
}
