/** The documents of a floor in the browser: made in a worker of their own, handed to the downloads. */
import { PARTS } from '../handover/parts.ts';
import type { PaperFile, PaperRequest, PaperRun, Papers } from '../ui/panels/handover/papers.ts';
import type { PapersReply } from './papers-job.ts';

export function createPapers(): Papers {
  return {
    parts: PARTS.map(({ name, title, about }) => ({ name, title, about })),
    make: startJob,
    download,
  };
}

/** A job is called off by ending its worker: a busy one hears nothing. */
function startJob(request: PaperRequest, hear: (title: string, share: number) => void): PaperRun {
  const worker = new Worker(new URL('./papers-job.ts', import.meta.url), { type: 'module' });
  let callOff = (): void => {};
  const bundle = new Promise<Awaited<PaperRun['bundle']>>((resolve, reject) => {
    callOff = () => reject(null);
    worker.onmessage = ({ data }: MessageEvent<PapersReply>) => {
      if (data.type === 'progress') hear(data.title, data.share);
      else if (data.type === 'done') resolve(data.bundle);
      else reject(new Error(data.message));
    };
    worker.onerror = (event) => reject(new Error(event.message || 'The worker could not be started.'));
    worker.onmessageerror = () => reject(new Error('The answer of the worker could not be read.'));
    worker.postMessage(request);
  }).finally(() => worker.terminate());
  return {
    bundle,
    cancel() {
      worker.terminate();
      callOff();
    },
  };
}

function download({ name, mime, bytes }: PaperFile): void {
  const address = URL.createObjectURL(new Blob([bytes], { type: mime }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name.replace(/^.*\//u, '');
  link.click();
  // The download has begun by then; the bytes are let go.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
