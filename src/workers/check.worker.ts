import { answer } from './answer.ts';
import type { ArrangeRequest, Request } from './protocol.ts';

declare const self: DedicatedWorkerGlobalScope;

self.onmessage = (event: MessageEvent<Exclude<Request, ArrangeRequest>>) =>
  answer(event.data, (reply, transfer) => self.postMessage(reply, transfer));
