/** What it costs to begin anew: the first coverage of a floor, and every verdict and finding on it. */
import { check, createCoverage } from '../../src/core/coverage/index.ts';
import { type BenchFloor, generateBenchFloor, readOffice } from './bench-floors.ts';
import type { Clock } from './clock.ts';
import { type Contestant, type Turns, takeTurns } from './timing.ts';

export interface WholeRecord {
  readonly case: string;
  readonly detectors: number;
  readonly pieces: number;
  readonly workplaces: number;
  readonly rounds: number;
  readonly medianMs: number;
  readonly wallMs: number;
}

const SMALL_TURNS = { rounds: 15, sampleMs: 0, warmMs: 600 };
const LARGE_TURNS = { rounds: 7, sampleMs: 0, warmMs: 0 };

export function runWholeCases(clock: Clock, tell: (what: string) => void): WholeRecord[] {
  tell('whole floors');
  const small = [generateBenchFloor(1_000), readOffice()];
  const large = [generateBenchFloor(10_000)];
  return [...timeWhole(small, { clock, ...SMALL_TURNS }), ...timeWhole(large, { clock, ...LARGE_TURNS })];
}

function timeWhole(floors: readonly BenchFloor[], turns: Turns): WholeRecord[] {
  const cases = floors.flatMap((bench) => [
    { bench, contestant: once(`coverage, ${bench.name}`, () => createCoverage(bench.floor)) },
    { bench, contestant: once(`check, ${bench.name}`, () => check(bench.floor)) },
  ]);
  const timings = takeTurns(
    cases.map(({ contestant }) => contestant),
    turns,
  );
  return cases.map(({ bench: { floor }, contestant: { name } }) => {
    const { median, wall, rounds } = timings.get(name)!;
    return {
      case: name,
      detectors: floor.detectors.length,
      pieces: floor.furniture.length,
      workplaces: floor.workplaces.length,
      rounds,
      medianMs: median / 1e6,
      wallMs: wall / 1e6,
    };
  });
}

function once(name: string, work: () => unknown): Contestant {
  return {
    name,
    run() {
      work();
      return 1;
    },
  };
}
