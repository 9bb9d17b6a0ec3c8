/** Whatever a reader hands over becomes a floor that the floor file's own judge accepts, and nothing vanishes untold. */
import { expect, test } from 'vitest';
import { formatFault, parseFloor, serialiseFloor } from '../../../src/core/floor/index.ts';
import { assembleFloor } from '../../../src/importers/assembly/assemble.ts';
import { writeReport } from '../../../src/importers/assembly/report.ts';
import { SOURCE } from './drawn.ts';
import { randomStorey } from './random-storey.ts';

const SEEDS = 400;

test(`${SEEDS} random storeys become valid floors, and every piece is taken or told`, () => {
  let rooms = 0;
  let openings = 0;
  for (let seed = 1; seed <= SEEDS; seed++) {
    const drawn = randomStorey(seed);
    const { floor, report } = assembleFloor(drawn, {}, SOURCE);
    const parsed = parseFloor(serialiseFloor(floor));
    expect(parsed.ok ? [] : parsed.faults.map(formatFault), `seed ${seed}`).toEqual([]);
    rooms += floor.rooms.length;
    openings += floor.openings?.length ?? 0;
    const told = (fate: string, words: readonly string[]): number =>
      report.remarks
        .filter((remark) => remark.fate === fate && words.includes(remark.what))
        .reduce((sum, remark) => sum + remark.count, 0);
    expect(
      (floor.openings?.length ?? 0) + told('left out', ['doors', 'windows', 'passages', 'openings']),
      `openings of seed ${seed}`,
    ).toBe(drawn.openings.length);
    expect((floor.luminaires?.length ?? 0) + told('left out', ['luminaires']), `luminaires of seed ${seed}`).toBe(
      drawn.luminaires.length,
    );
    expect((floor.sources?.length ?? 0) + told('left out', ['sources']), `sources of seed ${seed}`).toBe(
      drawn.sources.length,
    );
    const taken =
      floor.furniture?.filter(({ notes }) => String((notes as { source: string }).source).startsWith('piece '))
        .length ?? 0;
    const pieces = [
      'partitions',
      'screens',
      'shelving',
      'cabinets',
      'desks',
      'columns',
      'hanging things',
      'other pieces',
      'furniture',
    ];
    // Partitions left out may be walls: with them at least as many are told as there were.
    expect(taken + told('left out', pieces), `pieces of seed ${seed}`).toBeGreaterThanOrEqual(drawn.pieces.length);
    expect(writeReport(report).length).toBeGreaterThan(0);
    expect(JSON.stringify(floor.notes).length).toBeLessThan(200_000);
  }
  // The property says something only while floors come out of it.
  expect(rooms).toBeGreaterThan(SEEDS);
  expect(openings).toBeGreaterThan(20);
});

test('the same storey gives the same floor', () => {
  for (const seed of [3, 17, 99]) {
    const once = serialiseFloor(assembleFloor(randomStorey(seed), {}, SOURCE).floor);
    expect(serialiseFloor(assembleFloor(randomStorey(seed), {}, SOURCE).floor)).toBe(once);
  }
});
