/** What one detector sees: one bit layer per motion at its plane. */
import type { Motion } from '../floor/index.ts';
import { castLensMasks, clipAround, keepExtent } from './extent-fill.ts';
import type { Extent } from './range.ts';
import { extentAt, outerRadius } from './range.ts';
import type { Lattice, Raster } from './raster.ts';
import { copyInto, createRasterOver } from './raster.ts';
import type { Lens, Scene } from './scene.ts';
import { WHEN_STATED } from './scene.ts';
import type { Surroundings } from './shadows.ts';
import { castFull, castPart, gather } from './shadows.ts';

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
  const lattice = inRoom.lattice;
  const clear = windowAround(lattice, lens, reach);
  copyInto(clear, inRoom);
  const clip = clipAround(clear, x, y, reach);
  if (clip) castFull(surroundings, scene, clear, clip, reach * Math.SQRT2);

  const seated = minor && castPlane(scene, surroundings, lens, clear, planes.seated, seatedReach);
  const walking = walkingReach > 0 ? castPlane(scene, surroundings, lens, clear, planes.walking, walkingReach) : null;
  return {
    doorInSight: seesClosedDoor(scene, surroundings),
    minor: seated && minor ? finishLayer(lens, seated, inRoom, minor, planes.seated) : null,
    tangential: walking && tangential ? finishLayer(lens, walking, inRoom, tangential, planes.walking) : null,
    radial: walking && radial ? finishLayer(lens, walking, inRoom, radial, planes.walking) : null,
  };
}

function seesClosedDoor({ occluders }: Scene, { full, fullCount, part, partCount }: Surroundings): boolean {
  for (let f = 0; f < fullCount; f++) if (occluders.doors[full[f]!] === WHEN_STATED) return true;
  for (let f = 0; f < partCount; f++) if (occluders.doors[part[f]!] === WHEN_STATED) return true;
  return false;
}

function windowAround(lattice: Lattice, lens: Lens, reach: number): Raster {
  return createRasterOver(lattice, lens.x - reach, lens.y - reach, lens.x + reach, lens.y + reach);
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
  const plane = windowAround(clear.lattice, lens, reach);
  copyInto(plane, clear);
  const clip = clipAround(plane, lens.x, lens.y, reach);
  if (clip) castPart(surroundings, scene, h, plane, clip, reach * Math.SQRT2);
  return plane;
}

function finishLayer(lens: Lens, clear: Raster, inRoom: Raster, extent: Extent, h: number): Layer {
  const inRange = windowAround(clear.lattice, lens, outerRadius(extent));
  copyInto(inRange, inRoom);
  keepExtent(inRange, lens.x, lens.y, extent, lens.turn);
  const masked = lens.masks.length > 0 ? castLensMasks(lens, inRange, h) : null;
  // The clear window is at least as wide as this one.
  const seen: Raster = { ...inRange, bits: inRange.bits.slice() };
  const { words, rows } = seen;
  for (let r = 0; r < rows; r++) {
    const row = r * words;
    const from = (inRange.j0 + r - clear.j0) * clear.words + inRange.w0 - clear.w0;
    for (let w = 0; w < words; w++) {
      const bits = seen.bits[row + w]!;
      if (bits !== 0) seen.bits[row + w] = bits & clear.bits[from + w]! & (masked ? ~masked.bits[row + w]! : -1);
    }
  }
  return { seen, inRange, masked };
}
