/** Move-room: a place is allowed exactly when a floor drawn that way loses no need. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { check } from '../../../../src/core/coverage/index.ts';
import { validateFloor } from '../../../../src/core/floor/index.ts';
import { findMoveRoom } from '../../../../src/core/planning/question/move-room.ts';
import { readFloor, readScenario } from '../../sight/build-floor.ts';

const readModel = (name: string) =>
  readFloor(JSON.parse(readFileSync(new URL(`../../../../models/floors/${name}.json`, import.meta.url), 'utf8')));

const countFailures = (floor: ReturnType<typeof readModel>) => {
  const { workplaces, zones, findings } = check(floor);
  return [
    ...workplaces.filter(({ met }) => !met).map(({ id }) => id as string),
    ...zones.filter(({ met }) => !met).map(({ id }) => id as string),
    ...findings.filter(({ level, code }) => level === 'fail' && code === 'late-entrance').flatMap(({ about }) => about),
  ];
};

test.each(['small-rooms', 'desk-island'])('%s: every place, judged anew as if drawn there', (name) => {
  const floor = readModel(name);
  const drawn = countFailures(floor);
  const { detectors } = findMoveRoom(floor, { within: 0.7, pitch: 0.35 });
  let [allowedCount, refused] = [0, 0];
  for (const { detector, places, allowed, critical } of detectors) {
    expect(places[0]?.at).toEqual(floor.detectors.find(({ id }) => id === detector)?.at);
    expect(allowed).toBe(places.filter((place) => place.allowed).length);
    expect(critical).toBe(allowed === 1);
    for (const { at, allowed: isAllowed } of places) {
      const moved = {
        ...floor,
        detectors: floor.detectors.map((each) => (each.id === detector ? { ...each, at } : each)),
      };
      expect(validateFloor(moved).ok).toBe(true);
      const lost = countFailures(moved).filter((id) => !drawn.includes(id));
      expect(lost.length === 0, `${detector} at ${at.join(', ')}: ${lost.join(', ')}`).toBe(isAllowed);
      if (isAllowed) allowedCount++;
      else refused++;
    }
  }
  console.log(`move-room, ${name}: ${allowedCount} places allowed, ${refused} refused`);
  expect(allowedCount).toBeGreaterThan(detectors.length);
});

test('with ceiling tiles the places are their centres; a detector to be removed has none', () => {
  const floor = readScenario('a', (file) => {
    Object.assign(file.rooms[0]!, { tiles: { origin: [0.1, 0.2], pitch: [0.6, 0.6] } });
    file.detectors.push({ ...file.detectors[0]!, id: 'D2', status: 'remove', at: [3, 3] });
  });
  const { detectors } = findMoveRoom(floor);
  expect(detectors.map(({ detector }) => detector)).toEqual(['D1']);
  expect(detectors[0]?.on).toBe('tiles');
  for (const { at } of detectors[0]!.places.slice(1)) {
    expect(((at[0] - 0.1) / 0.6) % 1).toBeCloseTo(0.5, 6);
    expect(((at[1] - 0.2) / 0.6) % 1).toBeCloseTo(0.5, 6);
    expect(Math.hypot(at[0] - 6, at[1] - 2.04)).toBeLessThanOrEqual(1 + 1e-9);
  }
});

test('a detector whose only workplace lies at the edge of its range on every side may hang nowhere else', () => {
  const floor = readScenario('a', (file) => {
    file.furniture = [];
    // Chairs all around, their discs touching the circle of 4.5 m from inside.
    file.workplaces = [0, 120, 240].map((angle, k) => ({
      id: `E${k}`,
      name: '',
      at: [6 + 3.85 * Math.cos((angle * Math.PI) / 180), 4 + 3.4 * Math.sin((angle * Math.PI) / 180)],
      radius: 0.1,
    }));
    file.rooms[0]!.outline = [
      [0, 0],
      [12, 0],
      [12, 8],
      [0, 8],
    ];
    Object.assign(file.detectors[0]!, { at: [6, 4] });
    file.types[0]!.ranges = [{ motion: 'minor', mounting: 2.8, plane: 0.8, diameter: 7.9 }];
    file.analysis = { workplaceShare: 1 };
  });
  expect(findMoveRoom(floor, { within: 1, pitch: 0.5 }).detectors[0]).toMatchObject({ detector: 'D1' });
  const { places } = findMoveRoom(floor, { within: 0.5, pitch: 0.5 }).detectors[0]!;
  // To the left the chair at 0 degrees falls out of range.
  expect(places.find(({ at }) => at[0] === 5.5 && at[1] === 4)?.allowed).toBe(false);
});
