/** The storeys of a model from the lowest to the highest, and which of them a thing stands on. */
import type { Placements } from './placements.ts';
import { numberOf, refOf, type StepFile, textOf } from './step-file.ts';
import type { Units } from './units.ts';

export interface Level {
  /** The storey's statement, 0 for one that stands for the whole file. */
  readonly id: number;
  readonly key: string;
  readonly name: string;
  /** As the file states it, metres; null where it does not. */
  readonly elevation: number | null;
  /** The height of its floor in the project's world, metres. */
  readonly floor: number;
  /** Why the floor's height is a guess; empty when it was read. */
  readonly doubt: string;
}

/** What is known of where things of a storey stand: the lowest points of its rooms, else of its walls. */
export type BasesOf = (storey: number) => { readonly rooms: readonly number[]; readonly walls: readonly number[] };

/** A floor that its rooms miss by more than this (metres) is not theirs. */
const TOLERANCE = 0.5;
/** Walls that prove where a floor lies. */
const MIN_WALLS = 4;
/** What starts this little (metres) below a floor still stands on it. */
const SUNK = 0.3;

export function readLevels(step: StepFile, units: Units, placements: Placements, basesOf: BasesOf): Level[] {
  const levels = step.listOf('IFCBUILDINGSTOREY').map((id): Level => {
    const args = step.read(id);
    const stated = numberOf(args[9]);
    const elevation = stated === undefined ? null : stated * units.length;
    const placementId = refOf(args[5]);
    const frame = placementId === 0 ? undefined : placements.frameOf(placementId);
    const placed = frame !== undefined && 'o' in frame ? frame.o[2] : undefined;
    const { floor, doubt } = chooseFloor(placed, elevation, basesOf(id));
    const longName = textOf(args[7]).trim();
    const name = textOf(args[2]).trim() || longName;
    return { id, key: textOf(args[0]) || `#${id}`, name, elevation, floor, doubt };
  });
  levels.sort((a, b) => a.floor - b.floor || a.id - b.id);
  return levels.map((level, i) => (level.name === '' ? { ...level, name: `Storey ${i + 1}` } : level));
}

/** Placement and stated elevation should agree; where they do not, what stands on the storey decides. */
function chooseFloor(
  placed: number | undefined,
  elevation: number | null,
  { rooms, walls }: ReturnType<BasesOf>,
): { floor: number; doubt: string } {
  // Few walls prove nothing: parapets and shafts stand where they like.
  const middle = medianOf(rooms.length > 0 ? rooms : walls.length >= MIN_WALLS ? walls : []);
  const candidates = [placed, elevation].filter((value): value is number => value !== undefined && value !== null);
  const [first] = candidates;
  if (first === undefined) {
    const doubt = 'The storey states no height: the lowest points of what stands on it were taken. Check a height.';
    return { floor: middle ?? medianOf(walls) ?? 0, doubt: middle === undefined ? '' : doubt };
  }
  if (middle === undefined || Math.abs(first - middle) <= TOLERANCE) return { floor: first, doubt: '' };
  const fitting = candidates.find((value) => Math.abs(value - middle) <= TOLERANCE);
  if (fitting !== undefined)
    return {
      floor: fitting,
      doubt: 'Its placement and its stated elevation differ: what the rooms and walls stand on was taken.',
    };
  if (rooms.length === 0) return { floor: first, doubt: '' };
  return {
    floor: middle,
    doubt: `Its stated height lies ${Math.abs(first - middle).toFixed(2)} m from where its rooms and walls stand: they decided.`,
  };
}

function medianOf(values: readonly number[]): number | undefined {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1];
}

/** The level whose floor lies at or under a base, the lowest one for what lies deeper. */
export function findLevelAt(levels: readonly Level[], base: number): Level | undefined {
  let found = levels[0];
  for (const level of levels) if (level.floor <= base + SUNK) found = level;
  return found;
}

/** The height of the next floor above, Infinity for the highest. */
export function ceilingLevel(levels: readonly Level[], level: Level): number {
  let next = Number.POSITIVE_INFINITY;
  for (const { floor } of levels) if (floor > level.floor + TOLERANCE && floor < next) next = floor;
  return next;
}
