/** One mesh of everything on a floor that can stand in the way, for the ray casters that the fields are measured against. */
import type { Floor } from '../../src/core/floor/index.ts';
import { triangulate } from '../../src/core/geometry/triangulate.ts';
import { listPanels } from './wall-panels.ts';

export interface FloorMesh {
  /** x, y, z per corner, metres, z up. */
  readonly positions: Float32Array;
  /** Three corners a triangle. */
  readonly index: Uint32Array;
}

/** How far walls reach above the highest ceiling, metres: no lens hangs as high. */
const ABOVE_CEILING = 0.1;

/**
 * Walls with their open openings cut out, doors as stated, and furniture as prisms with side faces and both caps.
 * @throws for a floor with luminaires: they are not built
 */
export function buildFloorMesh(floor: Floor): FloorMesh {
  if (floor.luminaires.length > 0) throw new Error(`${floor.name}: luminaires are not built into the mesh`);
  const positions: number[] = [];
  const index: number[] = [];
  const top = Math.max(...floor.rooms.map((room) => room.ceiling)) + ABOVE_CEILING;
  for (const { a, b, base, top: upTo } of listPanels(floor, top)) {
    const first = positions.length / 3;
    positions.push(...a, base, ...b, base, ...b, upTo, ...a, upTo);
    index.push(first, first + 1, first + 2, first, first + 2, first + 3);
  }
  for (const piece of floor.furniture) {
    const { xy, index: cap } = triangulate(piece.outline);
    const count = xy.length / 2;
    const low = positions.length / 3;
    const high = low + count;
    for (const z of [piece.base, piece.top]) {
      for (let v = 0; v < count; v++) positions.push(xy[2 * v]!, xy[2 * v + 1]!, z);
    }
    for (let v = 0; v < count; v++) {
      const next = (v + 1) % count;
      index.push(low + v, low + next, high + next, low + v, high + next, high + v);
    }
    for (let t = 0; t < cap.length; t += 3) {
      const [p, q, r] = [cap[t]!, cap[t + 1]!, cap[t + 2]!];
      index.push(low + p, low + r, low + q, high + p, high + q, high + r);
    }
  }
  return { positions: Float32Array.from(positions), index: Uint32Array.from(index) };
}
