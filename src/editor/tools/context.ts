import { type FloorFile, resolveFloor } from '../../core/floor/index.ts';
import { SNAP_DEFAULTS } from '../snapping/snap-kinds.ts';
import type { ToolContext } from './tool.ts';

/** What a tool may know of a valid file; what is left out is as a fresh editor has it. */
export function createToolContext(
  file: FloorFile,
  rest: Partial<Omit<ToolContext, 'file' | 'floor'>> = {},
): ToolContext {
  return {
    file,
    floor: resolveFloor(file),
    selection: [],
    pointer: null,
    metresPerPixel: 0.02,
    snapping: SNAP_DEFAULTS,
    step: 0.1,
    units: 'metres',
    catalogue: [],
    locked: new Set(),
    ...rest,
  };
}
