/**
 * Texture is cause. Lines are cut to cells, in cells from the grid's corner (x right, y up); whoever draws them clips them
 * to the smooth outline. Hidden: along the sight line of the lens that misses by least, so that they point at it.
 * Masked: across it. Too few headings: along it, broken, as walking at a lens is drawn. Out of range: dots, no line reaches.
 */

/** Patches of cells that one texture covers: the patch of each cell, -1 where there is none; `patch[j * nx + i]`. */
export interface Patches {
  readonly nx: number;
  readonly ny: number;
  readonly patch: Int32Array;
}

/** The cells of a patch lie within: columns i0 to i1, rows j0 to j1, half open. */
export interface CellBox {
  i0: number;
  j0: number;
  i1: number;
  j1: number;
}

export interface CellSpot {
  readonly x: number;
  readonly y: number;
}

/** A stretch of a ray from a lens: from `near` to `far` cells away, at `angle` radians. */
export interface Ray {
  readonly angle: number;
  readonly near: number;
  readonly far: number;
}

/** A stretch of a circle about a lens, counter-clockwise from `from` to `to` radians. */
export interface Arc {
  readonly radius: number;
  readonly from: number;
  readonly to: number;
}

/** Cells between two looks along a line. */
const STEP = 0.3;
/** New lines start where the gap between old ones has grown to 1.41 spacings. */
const NEW_LINE = Math.SQRT1_2;

/** Rays from a lens over a patch, about `spacing` cells apart everywhere: their number doubles as they spread. */
export function hatchRays(patches: Patches, id: number, box: CellBox, lens: CellSpot, spacing: number): Ray[] {
  const rays: Ray[] = [];
  const farthest = Math.max(
    ...[box.i0, box.i1].flatMap((x) => [box.j0, box.j1].map((y) => Math.hypot(x - lens.x, y - lens.y))),
  );
  for (let level = 0; ; level++) {
    const count = 2 ** level;
    const start = (count * spacing * NEW_LINE) / (2 * Math.PI);
    if (start > farthest) return rays;
    for (let k = level === 0 ? 0 : 1; k < count; k += level === 0 ? 1 : 2) {
      const angle = (2 * Math.PI * k) / count;
      addRuns(patches, id, box, lens, angle, start, rays);
    }
  }
}

function addRuns(
  patches: Patches,
  id: number,
  box: CellBox,
  lens: CellSpot,
  angle: number,
  start: number,
  rays: Ray[],
): void {
  const dx = Math.cos(angle);
  const dy = Math.sin(angle);
  let near = start;
  let far = Number.POSITIVE_INFINITY;
  for (const [place, step, low, high] of [
    [lens.x, dx, box.i0, box.i1],
    [lens.y, dy, box.j0, box.j1],
  ] as const) {
    if (Math.abs(step) < 1e-12) {
      if (place < low || place > high) return;
      continue;
    }
    const a = (low - place) / step;
    const b = (high - place) / step;
    near = Math.max(near, Math.min(a, b));
    far = Math.min(far, Math.max(a, b));
  }
  let from = -1;
  for (let r = near; r <= far + STEP; r += STEP) {
    const inside = r <= far && holds(patches, id, lens.x + r * dx, lens.y + r * dy);
    if (inside && from < 0) from = r;
    if (!inside && from >= 0) {
      rays.push({ angle, near: from, far: r });
      from = -1;
    }
  }
}

/** Circles about a lens over a patch, `spacing` cells apart. */
export function hatchArcs(patches: Patches, id: number, box: CellBox, lens: CellSpot, spacing: number): Arc[] {
  const arcs: Arc[] = [];
  const nearX = Math.max(0, box.i0 - lens.x, lens.x - box.i1);
  const nearY = Math.max(0, box.j0 - lens.y, lens.y - box.j1);
  const farX = Math.max(box.i1 - lens.x, lens.x - box.i0);
  const farY = Math.max(box.j1 - lens.y, lens.y - box.j0);
  const farthest = Math.hypot(farX, farY);
  for (let ring = Math.max(1, Math.ceil(Math.hypot(nearX, nearY) / spacing)); ring * spacing <= farthest; ring++) {
    const radius = ring * spacing;
    const steps = Math.max(16, Math.ceil((2 * Math.PI * radius) / STEP));
    const step = (2 * Math.PI) / steps;
    let from = -1;
    for (let k = 0; k <= steps; k++) {
      const inside =
        k < steps && holds(patches, id, lens.x + radius * Math.cos(k * step), lens.y + radius * Math.sin(k * step));
      if (inside && from < 0) from = k;
      if (!inside && from >= 0) {
        arcs.push({ radius, from: from * step, to: k * step });
        from = -1;
      }
    }
  }
  return arcs;
}

/** Dots over a patch in staggered rows, on one lattice for the whole grid. */
export function hatchDots(patches: Patches, id: number, box: CellBox, spacing: number): CellSpot[] {
  const dots: CellSpot[] = [];
  const pitch = spacing * 1.1;
  const rise = pitch / 2;
  for (let row = Math.ceil(box.j0 / rise); row * rise < box.j1; row++) {
    const shift = row % 2 === 0 ? 0 : pitch / 2;
    for (let column = Math.ceil((box.i0 - shift) / pitch); column * pitch + shift < box.i1; column++) {
      const spot = { x: column * pitch + shift, y: row * rise };
      if (holds(patches, id, spot.x, spot.y)) dots.push(spot);
    }
  }
  return dots;
}

function holds({ nx, ny, patch }: Patches, id: number, x: number, y: number): boolean {
  const i = Math.floor(x);
  const j = Math.floor(y);
  return i >= 0 && j >= 0 && i < nx && j < ny && patch[j * nx + i] === id;
}
