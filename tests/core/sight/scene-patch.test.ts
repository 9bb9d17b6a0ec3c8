/** A scene brought along edit by edit must be the one that is compiled from a floor nobody has seen before. */
import { describe, expect, test } from 'vitest';
import type { Floor } from '../../../src/core/floor/index.ts';
import { resolveFloor, validateFloor } from '../../../src/core/floor/index.ts';
import { compileScene, type Scene } from '../../../src/core/sight/index.ts';
import { generateBenchFloor } from '../../bench/bench-floors.ts';
import { dragCorner, dragOpening } from '../../bench/moves.ts';
import { createRandom } from '../../models/random.ts';
import { randomFloor } from '../../models/random-floor.ts';
import { EDITS } from '../coverage/random-edits.ts';

/** All that casting reads but the bins, which find the same pieces by other ways. */
function listParts({ bins, ...rest }: Scene) {
  return rest;
}

/** What is remembered by identity is of no use to a copy. */
function compileFresh(floor: Floor): Scene {
  return compileScene(structuredClone(floor));
}

describe('a patched scene equals a new one', () => {
  test.each([901, 902, 903, 904, 905, 906, 907, 908])('random floor %i, edits of all kinds', (seed) => {
    const random = createRandom(seed);
    let file = randomFloor(seed);
    let scene = compileScene(resolveFloor(file));
    for (let step = 0; step < 60; step++) {
      const name = random.pick(Object.keys(EDITS));
      const parsed = validateFloor(EDITS[name]!(file, random));
      if (!parsed.ok) continue;
      file = parsed.file;
      scene = compileScene(parsed.floor, scene);
      expect(listParts(scene), `${step}: ${name}`).toEqual(listParts(compileFresh(parsed.floor)));
    }
  });

  test.each([
    ['opening', (floor: Floor) => dragOpening(floor, 25, () => true)],
    ['corner of a room', (floor: Floor) => dragCorner(floor, 25)],
  ])('an office of 1,000 m², dragging the %s', (_what, drag) => {
    const { floor } = generateBenchFloor(1_000);
    const steps = drag(floor);
    let scene = compileScene(floor);
    for (const [step, next] of steps.entries()) {
      scene = compileScene(next, scene);
      expect(listParts(scene), `step ${step}`).toEqual(listParts(compileFresh(next)));
    }
  });

  test('another floor seen in between leaves nothing behind', () => {
    const { floor } = generateBenchFloor(1_000);
    const [first, second, third] = dragOpening(floor, 3, () => true);
    const lower = { ...floor, rooms: floor.rooms.map((room) => ({ ...room, ceiling: room.ceiling - 0.4 })) };
    let scene = compileScene(first!, compileScene(floor));
    compileScene(lower, scene);
    scene = compileScene(second!, scene);
    compileScene(floor);
    scene = compileScene(third!, scene);
    expect(listParts(scene)).toEqual(listParts(compileFresh(third!)));
  });
});
