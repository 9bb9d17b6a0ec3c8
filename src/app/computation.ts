/** Where the numbers are computed: small floors here, large ones and all complete checks in a worker. */
import { adoptCoverage, createCoverage, isMadeAnew, updateCoverage } from '../core/coverage/index.ts';
import { type Floor, validateFloor } from '../core/floor/index.ts';
import { type Computation, type EditorStore, setCoverage, setResult, shownFloor } from '../editor/store.ts';
import { say } from '../editor/view.ts';
import { JobSuperseded, type Pool } from '../workers/pool.ts';

/**
 * Up to this many cells times detectors a coverage takes a moment: it is made at once, larger ones in the worker, where
 * they keep neither the first frame nor a hand waiting.
 */
const AT_ONCE = 1_000_000;

/**
 * While a hand waits for the next picture, a coverage is made anew at once up to this many cells and their worth in
 * detectors, so that a plane or an outer wall can be seen to move: some 50 ms on a two-core machine. Larger floors go blank
 * until the worker has done them.
 */
const AT_ONCE_UNDER_HAND = 420_000;
/** Cells that take as long as a detector. */
const CELLS_A_DETECTOR = 6_000;

/** Quiet milliseconds in a series of changes before the complete check begins; a change after a rest is checked at once. */
const QUIET = 20;
const REST = 150;

export function createComputation(): Computation {
  return {
    createCoverage: (floor) => (sizeOf(floor) <= AT_ONCE ? createCoverage(floor) : null),
    updateCoverage: (coverage, next) =>
      isMadeAnew(coverage, next) && keepsWaiting(next) ? 'later' : updateCoverage(coverage, next),
    findFaults(file) {
      const parsed = validateFloor(file);
      return parsed.ok ? [] : parsed.faults;
    },
    schedule: (work) => void requestAnimationFrame(work),
  };
}

/** Keeps verdicts and, for large floors, the first coverage coming. Of several changes the newest wins. */
export function followFloor(store: EditorStore, pool: Pool): void {
  const reportUnlessSuperseded = (error: unknown): void => {
    if (error instanceof JobSuperseded) return;
    say(store, 'The check did not finish. The next change begins it anew.');
    console.error(error);
  };
  let timer: ReturnType<typeof setTimeout> | undefined;
  const runCheck = (floor: Floor): void => {
    timer = undefined;
    pool.run('check', floor).then((result) => {
      if (shownFloor(store.getState()) === floor) setResult(store, result, floor);
    }, reportUnlessSuperseded);
  };
  let changed = Number.NEGATIVE_INFINITY;
  const requestCheck = (floor: Floor): void => {
    clearTimeout(timer);
    const now = performance.now();
    const isSeries = now - changed < REST;
    changed = now;
    if (isSeries) timer = setTimeout(runCheck, QUIET, floor);
    else runCheck(floor);
  };
  const requestCoverage = (floor: Floor): void => {
    pool.run('cover', floor).then((coverage) => {
      if (shownFloor(store.getState()) !== floor) return;
      setCoverage(store, adoptCoverage(coverage, floor));
      requestCheck(floor);
    }, reportUnlessSuperseded);
  };
  const follow = (): void => {
    const state = store.getState();
    const floor = shownFloor(state);
    // The picture comes before the verdicts: both at once would share the machine.
    if (state.coverage === null) requestCoverage(floor);
    else requestCheck(floor);
  };
  follow();
  store.subscribe((state, before) => {
    if (shownFloor(state) !== shownFloor(before)) follow();
  });
}

/** Cells of the floor's box times its detectors. */
function sizeOf(floor: Floor): number {
  return countCells(floor) * Math.max(1, floor.detectors.length);
}

/** Whether making the coverage takes longer than a hand should wait for a picture. */
function keepsWaiting(floor: Floor): boolean {
  return countCells(floor) + CELLS_A_DETECTOR * floor.detectors.length > AT_ONCE_UNDER_HAND;
}

/** Cells of the floor's box. */
function countCells(floor: Floor): number {
  const corners = floor.rooms.flatMap((room) => room.outline);
  if (corners.length === 0) return 0;
  const span = (axis: 0 | 1): number => {
    const values = corners.map((corner) => corner[axis]);
    return values.reduce((a, b) => Math.max(a, b)) - values.reduce((a, b) => Math.min(a, b));
  };
  return (span(0) * span(1)) / floor.analysis.cell ** 2;
}
