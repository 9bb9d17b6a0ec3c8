/**
 * People, not planes: how much of a small person's body serving detectors see at each place, slice by slice, so that
 * "hidden to the chin" and "hands only" are told apart.
 */
import type { Coverage } from '../../coverage/index.ts';
import { createCoverage, cutToServed, OUTSIDE, TAKEN } from '../../coverage/index.ts';
import type { DetectorId, Floor, Furniture, WorkplaceId } from '../../floor/index.ts';
import type { Raster } from '../../sight/index.ts';
import { castLayers, createSurroundings, hasCell, WHEN_STATED } from '../../sight/index.ts';
import type { Difference } from './difference.ts';
import { BLIND_NOW, BLIND_STILL } from './difference.ts';

export type Posture = 'seated' | 'standing';
export type BodyPartName = 'hands' | 'hips' | 'chest' | 'shoulders' | 'head';

/** Heights, metres, at which a body is looked for, lowest first, and the part each belongs to. */
export interface BodySlice {
  readonly part: BodyPartName;
  readonly height: number;
}

/**
 * A small woman (5th percentile), barefoot, from the open ANSUR II survey of 2012 (heights above the floor, metres). Seated
 * on a chair of her own seat height: elbow, where the hands are, 0.570; chest 0.720; shoulders 0.884; top of the head 1.167.
 * Standing: wrist of a hanging arm 0.732, waist 0.900, chest 1.080, shoulders 1.242, top of the head 1.525. Slices are 6 to 9
 * cm apart, none at the very top. A small body asks most of the detectors.
 */
export const BODIES: Readonly<Record<Posture, readonly BodySlice[]>> = {
  seated: [
    { part: 'hands', height: 0.6 },
    { part: 'hands', height: 0.68 },
    { part: 'chest', height: 0.76 },
    { part: 'chest', height: 0.84 },
    { part: 'shoulders', height: 0.9 },
    { part: 'head', height: 0.98 },
    { part: 'head', height: 1.06 },
    { part: 'head', height: 1.14 },
  ],
  standing: [
    { part: 'hips', height: 0.76 },
    { part: 'hips', height: 0.85 },
    { part: 'chest', height: 0.94 },
    { part: 'chest', height: 1.03 },
    { part: 'chest', height: 1.12 },
    { part: 'shoulders', height: 1.21 },
    { part: 'head', height: 1.32 },
    { part: 'head', height: 1.41 },
    { part: 'head', height: 1.5 },
  ],
};

/** What of a body is seen, in one word. */
export type BodyView = 'whole' | 'partly' | 'hidden to the chin' | 'hands only' | 'unseen';

export interface WorkplaceBody {
  readonly id: WorkplaceId;
  readonly share: number;
  readonly view: BodyView;
  /** Serving detectors that see some of the body at the chair's centre, most first. */
  readonly seenBy: readonly { readonly detector: DetectorId; readonly share: number }[];
}

export interface BodyField {
  readonly posture: Posture;
  readonly slices: readonly BodySlice[];
  /** Bit k: slice k is seen by some serving detector; `seen[j * nx + i]` on the grid of the coverage. */
  readonly seen: Uint16Array;
  /** For the plan: places where nothing of the body is seen (`BLIND_NOW`) and where a part is (`BLIND_STILL`). */
  readonly map: Difference;
  readonly workplaces: readonly WorkplaceBody[];
}

/** What a desk may be high at most when it is used seated (EN 527-1, as found second-hand), metres. */
const TALL_DESK = 0.85;
/** How much higher other furniture of an assumed height is taken, metres. */
const DOUBT = 0.2;

/**
 * The floor with furniture at its upper sizes: tops nobody measured or drew are taken as high as they may be, desks at the
 * top of their range and the rest 0.2 m higher than assumed. What is measured or drawn stays.
 */
export function withTallFurniture(floor: Floor): Floor {
  const tall = (piece: Furniture): Furniture => {
    if (piece.from !== 'assumed') return piece;
    const top = piece.kind === 'desk' ? Math.max(piece.top, TALL_DESK) : piece.top + DOUBT;
    return { ...piece, top };
  };
  return { ...floor, furniture: floor.furniture.map(tall) };
}

/**
 * The third field: per cell the slices of a seated body (small movements) or of a standing one (walking, any heading) that
 * serving detectors see. Doors as stated, furniture at its upper sizes.
 */
export function computeBodies(floor: Floor, posture: Posture): BodyField {
  const coverage = createCoverage(withTallFurniture(floor));
  const slices = BODIES[posture];
  const { nx, ny } = coverage.grid.lattice;
  const seen = new Uint16Array(nx * ny);
  const workplaces = floor.workplaces.filter((each) => each.posture === posture);
  const cells = workplaces.map(({ at }) => cellAt(coverage, at));
  const counts = workplaces.map(() => new Int32Array(floor.detectors.length));
  slices.forEach(({ height }, slice) => {
    castSlice(coverage, posture, height, (layer, detector) => {
      markCells(layer, nx, seen, 1 << slice);
      cells.forEach((cell, k) => {
        if (cell && hasCell(layer, ...cell)) counts[k]![detector]! |= 1 << slice;
      });
    });
  });
  return {
    posture,
    slices,
    seen,
    map: drawMap(coverage, posture, seen, slices.length),
    workplaces: workplaces.map(({ id }, k) => {
      const cell = cells[k];
      const bits = cell ? seen[cell[1] * nx + cell[0]]! : 0;
      const seenBy = [...counts[k]!.keys()]
        .map((detector) => ({ detector: floor.detectors[detector]!.id, share: shareOf(counts[k]![detector]!, slices) }))
        .filter(({ share }) => share > 0)
        .sort((a, b) => b.share - a.share);
      return { id, share: shareOf(bits, slices), view: describeBody(bits, slices), seenBy };
    }),
  };
}

function drawMap(coverage: Coverage, posture: Posture, seen: Uint16Array, slices: number): Difference {
  const plane = posture === 'seated' ? 'seated' : 'walking';
  const { height } = coverage[plane];
  // A body, seated or not, stands where one could walk: not inside a desk.
  const { state } = coverage.walking;
  const { lattice } = coverage.grid;
  const codes = new Uint8Array(seen.length);
  const counts = { none: 0, part: 0 };
  const whole = (1 << slices) - 1;
  seen.forEach((bits, k) => {
    if (state[k] === OUTSIDE || state[k] === TAKEN || bits === whole) return;
    codes[k] = bits === 0 ? BLIND_NOW : BLIND_STILL;
    counts[bits === 0 ? 'none' : 'part']++;
  });
  const area = (cells: number) => Math.round(cells * lattice.cell * lattice.cell * 1e10) / 1e10;
  return {
    plane,
    height,
    lattice,
    codes,
    areaM2: { blindNow: area(counts.none), blindStill: area(counts.part), seenNow: 0 },
  };
}

/** Calls `each` with what every detector sees of the cells its group serves, at one height. */
function castSlice(
  coverage: Coverage,
  posture: Posture,
  height: number,
  each: (layer: Raster, detector: number) => void,
): void {
  const { scene, grid, serving } = coverage;
  const surroundings = createSurroundings(scene);
  const planes = { seated: height, walking: height };
  scene.lenses.forEach((lens, detector) => {
    const group = serving.groups[serving.groupOf[detector]!];
    if (!group) return;
    const served = cutToServed(castLayers(scene, surroundings, lens, grid.inRoom, planes, WHEN_STATED), group.area);
    const layers = posture === 'seated' ? [served.seated?.seen] : [served.tangential, served.radial];
    for (const layer of layers) if (layer) each(layer, detector);
  });
}

function markCells(layer: Raster, nx: number, seen: Uint16Array, bit: number): void {
  for (let r = 0, k = 0; r < layer.rows; r++) {
    const row = (layer.j0 + r) * nx + 32 * layer.w0;
    for (let w = 0; w < layer.words; w++, k++) {
      for (let bits = layer.bits[k]!; bits !== 0; bits &= bits - 1) {
        const cell = row + 32 * w + 31 - Math.clz32(bits & -bits);
        seen[cell] = seen[cell]! | bit;
      }
    }
  }
}

function cellAt({ grid }: Coverage, [x, y]: readonly [number, number]): readonly [number, number] | null {
  const { x0, y0, cell, nx, ny } = grid.lattice;
  const [i, j] = [Math.floor((x - x0) / cell), Math.floor((y - y0) / cell)];
  return i >= 0 && j >= 0 && i < nx && j < ny ? [i, j] : null;
}

function shareOf(bits: number, slices: readonly BodySlice[]): number {
  return slices.filter((_, k) => (bits & (1 << k)) !== 0).length / slices.length;
}

/** Says what of a body is seen from the slices that are: bit k is slice k. */
export function describeBody(bits: number, slices: readonly BodySlice[]): BodyView {
  const seen = slices.filter((_, k) => (bits & (1 << k)) !== 0);
  if (seen.length === 0) return 'unseen';
  if (seen.length === slices.length) return 'whole';
  if (seen.every(({ part }) => part === 'head')) return 'hidden to the chin';
  if (seen.every(({ part }) => part === 'hands')) return 'hands only';
  return 'partly';
}
