/** Sweeps over heights, against scenarios A and B of the facts (section 13) and against floors drawn at each height. */
import { describe, expect, test } from 'vitest';
import { check, createCoverage } from '../../../../src/core/coverage/index.ts';
import { SWEEP_HEIGHTS, sweepHeights } from '../../../../src/core/planning/question/sweep.ts';
import { randomFloor } from '../../../models/random-floor.ts';
import { bisect } from '../../../outside/bisect.ts';
import { readFloor, readScenario } from '../../sight/build-floor.ts';

const withTop = (top: number) =>
  readScenario('a', (file) => {
    file.furniture![0]!.top = top;
  });

test('17 heights from 0.8 to 2.4 m unless others are given', () => {
  expect(SWEEP_HEIGHTS).toHaveLength(17);
  expect([SWEEP_HEIGHTS[0], SWEEP_HEIGHTS[16]]).toEqual([0.8, 2.4]);
});

describe('scenario A', () => {
  const { points, workplaces, free } = sweepHeights(withTop(1.6), ['S']);

  test('every height says what check says of a floor drawn so', () => {
    for (const point of points) {
      const { planes, workplacesMet } = check(withTop(point.top));
      expect(point.seatedShare).toBe(planes.seated.share);
      expect(point.walkingShare).toBe(planes.walking.share);
      expect(point.workplacesMet).toEqual(workplacesMet);
    }
  });

  test('seen cells at 1.2, 1.4 and 1.6 m are those derived by hand: 4554, 4264, 3940', () => {
    const cells = (top: number) => {
      const point = points.find((each) => each.top === top)!;
      return Math.round(point.seatedShare! * (9600 + 4800));
    };
    expect([1.2, 1.4, 1.6].map(cells)).toEqual([4554, 4264, 3940]);
  });

  test('W1 goes dark at the height found by halving', () => {
    const isMet = (top: number) => createCoverage(withTop(top)).workplaces.find(({ id }) => id === 'W1')!.met;
    const edge = bisect(isMet, 1.2, 1.6);
    const w1 = workplaces.find(({ id }) => id === 'W1')!;
    expect(Math.abs(w1.metUpTo! - edge)).toBeLessThanOrEqual(0.01);
    expect(free).toBe(w1.metUpTo);
  });
});

test('scenario B: shelving from 1.6 to 2.2 m costs what was derived by hand, 2442 to 1116 cells', () => {
  const floor = readScenario('b', (file) => {
    file.analysis = { ...file.analysis, headings: 0.5 };
  });
  const pieces = floor.furniture.map(({ id }) => id);
  const { points } = sweepHeights(floor, pieces, [1.6, 2.2]);
  expect(points.map(({ walkingShare }) => Math.round(walkingShare! * 3480))).toEqual([2442, 1116]);
});

test.each([301, 302, 303, 304])('random floor %i: every height is what a floor worked out anew says', (seed) => {
  const floor = readFloor(randomFloor(seed));
  const pieces = floor.furniture.map(({ id }) => id);
  expect(pieces.length).toBeGreaterThan(0);
  const heights = [0.3, 0.7, 0.9, 1.3, 2.1];
  const anew = (top: number) =>
    check({
      ...floor,
      furniture: floor.furniture.map((piece) => ({ ...piece, top: Math.max(top, piece.base + 0.01) })),
    });
  const { points, workplaces } = sweepHeights(floor, pieces, heights);
  for (const [k, point] of points.entries()) {
    const { planes, workplacesMet } = anew(heights[k]!);
    expect([point.seatedShare, point.walkingShare]).toEqual([planes.seated.share, planes.walking.share]);
    expect(point.workplacesMet).toEqual(workplacesMet);
  }
  for (const { id, metUpTo } of workplaces) {
    if (metUpTo === null) continue;
    const isMet = (top: number) => anew(top).workplaces.find((each) => each.id === id)!.met;
    expect([isMet(metUpTo), isMet((Math.round(metUpTo * 100) + 1) / 100)]).toEqual([true, false]);
  }
});

test.each([
  [['X'], [1], 'There is no piece of furniture X'],
  [[], [1], 'name at least one'],
  [['S'], [], 'Heights rise'],
  [['S'], [2, 1], 'Heights rise'],
  [['S'], [0, 1], 'Heights rise'],
  [['S'], [60], 'at most 50 m'],
  [['S'], [Number.NaN], 'Heights rise'],
])('pieces %j at %j: refused', (pieces, heights, reason) => {
  expect(() =>
    sweepHeights(withTop(1.6), pieces.length > 0 && pieces[0] === 'X' ? ['S', 'X'] : pieces, heights),
  ).toThrow(reason);
});
