/** A pool for a page that is one file: its worker is inside it. */
import CheckWorker from './check.worker.ts?worker&inline';
import { createPool, type Pool } from './pool.ts';
import type { Reply } from './protocol.ts';

export function createInlinePool(): Pool {
  return createPool((_kind, onReply, onDeath) => {
    const worker = new CheckWorker();
    worker.onmessage = (event: MessageEvent<Reply>) => onReply(event.data);
    worker.onerror = (event) => onDeath(event.message || 'The worker could not be started.');
    return { post: (request) => worker.postMessage(request), end: () => worker.terminate() };
  });
}
