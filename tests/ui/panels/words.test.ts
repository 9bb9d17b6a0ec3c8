import { afterEach, expect, test } from 'vitest';
import { resolveFloor } from '../../../src/core/floor/index.ts';
import { formatArea, writeInUnits, writeLengthsIn } from '../../../src/ui/panels/format.ts';
import { sayFinding } from '../../../src/ui/panels/words.ts';
import { SMALL_FLOOR } from '../../editor/open-floor.ts';

afterEach(() => writeLengthsIn('metres'));

const FINDING = 'Shelf (2.20 m) hides the rest from D1. With Shelf at 1.26 m or lower 3.5 m² more are seen.';
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

test('a sentence with metres is left as it is where lengths are in metres', () => {
  expect(writeInUnits(FINDING)).toBe(FINDING);
});

test('lengths and areas of a sentence are written in feet where lengths are', () => {
  writeLengthsIn('feet');
  expect(plain(writeInUnits(FINDING))).toBe(
    `Shelf (7' 2 5/8") hides the rest from D1. With Shelf at 4' 1 5/8" or lower 38 sq ft more are seen.`,
  );
  expect(plain(writeInUnits('4 more rooms, 2 min, 3mm, M2 m'))).toBe('4 more rooms, 2 min, 3mm, M2 m');
  expect(plain(formatArea(0))).toBe('0 sq ft');
});

test('a name that looks like a length stays a name', () => {
  writeLengthsIn('feet');
  const named = { ...SMALL_FLOOR, furniture: SMALL_FLOOR.furniture?.map((each) => ({ ...each, name: 'Shelf 2 m' })) };
  expect(sayFinding(resolveFloor(named), 'Shelf 2 m hides 1.50 m.')).toBe('Shelf 2 m hides 1.50 m.');
  expect(plain(sayFinding(resolveFloor(SMALL_FLOOR), 'Shelf hides 3.048 m.'))).toBe(`Shelf hides 10' 0".`);
});
