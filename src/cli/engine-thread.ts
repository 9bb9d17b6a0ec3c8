/** The geometry engine on a thread of its own, so that it can be ended: it hands over batch by batch what it has meshed. */
import { parentPort, workerData } from 'node:worker_threads';
import { meshByEngine } from '../importers/ifc/engine.ts';
import { openIfcApi } from '../workers/ifc-api.ts';
import type { EngineRequest, EngineWord } from './guarded-engine.ts';

const { bytes, ids } = workerData as EngineRequest;
const tell = (word: EngineWord): void => parentPort?.postMessage(word);
void meshByEngine(bytes, openIfcApi, ids, (share, meshes) => tell({ share, meshes })).then(({ failure }) =>
  tell({ isDone: true, failure }),
);
