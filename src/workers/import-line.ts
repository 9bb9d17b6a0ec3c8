/** The page's end of an import session: requests with answers, over a worker that is ended with the import. */

import type { NamedBytes } from '../importers/geojson/read.ts';
import type { SourceAnswers } from '../importers/source.ts';
import type { OnProgress, Refusal } from '../importers/storey.ts';
import type { BuiltFloor, ImportReply, ImportRequest, SourceSummary } from './import-session.ts';
import { JobFailed } from './pool.ts';

type Built = Extract<ImportRequest, { readonly type: 'build' }>;

/** One import. Every promise rejects with `JobFailed` when the worker dies, and with `ImportEnded` when the line is ended. */
export interface ImportLine {
  read(files: readonly NamedBytes[], answers: SourceAnswers, onProgress: OnProgress): Promise<SourceSummary | Refusal>;
  reread(answers: SourceAnswers, onProgress: OnProgress): Promise<SourceSummary | Refusal>;
  build(asked: Pick<Built, 'storey' | 'answers' | 'onto'>): Promise<BuiltFloor>;
  /** Calls off what runs, at once, and gives the memory back. */
  end(): void;
}

/** The import was called off. Nothing is wrong. */
export class ImportEnded extends Error {
  override readonly name = 'ImportEnded';
  constructor() {
    super('The import was called off.');
  }
}

interface ImportWorker {
  post(request: ImportRequest, transfer: ArrayBuffer[]): void;
  end(): void;
}

export type SpawnImport = (onReply: (reply: ImportReply) => void, onDeath: (message: string) => void) => ImportWorker;

interface Waiting {
  readonly onProgress: OnProgress;
  settle(reply: ImportReply): void;
  fail(error: unknown): void;
}

export function openImportLine(spawn: SpawnImport = spawnWorker): ImportLine {
  const waiting = new Map<number, Waiting>();
  let count = 0;
  let over: Error | null = null;

  const close = (error: Error): void => {
    if (over !== null) return;
    over = error;
    worker.end();
    for (const each of waiting.values()) each.fail(error);
    waiting.clear();
  };
  const worker = spawn(
    (reply) => {
      const asked = waiting.get(reply.id);
      if (asked === undefined) return;
      if (reply.type === 'progress') {
        asked.onProgress(reply.share, reply.stage);
        return;
      }
      waiting.delete(reply.id);
      if (reply.type === 'failed') asked.fail(new JobFailed(reply.message));
      else asked.settle(reply);
    },
    (message) => close(new JobFailed(message)),
  );
  const ask = <Answer>(
    request: (id: number) => ImportRequest,
    transfer: ArrayBuffer[],
    onProgress: OnProgress,
    take: (reply: ImportReply) => Answer | undefined,
  ): Promise<Answer> =>
    new Promise((resolve, reject) => {
      if (over !== null) throw over;
      const id = ++count;
      const settle = (reply: ImportReply): void => {
        const answer = take(reply);
        if (answer === undefined) reject(new JobFailed('The worker answered something else.'));
        else resolve(answer);
      };
      waiting.set(id, { onProgress, settle, fail: reject });
      worker.post(request(id), transfer);
    });
  const takeSummary = (reply: ImportReply) => (reply.type === 'read' ? reply.summary : undefined);

  return {
    read: (files, answers, onProgress) => {
      const buffers = files.map(({ bytes }) => bytes.buffer).filter((buffer) => buffer instanceof ArrayBuffer);
      return ask((id) => ({ type: 'read', id, files, answers }), [...new Set(buffers)], onProgress, takeSummary);
    },
    reread: (answers, onProgress) => ask((id) => ({ type: 'reread', id, answers }), [], onProgress, takeSummary),
    build: (asked) =>
      ask(
        (id) => ({ type: 'build', id, ...asked }),
        [],
        () => {},
        (reply) => (reply.type === 'built' ? reply.built : undefined),
      ),
    end: () => close(new ImportEnded()),
  };
}

const spawnWorker: SpawnImport = (onReply, onDeath) => {
  const worker = new Worker(new URL('./import.worker.ts', import.meta.url), { type: 'module' });
  worker.onmessage = (event: MessageEvent<ImportReply>) => onReply(event.data);
  worker.onerror = (event) => onDeath(event.message || 'The worker could not be started, or its memory is at an end.');
  worker.onmessageerror = () => onDeath('The answer of the worker could not be read.');
  return {
    post: (request, transfer) => worker.postMessage(request, transfer),
    end: () => worker.terminate(),
  };
};
