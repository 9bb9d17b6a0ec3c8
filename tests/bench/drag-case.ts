/** What one step of a drag costs: the coverage brought up to date, and the words that the view puts on the card. */
import {
  type Change,
  type Coverage,
  createCoverage,
  type PlaneName,
  updateCoverage,
} from '../../src/core/coverage/index.ts';
import type { Floor } from '../../src/core/floor/index.ts';
import { countCells, type Raster } from '../../src/core/sight/index.ts';
import { type CellSource, writeCellWords } from '../../src/ui/scene/field/cell-words.ts';
import { type BenchFloor, generateBenchFloor, joinGroups, readOffice } from './bench-floors.ts';
import { type Clock, wallClock } from './clock.ts';
import { dragCorner, dragDetector, dragOpening, dragPiece, dragTop } from './moves.ts';
import { quantile } from './timing.ts';

export interface DragRecord {
  readonly case: string;
  readonly detectors: number;
  readonly pieces: number;
  readonly workplaces: number;
  readonly steps: number;
  /** Layers, counts, heading shares, areas and workplaces, milliseconds a step. */
  readonly updateMs: number;
  readonly updateP95Ms: number;
  /** The words of the plane that takes longer; only one plane is shown at a time. */
  readonly textureMs: number;
  /** Both together. */
  readonly stepMs: number;
  readonly stepP95Ms: number;
  readonly updateWallMs: number;
  readonly goalMs: number;
}

const WARM_STEPS = 60;
const TIMED_STEPS = 200;
const STEPS = WARM_STEPS + TIMED_STEPS;
/** Steps a turn: a hand drags one thing for a while, so its memory is at hand. */
const STEPS_A_TURN = 20;
const DETECTOR_GOAL = 2;
const PIECE_GOAL = 8;

interface Drag {
  readonly name: string;
  readonly floor: Floor;
  readonly steps: readonly Floor[];
  readonly goalMs: number;
}

/** All drags take turns, some steps each. */
export function runDragCases(clock: Clock, tell: (what: string) => void): DragRecord[] {
  tell('dragging');
  const generated = generateBenchFloor(1_000);
  const office = readOffice();
  const large = generateBenchFloor(10_000);
  const drags = [
    dragOfDetector(generated),
    dragOfDetector(joinGroups(generated)),
    dragOfDetector(office),
    ...dragsOfShelf(generated),
    ...dragsOfShelf(office),
    dragOfDetector(large),
    ...dragsOfShelf(large),
    // Within one group a lens in one room counts in the next, so its opening does.
    dragOfOpening(joinGroups(large)),
    dragOfCorner(large),
  ];
  const runs = drags.map((drag) => startDrag(drag, clock));
  for (let turn = 0; turn < STEPS; turn += STEPS_A_TURN) {
    for (const run of runs) for (let step = turn; step < turn + STEPS_A_TURN; step++) run.step(step);
  }
  return runs.map((run) => run.finish());
}

function dragOfDetector({ name, floor }: BenchFloor): Drag {
  const steps = dragDetector(floor, findWidestView(floor), STEPS);
  return { name: `drag detector, ${name}`, floor, steps, goalMs: DETECTOR_GOAL };
}

function dragsOfShelf({ name, floor }: BenchFloor): Drag[] {
  const shelf = findMiddleShelf(floor);
  return [
    { name: `drag shelf, ${name}`, floor, steps: dragPiece(floor, shelf, STEPS), goalMs: PIECE_GOAL },
    { name: `drag top of shelf, ${name}`, floor, steps: dragTop(floor, shelf, STEPS), goalMs: PIECE_GOAL },
  ];
}

/** An opening through which a serving detector sees: moving any other changes no field. */
function dragOfOpening({ name, floor }: BenchFloor): Drag {
  const coverage = createCoverage(floor);
  const counts = (moved: Floor): boolean => {
    const change = updateCoverage(coverage, moved);
    updateCoverage(coverage, floor);
    return change !== null;
  };
  return { name: `drag opening, ${name}`, floor, steps: dragOpening(floor, STEPS, counts), goalMs: PIECE_GOAL };
}

function dragOfCorner({ name, floor }: BenchFloor): Drag {
  return { name: `drag corner of room, ${name}`, floor, steps: dragCorner(floor, STEPS), goalMs: PIECE_GOAL };
}

/** The detector that sees the most cells, both ways of being seen added up. */
function findWidestView(floor: Floor): number {
  const seen = createCoverage(floor).layers.map(({ minor, tangential }) =>
    [minor, tangential].reduce((sum, layer) => sum + (layer ? countCells(layer.seen) : 0), 0),
  );
  return seen.indexOf(Math.max(...seen));
}

/** Of the shelving at least 1.8 m high, the one in the middle of the list. */
function findMiddleShelf(floor: Floor): number {
  const shelves = floor.furniture.flatMap(({ kind, top }, index) => (kind === 'shelving' && top >= 1.8 ? [index] : []));
  const middle = shelves[shelves.length >> 1];
  if (middle === undefined) throw new Error(`${floor.name}: has no shelving`);
  return middle;
}

function startDrag({ name, floor, steps, goalMs }: Drag, clock: Clock) {
  const coverage = createCoverage(floor);
  const { nx, ny } = coverage.grid.lattice;
  const words = { seated: new Uint32Array(nx * ny), walking: new Uint32Array(nx * ny) };
  const across = Math.ceil(nx / 32);
  const stale = new Int32Array(across * ny);
  const write = (plane: PlaneName, change: Change): number => {
    const source = sourceOf(coverage, plane);
    const start = clock.now();
    const cells = change.cells?.[plane];
    if (cells) markStale(stale, across, cells);
    writeCellWords(words[plane], source, change, cells ? stale : null);
    return clock.now() - start;
  };
  for (const plane of ['seated', 'walking'] as const) write(plane, { i0: 0, j0: 0, i1: nx, j1: ny });
  const updates: number[] = [];
  const textures: number[] = [];
  const walls: number[] = [];
  let idle = 0;
  return {
    step(index: number): void {
      const next = steps[index]!;
      const wallStart = wallClock.now();
      const start = clock.now();
      const change = updateCoverage(coverage, next);
      const update = clock.now() - start;
      const wall = wallClock.now() - wallStart;
      const texture = change === null ? 0 : Math.max(write('seated', change), write('walking', change));
      if (index < WARM_STEPS) return;
      if (change === null) idle++;
      updates.push(update);
      walls.push(wall);
      textures.push(texture);
    },
    finish(): DragRecord {
      if (idle > TIMED_STEPS / 10) throw new Error(`${name}: ${idle} of ${TIMED_STEPS} steps change nothing`);
      const both = updates.map((update, step) => update + textures[step]!);
      return {
        case: name,
        detectors: floor.detectors.length,
        pieces: floor.furniture.length,
        workplaces: floor.workplaces.length,
        steps: updates.length,
        updateMs: quantile(updates, 0.5),
        updateP95Ms: quantile(updates, 0.95),
        textureMs: quantile(textures, 0.5),
        stepMs: quantile(both, 0.5),
        stepP95Ms: quantile(both, 0.95),
        updateWallMs: quantile(walls, 0.5),
        goalMs,
      };
    },
  };
}

function markStale(stale: Int32Array, across: number, { w0, j0, words, rows, bits }: Raster): void {
  for (let r = 0; r < rows; r++) {
    for (let w = 0; w < words; w++) stale[(j0 + r) * across + w0 + w]! |= bits[r * words + w]!;
  }
}

function sourceOf({ floor, grid, ...fields }: Coverage, plane: PlaneName): CellSource {
  const { nx, ny } = grid.lattice;
  // Which tag tells a room from its neighbours is no matter of time.
  const tags = Uint8Array.from(floor.rooms, (_, room) => (room % 15) + 1);
  const source = { nx, ny, across: nx, step: 1, room: grid.room, tags, headings: false, field: fields[plane] };
  return source;
}
