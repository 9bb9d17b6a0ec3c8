/** A coverage brought along edit by edit must be the one that is worked out anew. */
import { afterAll, describe, expect, test } from 'vitest';
import type { Coverage } from '../../../src/core/coverage/index.ts';
import {
  createCoverage,
  headingStep,
  isMadeAnew,
  judgeCoverage,
  updateCoverage,
} from '../../../src/core/coverage/index.ts';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { resolveFloor, validateFloor } from '../../../src/core/floor/index.ts';
import { hasCell } from '../../../src/core/sight/index.ts';
import { createRandom } from '../../models/random.ts';
import { randomFloor } from '../../models/random-floor.ts';
import { rect, row } from '../sight/build-floor.ts';
import { EDITS } from './random-edits.ts';

const FIELDS = ['seated', 'walking'] as const;
const VALUES = ['count', 'heading', 'state', 'cause', 'nearest'] as const;

/** Everything that is drawn, said or counted from a coverage. */
function listValues(coverage: Coverage) {
  return {
    fields: FIELDS.map((name) => {
      const { height, occupiable, seen, hidden, masked, every, tooFew, slices, ...values } = coverage[name];
      const rasters = { occupiable, seen, hidden, masked, every, tooFew, slices };
      return { height, values: VALUES.map((key) => values[key]), rasters };
    }),
    room: coverage.grid.room,
    areas: coverage.areas,
    workplaces: coverage.workplaces,
    layers: coverage.layers,
  };
}

/** The path to the first value that differs, null when all are equal. */
function findDifference(a: unknown, b: unknown, path = ''): string | null {
  if (Object.is(a, b)) return null;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return `${path}: ${a}, not ${b}`;
  const keys = Object.keys(a);
  if (keys.length !== Object.keys(b).length) return `${path}: ${keys.length} members, not ${Object.keys(b).length}`;
  for (const key of keys) {
    const difference = findDifference(a[key as keyof typeof a], b[key as keyof typeof b], `${path}.${key}`);
    if (difference !== null) return difference;
  }
  return null;
}

const tally = { edits: 0, refused: 0, changed: 0, untold: 0 };
afterAll(() => {
  console.info(`updates: ${tally.edits} edits of ${Object.keys(EDITS).length} kinds, ${tally.changed} changed cells`);
});

function applyEdit(coverage: Coverage, file: FloorFile, next: FloorFile, name: string): boolean {
  const parsed = validateFloor(next);
  // A lens inside a wall, a piece across it and the like: no editor lets that through.
  if (!parsed.ok) {
    tally.refused++;
    return false;
  }
  const before = FIELDS.map((field) => VALUES.map((key) => coverage[field][key]?.slice()));
  const { nx } = coverage.grid.lattice;
  const change = updateCoverage(coverage, parsed.floor);
  tally.edits++;
  if (change) tally.changed++;
  // Of a copy: what is remembered by identity would be the same for both.
  const fresh = createCoverage(structuredClone(parsed.floor));
  const where = `${file.name}: ${name}`;
  expect(coverage.floor, where).toBe(parsed.floor);
  expect(findDifference(listValues(coverage), listValues(fresh)), where).toBeNull();
  expect(judgeCoverage(coverage), where).toEqual(judgeCoverage(fresh));
  // Cells outside the reported change keep their values.
  if (coverage.grid.lattice.nx !== nx) return true;
  FIELDS.forEach((field, f) => {
    VALUES.forEach((key, v) => {
      const stray = coverage[field][key]?.findIndex((value, k) => {
        const [i, j] = [k % nx, Math.floor(k / nx)];
        const inside = change && i >= change.i0 && i < change.i1 && j >= change.j0 && j < change.j1;
        if (inside && change.cells && !hasCell(change.cells[field], i, j)) {
          tally.untold++;
          const was = before[f]![v]![k]!;
          // A share may move within its fifth.
          return key === 'heading' ? headingStep(value) !== headingStep(was) : value !== was;
        }
        return !inside && value !== before[f]![v]![k];
      });
      expect(stray ?? -1, `${where}: ${field} ${key} outside the change`).toBe(-1);
    });
  });
  return true;
}

/** Edits until `wanted` of them were let through. */
function edit(seed: number, wanted: number, names: readonly string[]): void {
  const random = createRandom(seed);
  let file = randomFloor(seed);
  const coverage = createCoverage(resolveFloor(file));
  let done = 0;
  for (let tries = 0; tries < 20 * wanted && done < wanted; tries++) {
    const name = random.pick(names);
    let next = EDITS[name]!(file, random);
    if (next === file) continue;
    // Sometimes two edits arrive at once.
    if (random.chance(0.15)) next = EDITS[random.pick(names)]!(next, random);
    if (!applyEdit(coverage, file, next, name)) continue;
    file = next;
    done++;
  }
}

describe('an updated coverage equals a new one', () => {
  test.each([...Array.from({ length: 16 }, (_, k) => 300 + k), 3024])(
    'random floor %i, edits of all kinds',
    (seed) => {
      edit(seed, 20, Object.keys(EDITS));
    },
    60_000,
  );

  test('edits of all kinds were let through', () => {
    expect(tally.edits).toBe(340);
    expect(tally.changed).toBeGreaterThan(200);
  });

  test.each([
    [410, 45],
    [411, 20],
    [412, 45],
    [413, 0],
  ])('random floor %i, one detector dragged for long, crossing angle %i°', (seed, crossingAngle) => {
    const random = createRandom(seed);
    // Without rows for walking at it, headings matter in most cells.
    const made = randomFloor(seed);
    const types = made.types.map((type) => ({
      ...type,
      ranges: type.ranges.filter(({ motion }) => motion !== 'radial'),
    }));
    let file: FloorFile = { ...made, types, analysis: { ...made.analysis, crossingAngle } };
    const coverage = createCoverage(resolveFloor(file));
    let done = 0;
    const before = tally.untold;
    for (let tries = 0; tries < 150 && done < 40; tries++) {
      const index = Math.floor(tries / 30) % file.detectors.length;
      const detector = file.detectors[index]!;
      const moved = {
        ...detector,
        at: [detector.at[0] + random.between(-0.4, 0.4), detector.at[1] + random.between(-0.4, 0.4)] as const,
        turn: (detector.turn ?? 0) + random.whole(0, 1) * 7,
        masks: random.chance(0.2) ? [{ from: 10, to: 80 + tries, inner: 0, outer: 90 }] : (detector.masks ?? []),
      };
      const next = { ...file, detectors: file.detectors.with(index, moved) };
      if (!applyEdit(coverage, file, next, `step ${tries}`)) continue;
      file = next;
      done++;
    }
    expect(done).toBeGreaterThan(10);
    expect(tally.untold).toBeGreaterThan(before);
  });

  test.each([430, 431, 432, 433, 434, 435])(
    'random floor %i, walls and openings moved between pieces',
    (seed) => {
      edit(seed, 20, ["move a room's corner", 'move an opening', 'open or close a door', 'move a piece']);
    },
    60_000,
  );

  test('an extension carried into the next room makes its group serve that room, far workplaces too', () => {
    const file: FloorFile = {
      format: 'lacuna/1',
      name: 'Two rooms and a passage',
      rooms: [
        { id: 'A', name: 'A', outline: rect(0, 0, 6, 4), ceiling: 2.8 },
        { id: 'B', name: 'B', outline: rect(6, 0, 18, 4), ceiling: 2.8 },
      ],
      openings: [{ id: 'P', kind: 'passage', from: [6, 0.5], to: [6, 3.5] }],
      workplaces: [{ id: 'W', name: 'W', at: [7, 2] }],
      types: [{ id: 'T', name: 'T', ranges: [row('minor', 2.8, 0.8, 6)] }],
      detectors: [
        { id: 'D1', name: 'D1', type: 'T', at: [5, 2] },
        { id: 'D2', name: 'D2', type: 'T', at: [1, 2] },
      ],
      groups: [{ id: 'G', name: 'G', main: 'D1', extensions: ['D2'] }],
    };
    const coverage = createCoverage(resolveFloor(file));
    expect(coverage.workplaces[0]).toMatchObject({ met: false, seenBy: [], seenByOther: ['D1'] });
    const [d1, d2] = file.detectors as [FloorFile['detectors'][number], FloorFile['detectors'][number]];
    const carried = { ...file, detectors: [d1, { ...d2, at: [16, 2] as const }] };
    expect(applyEdit(coverage, file, carried, 'carry D2 into B')).toBe(true);
    expect(coverage.workplaces[0]).toMatchObject({ met: true, seenBy: ['D1'], seenByOther: [] });
    const removed = { ...file, detectors: [d1, { ...d2, at: [16, 2] as const, status: 'remove' as const }] };
    expect(applyEdit(coverage, carried, removed, 'take D2 out of use')).toBe(true);
    expect(coverage.workplaces[0]).toMatchObject({ met: false, seenByOther: ['D1'] });
  });

  test('what is made anew is told before: other cells or another ceiling, not a wall within the cells, a piece, a detector', () => {
    const file: FloorFile = {
      format: 'lacuna/1',
      name: 'Two rooms',
      rooms: [
        { id: 'A', name: 'A', outline: rect(0, 0, 6, 4), ceiling: 2.8 },
        { id: 'B', name: 'B', outline: rect(6, 0, 12, 4), ceiling: 2.8 },
      ],
      furniture: [{ id: 'F', kind: 'cabinet', name: 'F', outline: rect(3, 1, 4, 2), top: 1.2 }],
      types: [{ id: 'T', name: 'T', ranges: [row('minor', 2.8, 0.8, 6)] }],
      detectors: [{ id: 'D1', name: 'D1', type: 'T', at: [5, 2] }],
    };
    const floor = resolveFloor(file);
    const coverage = createCoverage(floor);
    const [a, b] = floor.rooms as [(typeof floor.rooms)[number], (typeof floor.rooms)[number]];
    const cases = {
      same: floor,
      outwards: { ...floor, rooms: [{ ...a, outline: rect(-0.02, 0, 6, 4) }, b] },
      within: { ...floor, rooms: [a, { ...b, outline: rect(6.02, 0, 12, 4) }] },
      ceiling: { ...floor, rooms: [{ ...a, ceiling: 2.9 }, b] },
      piece: { ...floor, furniture: floor.furniture.map((piece) => ({ ...piece, top: 2 })) },
      detector: { ...floor, detectors: floor.detectors.map((detector) => ({ ...detector, turn: 30 })) },
    };
    const anew = Object.entries(cases).flatMap(([name, next]) => (isMadeAnew(coverage, next) ? [name] : []));
    expect(anew).toEqual(['outwards', 'ceiling']);
  });

  test('the same floor again changes nothing', () => {
    const floor = resolveFloor(randomFloor(7));
    const coverage = createCoverage(floor);
    const before = judgeCoverage(coverage);
    expect(updateCoverage(coverage, floor)).toBeNull();
    expect(judgeCoverage(coverage)).toEqual(before);
  });
});
