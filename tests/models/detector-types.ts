import { readFileSync } from 'node:fs';
import type { Entry } from './floor-draft.ts';

const FILE = new URL('../../models/detectors/types.json', import.meta.url);

/** The invented detector types of `models/detectors/types.json`. */
export function readDetectorTypes(): readonly Entry<'types'>[] {
  const { types } = JSON.parse(readFileSync(FILE, 'utf8')) as { types: readonly Entry<'types'>[] };
  return types;
}

/** Those of the invented types that a floor uses, in the order of the file. */
export function pickDetectorTypes(ids: Iterable<string>): Entry<'types'>[] {
  const wanted = new Set(ids);
  const found = readDetectorTypes().filter(({ id }) => wanted.has(id));
  if (found.length !== wanted.size)
    throw new Error(
      `no such detector type: ${[...wanted].filter((id) => !found.some((type) => type.id === id)).join(', ')}`,
    );
  return found;
}
