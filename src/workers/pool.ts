/**
 * Runs jobs off the thread that draws. One worker for each kind of job, started when first needed; of one kind the
 * newest job wins. A busy worker hears nothing, so a job is called off by ending its worker: the next gets a new one.
 * A check or a coverage is let run for a while though nobody wants its answer any more: a worker that has done it before
 * does it in a fraction of the time a new one needs to start.
 */
import type { ArrangeNews } from '../core/planning/arrange/index.ts';
import { createFloorSender } from './floor-wire.ts';
import type { JobInput, JobKind, JobOutput, Reply, Request } from './protocol.ts';

export interface JobOptions {
  /** Calls the job off; `run` then rejects with the signal's reason. */
  readonly signal?: AbortSignal;
  /** Hears how far the job is, 0 to 1. */
  readonly onProgress?: (share: number) => void;
  /** Hears what an arrangement is so far. */
  readonly onNews?: (news: ArrangeNews) => void;
}

export interface Pool {
  /**
   * Runs a job. Rejects with `JobSuperseded` when a newer job of its kind was started meanwhile, with the signal's
   * reason when it was called off, with `JobFailed` when it went wrong.
   */
  run<Kind extends JobKind>(kind: Kind, input: JobInput<Kind>, options?: JobOptions): Promise<JobOutput<Kind>>;
  /** Ends every worker and rejects what is running. The pool is of no use afterwards. */
  close(): void;
}

/** A newer job of the same kind took this one's place. Nothing is wrong. */
export class JobSuperseded extends Error {
  override readonly name = 'JobSuperseded';
  constructor() {
    super('A newer job of the same kind took the place of this one.');
  }
}

/** The job threw, or its worker died. */
export class JobFailed extends Error {
  override readonly name = 'JobFailed';
}

/** The part of a worker that a pool needs; a browser's `Worker` behind `spawnWorker`, another thread in tests. */
export interface Port {
  post(request: Request): void;
  /** Ends the worker at once, in the middle of its job. */
  end(): void;
}

/** Starts a worker for a kind of job and says who hears its replies and its death. */
export type Spawn = (kind: JobKind, onReply: (reply: Reply) => void, onDeath: (message: string) => void) => Port;

interface Running {
  readonly jobId: number;
  readonly settle: (end: { readonly output: JobOutput<JobKind> } | { readonly error: unknown }) => void;
  readonly onProgress: ((share: number) => void) | undefined;
  readonly onNews: ((news: ArrangeNews) => void) | undefined;
}

interface Lane {
  port: Port | null;
  running: Running | null;
  /** The newest job, while the worker still has one that nobody waits for. */
  held: Held | null;
  /** When the worker got what it has, and the longest it has taken for one. */
  posted: number;
  longest: number;
}

interface Held {
  request: Request;
  /** Ends the worker when it does not come to its end. */
  readonly patience: ReturnType<typeof setTimeout>;
}

/** Jobs asked for at every change. */
const PATIENT: readonly JobKind[] = ['check', 'cover'];

/**
 * Milliseconds a worker may go on with one that has been superseded: about what a new one needs to start, and on a large
 * floor as long as twice the longest it took, which is less than a new one takes that knows nothing of the floor.
 */
const PATIENCE = 300;
const MOST_PATIENCE = 6_000;

/** A pool over the given way to start a worker. */
export function createPool(spawn: Spawn = spawnWorker): Pool {
  const lanes = new Map<JobKind, Lane>();
  let jobCount = 0;
  let isClosed = false;

  function stop(lane: Lane, error: unknown): void {
    const running = lane.running;
    lane.port?.end();
    lane.port = null;
    lane.running = null;
    release(lane);
    running?.settle({ error });
  }

  /** Nothing is held back any more. @returns what was */
  function release(lane: Lane): Request | null {
    const held = lane.held;
    lane.held = null;
    clearTimeout(held?.patience);
    return held?.request ?? null;
  }

  function post(lane: Lane, request: Request): void {
    try {
      lane.port ??= openPort(request.type, lane);
      lane.posted = performance.now();
      lane.port.post(request);
    } catch (error) {
      stop(lane, new JobFailed(error instanceof Error ? error.message : String(error)));
    }
  }

  /** The worker goes on with what it has, and gets this after it. */
  function hold(lane: Lane, request: Request): void {
    if (lane.held !== null) lane.held.request = request;
    else {
      const patience = Math.min(MOST_PATIENCE, Math.max(PATIENCE, 2 * lane.longest));
      lane.held = { request, patience: setTimeout(() => passOn(lane, false), patience) };
    }
  }

  /** Hands over what was held back: to the worker that is here, or to a new one in its place. */
  function passOn(lane: Lane, isFit: boolean): void {
    const waiting = release(lane);
    if (!isFit) {
      lane.port?.end();
      lane.port = null;
    }
    if (waiting !== null) post(lane, waiting);
  }

  function hear(lane: Lane, port: Port | null, reply: Reply): void {
    const running = lane.running;
    if (running === null || lane.port !== port) return;
    if (reply.type === 'done') lane.longest = Math.max(lane.longest, performance.now() - lane.posted);
    if (reply.jobId !== running.jobId) {
      // A superseded job has come to its end.
      if (lane.held !== null && reply.type !== 'progress') passOn(lane, reply.type === 'done');
      return;
    }
    switch (reply.type) {
      case 'progress':
        running.onProgress?.(reply.share);
        if (reply.news) running.onNews?.(reply.news);
        return;
      case 'failed':
        stop(lane, new JobFailed(reply.message));
        return;
      case 'done':
        lane.running = null;
        running.settle({ output: reply.output });
        return;
    }
  }

  function openPort(kind: JobKind, lane: Lane): Port {
    const port: Port = spawn(
      kind,
      (reply) => hear(lane, port, reply),
      (message) => {
        if (lane.port !== port) return;
        // A worker that dies of a job nobody waits for takes no other with it.
        if (lane.held !== null) passOn(lane, false);
        else stop(lane, new JobFailed(message));
      },
    );
    return port;
  }

  return {
    run<Kind extends JobKind>(kind: Kind, input: JobInput<Kind>, options: JobOptions = {}): Promise<JobOutput<Kind>> {
      const { signal, onProgress, onNews } = options;
      return new Promise<JobOutput<Kind>>((resolve, reject) => {
        if (isClosed) throw new JobFailed('The pool is closed.');
        signal?.throwIfAborted();
        const lane = lanes.get(kind) ?? { port: null, running: null, held: null, posted: 0, longest: 0 };
        lanes.set(kind, lane);
        const isBusy = lane.running !== null && PATIENT.includes(kind);
        if (isBusy) lane.running?.settle({ error: new JobSuperseded() });
        else if (lane.running !== null) stop(lane, new JobSuperseded());

        const jobId = ++jobCount;
        const abort = () => {
          if (lane.running?.jobId === jobId) stop(lane, signal?.reason);
        };
        signal?.addEventListener('abort', abort, { once: true });
        lane.running = {
          jobId,
          onProgress,
          onNews,
          settle(end) {
            signal?.removeEventListener('abort', abort);
            // The kind of a job is the kind of its answer: both come from the same row of `Jobs`.
            if ('output' in end) resolve(end.output as JobOutput<Kind>);
            else reject(end.error);
          },
        };
        const request = { type: kind, jobId, input } as Request;
        if (isBusy) hold(lane, request);
        else post(lane, request);
      });
    },
    close() {
      isClosed = true;
      for (const lane of lanes.values()) stop(lane, new JobFailed('The pool is closed.'));
    },
  };
}

/** A browser's worker, as the module it is built into. */
const spawnWorker: Spawn = (kind, onReply, onDeath) => {
  const worker =
    kind === 'arrange'
      ? new Worker(new URL('./arrange.worker.ts', import.meta.url), { type: 'module' })
      : new Worker(new URL('./check.worker.ts', import.meta.url), { type: 'module' });
  worker.onmessage = (event: MessageEvent<Reply>) => onReply(event.data);
  worker.onerror = (event) => onDeath(event.message || 'The worker could not be started.');
  worker.onmessageerror = () => onDeath('The answer of the worker could not be read.');
  const send = createFloorSender();
  return {
    post: (request) => send(request, (wired) => worker.postMessage(wired)),
    end: () => worker.terminate(),
  };
};
