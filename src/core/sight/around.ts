/** What stands round a lens, found once for all the small rasters that are cast from it. */
import type { Scene } from './scene.ts';
import type { Surroundings } from './shadows.ts';
import { gather } from './shadows.ts';

/** Occluders near one lens by index: those that hide at every plane below it, then the others. */
interface Around {
  readonly full: Int32Array;
  readonly part: Int32Array;
}

/** Metres by which a shadow may reach beyond what throws it: more than shadows are grown. */
const GROWN = 0.001;

/** Per lens of one scene what stands round it, as it is asked for. */
export interface Arounds {
  readonly scene: Scene;
  readonly known: Map<number, Around>;
}

export function createArounds(scene: Scene): Arounds {
  return { scene, known: new Map() };
}

/**
 * Fills the surroundings with what can stand between a lens and a disc: of all that is near the lens only what comes
 * within the strip from its foot to the disc.
 * @param detector index of the lens
 * @param reach metres: how far the lens sees at most
 * @param lowest the lowest plane that is ever cast from it
 */
export function gatherToDisc(
  surroundings: Surroundings,
  arounds: Arounds,
  detector: number,
  reach: number,
  lowest: number,
  doors: number,
  discX: number,
  discY: number,
  radius: number,
): void {
  const { scene, known } = arounds;
  const { x, y, h } = scene.lenses[detector]!;
  let around = known.get(detector);
  if (!around) {
    gather(surroundings, scene, x, y, h, reach, lowest, doors, x - reach, y - reach, x + reach, y + reach);
    const { full, fullCount, part, partCount } = surroundings;
    around = { full: full.slice(0, fullCount), part: part.slice(0, partCount) };
    known.set(detector, around);
  }
  const most = Math.max(around.full.length, around.part.length);
  if (surroundings.full.length < most) {
    surroundings.full = new Int32Array(2 * most);
    surroundings.part = new Int32Array(2 * most);
  }
  surroundings.x = x;
  surroundings.y = y;
  surroundings.h = h;
  const { boxes } = scene.occluders;
  surroundings.fullCount = keepInStrip(boxes, around.full, surroundings.full, x, y, discX, discY, radius);
  surroundings.partCount = keepInStrip(boxes, around.part, surroundings.part, x, y, discX, discY, radius);
}

/** Keeps what comes nearer than the radius to the stretch from (x, y) to the disc's centre, or to the disc. */
function keepInStrip(
  boxes: Float64Array,
  from: Int32Array,
  to: Int32Array,
  x: number,
  y: number,
  discX: number,
  discY: number,
  radius: number,
): number {
  const length = Math.hypot(discX - x, discY - y);
  // Over the disc every direction is along it.
  const ux = length > 0 ? (discX - x) / length : 0;
  const uy = length > 0 ? (discY - y) / length : 0;
  const half = radius + GROWN;
  const ax = Math.abs(ux);
  const ay = Math.abs(uy);
  let kept = 0;
  for (let f = 0; f < from.length; f++) {
    const k = from[f]!;
    const minX = boxes[4 * k]! - x;
    const minY = boxes[4 * k + 1]! - y;
    const maxX = boxes[4 * k + 2]! - x;
    const maxY = boxes[4 * k + 3]! - y;
    // Twice the centre and twice the half sizes of the box, along the strip and across it.
    const cx = minX + maxX;
    const cy = minY + maxY;
    const sx = maxX - minX;
    const sy = maxY - minY;
    const along = cx * ux + cy * uy;
    const alongHalf = sx * ax + sy * ay;
    if (along - alongHalf > 2 * (length + half) || along + alongHalf < -2 * half) continue;
    const across = Math.abs(cy * ux - cx * uy);
    if (across - (sx * ay + sy * ax) > 2 * half) continue;
    to[kept++] = k;
  }
  return kept;
}
