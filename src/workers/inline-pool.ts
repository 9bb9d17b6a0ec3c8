/** A pool for a page that is one file: its worker is inside it. */
import CheckWorker from './check.worker.ts?worker&inline';
import { createFloorSender } from './floor-wire.ts';
import { createPool, type Pool } from './pool.ts';
import type { Reply } from './protocol.ts';

export function createInlinePool(): Pool {
  return createPool((_kind, onReply, onDeath) => {
    const worker = new CheckWorker();
    worker.onmessage = (event: MessageEvent<Reply>) => onReply(event.data);
    worker.onerror = (event) => onDeath(event.message || 'The worker could not be started.');
    const send = createFloorSender();
    return {
      post: (request) => send(request, (wired) => worker.postMessage(wired)),
      end: () => worker.terminate(),
    };
  });
}
