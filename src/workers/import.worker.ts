import wasmUrl from 'web-ifc/web-ifc.wasm?url';
import { openIfcApi } from './ifc-api.ts';
import { type ImportReply, type ImportRequest, runImportJob } from './import-job.ts';

declare const self: DedicatedWorkerGlobalScope;

const post = (reply: ImportReply): void => self.postMessage(reply);

self.onmessage = (event: MessageEvent<ImportRequest>) => {
  runImportJob(event.data, { ifcApi: () => openIfcApi(wasmUrl) }, (share, stage) =>
    post({ type: 'progress', share, stage }),
  ).then(
    (output) => post({ type: 'done', output }),
    (error: unknown) => post({ type: 'failed', message: error instanceof Error ? error.message : String(error) }),
  );
};
