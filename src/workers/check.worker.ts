import { answer } from './answer.ts';
import type { Request } from './protocol.ts';

declare const self: DedicatedWorkerGlobalScope;

self.onmessage = (event: MessageEvent<Request>) =>
  answer(event.data, (reply, transfer) => self.postMessage(reply, transfer));
