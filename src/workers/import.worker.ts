import wasmUrl from 'web-ifc/web-ifc.wasm?url';
import { openIfcApi } from './ifc-api.ts';
import { createImportSession, type ImportRequest } from './import-session.ts';

declare const self: DedicatedWorkerGlobalScope;

const session = createImportSession({ ifcApi: () => openIfcApi(wasmUrl) });

self.onmessage = (event: MessageEvent<ImportRequest>) => {
  void session.answer(event.data, (reply) => self.postMessage(reply));
};
