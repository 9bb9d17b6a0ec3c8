/** Blind areas: patches of blind cells large enough to stand in, with their cause. */
import type { Lattice } from '../sight/index.ts';
import { createSurroundings, findFirstBlocker, gather, WHEN_STATED } from '../sight/index.ts';
import type { Coverage } from './coverage.ts';
import type { Field } from './field.ts';
import { BLIND, CAUSES } from './field.ts';
import { areaOfCells, tidy } from './measure.ts';
import type { BlindArea, Cause, PlaneName } from './result.ts';

/** A patch counts when a circle of this radius fits, metres. */
const FITS = 0.25;

/** A blind area with what a finding needs besides. */
export interface BlindPatch extends BlindArea {
  /** Index of its room. */
  readonly room: number;
  /** Radius of the largest circle that fits, metres. */
  readonly radius: number;
}

/** Finds 4-connected blind cells of one room in which a circle of 0.5 m diameter fits, the largest area first. */
export function findBlindPatches(coverage: Coverage, plane: PlaneName): BlindPatch[] {
  const field = coverage[plane];
  const { lattice, room } = coverage.grid;
  const patches = labelPatches(field, lattice, room);
  const large = patches.flatMap((cells) => {
    const circle = findLargestCircle(cells, lattice);
    return circle.radius >= FITS - 1e-9 ? [{ cells, circle }] : [];
  });
  const blockers = nameBlockers(
    coverage,
    field,
    large.map(({ cells }) => cells),
  );
  return large
    .map(({ cells, circle }) => {
      const cause = CAUSES[commonest(cells, (k) => field.cause[k]!)] as Cause;
      const by = cause === 'hidden' ? commonest(cells, (k) => blockers.get(k) ?? -1) : -1;
      return {
        plane,
        areaM2: areaOfCells(cells.length, lattice),
        at: [tidy(circle.x), tidy(circle.y)] as const,
        cause,
        by: coverage.scene.blockers[by] ?? null,
        room: room[cells[0]!]!,
        radius: circle.radius,
      };
    })
    .sort((a, b) => b.areaM2 - a.areaM2);
}

function labelPatches(field: Field, lattice: Lattice, room: Int16Array): Int32Array[] {
  const { nx } = lattice;
  const { state } = field;
  const seen = new Uint8Array(state.length);
  const queue = new Int32Array(state.length);
  const patches: Int32Array[] = [];
  // Fewer cells than the circle's own area cannot hold it.
  const fewest = (Math.PI * FITS ** 2 * 0.9) / lattice.cell ** 2;
  for (let k = state.indexOf(BLIND); k >= 0; k = state.indexOf(BLIND, k + 1)) {
    if (seen[k] === 1) continue;
    const own = room[k];
    let end = 0;
    queue[end++] = k;
    seen[k] = 1;
    for (let next = 0; next < end; next++) {
      const cell = queue[next]!;
      const i = cell % nx;
      for (let side = 0; side < 4; side++) {
        if ((side === 0 && i === 0) || (side === 1 && i + 1 === nx)) continue;
        const neighbour = side === 0 ? cell - 1 : side === 1 ? cell + 1 : side === 2 ? cell - nx : cell + nx;
        if (state[neighbour] !== BLIND || seen[neighbour] === 1 || room[neighbour] !== own) continue;
        seen[neighbour] = 1;
        queue[end++] = neighbour;
      }
    }
    if (end >= fewest) patches.push(queue.slice(0, end));
  }
  return patches;
}

/** The largest circle about a cell's centre that stays within the patch's cells. */
function findLargestCircle(cells: Int32Array, lattice: Lattice): { x: number; y: number; radius: number } {
  const { x0, y0, cell, nx } = lattice;
  let i0 = Infinity;
  let i1 = 0;
  let j0 = Infinity;
  let j1 = 0;
  for (const k of cells) {
    const i = k % nx;
    const j = (k - i) / nx;
    i0 = Math.min(i0, i);
    i1 = Math.max(i1, i);
    j0 = Math.min(j0, j);
    j1 = Math.max(j1, j);
  }
  // A border of cells outside the patch closes it.
  const width = i1 - i0 + 3;
  const rows = j1 - j0 + 3;
  const inside = new Uint8Array(width * rows);
  for (const k of cells) {
    const i = k % nx;
    inside[((k - i) / nx - j0 + 1) * width + i - i0 + 1] = 1;
  }
  // Cells down or up to the nearest one outside, per column.
  const steps = new Int32Array(width * rows);
  for (let c = 0; c < width; c++) {
    for (let r = 1; r < rows; r++)
      steps[r * width + c] = inside[r * width + c] === 1 ? steps[(r - 1) * width + c]! + 1 : 0;
    for (let r = rows - 2; r >= 0; r--) {
      steps[r * width + c] = Math.min(steps[r * width + c]!, steps[(r + 1) * width + c]! + 1);
    }
  }
  let best = 0;
  let at = 0;
  for (let p = 0; p < inside.length; p++) {
    if (inside[p] === 0 || steps[p]! - 0.5 <= Math.sqrt(best)) continue;
    const base = p - (p % width);
    const column = p % width;
    let nearest = (steps[p]! - 0.5) ** 2;
    for (let d = 1; (d - 0.5) ** 2 < nearest && nearest > best; d++) {
      for (const c of [column - d, column + d]) {
        if (c < 0 || c >= width) continue;
        const up = steps[base + c]!;
        nearest = Math.min(nearest, (d - 0.5) ** 2 + (up === 0 ? 0 : (up - 0.5) ** 2));
      }
    }
    if (nearest > best) {
      best = nearest;
      at = p;
    }
  }
  const column = at % width;
  return {
    x: x0 + (i0 + column - 1 + 0.5) * cell,
    y: y0 + (j0 + (at - column) / width - 1 + 0.5) * cell,
    radius: Math.sqrt(best) * cell,
  };
}

/** Per hidden cell the piece that the nearest missing lens meets first, as an index into `scene.blockers`. */
function nameBlockers(coverage: Coverage, field: Field, patches: readonly Int32Array[]): Map<number, number> {
  const { scene } = coverage;
  const { x0, y0, cell, nx } = coverage.grid.lattice;
  const byDetector = new Map<number, number[]>();
  for (const cells of patches) {
    for (const k of cells) {
      if (field.cause[k] !== 1 || field.nearest[k]! < 0) continue;
      const list = byDetector.get(field.nearest[k]!);
      if (list) list.push(k);
      else byDetector.set(field.nearest[k]!, [k]);
    }
  }
  const surroundings = createSurroundings(scene);
  const blockers = new Map<number, number>();
  for (const [detector, cells] of byDetector) {
    const lens = scene.lenses[detector]!;
    const place = (k: number) => [x0 + ((k % nx) + 0.5) * cell, y0 + (Math.floor(k / nx) + 0.5) * cell] as const;
    let reach = 0;
    for (const k of cells) {
      const [x, y] = place(k);
      reach = Math.max(reach, Math.hypot(x - lens.x, y - lens.y));
    }
    const { x: lx, y: ly, h } = lens;
    gather(
      surroundings,
      scene,
      lx,
      ly,
      h,
      reach,
      field.height,
      WHEN_STATED,
      lx - reach,
      ly - reach,
      lx + reach,
      ly + reach,
    );
    for (const k of cells) {
      const [x, y] = place(k);
      const blocker = findFirstBlocker(surroundings, scene, x, y, field.height);
      if (blocker >= 0) blockers.set(k, blocker);
    }
  }
  return blockers;
}

/** The value that most cells have, the lesser of equals; negative values are passed over. -1 where none is left. */
function commonest(cells: Int32Array, read: (cell: number) => number): number {
  const tally = new Map<number, number>();
  for (const cell of cells) {
    const value = read(cell);
    if (value >= 0) tally.set(value, (tally.get(value) ?? 0) + 1);
  }
  let best = -1;
  let most = 0;
  for (const [value, count] of tally) {
    if (count > most || (count === most && value < best)) {
      best = value;
      most = count;
    }
  }
  return best;
}
