/**
 * The geometry engine behind a guard: a damaged model can keep it busy without end, and what runs on one's own thread cannot
 * be stopped. So it runs on another, which is ended when it has said nothing for too long.
 */
import type { Mesh } from '../importers/ifc/bodies.ts';
import { type EngineMeshes, type IfcApiSource, meshByEngine, type RemoteEngine } from '../importers/ifc/engine.ts';

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

/** Starts a thread with a request. It hands over every word, and tells why it ended where it did so by itself. */
export type SpawnEngine = (
  request: EngineRequest,
  onWord: (word: EngineWord) => void,
  onDeath: (failure: string) => void,
) => { end(): void };

/** @param patience milliseconds between two words of the thread */
export function guardEngine(spawn: SpawnEngine, patience = PATIENCE): RemoteEngine {
  return {
    mesh: (bytes, ids, onBatch) =>
      new Promise((resolve) => {
        // What was finished before a failure is kept.
        const made = new Map<number, readonly Mesh[]>();
        const end = (failure: string | undefined): void => {
          clearTimeout(timer);
          thread.end();
          resolve({ meshes: made, failure });
        };
        const giveUp = (): void => end(`the geometry engine did not come back within ${patience / 1000} s`);
        let timer = setTimeout(giveUp, patience);
        const thread = spawn(
          { bytes, ids },
          (word) => {
            if ('isDone' in word) return end(word.failure);
            clearTimeout(timer);
            timer = setTimeout(giveUp, patience);
            for (const [id, parts] of word.meshes) made.set(id, parts);
            onBatch(word.share, word.meshes);
          },
          end,
        );
      }),
  };
}

/** The thread's own side: meshes what it was asked for and tells it batch by batch. */
export async function runEngine(
  { bytes, ids }: EngineRequest,
  api: IfcApiSource,
  tell: (word: EngineWord) => void,
): Promise<void> {
  const { failure } = await meshByEngine(bytes, api, ids, (share, meshes) => tell({ share, meshes }));
  tell({ isDone: true, failure });
}
