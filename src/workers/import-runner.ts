/** Starts a worker for each job of an import and throws it away when the job has ended or is called off. */
import type { ImportJobs, ImportKind, ImportReply, ImportRequest } from './import-job.ts';
import { JobFailed, type JobOptions } from './pool.ts';

/** The part of a worker that a runner needs. */
interface ImportPort {
  post(request: ImportRequest): void;
  /** Ends the worker at once, in the middle of its job. */
  end(): void;
}

export type SpawnImport = (onReply: (reply: ImportReply) => void, onDeath: (message: string) => void) => ImportPort;

export interface ImportRunOptions {
  readonly signal?: JobOptions['signal'];
  readonly onProgress?: (share: number, stage: string) => void;
}

/** Runs one job. Rejects with the signal's reason when it is called off, and with `JobFailed` when it goes wrong. */
export type RunImport = <Kind extends ImportKind>(
  kind: Kind,
  input: ImportJobs[Kind]['input'],
  options?: ImportRunOptions,
) => Promise<ImportJobs[Kind]['output']>;

export function createImportRunner(spawn: SpawnImport = spawnWorker): RunImport {
  return <Kind extends ImportKind>(kind: Kind, input: ImportJobs[Kind]['input'], options: ImportRunOptions = {}) =>
    new Promise<ImportJobs[Kind]['output']>((resolve, reject) => {
      const { signal, onProgress } = options;
      signal?.throwIfAborted();
      let isOver = false;
      const finish = (settle: () => void): void => {
        if (isOver) return;
        isOver = true;
        signal?.removeEventListener('abort', abort);
        port.end();
        settle();
      };
      const abort = (): void => finish(() => reject(signal?.reason));
      const port = spawn(
        (reply) => {
          if (isOver) return;
          if (reply.type === 'progress') onProgress?.(reply.share, reply.stage);
          // The kind of a job is the kind of its answer: both come from the same row of `ImportJobs`.
          else if (reply.type === 'done') finish(() => resolve(reply.output as ImportJobs[Kind]['output']));
          else finish(() => reject(new JobFailed(reply.message)));
        },
        (message) => finish(() => reject(new JobFailed(message))),
      );
      signal?.addEventListener('abort', abort, { once: true });
      try {
        port.post({ type: kind, input } as ImportRequest);
      } catch (error) {
        finish(() => reject(new JobFailed(error instanceof Error ? error.message : String(error))));
      }
    });
}

const spawnWorker: SpawnImport = (onReply, onDeath) => {
  const worker = new Worker(new URL('./import.worker.ts', import.meta.url), { type: 'module' });
  worker.onmessage = (event: MessageEvent<ImportReply>) => onReply(event.data);
  worker.onerror = (event) => onDeath(event.message || 'The worker could not be started, or its memory is at an end.');
  worker.onmessageerror = () => onDeath('The answer of the worker could not be read.');
  return {
    post: (request) => worker.postMessage(request),
    end: () => worker.terminate(),
  };
};
