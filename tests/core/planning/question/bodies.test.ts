/** How much of a body is seen over a screen: facts 8.4 (T12, T13), the height of the sight line behind it. */
import { describe, expect, test } from 'vitest';
import { createCoverage, probeAt } from '../../../../src/core/coverage/index.ts';
import type { BodyField } from '../../../../src/core/planning/question/bodies.ts';
import {
  BODIES,
  computeBodies,
  describeBody,
  withTallFurniture,
} from '../../../../src/core/planning/question/bodies.ts';
import type { Target } from '../../../../src/core/sight/index.ts';
import { randomFloor } from '../../../models/random-floor.ts';
import { buildFloor, FAR_TYPE, readFloor, rect } from '../../sight/build-floor.ts';
import { isSettled } from '../../sight/near-edge.ts';

/** Lens at 2.7 m over (1, 3), a screen of 1.4 m with its far face 3 m away, chairs behind it. */
const behindScreen = (from?: 'assumed') =>
  buildFloor({
    rooms: [{ id: 'R', name: 'R', outline: rect(0, 0, 9, 6), ceiling: 2.7 }],
    furniture: [
      {
        id: 'S',
        kind: 'screen',
        name: 'S',
        outline: rect(4.03, 0, 4.05, 6),
        top: 1.4,
        ...(from ? { from } : {}),
      },
    ],
    workplaces: [3.5, 4, 4.5].map((x) => ({ id: `W${x}`, name: '', at: [1 + x + 0.05, 3.05] as const, radius: 0.3 })),
    types: [FAR_TYPE],
    detectors: [{ id: 'D', name: 'D', type: 'far', at: [1.05, 3.05] }],
  });

const workplace = (field: BodyField, id: string) => field.workplaces.find((each) => each.id === id)!;

describe('a seated body behind a screen', () => {
  // Facts 8.4: the line over the screen is at 1.183 m where the chair is 3.5 m away, at 0.967 m at 4.0 m, at 0.75 m at 4.5 m.
  test.each([
    [3.5, 'unseen', 0],
    [4, 'hidden to the chin', 3 / 8],
    [4.5, 'partly', 6 / 8],
  ])('%s m from the lens: %s', (x, view, share) => {
    expect(workplace(computeBodies(behindScreen(), 'seated'), `W${x}`)).toMatchObject({ view, share });
  });

  test('a screen whose height was assumed is taken 0.2 m higher, a measured one is not', () => {
    expect(withTallFurniture(behindScreen('assumed')).furniture[0]?.top).toBeCloseTo(1.6);
    expect(withTallFurniture(behindScreen()).furniture[0]?.top).toBe(1.4);
    const field = computeBodies(behindScreen('assumed'), 'seated');
    expect(workplace(field, 'W4.5')).toMatchObject({ view: 'hidden to the chin' });
  });
});

test('words for parts of a body', () => {
  const { seated } = BODIES;
  expect(describeBody(0b11111111, seated)).toBe('whole');
  expect(describeBody(0b00000011, seated)).toBe('hands only');
  expect(describeBody(0b11100000, seated)).toBe('hidden to the chin');
  expect(describeBody(0b11110000, seated)).toBe('partly');
});

test('heights of the slices lie within the body of the 5th percentile: T52, T53', () => {
  const heights = BODIES.seated.map(({ height }) => height);
  expect(Math.max(...heights)).toBeLessThan(1.167);
  expect(BODIES.seated.find(({ part }) => part === 'shoulders')?.height).toBeGreaterThanOrEqual(0.884);
  expect(Math.max(...BODIES.standing.map(({ height }) => height))).toBeLessThan(1.525);
});

test('every slice of every cell asked is what the plain sight line says of its centre', () => {
  let [asked, seen] = [0, 0];
  for (let seed = 1; seed <= 12; seed++) {
    const floor = readFloor(randomFloor(seed));
    const coverage = createCoverage(withTallFurniture(floor));
    const { x0, y0, cell, nx } = coverage.grid.lattice;
    const field = computeBodies(floor, 'seated');
    for (let at = seed; at < field.seen.length; at += 89) {
      const [x, y] = [x0 + ((at % nx) + 0.5) * cell, y0 + (Math.floor(at / nx) + 0.5) * cell];
      field.slices.forEach(({ height }, slice) => {
        const see = (target: Target) =>
          probeAt(coverage, target, 'minor', 'stated').some(({ serving, sight }) => serving && sight.seen);
        const isSeen = (field.seen[at]! & (1 << slice)) !== 0;
        asked++;
        if (isSeen) seen++;
        if (isSeen === see({ x, y, h: height })) return;
        expect(isSettled(see, { x, y, h: height }), `floor ${seed}, (${x}, ${y}) at ${height} m`).toBe(false);
      });
    }
  }
  console.log(`bodies: ${asked} slices asked, ${seen} seen`);
  expect(seen).toBeGreaterThan(asked / 20);
});
