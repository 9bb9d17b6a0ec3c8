import wasmUrl from 'highs/runtime?url';
import { answerArrange } from './answer-arrange.ts';
import type { ArrangeRequest } from './protocol.ts';

declare const self: DedicatedWorkerGlobalScope;

self.onmessage = (event: MessageEvent<ArrangeRequest>) =>
  answerArrange(
    event.data,
    (reply) => self.postMessage(reply),
    async () => (await import('./highs-solver.ts')).loadSolver(wasmUrl),
  );
