import { describe, expect, test } from 'vitest';
import * as z from 'zod/mini';
import { type FloorFile, parseFloor, resolveFloor, serialiseFloor } from '../../../src/core/floor/index.ts';
import { floorSchema } from '../../../src/core/floor/schema.ts';
import { readFloorTexts } from './floor-texts.ts';
import { createSampleFloor } from './sample-floor.ts';

const sample = (): FloorFile => createSampleFloor() as FloorFile;

describe('the defaults', () => {
  test('are those of the format', () => {
    const floor = resolveFloor(sample());
    expect(floor.north).toBe(90);
    expect(floor.analysis).toEqual({
      cell: 0.1,
      seatedPlane: 0.8,
      walkingPlane: 1.2,
      crossingAngle: 45,
      headings: 0.75,
      workplaceShare: 0.9,
    });
    expect(floor.rooms[1]).toMatchObject({ holes: [], ceilingFrom: 'drawn', tiles: { pitch: [0.6, 0.6], turn: 0 } });
    expect(floor.openings[1]).toMatchObject({ depth: 0.4, sill: 0 });
    expect(floor.furniture[0]).toMatchObject({ base: 0, glass: false, raised: 0, movable: false, from: 'drawn' });
    expect(floor.luminaires[0]).toMatchObject({ turn: 0, emergency: false });
    expect(floor.workplaces[0]).toMatchObject({ radius: 0.5, posture: 'seated' });
    expect(floor.sources[0]).toMatchObject({ radius: 0.2 });
    expect(floor.types[0]).toMatchObject({ origin: 'invented', lightSensor: true });
    expect(floor.detectors[1]).toMatchObject({ turn: 0, reach: 1, status: 'new', locked: false, masks: [] });
    expect(floor.detectors[0]?.masks).toEqual([{ from: 350, to: 10, inner: 0, outer: 90 }]);
    expect(floor.groups[1]).toMatchObject({ extensions: [], settings: {} });
    expect(floor.revision).toEqual([]);
  });

  test.each(readFloorTexts())('of %s are those of the declaration', (_, text) => {
    const file = JSON.parse(text) as FloorFile;
    expect(resolveFloor(file)).toEqual(z.parse(floorSchema, file));
  });

  test('leave out what has none', () => {
    const floor = resolveFloor(sample());
    expect(Object.keys(floor.detectors[0] ?? {}).sort()).toEqual([
      'at',
      'id',
      'locked',
      'masks',
      'name',
      'reach',
      'status',
      'turn',
      'type',
    ]);
    expect(floor.records[0]?.pass).toBe(null);
  });
});

describe('identity', () => {
  test('of a file is that of its floor', () => {
    const file = sample();
    expect(resolveFloor(file)).toBe(resolveFloor(file));
    const parsed = parseFloor(JSON.stringify(file));
    expect(parsed.ok && resolveFloor(parsed.file) === parsed.floor).toBe(true);
  });

  test('of everything an edit leaves alone is kept', () => {
    const file = sample();
    const before = resolveFloor(file);
    const moved = { ...file.detectors[1], at: [7.5, 3] } as FloorFile['detectors'][number];
    const after = resolveFloor({ ...file, detectors: file.detectors.map((each, i) => (i === 1 ? moved : each)) });
    expect(after).not.toBe(before);
    expect(after.detectors).not.toBe(before.detectors);
    expect(after.detectors.map((each, i) => each === before.detectors[i])).toEqual([true, false, true]);
    for (const key of [
      'rooms',
      'openings',
      'furniture',
      'luminaires',
      'workplaces',
      'zones',
      'sources',
      'types',
      'groups',
      'records',
      'analysis',
      'revision',
    ] as const) {
      expect(after[key], key).toBe(before[key]);
    }
    expect(after.detectors[1]?.at).toBe(moved.at);
  });

  test('of a list is that of its members', () => {
    const file = sample();
    const before = resolveFloor(file);
    const after = resolveFloor({ ...file, rooms: [...file.rooms], detectors: file.detectors.filter(() => true) });
    expect(after.rooms).toBe(before.rooms);
    expect(after.detectors).toBe(before.detectors);
    const shorter = resolveFloor({ ...file, rooms: file.rooms.slice(0, 1) });
    expect(shorter.rooms).toHaveLength(1);
    expect(resolveFloor({ ...file, rooms: [...file.rooms] }).rooms).toEqual(before.rooms);
  });

  test('of what was left out is one for all', () => {
    const [a, b] = [resolveFloor(sample()), resolveFloor(sample())];
    expect(a.analysis).toBe(b.analysis);
    expect(a.revision).toBe(b.revision);
    expect(a.detectors[1]?.masks).toBe(b.detectors[2]?.masks);
  });
});

test('a floor cannot be written to', () => {
  const floor = resolveFloor(sample()) as unknown as { name: string; rooms: { ceiling: number }[] };
  expect(() => {
    floor.name = 'x';
  }).toThrow(TypeError);
  expect(() => floor.rooms.pop()).toThrow(TypeError);
  expect(() => Object.assign(floor.rooms[0] ?? {}, { ceiling: 9 })).toThrow(TypeError);
});

describe('the text of a file', () => {
  test.each(readFloorTexts())('of %s holds all of it', (_, text) => {
    const file = JSON.parse(text) as FloorFile;
    const written = serialiseFloor(file);
    expect(JSON.parse(written)).toEqual(file);
    expect(written.endsWith('}\n')).toBe(true);
    const again = parseFloor(written);
    expect(again.ok && serialiseFloor(again.file)).toBe(written);
  });

  test('has one thing a line, and outlines on one line', () => {
    const lines = serialiseFloor(sample()).split('\n');
    expect(lines).toContain('        { "motion": "minor", "mounting": 2.6, "plane": 0.8, "diameter": 6 },');
    expect(lines).toContain('    { "id": "w1", "name": "Seat", "at": [4, 4] }');
    expect(lines).toContain('    { "id": "d2", "name": "D2", "type": "t1", "at": [7, 3], "height": 2.9 },');
    const long = sample();
    const ring = Array.from({ length: 500 }, (_, i) => [i, i * i] as const);
    const written = serialiseFloor({ ...long, zones: [{ id: 'z', name: '', need: 'nobody', outline: ring }] });
    expect(written.split('\n').some((line) => line.includes('[0, 0]') && line.includes('[499, 249001]'))).toBe(true);
  });

  test('does not depend on the order of keys', () => {
    const file = sample();
    const reversed = Object.fromEntries(Object.entries(file).reverse()) as unknown as FloorFile;
    const rooms = file.rooms.map((room) =>
      Object.fromEntries(Object.entries(room).reverse()),
    ) as unknown as FloorFile['rooms'];
    expect(serialiseFloor({ ...reversed, rooms })).toBe(serialiseFloor(file));
  });

  test('keeps −0, odd characters, odd keys and empty things', () => {
    const notes = JSON.parse(
      '{"__proto__":[{}],"":-0,"a\\u2028":"\\ud800","deep":[[],[[{}]],[1,[2,"x"]]],"n":1e-7,"long":1e300}',
    ) as Record<string, unknown>;
    const file = { ...sample(), north: -0, notes } as FloorFile;
    const again = JSON.parse(serialiseFloor(file)) as FloorFile;
    expect(again).toEqual(file);
    expect(Object.is(again.north, -0)).toBe(true);
    expect(Object.keys(again.notes as object)).toEqual(Object.keys(notes));
  });
});
