/** What is brought when it is first needed: an empty floor with detector types to begin with, and the pieces of furniture. */
import type { FloorFile } from '../core/floor/index.ts';
import type { CatalogueEntry } from '../editor/edits/furniture-pieces.ts';

/** An empty floor. The invented detector types come with it, so that a first detector can be hung at once. */
export async function createEmptyFloor(): Promise<FloorFile> {
  const { default: text } = await import('../../models/detectors/types.json?raw');
  const { types } = JSON.parse(text) as { types: FloorFile['types'] };
  return { format: 'lacuna/1', name: 'Untitled floor', rooms: [], types, detectors: [] };
}

export async function loadCatalogue(): Promise<readonly CatalogueEntry[]> {
  const { default: text } = await import('../../models/furniture/catalogue.json?raw');
  const { pieces } = JSON.parse(text) as { pieces: readonly CatalogueEntry[] };
  return pieces;
}
