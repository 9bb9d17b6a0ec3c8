/** The geometry engine on a thread of its own, so that it can be ended: it hands over batch by batch what it has meshed. */
import { parentPort, workerData } from 'node:worker_threads';
import { type EngineRequest, runEngine } from '../workers/guarded-engine.ts';
import { openIfcApi } from '../workers/ifc-api.ts';

void runEngine(workerData as EngineRequest, openIfcApi, (word) => parentPort?.postMessage(word));
