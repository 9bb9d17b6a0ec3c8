/**
 * The geometry engine for a process that has nobody to press cancel: a damaged model can keep it busy without end, and what
 * runs on one's own thread cannot be stopped. So it runs on another, which is ended when it has said nothing for too long.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { EngineMeshes, IfcApiSource, RemoteEngine } from '../importers/ifc/engine.ts';
import { openIfcApi } from '../workers/ifc-api.ts';

export interface EngineRequest {
  readonly bytes: Uint8Array;
  readonly ids: readonly number[];
}

/** What the thread says: how far it is (0 to 1), and once what it has made. */
export type EngineWord = { readonly share: number } | { readonly meshed: EngineMeshes };

/** Milliseconds in which the engine has to finish its next batch of products. */
const PATIENCE = 60_000;

/** The engine behind a guard in the built command; run from its source, where there is no such thread, the engine itself. */
export function openEngine(): IfcApiSource {
  const script = join(import.meta.dirname, 'engine-thread.js');
  return existsSync(script) ? guardEngine(script, PATIENCE) : openIfcApi;
}

/**
 * @param script what the thread runs
 * @param patience milliseconds between two words of it
 */
export function guardEngine(script: string, patience: number): RemoteEngine {
  return {
    mesh: (bytes, ids, onBatch) =>
      new Promise((resolve) => {
        const thread = new Worker(script, { workerData: { bytes, ids } satisfies EngineRequest });
        const end = (meshed: EngineMeshes): void => {
          clearTimeout(timer);
          void thread.terminate();
          resolve(meshed);
        };
        const fail = (failure: string): void => end({ meshes: new Map(), failure });
        const giveUp = (): void => fail(`the geometry engine did not come back within ${patience / 1000} s`);
        let timer = setTimeout(giveUp, patience);
        thread.on('message', (word: EngineWord) => {
          if ('meshed' in word) return end(word.meshed);
          clearTimeout(timer);
          timer = setTimeout(giveUp, patience);
          onBatch(word.share);
        });
        thread.on('error', (error) => fail(`the geometry engine failed (${error.message})`));
        thread.on('exit', () => fail('the geometry engine ended before it was done'));
      }),
  };
}
