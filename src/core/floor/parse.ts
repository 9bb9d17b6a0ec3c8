import type { Fault } from './fault.ts';
import { resolveFloor } from './resolve.ts';
import { type Floor, type FloorFile, floorSchema } from './schema.ts';

/** A floor as it was read, or what keeps it from being one. */
export type ParsedFloor =
  | { readonly ok: true; readonly file: FloorFile; readonly floor: Floor }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Reads the text of a floor file. Never throws. */
export function parseFloor(text: string): ParsedFloor {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { ok: false, faults: [{ path: '', what: 'is no JSON', remedy: 'A floor file is JSON in UTF-8.' }] };
  }
  return validateFloor(value);
}

/** Judges a value that has been read already. Never throws. */
export function validateFloor(value: unknown): ParsedFloor {
  const result = floorSchema.safeParse(value);
  if (!result.success) {
    const faults = result.error.issues.map((issue) => ({ path: issue.path.join('.'), what: issue.message, remedy: '' }));
    return { ok: false, faults };
  }
  const file = value as FloorFile;
  return { ok: true, file, floor: resolveFloor(file) };
}
