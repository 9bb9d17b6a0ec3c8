/** The geometry engine for a process that has nobody to press cancel: on a thread that is given up when it hangs. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { IfcApiSource } from '../importers/ifc/engine.ts';
import { type EngineWord, guardEngine, type SpawnEngine } from '../workers/guarded-engine.ts';
import { openIfcApi } from '../workers/ifc-api.ts';

/** The engine behind a guard in the built command; run from its source, where there is no such thread, the engine itself. */
export function openEngine(): IfcApiSource {
  const script = join(import.meta.dirname, 'engine-thread.js');
  return existsSync(script) ? guardEngine(spawnThread(script)) : openIfcApi;
}

/** @param script what the thread runs */
export function spawnThread(script: string): SpawnEngine {
  return (request, onWord, onDeath) => {
    const thread = new Worker(script, { workerData: request });
    thread.on('message', (word: EngineWord) => onWord(word));
    thread.on('error', (error) => onDeath(`the geometry engine failed (${error.message})`));
    thread.on('exit', () => onDeath('the geometry engine ended before it was done'));
    return { end: () => void thread.terminate() };
  };
}
