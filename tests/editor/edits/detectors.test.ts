import { expect, test } from 'vitest';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import {
  addDetectorType,
  addRange,
  changeRange,
  measureRange,
  removeRange,
  setRangePlane,
  setRangeShape,
} from '../../../src/editor/edits/detector-types.ts';
import {
  addDetector,
  addDetectorMask,
  changeDetectorMask,
  removeDetectorMask,
} from '../../../src/editor/edits/detectors.ts';
import { findItem } from '../../../src/editor/edits/lists.ts';
import { faultOf, made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

const typeOf = (file: FloorFile, id: string) => findItem(file, 'types', id);

test('a detector is numbered by the next free number, in name and id', () => {
  const asked = planned(addDetector(TRIAL_FLOOR, 'T1', [10, 6.0004999], { turn: 370 }));
  expect(asked).toMatchObject({ name: 'Added D4', ids: ['D4'] });
  expect(findItem(made(TRIAL_FLOOR, asked), 'detectors', 'D4')).toEqual({
    id: 'D4',
    name: 'D4',
    type: 'T1',
    at: [10, 6.0005],
    turn: 10,
  });
  // A name or an id with a higher number counts on from there.
  const renamed: FloorFile = {
    ...TRIAL_FLOOR,
    detectors: TRIAL_FLOOR.detectors.map((each) => (each.id === 'D3' ? { ...each, name: 'D17' } : each)),
    furniture: (TRIAL_FLOOR.furniture ?? []).map((each) => (each.id === 'F1' ? { ...each, id: 'D21' } : each)),
  };
  expect(planned(addDetector(renamed, 'T1', [10, 6])).ids).toEqual(['D22']);
  expect(refusalOf(addDetector(TRIAL_FLOOR, 'T9', [10, 6]))).toBe(
    'The detector type is no longer there. Select another.',
  );
  expect(faultOf(TRIAL_FLOOR, addDetector(TRIAL_FLOOR, 'T1', [10, 9]))).toBe(
    'D4 is 1 m outside every room. Move it in, or draw the room it belongs to.',
  );
});

test('masks are stuck on, changed and taken off', () => {
  const added = made(TRIAL_FLOOR, addDetectorMask(TRIAL_FLOOR, 'D2', { from: -30, to: 30, inner: 20, outer: 90 }));
  expect(findItem(added, 'detectors', 'D2')?.masks).toEqual([{ from: 330, to: 390, inner: 20, outer: 90 }]);
  const changed = made(added, changeDetectorMask(added, 'D2', 0, { to: 350 }));
  expect(findItem(changed, 'detectors', 'D2')?.masks).toEqual([{ from: 330, to: 350, inner: 20, outer: 90 }]);
  const ring = made(added, changeDetectorMask(added, 'D2', 0, { from: 10, to: 370 }));
  expect(findItem(ring, 'detectors', 'D2')?.masks).toEqual([{ from: 10, to: 370, inner: 20, outer: 90 }]);
  expect(findItem(made(added, removeDetectorMask(added, 'D2', 0)), 'detectors', 'D2')?.masks).toEqual([]);
  expect(refusalOf(changeDetectorMask(added, 'D2', 0, { to: 330 }))).toMatch(
    /^The mask begins and ends in one direction/,
  );
  expect(refusalOf(changeDetectorMask(added, 'D2', 0, { inner: 90 }))).toBe(
    'The mask would run from 90° to 90° away from straight down. Both lie from 0 to 90°, the outer above the inner.',
  );
  expect(refusalOf(removeDetectorMask(added, 'D2', 1))).toBe('The mask is no longer there. Select another.');
});

test('a data sheet is entered row by row; its plane has to be chosen with the first', () => {
  const added = made(TRIAL_FLOOR, addDetectorType(TRIAL_FLOOR, { name: 'Wide', drop: 0.04, origin: 'sheet 7' }));
  expect(typeOf(added, 'T2')).toEqual({ id: 'T2', name: 'Wide', drop: 0.04, origin: 'sheet 7', ranges: [] });
  const row = { motion: 'minor', mounting: 3, size: { diameter: 6 } } as const;
  expect(refusalOf(addRange(added, 'T2', row))).toBe(
    'It is not said at which height the size for small movements holds. Choose the floor (0 m), the seated plane or the walking plane, as the data sheet states it.',
  );
  let file = made(added, addRange(added, 'T2', { ...row, plane: 0 }));
  file = made(file, addRange(file, 'T2', { ...row, mounting: 2.5, size: { diameter: 5 } }));
  file = made(file, addRange(file, 'T2', { motion: 'radial', mounting: 3, plane: 1.2, size: { length: 8, width: 5 } }));
  file = made(file, addRange(file, 'T2', { ...row, mounting: 3.5, size: { diameter: 6.5 } }));
  expect(typeOf(file, 'T2')?.ranges).toEqual([
    { motion: 'minor', mounting: 2.5, plane: 0, diameter: 5 },
    { motion: 'minor', mounting: 3, plane: 0, diameter: 6 },
    { motion: 'minor', mounting: 3.5, plane: 0, diameter: 6.5 },
    { motion: 'radial', mounting: 3, plane: 1.2, length: 8, width: 5 },
  ]);
});

test('rows that do not go together are refused one by one', () => {
  const add = (row: Parameters<typeof addRange>[2]) => refusalOf(addRange(TRIAL_FLOOR, 'T1', row));
  const row = { motion: 'minor', mounting: 3, size: { diameter: 6 } } as const;
  expect(add({ ...row, plane: 0 })).toBe(
    'The other rows for small movements hold at 0.80 m. All rows of one motion share one plane. Change it for all of them.',
  );
  expect(add({ ...row, mounting: 2.6 })).toMatch(/^There is a row for small movements at 2\.60 m already/);
  expect(add({ ...row, size: { length: 4, width: 3 } })).toMatch(/^The other rows for small movements are round/);
  expect(add({ ...row, mounting: 0.8 })).toMatch(/The plane must be below the mounting height\.$/);
  expect(add({ ...row, size: { diameter: 0 } })).toMatch(/^A row for small movements has no size/);
});

test('rows are changed and removed, and plane and shape are changed for all rows of a motion', () => {
  const changed = made(TRIAL_FLOOR, changeRange(TRIAL_FLOOR, 'T1', 0, { mounting: 2.4, size: { diameter: 5.5 } }));
  expect(typeOf(changed, 'T1')?.ranges[0]).toEqual({ motion: 'minor', mounting: 2.4, plane: 0.8, diameter: 5.5 });
  const plane = planned(setRangePlane(TRIAL_FLOOR, 'T1', 'minor', 0));
  expect(plane.name).toBe('Round 9: small movements stated at 0.00 m');
  expect(typeOf(made(TRIAL_FLOOR, plane), 'T1')?.ranges.map((each) => each.plane)).toEqual([0, 0, 1.2]);
  const round = made(TRIAL_FLOOR, setRangeShape(TRIAL_FLOOR, 'T1', 'radial', 'round'));
  expect(typeOf(round, 'T1')?.ranges[2]).toEqual({ motion: 'radial', mounting: 3, plane: 1.2, diameter: 5 });
  const square = made(TRIAL_FLOOR, setRangeShape(TRIAL_FLOOR, 'T1', 'minor', 'rectangular'));
  expect(typeOf(square, 'T1')?.ranges[1]).toEqual({ motion: 'minor', mounting: 3.2, plane: 0.8, length: 7, width: 7 });
  expect(typeOf(made(TRIAL_FLOOR, removeRange(TRIAL_FLOOR, 'T1', 2)), 'T1')?.ranges).toHaveLength(2);
  expect(refusalOf(setRangePlane(TRIAL_FLOOR, 'T1', 'minor', 2.7))).toMatch(/must be below the mounting height/);
});

test('a type with rows that do not go together is not added', () => {
  const row = { motion: 'minor', mounting: 3, plane: 0.8, size: { diameter: 6 } } as const;
  expect(refusalOf(addDetectorType(TRIAL_FLOOR, {}, [row, row]))).toMatch(/already/);
  const file = made(TRIAL_FLOOR, addDetectorType(TRIAL_FLOOR, {}, [row]));
  expect(typeOf(file, 'T2')).toMatchObject({ name: 'Detector type 1', ranges: [{ diameter: 6 }] });
});

test('the size as stated stands beside the size at another height', () => {
  // Hung at 3.0 m the rows at 2.6 and 3.2 m give 6 + 1 × 2/3 m at 0.8 m; at 1.9 m half of that, along the cone.
  const { plane, stated, there } = measureRange(TRIAL_FLOOR, 'T1', 'minor', 3, 1.9);
  expect(plane).toBe(0.8);
  expect(stated).toEqual({ kind: 'round', radius: expect.closeTo(10 / 3, 9) });
  expect(there).toEqual({ kind: 'round', radius: expect.closeTo(10 / 6, 9) });
  expect(measureRange(TRIAL_FLOOR, 'T1', 'tangential', 3, 1)).toEqual({ plane: null, stated: null, there: null });
  expect(measureRange(TRIAL_FLOOR, 'T1', 'minor', 4, 1)).toEqual({ plane: 0.8, stated: null, there: null });
});
