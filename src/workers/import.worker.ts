import { type EngineWord, guardEngine, type SpawnEngine } from './guarded-engine.ts';
import { createImportSession, type ImportRequest } from './import-session.ts';

declare const self: DedicatedWorkerGlobalScope;

/** A worker of this worker: it is ended with it when a person stops the import. */
const spawnEngine: SpawnEngine = (request, onWord, onDeath) => {
  const worker = new Worker(new URL('./engine.worker.ts', import.meta.url), { type: 'module' });
  worker.onmessage = (event: MessageEvent<EngineWord>) => onWord(event.data);
  worker.onerror = (event) => {
    // Told here, with what it kept from the import; beyond this worker it would count as its own death.
    event.preventDefault();
    onDeath(`the geometry engine failed (${event.message || 'it could not be started, or its memory is at an end'})`);
  };
  worker.onmessageerror = () => onDeath('the answer of the geometry engine could not be read');
  worker.postMessage(request);
  return { end: () => worker.terminate() };
};

const session = createImportSession({ ifcApi: guardEngine(spawnEngine) });

self.onmessage = (event: MessageEvent<ImportRequest>) => {
  void session.answer(event.data, (reply) => self.postMessage(reply));
};
