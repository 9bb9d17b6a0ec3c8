import { checkLenses } from './check-lenses.ts';
import { checkOutlines } from './check-outlines.ts';
import { checkReferences } from './check-references.ts';
import { checkShape } from './check-shape.ts';
import { checkSizes } from './check-sizes.ts';
import { createFaultList, type Fault, type FaultList } from './fault.ts';
import { readJson } from './json-text.ts';
import { migrateFloor } from './migrate.ts';
import { findStillSound, keepSound } from './recheck.ts';
import { resolveFloor } from './resolve.ts';
import { type Floor, type FloorFile, floorSchema } from './schema.ts';
import { readShape } from './shape.ts';
import { surveyValue } from './survey.ts';

/** A floor as it was read, or everything that keeps it from being one. */
export type ParsedFloor =
  | { readonly ok: true; readonly file: FloorFile; readonly floor: Floor }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/**
 * Reads the text of a floor file: JSON, then the format, then the shape of every value, then what several values say
 * together. Each step is only taken when the one before found nothing, so that no fault is the echo of another.
 * Never throws; nothing is repaired.
 */
export function parseFloor(text: string): ParsedFloor {
  const faults = createFaultList();
  const read = readJson(text, faults);
  return read.ok ? judge(read.value, faults) : { ok: false, faults: faults.list() };
}

/** Judges a value that has been read already, as `parseFloor` does. The value is kept, not copied: hand it over for good. */
export function validateFloor(value: unknown): ParsedFloor {
  const still = findStillSound(value);
  if (still !== null) {
    const file = value as FloorFile;
    keepSound(file, still);
    return { ok: true, file, floor: still };
  }
  const faults = createFaultList();
  surveyValue(value, faults);
  return faults.count === 0 ? judge(value, faults) : { ok: false, faults: faults.list() };
}

function judge(value: unknown, faults: FaultList): ParsedFloor {
  const present = migrateFloor(value, faults);
  if (faults.count === 0) checkShape(present, readShape(floorSchema), faults);
  if (faults.count > 0) return { ok: false, faults: faults.list() };
  const file = present as FloorFile;
  const floor = resolveFloor(file);
  checkReferences(floor, faults);
  checkSizes(floor, faults);
  if (checkOutlines(floor, faults)) checkLenses(floor, faults);
  if (faults.count > 0) return { ok: false, faults: faults.list() };
  keepSound(file, floor);
  return { ok: true, file, floor };
}
