/** Times by taking turns: whatever else the machine does meets all contestants alike, so their ratios hold. */
import { type Clock, wallClock } from './clock.ts';

/** Something that does a piece of work. */
export interface Contestant {
  readonly name: string;
  /** Does it once. @returns units of work done (sight lines, steps …), the same each time or not */
  run(): number;
}

export interface Timing {
  /** Nanoseconds a unit of work by the chosen clock: the median over the rounds. */
  readonly median: number;
  /** The same by the wall clock, and the fastest round by it. */
  readonly wall: number;
  readonly wallFastest: number;
  readonly rounds: number;
}

export interface Turns {
  readonly clock: Clock;
  /** At least 7. */
  readonly rounds: number;
  /** Each sample repeats its work for about this long, so that interruptions weigh on all samples alike; 0: once. */
  readonly sampleMs: number;
  /** Each contestant runs for this long before the first round, once at least. */
  readonly warmMs: number;
}

/** Warms all contestants, then times each once a round, round after round. */
export function takeTurns(
  contestants: readonly Contestant[],
  { clock, rounds, sampleMs, warmMs }: Turns,
): Map<string, Timing> {
  const repeats = contestants.map((contestant) => {
    const onceMs = warm(contestant, warmMs);
    return Math.max(1, Math.round(sampleMs / onceMs));
  });
  const samples = contestants.map(() => ({ chosen: [] as number[], wall: [] as number[] }));
  for (let round = 0; round < rounds; round++) {
    contestants.forEach((contestant, index) => {
      let units = 0;
      const wallStart = wallClock.now();
      const start = clock.now();
      for (let repeat = 0; repeat < repeats[index]!; repeat++) units += contestant.run();
      const end = clock.now();
      const wallEnd = wallClock.now();
      samples[index]!.chosen.push(((end - start) * 1e6) / units);
      samples[index]!.wall.push(((wallEnd - wallStart) * 1e6) / units);
    });
  }
  return new Map(
    contestants.map(({ name }, index) => {
      const { chosen, wall } = samples[index]!;
      const timing: Timing = {
        median: quantile(chosen, 0.5),
        wall: quantile(wall, 0.5),
        wallFastest: quantile(wall, 0),
        rounds,
      };
      return [name, timing];
    }),
  );
}

/** Milliseconds of one run once warm: the median of the second half. */
function warm(contestant: Contestant, warmMs: number): number {
  const times: number[] = [];
  const start = performance.now();
  do {
    const before = performance.now();
    contestant.run();
    times.push(performance.now() - before);
  } while (performance.now() - start < warmMs);
  return Math.max(1e-4, quantile(times.slice(times.length >> 1), 0.5));
}

/** The value below which a share of the samples lies, interpolated between the two nearest. */
export function quantile(samples: readonly number[], share: number): number {
  const sorted = [...samples].sort((a, b) => a - b);
  const at = share * (sorted.length - 1);
  const below = sorted[Math.floor(at)];
  const above = sorted[Math.ceil(at)];
  if (below === undefined || above === undefined) throw new Error('quantile: there is no sample');
  return below + (above - below) * (at - Math.floor(at));
}
