import type { Scene } from './scene.ts';
import type { Surroundings } from './shadows.ts';

/**
 * What the line from the surroundings' lens to a place meets first, among the occluders gathered for it.
 * Convex parts and panels are closed here, as shadows are; a place on a face itself is not cut by it.
 *
 * @returns index into `scene.blockers`, -1 when the line is clear
 */
export function findFirstBlocker(surroundings: Surroundings, scene: Scene, x: number, y: number, h: number): number {
  const { occluders } = scene;
  let first = 2;
  let blocker = -1;
  for (const [list, count] of [
    [surroundings.full, surroundings.fullCount],
    [surroundings.part, surroundings.partCount],
  ] as const) {
    for (let f = 0; f < count; f++) {
      const k = list[f]!;
      const t = enterOccluder(scene, surroundings, k, x, y, h);
      // Of equals the first of the file, in whatever order they were gathered.
      if (t < first || (t === first && t < 2 && occluders.blocker[k]! < blocker)) {
        first = t;
        blocker = occluders.blocker[k]!;
      }
    }
  }
  return blocker;
}

/** Where the line enters occluder k, 0 at the lens to 1 at the place; 2 where it does not. */
function enterOccluder(scene: Scene, lens: Surroundings, k: number, x: number, y: number, h: number): number {
  const { start, xy, base, top } = scene.occluders;
  const drop = lens.h - h;
  const dx = x - lens.x;
  const dy = y - lens.y;
  let low = Math.max(0, (lens.h - top[k]!) / drop);
  let high = Math.min(1, (lens.h - base[k]!) / drop);
  if (high - low <= 1e-12) return 2;
  const first = start[k]!;
  const end = start[k + 1]!;
  if (end - first === 2) {
    const ax = xy[2 * first]! - lens.x;
    const ay = xy[2 * first + 1]! - lens.y;
    const bx = xy[2 * first + 2]! - lens.x;
    const by = xy[2 * first + 3]! - lens.y;
    const atA = dx * ay - dy * ax;
    const atB = dx * by - dy * bx;
    if ((atA > 0 && atB > 0) || (atA < 0 && atB < 0) || atA === atB) return 2;
    const across = ax * by - ay * bx;
    const t = across / (dx * (by - ay) - dy * (bx - ax));
    return t > low && t < high ? t : 2;
  }
  for (let v = first; v < end; v++) {
    const next = v + 1 === end ? first : v + 1;
    const ax = xy[2 * v]!;
    const ay = xy[2 * v + 1]!;
    const ex = xy[2 * next]! - ax;
    const ey = xy[2 * next + 1]! - ay;
    // Inside is to the left of every edge: at + t · step >= 0.
    const at = ex * (lens.y - ay) - ey * (lens.x - ax);
    const step = ex * dy - ey * dx;
    if (Math.abs(step) < 1e-15) {
      if (at < 0) return 2;
      continue;
    }
    const t = -at / step;
    if (step > 0) low = Math.max(low, t);
    else high = Math.min(high, t);
    if (high - low <= 1e-12) return 2;
  }
  return low;
}
