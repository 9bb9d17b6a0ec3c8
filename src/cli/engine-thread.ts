/** The geometry engine on a thread of its own, so that it can be ended: it meshes what it is handed, and answers once. */
import { parentPort, workerData } from 'node:worker_threads';
import { meshByEngine } from '../importers/ifc/engine.ts';
import { openIfcApi } from '../workers/ifc-api.ts';
import type { EngineRequest, EngineWord } from './guarded-engine.ts';

const { bytes, ids } = workerData as EngineRequest;
const tell = (word: EngineWord): void => parentPort?.postMessage(word);
void meshByEngine(bytes, openIfcApi, ids, (share) => tell({ share })).then((meshed) => tell({ meshed }));
