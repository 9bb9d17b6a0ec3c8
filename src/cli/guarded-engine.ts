/**
 * The geometry engine for a process that has nobody to press cancel: a damaged model can keep it busy without end, and what
 * runs on one's own thread cannot be stopped. So it runs on another, which is ended when it has said nothing for too long.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { Mesh } from '../importers/ifc/bodies.ts';
import type { EngineMeshes, IfcApiSource, RemoteEngine } from '../importers/ifc/engine.ts';
import { openIfcApi } from '../workers/ifc-api.ts';

export interface EngineRequest {
  readonly bytes: Uint8Array;
  readonly ids: readonly number[];
}

/** What the thread says: how far it is (0 to 1) with what the last batch gave, and at the end why something has no mesh. */
export type EngineWord =
  | { readonly share: number; readonly meshes: EngineMeshes['meshes'] }
  | { readonly isDone: true; readonly failure: EngineMeshes['failure'] };

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
        // What was finished before a failure is kept.
        const made = new Map<number, readonly Mesh[]>();
        const end = (failure: string | undefined): void => {
          clearTimeout(timer);
          void thread.terminate();
          resolve({ meshes: made, failure });
        };
        const giveUp = (): void => end(`the geometry engine did not come back within ${patience / 1000} s`);
        let timer = setTimeout(giveUp, patience);
        thread.on('message', (word: EngineWord) => {
          if ('isDone' in word) return end(word.failure);
          clearTimeout(timer);
          timer = setTimeout(giveUp, patience);
          for (const [id, parts] of word.meshes) made.set(id, parts);
          onBatch(word.share, word.meshes);
        });
        thread.on('error', (error) => end(`the geometry engine failed (${error.message})`));
        thread.on('exit', () => end('the geometry engine ended before it was done'));
      }),
  };
}
