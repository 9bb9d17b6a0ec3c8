import wasmUrl from 'web-ifc/web-ifc.wasm?url';
import { type EngineRequest, runEngine } from './guarded-engine.ts';
import { openIfcApi } from './ifc-api.ts';

declare const self: DedicatedWorkerGlobalScope;

self.onmessage = (event: MessageEvent<EngineRequest>) => {
  void runEngine(
    event.data,
    () => openIfcApi(wasmUrl),
    (word) => self.postMessage(word),
  );
};
