/** What time is read from. */

export interface Clock {
  readonly name: string;
  /** Milliseconds since some moment. */
  now(): number;
}

export const wallClock: Clock = { name: 'wall clock', now: () => performance.now() };

const processorClock: Clock = {
  name: 'processor time of this process',
  now() {
    const { user, system } = process.cpuUsage();
    return (user + system) / 1_000;
  },
};

/** Finest step that is good enough, milliseconds: the shortest thing timed on its own takes several times as long. */
const FINE = 0.1;

/**
 * Processor time where the system tells it finely, so that other programs on the machine do not count; collecting
 * garbage does, on whichever thread. Else the wall clock.
 */
export function chooseClock(): Clock {
  const steps: number[] = [];
  const end = performance.now() + 20;
  let before = processorClock.now();
  while (performance.now() < end) {
    const now = processorClock.now();
    if (now > before) steps.push(now - before);
    before = now;
  }
  steps.sort((a, b) => a - b);
  const typical = steps[steps.length >> 1];
  return typical !== undefined && typical <= FINE ? processorClock : wallClock;
}
