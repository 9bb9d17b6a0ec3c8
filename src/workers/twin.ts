import { answer } from './answer.ts';
import { answerArrange } from './answer-arrange.ts';
import { createFloorReceiver, createFloorSender, type Wired } from './floor-wire.ts';
import { createPool, type Pool } from './pool.ts';

/**
 * A pool without workers, for tests and for where there are none: the same jobs through the same code, in this thread.
 * Input and answer are cloned as they would be on the way to a worker, so neither side can come to rely on sharing.
 */
export function createTwin(): Pool {
  return createPool((_kind, onReply) => {
    let isEnded = false;
    const send = createFloorSender();
    const receive = createFloorReceiver();
    return {
      post(request) {
        let wired: Wired;
        send(request, (sent) => {
          wired = structuredClone(sent);
        });
        // Later, as with a worker: whoever starts a job can still call it off.
        setTimeout(() => {
          if (isEnded) return;
          const copy = receive(wired);
          if (copy.type !== 'arrange') answer(copy, (reply, transfer) => onReply(structuredClone(reply, { transfer })));
          else {
            const load = async () => (await import('./highs-solver.ts')).loadSolver();
            void answerArrange(copy, (reply) => onReply(structuredClone(reply)), load);
          }
        });
      },
      end() {
        isEnded = true;
      },
    };
  });
}
