import type { FloorFile } from './schema.ts';

/** The text of a floor file: readable JSON with a newline at its end. */
export function serialiseFloor(file: FloorFile): string {
  return `${JSON.stringify(file, null, 2)}\n`;
}
