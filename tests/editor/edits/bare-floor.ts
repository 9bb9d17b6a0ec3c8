import type { FloorFile, Ring } from '../../../src/core/floor/index.ts';
import { computeSignedArea } from '../../../src/core/geometry/polygon.ts';
import { findItem } from '../../../src/editor/edits/lists.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

export const outlineOf = (file: FloorFile, id: string): Ring => findItem(file, 'rooms', id)?.outline ?? [];
export const openingOf = (file: FloorFile, id: string) => {
  const opening = findItem(file, 'openings', id);
  return [opening?.from, opening?.to];
};
/** Of all rooms less their holes, m². */
export const areaOf = (file: FloorFile): number =>
  file.rooms.reduce(
    (sum, { outline, holes = [] }) =>
      sum +
      Math.abs(computeSignedArea(outline)) -
      holes.reduce((all, hole) => all + Math.abs(computeSignedArea(hole)), 0),
    0,
  );

/** The trial floor with nothing on it that keeps a wall from moving. */
export const BARE: FloorFile = {
  ...TRIAL_FLOOR,
  openings: [],
  detectors: [],
  groups: [],
  zones: [],
  records: [],
  luminaires: [],
};
