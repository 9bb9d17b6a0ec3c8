import { describe, expect, test } from 'vitest';
import { type FloorFile, formatFault, validateFloor } from '../../src/core/floor/index.ts';
import { generateFloor, randomFloor } from './generate-floor.ts';

const listFaults = (file: FloorFile): string[] => {
  const parsed = validateFloor(file);
  return parsed.ok ? [] : parsed.faults.map(formatFault);
};

describe('generateFloor', () => {
  test.each([
    [250, 3, 100],
    [1_000, 12, 400],
    [10_000, 100, 4_000],
  ])('%i m²: valid, at least %i detectors of 24 m and %i pieces', (areaM2, detectors, pieces) => {
    const file = generateFloor({ areaM2, seed: 7 });
    expect(listFaults(file)).toEqual([]);
    expect(file.detectors.length).toBeGreaterThanOrEqual(detectors);
    expect(file.furniture!.length).toBeGreaterThanOrEqual(pieces);
    const rows = file.types.flatMap(({ ranges }) => ranges);
    expect(rows.map((row) => ('diameter' in row ? row.diameter : 0))).toEqual([24, 24, 24]);
    expect(new Set(rows.map(({ plane }) => plane))).toEqual(new Set([0.8, 1.2]));
    const doors = file.openings!.filter(({ kind }) => kind === 'door');
    expect(new Set(doors.map(({ state }) => state))).toEqual(new Set(['open', 'closed']));
    const area = file.rooms.reduce((sum, { outline }) => {
      const [[x0, y0], , [x1, y1]] = outline as [[number, number], unknown, [number, number]];
      return sum + (x1 - x0) * (y1 - y0);
    }, 0);
    expect(area).toBeCloseTo(areaM2, 6);
  });

  test('the same seed gives the same floor, another seed another', () => {
    expect(generateFloor({ areaM2: 1_000, seed: 3 })).toEqual(generateFloor({ areaM2: 1_000, seed: 3 }));
    expect(generateFloor({ areaM2: 1_000, seed: 3 })).not.toEqual(generateFloor({ areaM2: 1_000, seed: 4 }));
  });

  test('hangs as many detectors as asked for', () => {
    for (const detectors of [1, 5, 24])
      expect(generateFloor({ areaM2: 1_000, seed: 1, detectors }).detectors).toHaveLength(detectors);
  });
});

describe('randomFloor', () => {
  const seeds = Array.from({ length: 200 }, (_, seed) => seed);
  const floors = seeds.map(randomFloor);

  test('every one of 200 seeds gives a valid floor with a detector', () => {
    for (const [seed, floor] of floors.entries()) {
      expect(listFaults(floor), `seed ${seed}`).toEqual([]);
      expect(floor.detectors.length, `seed ${seed}`).toBeGreaterThan(0);
    }
  });

  test('the same seed gives the same floor', () => {
    for (const seed of seeds.slice(0, 20)) expect(randomFloor(seed)).toEqual(floors[seed]);
  });

  test('among them is every shape that a property test wants to meet', () => {
    const furniture = floors.flatMap((floor) => floor.furniture ?? []);
    const openings = floors.flatMap((floor) => floor.openings ?? []);
    const detectors = floors.flatMap((floor) => floor.detectors);
    const ranges = floors.flatMap((floor) => floor.types.flatMap((type) => type.ranges));
    const rooms = floors.flatMap((floor) => floor.rooms);
    const counts = {
      'rooms with holes': rooms.filter(({ holes }) => holes !== undefined).length,
      'rooms of more than four walls': rooms.filter(({ outline }) => outline.length > 4).length,
      'turned rooms': rooms.filter(
        ({ outline: [[ax, ay] = [0, 0], [bx, by] = [0, 0]] }) => Math.abs(ax - bx) > 0.01 && Math.abs(ay - by) > 0.01,
      ).length,
      'outlines of more than four corners': furniture.filter(({ outline }) => outline.length > 4).length,
      'hanging pieces': furniture.filter(({ kind }) => kind === 'hanging').length,
      'glass pieces': furniture.filter(({ glass }) => glass).length,
      luminaires: floors.flatMap((floor) => floor.luminaires ?? []).length,
      'open doors': openings.filter(({ state }) => state === 'open').length,
      'closed doors': openings.filter(({ kind, state }) => kind === 'door' && state !== 'open').length,
      windows: openings.filter(({ kind }) => kind === 'window').length,
      passages: openings.filter(({ kind }) => kind === 'passage').length,
      'openings with a sill': openings.filter(({ sill = 0 }) => sill > 0).length,
      'openings with a head': openings.filter(({ head }) => head !== undefined).length,
      masks: detectors.filter(({ masks = [] }) => masks.length > 0).length,
      'whole-ring masks': detectors.filter(({ masks = [] }) =>
        masks.some(({ from, to }) => Math.abs(to - from - 360) < 1e-9),
      ).length,
      'rectangular ranges': ranges.filter((row) => 'length' in row).length,
      'floor cones': ranges.filter(({ plane }) => plane === 0).length,
      'detectors to remove': detectors.filter(({ status }) => status === 'remove').length,
      'groups that serve something': floors
        .flatMap((floor) => floor.groups ?? [])
        .filter(({ serves }) => serves !== undefined).length,
      'mounting heights': new Set(ranges.map(({ mounting }) => mounting)).size,
    };
    for (const [what, count] of Object.entries(counts)) expect(count, what).toBeGreaterThan(10);
  });
});
