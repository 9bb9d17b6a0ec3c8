/** What one detector sees: one bit layer per motion at its plane. */
import type { Motion } from '../floor/index.ts';
import { castLensMasks, clipAround, keepExtent } from './extent-fill.ts';
import type { Lens } from './lenses.ts';
import type { Extent } from './range.ts';
import { extentAt, outerRadius, SLACK } from './range.ts';
import type { Lattice, Raster, Window } from './raster.ts';
import { copyInto, windowOver } from './raster.ts';
import type { Scene } from './scene.ts';
import type { Surroundings } from './shadows.ts';
import { castFull, castPart, gather } from './shadows.ts';
import { WHEN_STATED } from './wall-drafts.ts';

/** Cells of one (detector, motion, plane, doors). All rasters share one window. */
export interface Layer {
  readonly seen: Raster;
  /** In range and in some room, seen or not. */
  readonly inRange: Raster;
  /** In range and masked; null without masks. */
  readonly masked: Raster | null;
}

export interface LayerPlanes {
  readonly seated: number;
  readonly walking: number;
}

export type DetectorLayers = { readonly [motion in Motion]: Layer | null } & {
  /** Is a closed door in sight? Without one, opening every door changes nothing. */
  readonly doorInSight: boolean;
};

export const NO_LAYERS: DetectorLayers = { minor: null, tangential: null, radial: null, doorInSight: false };

/**
 * Casts the three layers of a lens: small movements at the seated plane, both ways of walking at the walking plane.
 *
 * @param inRoom the cells that lie in some room, over the whole lattice
 * @param doors `WHEN_STATED` or `WHEN_OPEN`
 */
export function castLayers(
  scene: Scene,
  surroundings: Surroundings,
  lens: Lens,
  inRoom: Raster,
  planes: LayerPlanes,
  doors: number,
): DetectorLayers {
  if (lens.removed) return NO_LAYERS;
  const minor = extentAt(lens.ranges.minor, lens.h, planes.seated);
  const tangential = extentAt(lens.ranges.tangential, lens.h, planes.walking);
  const radial = extentAt(lens.ranges.radial, lens.h, planes.walking);
  const seatedReach = outerRadius(minor);
  const walkingReach = Math.max(outerRadius(tangential), outerRadius(radial));
  const reach = Math.max(seatedReach, walkingReach);
  if (reach === 0) return NO_LAYERS;

  const { x, y, h } = lens;
  const lowest = Math.min(minor ? planes.seated : Infinity, tangential || radial ? planes.walking : Infinity);
  gather(surroundings, scene, x, y, h, reach, lowest, doors, x - reach, y - reach, x + reach, y + reach);

  // Walls hide the same at both planes: cast them once over the wider window.
  const clear = scratchAround(CLEAR, inRoom.lattice, lens, reach);
  clear.bits.fill(-1);
  const clip = clipAround(clear, x, y, reach);
  if (clip) castFull(surroundings, scene, clear, clip, reach * Math.SQRT2);

  // Each plane's scratch is read before the next is cast.
  const seated = minor && castPlane(scene, surroundings, lens, clear, planes.seated, seatedReach);
  const seatedLayer = seated && finishLayer(lens, seated, inRoom, minor, planes.seated);
  const walking = walkingReach > 0 ? castPlane(scene, surroundings, lens, clear, planes.walking, walkingReach) : null;
  return {
    doorInSight: seesClosedDoor(scene, surroundings),
    minor: seatedLayer,
    tangential: walking && tangential ? finishLayer(lens, walking, inRoom, tangential, planes.walking) : null,
    radial: walking && radial ? finishLayer(lens, walking, inRoom, radial, planes.walking) : null,
  };
}

function seesClosedDoor({ occluders }: Scene, { full, fullCount, part, partCount }: Surroundings): boolean {
  for (let f = 0; f < fullCount; f++) if (occluders.doors[full[f]!] === WHEN_STATED) return true;
  for (let f = 0; f < partCount; f++) if (occluders.doors[part[f]!] === WHEN_STATED) return true;
  return false;
}

/** Words that are worked on and not kept, grown as needed: one set for the walls, one for the plane at hand. */
const CLEAR = { words: new Int32Array(0) };
const PLANE = { words: new Int32Array(0) };

/** A raster over what a lens can reach; its bits are whatever the scratch held before. */
function scratchAround(scratch: { words: Int32Array }, lattice: Lattice, lens: Lens, reach: number): Raster {
  const window = windowOver(lattice, lens.x - reach, lens.y - reach, lens.x + reach, lens.y + reach);
  const size = window.words * window.rows;
  if (scratch.words.length < size) scratch.words = new Int32Array(2 * size);
  return { lattice, ...window, bits: scratch.words.subarray(0, size) };
}

/** The cells with a clear line to the lens at one height, in a window of their own. */
function castPlane(
  scene: Scene,
  surroundings: Surroundings,
  lens: Lens,
  clear: Raster,
  h: number,
  reach: number,
): Raster {
  const plane = scratchAround(PLANE, clear.lattice, lens, reach);
  if (plane.bits.length === clear.bits.length) plane.bits.set(clear.bits);
  else copyInto(plane, clear);
  const clip = clipAround(plane, lens.x, lens.y, reach);
  if (clip) castPart(surroundings, scene, h, plane, clip, reach * Math.SQRT2);
  return plane;
}

function finishLayer(lens: Lens, clear: Raster, inRoom: Raster, extent: Extent, h: number): Layer {
  const { lattice } = clear;
  const reach = outerRadius(extent);
  const window = windowOver(lattice, lens.x - reach, lens.y - reach, lens.x + reach, lens.y + reach);
  const size = window.words * window.rows;
  const words = new Int32Array(2 * size);
  const inRange: Raster = { lattice, ...window, bits: words.subarray(0, size) };
  const seen: Raster = { lattice, ...window, bits: words.subarray(size) };
  if (extent.kind === 'round') {
    markRound(lens, clear, inRoom, extent.radius, inRange.bits, seen.bits, window);
    return { seen, inRange, masked: takeMasked(lens, inRange, seen, h) };
  }
  copyInto(inRange, inRoom);
  keepExtent(inRange, lens.x, lens.y, extent, lens.turn);
  copyInto(seen, clear);
  for (let k = 0; k < size; k++) seen.bits[k] = seen.bits[k]! & inRange.bits[k]!;
  return { seen, inRange, masked: takeMasked(lens, inRange, seen, h) };
}

/** Marks, row by row, the cells of a circle that lie in a room, and those of them with a clear line. */
function markRound(
  lens: Lens,
  clear: Raster,
  inRoom: Raster,
  radius: number,
  inRange: Int32Array,
  seen: Int32Array,
  { w0, j0, words, rows }: Window,
): void {
  const { x0, y0, cell } = clear.lattice;
  const room = inRoom.bits;
  const open = clear.bits;
  const fx = (lens.x - x0) / cell - 0.5 - 32 * w0;
  const reach = radius + SLACK;
  const last = 32 * words - 1;
  for (let r = 0; r < rows; r++) {
    const dy = y0 + (j0 + r + 0.5) * cell - lens.y;
    const square = reach * reach - dy * dy;
    if (square < 0) continue;
    const half = Math.sqrt(square) / cell + 1e-9;
    const from = fx - half;
    const to = fx + half;
    const i0 = from <= 0 ? 0 : Math.ceil(from);
    const i1 = to >= last ? last : Math.floor(to);
    if (i0 > i1) continue;
    const a = i0 >> 5;
    const b = i1 >> 5;
    const row = r * words;
    const roomRow = (j0 + r) * inRoom.words + w0;
    const openRow = (j0 + r - clear.j0) * clear.words + w0 - clear.w0;
    const head = -1 << (i0 & 31);
    const tail = -1 >>> (31 - (i1 & 31));
    if (a === b) {
      const bits = room[roomRow + a]! & head & tail;
      inRange[row + a] = bits;
      seen[row + a] = bits & open[openRow + a]!;
      continue;
    }
    const first = room[roomRow + a]! & head;
    inRange[row + a] = first;
    seen[row + a] = first & open[openRow + a]!;
    for (let w = a + 1; w < b; w++) {
      const bits = room[roomRow + w]!;
      inRange[row + w] = bits;
      seen[row + w] = bits & open[openRow + w]!;
    }
    const final = room[roomRow + b]! & tail;
    inRange[row + b] = final;
    seen[row + b] = final & open[openRow + b]!;
  }
}

function takeMasked(lens: Lens, inRange: Raster, seen: Raster, h: number): Raster | null {
  if (lens.masks.length === 0) return null;
  const masked = castLensMasks(lens, inRange, h);
  for (let k = 0; k < seen.bits.length; k++) seen.bits[k] = seen.bits[k]! & ~masked.bits[k]!;
  return masked;
}
