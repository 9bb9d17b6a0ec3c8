/**
 * Two floors made from building models by others, detectors added. An independent segment test on a grid of 0.3 m gave a
 * seated share of 0.939 with every workplace's centre seen for the first, and 0 for the second, whose ceilings hang above
 * the type's table (stated with the files).
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { check, createCoverage } from '../../src/core/coverage/index.ts';
import { findRoomAt } from '../../src/core/floor/index.ts';
import { traceSight } from '../../src/core/sight/index.ts';
import { readFloor } from '../core/sight/build-floor.ts';
import { findOutsideFolder } from './visibility-files.ts';

const read = (name: string, cell?: number) => {
  const file = JSON.parse(readFileSync(join(findOutsideFolder('floors'), name), 'utf8'));
  return readFloor(cell === undefined ? file : { ...file, analysis: { ...file.analysis, cell } });
};

test('the institute is seen to 0.939, and every workplace by its centre', () => {
  const { areas } = createCoverage(read('institute-level-1.json', 0.3));
  expect(Math.abs(areas.seated.seenM2 / areas.seated.areaM2 - 0.939)).toBeLessThan(0.0005);
  const floor = read('institute-level-1.json');
  const coverage = createCoverage(floor);
  expect(floor.workplaces).toHaveLength(23);
  for (const { at } of floor.workplaces) {
    const [x, y] = at;
    expect(findRoomAt(floor.rooms, at)).toBeDefined();
    const seen = floor.detectors.some(
      (_, index) => traceSight(coverage.scene, index, { x, y, h: 0.8 }, 'minor', 'stated').seen,
    );
    expect(seen).toBe(true);
  }
});

test('in the large building nobody seated is seen, and it is said why', () => {
  const floor = read('large-building-level-1.json');
  const { planes, workplacesMet, findings } = check(floor);
  expect(planes.seated).toMatchObject({ seenM2: 0, share: 0 });
  expect(planes.seated.areaM2).toBeGreaterThan(250);
  expect(workplacesMet).toEqual([0, 14]);
  const outside = findings.find(({ code }) => code === 'outside-table');
  expect(outside?.level).toBe('fail');
  expect(outside?.about).toHaveLength(16);
});
