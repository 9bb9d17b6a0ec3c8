/**
 * The geometry engine for building models, loaded only when a model is read: its script and its wasm are larger than the rest
 * of the program together. In the browser the wasm's address is handed in; Node finds its own beside the package.
 */
import type { IfcAPI } from 'web-ifc';
import type { IfcApi } from '../importers/ifc/engine.ts';

/** web-ifc's own words for "say nothing": models by others are full of what it would warn of. */
const SILENT = 6;

/** Loads and starts the engine on one thread. It holds its memory until the worker or the process ends. */
export async function openIfcApi(wasmUrl?: string): Promise<IfcApi> {
  const { IfcAPI } = await import('web-ifc');
  const api = new IfcAPI();
  await api.Init(wasmUrl === undefined ? undefined : (path) => (path.endsWith('.wasm') ? wasmUrl : path), true);
  api.SetLogLevel(SILENT);
  return wasmUrl === undefined ? api : withoutFactor(api);
}

/**
 * Of version 0.0.78 the script hands a factor of lengths to the wasm, which the one for Node takes and the one for browsers
 * does not: it refuses the call, and nothing would be meshed. Without it lengths are metres in both.
 */
function withoutFactor(api: IfcAPI): IfcApi {
  const { wasmModule } = api as { readonly wasmModule: Pick<IfcApi, 'StreamMeshes'> };
  return Object.assign(api, {
    StreamMeshes: ((model, ids, onMesh) => wasmModule.StreamMeshes(model, ids, onMesh)) as IfcApi['StreamMeshes'],
  });
}
