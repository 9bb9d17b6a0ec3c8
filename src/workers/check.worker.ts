import { answer } from './answer.ts';
import { createFloorReceiver, type Wired } from './floor-wire.ts';
import type { ArrangeRequest, Request } from './protocol.ts';

declare const self: DedicatedWorkerGlobalScope;

const receive = createFloorReceiver();

self.onmessage = (event: MessageEvent<Wired>) => {
  // Arranging has a worker of its own.
  const request = receive(event.data) as Exclude<Request, ArrangeRequest>;
  answer(request, (reply, transfer) => self.postMessage(reply, transfer));
};
