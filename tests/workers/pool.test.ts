import { expect, test, vi } from 'vitest';
import type { CheckResult } from '../../src/core/coverage/index.ts';
import type { Floor } from '../../src/core/floor/index.ts';
import type { StressResult } from '../../src/core/planning/question/stress.ts';
import { createPool, JobFailed, JobSuperseded, type Spawn } from '../../src/workers/pool.ts';
import type { JobKind, Reply, Request } from '../../src/workers/protocol.ts';

/** A worker that does nothing by itself: the test says what it replies. */
interface FakeWorker {
  readonly kind: JobKind;
  readonly requests: Request[];
  readonly reply: (reply: Reply) => void;
  readonly die: (message: string) => void;
  isEnded: boolean;
}

function createFakes(): { readonly workers: FakeWorker[]; readonly spawn: Spawn } {
  const workers: FakeWorker[] = [];
  const spawn: Spawn = (kind, reply, die) => {
    const worker: FakeWorker = { kind, requests: [], reply, die, isEnded: false };
    workers.push(worker);
    return {
      post: (request) => worker.requests.push(request),
      end: () => {
        worker.isEnded = true;
      },
    };
  };
  return { workers, spawn };
}

const floor = { name: 'a floor' } as Floor;
const result = { floor: 'a floor' } as CheckResult;
const jobIdOf = (worker: FakeWorker | undefined): number => worker?.requests.at(-1)?.jobId ?? Number.NaN;

test('one worker serves job after job of a kind, and another kind gets its own', async () => {
  const { workers, spawn } = createFakes();
  const pool = createPool(spawn);
  const first = pool.run('check', floor);
  workers[0]?.reply({ type: 'done', jobId: jobIdOf(workers[0]), output: result });
  expect(await first).toBe(result);

  const second = pool.run('check', floor);
  const cover = pool.run('cover', floor);
  expect(workers.map((worker) => worker.kind)).toEqual(['check', 'cover']);
  expect(workers[0]?.requests).toHaveLength(2);
  expect(new Set(workers.flatMap((worker) => worker.requests.map((request) => request.jobId))).size).toBe(3);
  pool.close();
  await expect(second).rejects.toBeInstanceOf(JobFailed);
  await expect(cover).rejects.toBeInstanceOf(JobFailed);
  expect(workers.every((worker) => worker.isEnded)).toBe(true);
});

test('the newest job wins: the worker of the older one is ended and a new one does the newer', async () => {
  const { workers, spawn } = createFakes();
  const pool = createPool(spawn);
  const older = pool.run('stress', floor);
  const newer = pool.run('stress', floor);
  await expect(older).rejects.toBeInstanceOf(JobSuperseded);
  expect(workers.map((worker) => worker.isEnded)).toEqual([true, false]);

  // What the ended worker had already sent must not be taken for an answer to the newer job.
  const [stale, fresh] = [{ cases: [] }, { cases: [] }] as unknown as StressResult[];
  workers[0]?.reply({ type: 'done', jobId: jobIdOf(workers[1]), output: stale! });
  workers[1]?.reply({ type: 'done', jobId: jobIdOf(workers[1]), output: fresh! });
  expect(await newer).toBe(fresh);
});

test('a check that is superseded is let run, and its worker then does the newest, not those between', async () => {
  const { workers, spawn } = createFakes();
  const pool = createPool(spawn);
  const [older, between, newest] = [floor, floor, floor].map((each) => pool.run('check', each)) as [
    Promise<CheckResult>,
    Promise<CheckResult>,
    Promise<CheckResult>,
  ];
  await expect(older).rejects.toBeInstanceOf(JobSuperseded);
  await expect(between).rejects.toBeInstanceOf(JobSuperseded);
  expect(workers).toHaveLength(1);
  expect(workers[0]?.requests).toHaveLength(1);
  workers[0]?.reply({ type: 'done', jobId: jobIdOf(workers[0]), output: { floor: 'stale' } as CheckResult });
  expect(workers[0]?.requests).toHaveLength(2);
  workers[0]?.reply({ type: 'done', jobId: jobIdOf(workers[0]), output: result });
  expect(await newest).toBe(result);
  expect(workers.map((worker) => worker.isEnded)).toEqual([false]);
});

test('a superseded check that does not end makes way after a while', async () => {
  vi.useFakeTimers();
  const { workers, spawn } = createFakes();
  const pool = createPool(spawn);
  const older = pool.run('check', floor);
  const newer = pool.run('check', floor);
  await expect(older).rejects.toBeInstanceOf(JobSuperseded);
  vi.advanceTimersByTime(1_000);
  vi.useRealTimers();
  expect(workers.map((worker) => worker.isEnded)).toEqual([true, false]);
  workers[1]?.reply({ type: 'done', jobId: jobIdOf(workers[1]), output: result });
  expect(await newer).toBe(result);
});

test.each(['fails', 'dies'] as const)(
  'a superseded check that %s ends its worker and takes the newest not with it',
  async (how) => {
    const { workers, spawn } = createFakes();
    const pool = createPool(spawn);
    const older = pool.run('check', floor);
    const newer = pool.run('check', floor);
    await expect(older).rejects.toBeInstanceOf(JobSuperseded);
    if (how === 'dies') workers[0]?.die('out of memory');
    else workers[0]?.reply({ type: 'failed', jobId: jobIdOf(workers[0]), message: 'a fault' });
    expect(workers.map((worker) => worker.isEnded)).toEqual([true, false]);
    workers[1]?.reply({ type: 'done', jobId: jobIdOf(workers[1]), output: result });
    expect(await newer).toBe(result);
  },
);

test('a check that is held back and called off leaves nothing running', async () => {
  const { workers, spawn } = createFakes();
  const pool = createPool(spawn);
  const control = new AbortController();
  const older = pool.run('check', floor);
  const newer = pool.run('check', floor, { signal: control.signal });
  await expect(older).rejects.toBeInstanceOf(JobSuperseded);
  control.abort('enough');
  await expect(newer).rejects.toBe('enough');
  expect(workers.map((worker) => worker.isEnded)).toEqual([true]);
  expect(workers[0]?.requests).toHaveLength(1);
});

test('a job called off ends its worker and rejects with the reason', async () => {
  const { workers, spawn } = createFakes();
  const pool = createPool(spawn);
  const control = new AbortController();
  const job = pool.run('check', floor, { signal: control.signal });
  control.abort('enough');
  await expect(job).rejects.toBe('enough');
  expect(workers[0]?.isEnded).toBe(true);

  await expect(pool.run('check', floor, { signal: control.signal })).rejects.toBe('enough');
  expect(workers).toHaveLength(1);
});

test('a signal that fires after the answer ends nothing', async () => {
  const { workers, spawn } = createFakes();
  const pool = createPool(spawn);
  const control = new AbortController();
  const job = pool.run('check', floor, { signal: control.signal });
  workers[0]?.reply({ type: 'done', jobId: jobIdOf(workers[0]), output: result });
  await job;
  const next = pool.run('check', floor);
  control.abort();
  workers[0]?.reply({ type: 'done', jobId: jobIdOf(workers[0]), output: result });
  expect(await next).toBe(result);
});

test.each([
  [
    'says that it failed',
    (worker: FakeWorker) => worker.reply({ type: 'failed', jobId: jobIdOf(worker), message: 'out of memory' }),
  ],
  ['dies', (worker: FakeWorker) => worker.die('out of memory')],
])('after a worker %s it is thrown away', async (_what, fail) => {
  const { workers, spawn } = createFakes();
  const pool = createPool(spawn);
  const job = pool.run('check', floor);
  fail(workers[0] as FakeWorker);
  await expect(job).rejects.toThrow('out of memory');
  await expect(job).rejects.toBeInstanceOf(JobFailed);
  expect(workers[0]?.isEnded).toBe(true);

  const next = pool.run('check', floor);
  workers[1]?.reply({ type: 'done', jobId: jobIdOf(workers[1]), output: result });
  expect(await next).toBe(result);
});

test('progress reaches the job it belongs to and no other', async () => {
  const { workers, spawn } = createFakes();
  const pool = createPool(spawn);
  const heard: number[] = [];
  const job = pool.run('check', floor, { onProgress: (share) => heard.push(share) });
  const jobId = jobIdOf(workers[0]);
  workers[0]?.reply({ type: 'progress', jobId, share: 0.5 });
  workers[0]?.reply({ type: 'progress', jobId: jobId + 1, share: 0.9 });
  workers[0]?.reply({ type: 'done', jobId, output: result });
  await job;
  workers[0]?.reply({ type: 'progress', jobId, share: 1 });
  expect(heard).toEqual([0.5]);
});

test('a closed pool takes no job', async () => {
  const { workers, spawn } = createFakes();
  const pool = createPool(spawn);
  pool.close();
  await expect(pool.run('check', floor)).rejects.toThrow('closed');
  expect(workers).toHaveLength(0);
});
