/**
 * What if these pieces were lower or taller: shares and workplaces met over a range of heights, the height at which each
 * workplace goes dark, and what would cure it most cheaply.
 */
import type { Coverage } from '../../coverage/index.ts';
import { createCoverage, measurePlane, updateCoverage } from '../../coverage/index.ts';
import type { Floor, FurnitureId, WorkplaceId } from '../../floor/index.ts';
import { LIMITS } from '../../floor/index.ts';

/** The curve at one height. */
export interface SweepPoint {
  /** Metres: the top of every swept piece. */
  readonly top: number;
  readonly seatedShare: number | null;
  readonly walkingShare: number | null;
  readonly seatedBlindM2: number;
  readonly walkingBlindM2: number;
  /** [met, all] */
  readonly workplacesMet: readonly [number, number];
}

/** A workplace that the swept pieces decide over. */
export interface SweptWorkplace {
  readonly id: WorkplaceId;
  /** The greatest height, to the centimetre, at which it is met with every lower one tried; null: it is met at none. */
  readonly metUpTo: number | null;
}

export interface SweepResult {
  readonly format: 'lacuna-sweep/1';
  readonly floor: string;
  readonly pieces: readonly FurnitureId[];
  readonly points: readonly SweepPoint[];
  /** Workplaces that are met at some height tried and not at another, first to go first. */
  readonly workplaces: readonly SweptWorkplace[];
  /** The greatest height tried, to the centimetre, that costs no workplace that the lowest height meets. */
  readonly free: number | null;
}

/** The heights asked unless others are given: 0.8 to 2.4 m by 0.1 m. */
export const SWEEP_HEIGHTS: readonly number[] = Array.from({ length: 17 }, (_, k) => (8 + k) / 10);

const CENTIMETRE = 0.01;

/**
 * Sets the tops of some pieces to each height in turn. A piece whose base is as high keeps 1 cm above its base.
 * @param heights metres, from the lowest to the highest, at least one
 * @throws RangeError for a piece that is not there, for none, and for heights out of order or out of bounds
 */
export function sweepHeights(
  floor: Floor,
  pieces: readonly string[],
  heights: readonly number[] = SWEEP_HEIGHTS,
): SweepResult {
  const chosen = new Set(pieces);
  const known = floor.furniture.filter((piece) => chosen.has(piece.id));
  if (known.length === 0) throw new RangeError('No piece of furniture is chosen: name at least one.');
  if (known.length < chosen.size) {
    const missing = [...chosen].find((id) => !known.some((piece) => piece.id === id));
    throw new RangeError(`There is no piece of furniture ${missing}.`);
  }
  if (heights.length === 0 || heights.some((top, k) => !(top > (heights[k - 1] ?? 0)) || top > LIMITS.height)) {
    throw new RangeError(`Heights rise from above 0 to at most ${LIMITS.height} m.`);
  }
  const at = (top: number): Floor => ({
    ...floor,
    furniture: floor.furniture.map((piece) =>
      chosen.has(piece.id) ? { ...piece, top: Math.max(top, piece.base + CENTIMETRE) } : piece,
    ),
  });
  const coverage = createCoverage(at(heights[0]!));
  const met: boolean[][] = [];
  const points = heights.map((top): SweepPoint => {
    if (met.length > 0) updateCoverage(coverage, at(top));
    const each = coverage.workplaces.map((workplace) => workplace.met);
    met.push(each);
    return measure(coverage, top, each);
  });
  return {
    format: 'lacuna-sweep/1',
    floor: floor.name,
    pieces: known.map((piece) => piece.id),
    points,
    ...findTurns(coverage, at, heights, met),
  };
}

function measure({ seated, walking, grid }: Coverage, top: number, met: readonly boolean[]): SweepPoint {
  const [sitting, moving] = [measurePlane(seated, grid.lattice), measurePlane(walking, grid.lattice)];
  return {
    top,
    seatedShare: sitting.share,
    walkingShare: moving.share,
    seatedBlindM2: sitting.areaM2 - sitting.seenM2,
    walkingBlindM2: moving.areaM2 - moving.seenM2,
    workplacesMet: [met.filter(Boolean).length, met.length],
  };
}

/** Between two heights tried of which one meets a workplace and the next does not, halves down to a centimetre. */
function findTurns(
  coverage: Coverage,
  at: (top: number) => Floor,
  heights: readonly number[],
  met: readonly (readonly boolean[])[],
): Pick<SweepResult, 'workplaces' | 'free'> {
  const known = new Map<number, readonly boolean[]>(heights.map((top, k) => [Math.round(top / CENTIMETRE), met[k]!]));
  const metAt = (centimetres: number): readonly boolean[] => {
    const before = known.get(centimetres);
    if (before) return before;
    updateCoverage(coverage, at(centimetres * CENTIMETRE));
    const each = coverage.workplaces.map((workplace) => workplace.met);
    known.set(centimetres, each);
    return each;
  };
  const ids = coverage.floor.workplaces.map((workplace) => workplace.id);
  const workplaces = ids.flatMap((id, k): SweptWorkplace[] => {
    const lost = met.findIndex((each) => !each[k]);
    if (lost < 0 || met.every((each) => !each[k])) return [];
    if (lost === 0) return [{ id, metUpTo: null }];
    let low = Math.round(heights[lost - 1]! / CENTIMETRE);
    let high = Math.round(heights[lost]! / CENTIMETRE);
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (metAt(middle)[k]) low = middle;
      else high = middle;
    }
    return [{ id, metUpTo: low / 100 }];
  });
  workplaces.sort((a, b) => (a.metUpTo ?? 0) - (b.metUpTo ?? 0));
  const first = workplaces.find((each) => each.metUpTo !== null)?.metUpTo;
  return { workplaces, free: first ?? heights.at(-1) ?? null };
}
