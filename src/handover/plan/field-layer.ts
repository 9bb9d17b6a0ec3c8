/** The field of one plane as areas of the sheet: what is seen by how many, what is blind and why. */
import { BLIND, CAUSES, type Coverage, type Field, SEEN } from '../../core/coverage/index.ts';
import { type Holds, type Loop, smoothLoop, traceLoops } from './contours.ts';
import type { Frame } from './frame.ts';
import { type CellBox, type CellSpot, hatchArcs, hatchDots, hatchRays, type Patches } from './hatch.ts';
import { AMOUNTS, COLOUR, HATCH, LINE } from './paper.ts';
import { element, formatNumber, type Spot } from './svg.ts';

export type Show = 'blind' | 'count' | 'headings';
export type Texture = Exclude<(typeof CAUSES)[number], 'seen'>;

/** Shares of headings above which each step of `AMOUNTS` begins: five equal ones, as on screen. */
export const HEADING_STEPS = [0, 0.2, 0.4, 0.6, 0.8] as const;

/** Blind cells that miss for one reason and by one lens. */
interface Patch {
  readonly texture: Texture;
  /** Index of the detector, -1 for none. */
  readonly detector: number;
  readonly box: CellBox;
}

/** Draws the field of a plane. What it returns still has to be clipped to the rooms. */
export function drawField(coverage: Coverage, plane: 'seated' | 'walking', show: Show, frame: Frame): string {
  const field = coverage[plane];
  const { nx, ny } = coverage.grid.lattice;
  const toSpot = createToSpot(coverage, frame);
  const draw = (holds: Holds): string =>
    traceLoops(nx, ny, holds)
      .map((loop) => loopPath(smoothLoop(loop), toSpot))
      .join('');

  const parts = show === 'blind' ? [] : drawAmounts(field, show, nx, ny, draw);
  const isBlind = within(nx, ny, (k) => field.state[k] === BLIND);
  const outline = draw(isBlind);
  if (outline === '') return parts.join('');

  // Where headings are shown, places seen for too few of them keep their step under the hatch.
  const ground =
    show === 'headings'
      ? draw(within(nx, ny, (k) => field.state[k] === BLIND && CAUSES[field.cause[k] ?? 0] !== 'headings'))
      : outline;
  const thin = draw(findThin(field, nx, ny, HATCH.spacing / frame.mmPerMetre / coverage.grid.lattice.cell));
  parts.push(
    element('path', { d: ground, fill: COLOUR.tint }),
    element('clipPath', { id: 'blind' }, element('path', { d: outline })),
    element('g', { 'clip-path': 'url(#blind)' }, drawHatches(coverage, field, frame, toSpot)),
    thin === '' ? '' : element('path', { d: thin, fill: COLOUR.blind }),
    element('path', {
      d: outline,
      fill: 'none',
      stroke: COLOUR.blind,
      'stroke-width': LINE.drawing,
      'stroke-linejoin': 'round',
    }),
  );
  return parts.join('');
}

/** Steps lie on one another, each over all that reach it: no seam can open between two of them. */
function drawAmounts(
  field: Field,
  show: 'count' | 'headings',
  nx: number,
  ny: number,
  draw: (holds: Holds) => string,
): string[] {
  return AMOUNTS.map((fill, step) => {
    const reaches =
      show === 'count'
        ? (k: number) => field.state[k] === SEEN && (field.count[k] ?? 0) > step
        : (k: number) => (field.heading?.[k] ?? 0) > (HEADING_STEPS[step] ?? 1) + 1e-6;
    return element('path', { d: draw(within(nx, ny, reaches)), fill });
  });
}

function within(nx: number, ny: number, holds: (k: number) => boolean): Holds {
  return (i, j) => i >= 0 && j >= 0 && i < nx && j < ny && holds(j * nx + i);
}

/** From cells, counted from the grid's corner, to the sheet. */
function createToSpot({ grid: { lattice } }: Coverage, frame: Frame): (x: number, y: number) => Spot {
  return (x, y) => frame.toSpot([lattice.x0 + x * lattice.cell, lattice.y0 + y * lattice.cell]);
}

function loopPath(loop: Loop, toSpot: (x: number, y: number) => Spot): string {
  let path = '';
  for (let k = 0; k + 1 < loop.length; k += 2) {
    const { x, y } = toSpot(loop[k] ?? 0, loop[k + 1] ?? 0);
    path += `${k === 0 ? 'M' : 'L'}${formatNumber(x)} ${formatNumber(y)}`;
  }
  return `${path}Z`;
}

function drawHatches(coverage: Coverage, field: Field, frame: Frame, toSpot: (x: number, y: number) => Spot): string {
  const { lattice } = coverage.grid;
  const { list, patches } = listPatches(field, lattice.nx, lattice.ny);
  const mmPerCell = frame.mmPerMetre * lattice.cell;
  const spacing = HATCH.spacing / mmPerCell;
  let solid = '';
  let broken = '';
  let dots = '';
  for (const [id, { texture, detector, box }] of list.entries()) {
    const lens = coverage.scene.lenses[detector];
    if (texture === 'range' || lens === undefined) {
      dots += hatchDots(patches, id, box, spacing)
        .map(({ x, y }) => dotAt(toSpot(x, y)))
        .join('');
      continue;
    }
    const foot: CellSpot = { x: (lens.x - lattice.x0) / lattice.cell, y: (lens.y - lattice.y0) / lattice.cell };
    const spotOn = (angle: number, radius: number) =>
      toSpot(foot.x + radius * Math.cos(angle), foot.y + radius * Math.sin(angle));
    if (texture === 'masked') {
      solid += hatchArcs(patches, id, box, foot, spacing)
        .map(({ radius, from, to }) => arcPath((angle) => spotOn(angle, radius), radius * mmPerCell, from, to))
        .join('');
      continue;
    }
    const lines = hatchRays(patches, id, box, foot, spacing)
      .map(({ angle, near, far }) => `${moveTo(spotOn(angle, near))}L${spotText(spotOn(angle, far))}`)
      .join('');
    if (texture === 'headings') broken += lines;
    else solid += lines;
  }
  const line = { fill: 'none', stroke: COLOUR.blind, 'stroke-width': HATCH.width };
  return [
    solid === '' ? '' : element('path', { d: solid, ...line }),
    broken === '' ? '' : element('path', { d: broken, ...line, 'stroke-dasharray': '2.4 1.3' }),
    dots === '' ? '' : element('path', { d: dots, ...line, 'stroke-width': HATCH.dot, 'stroke-linecap': 'round' }),
  ].join('');
}

function spotText({ x, y }: Spot): string {
  return `${formatNumber(x)} ${formatNumber(y)}`;
}

function moveTo(spot: Spot): string {
  return `M${spotText(spot)}`;
}

/** A dot is a line of no length with a round end. */
function dotAt(spot: Spot): string {
  return `${moveTo(spot)}h0`;
}

/** Counter-clockwise on the floor is counter-clockwise on the sheet, which SVG calls sweep 0. A full circle is two halves. */
function arcPath(spotOn: (angle: number) => Spot, radius: number, from: number, to: number): string {
  const r = formatNumber(radius);
  const middle = (from + to) / 2;
  return `${moveTo(spotOn(from))}A${r} ${r} 0 0 0 ${spotText(spotOn(middle))}A${r} ${r} 0 0 0 ${spotText(spotOn(to))}`;
}

/**
 * The patches of a field, and to which each cell belongs. Cells that touch a blind one join its patch: the smooth outline
 * that clips the hatch runs up to half a cell beyond the blind cells.
 */
function listPatches(
  field: Field,
  nx: number,
  ny: number,
): { readonly list: readonly Patch[]; readonly patches: Patches } {
  const list: Patch[] = [];
  const ids = new Map<number, number>();
  const patch = new Int32Array(nx * ny).fill(-1);
  const join = (i: number, j: number, id: number): void => {
    patch[j * nx + i] = id;
    const box = list[id]?.box;
    if (box === undefined) return;
    box.i0 = Math.min(box.i0, i);
    box.i1 = Math.max(box.i1, i + 1);
    box.j0 = Math.min(box.j0, j);
    box.j1 = Math.max(box.j1, j + 1);
  };
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const k = j * nx + i;
      if (field.state[k] !== BLIND) continue;
      const texture = CAUSES[field.cause[k] ?? 0] ?? 'range';
      if (texture === 'seen') continue;
      const detector = texture === 'range' ? -1 : (field.nearest[k] ?? -1);
      const key = detector * CAUSES.length + (field.cause[k] ?? 0);
      let id = ids.get(key);
      if (id === undefined) {
        id = list.length;
        ids.set(key, id);
        list.push({ texture, detector, box: { i0: i, j0: j, i1: i + 1, j1: j + 1 } });
      }
      join(i, j, id);
    }
  }
  const blind = patch.slice();
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const id = blind[j * nx + i] ?? -1;
      if (id === -1) continue;
      for (let dj = -1; dj <= 1; dj++) {
        for (let di = -1; di <= 1; di++) {
          const column = i + di;
          const row = j + dj;
          if (column < 0 || row < 0 || column >= nx || row >= ny || patch[row * nx + column] !== -1) continue;
          join(column, row, id);
        }
      }
    }
  }
  return { list, patches: { nx, ny, patch } };
}

/** Blind areas nowhere as wide as one spacing of the hatch (in cells): a texture would not show in them. */
function findThin(field: Field, nx: number, ny: number, spacing: number): Holds {
  const thin = new Uint8Array(nx * ny);
  const depth = measureDepth(field, nx, ny);
  const visited = new Uint8Array(nx * ny);
  const stack: number[] = [];
  const area: number[] = [];
  for (let start = 0; start < nx * ny; start++) {
    if (field.state[start] !== BLIND || visited[start] === 1) continue;
    area.length = 0;
    stack.push(start);
    visited[start] = 1;
    let deepest = 0;
    for (let k = stack.pop(); k !== undefined; k = stack.pop()) {
      area.push(k);
      deepest = Math.max(deepest, depth[k] ?? 0);
      const i = k % nx;
      for (const [next, isInside] of [
        [k - 1, i > 0],
        [k + 1, i < nx - 1],
        [k - nx, k >= nx],
        [k + nx, k < nx * (ny - 1)],
      ] as const) {
        if (!isInside || field.state[next] !== BLIND || visited[next] === 1) continue;
        visited[next] = 1;
        stack.push(next);
      }
    }
    if (2 * deepest - 1 < spacing) for (const k of area) thin[k] = 1;
  }
  return within(nx, ny, (k) => thin[k] === 1);
}

/** Steps, along rows and columns, from each blind cell to the nearest that is not: 1 at the rim. */
function measureDepth(field: Field, nx: number, ny: number): Uint16Array {
  const depth = new Uint16Array(nx * ny);
  const of = (i: number, j: number): number => (i < 0 || j < 0 || i >= nx || j >= ny ? 0 : (depth[j * nx + i] ?? 0));
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      if (field.state[j * nx + i] === BLIND)
        depth[j * nx + i] = Math.min(65_534, Math.min(of(i - 1, j), of(i, j - 1)) + 1);
    }
  }
  for (let j = ny - 1; j >= 0; j--) {
    for (let i = nx - 1; i >= 0; i--) {
      const k = j * nx + i;
      depth[k] = Math.min(depth[k] ?? 0, Math.min(of(i + 1, j), of(i, j + 1)) + 1);
    }
  }
  return depth;
}
