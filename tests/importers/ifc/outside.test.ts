/** Models by others: what is stated of them beside the files (`MANIFEST.md`, `space_quantities.json`). */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readIfc } from '../../../src/importers/ifc/read-ifc.ts';
import type { DrawnRoom, DrawnStorey } from '../../../src/importers/storey.ts';
import { findOutsideFolder } from '../../outside/visibility-files.ts';
import { areaOf, readModel, readRefusal, saying } from './read-model.ts';

const load = (name: string): Uint8Array => new Uint8Array(readFileSync(join(findOutsideFolder('ifc'), name)));

interface StatedSpace {
  readonly guid: string;
  readonly name: string;
  readonly longName: string | null;
  readonly q: Readonly<Record<string, number>>;
  readonly mesh: { readonly footprint_m2: number; readonly height_m: number };
}

const stated = JSON.parse(readFileSync(join(findOutsideFolder('ifc'), 'space_quantities.json'), 'utf8')) as Readonly<
  Record<string, readonly StatedSpace[]>
>;

const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0);
const count = (storey: DrawnStorey) => ({
  rooms: storey.rooms.length,
  walls: storey.walls.length,
  doors: storey.openings.filter(({ kind }) => kind === 'door').length,
  windows: storey.openings.filter(({ kind }) => kind === 'window').length,
});

describe('areas of rooms', () => {
  test.each(Object.keys(stated))('%s: every room within 0.5 % of its body, and by its two names', async (file) => {
    const { storeys } = await readModel(load(file));
    const rooms = new Map(storeys.flatMap(({ rooms }) => rooms).map((room) => [room.key, room]));
    const spaces = stated[file]!;
    expect(rooms.size).toBe(spaces.length);
    let compared = 0;
    for (const { guid, name, longName, mesh } of spaces) {
      const room = rooms.get(guid) as DrawnRoom;
      expect(room, `${guid} ${name}`).toBeDefined();
      expect(Math.abs(areaOf(room) - mesh.footprint_m2), `${name} ${longName}`).toBeLessThanOrEqual(
        0.005 * mesh.footprint_m2,
      );
      expect(room.name).toContain(name);
      if (longName !== null) expect(room.name).toContain(longName);
      compared++;
    }
    expect(compared).toBe(spaces.length);
  });

  test('stated areas that follow another boundary are told', async () => {
    const { storeys } = await readModel(load('Duplex_A_20110907.ifc'));
    const told = sum(
      storeys.flatMap(({ remarks }) => saying(remarks, /stated area differs/).map((remark) => remark.count)),
    );
    expect(told).toBe(21);
  });
});

test('the institute: rooms, walls, doors, windows and furniture of every storey', async () => {
  const { storeys, format } = await readModel(load('AC11-Institute-Var-2-IFC.ifc'));
  expect(format).toBe('IFC2X3');
  expect(storeys.map(({ name, elevation }) => [name, elevation])).toEqual([
    ['Keller', -3],
    ['Erdgeschoss', 0],
    ['1. Obergeschoss', 3],
    ['2. Obergeschoss', 6],
    ['Dachgeschoss', 9],
  ]);
  const counts = storeys.map(count);
  expect(sum(counts.map(({ rooms }) => rooms))).toBe(82);
  expect(sum(counts.map(({ walls }) => walls))).toBe(119);
  expect(sum(counts.map(({ doors }) => doors))).toBe(77);
  expect(sum(counts.map(({ windows }) => windows))).toBe(206);
  const area = sum(storeys.flatMap(({ rooms }) => rooms.map(areaOf)));
  expect(Math.abs(area - 2_266.7)).toBeLessThan(0.1);
  // 52 named "Schreibtisch", 2 "Labortisch", 62 without a name but of the same size, and none lost.
  const desks = storeys.flatMap(({ pieces }) => pieces.filter(({ kind }) => kind === 'desk'));
  const chairs = sum(
    storeys.flatMap(({ workplaces, remarks }) => [
      workplaces.length,
      ...saying(remarks, /^chairs/).map((remark) => remark.count),
    ]),
  );
  expect(desks).toHaveLength(117);
  expect(desks.length + chairs).toBe(253);
  for (const desk of desks) expect(desk.top).toBeCloseTo(0.8, 6);
  const { rooms } = storeys[2]!;
  expect(rooms).toHaveLength(22);
  expect(Math.abs(sum(rooms.map(areaOf)) - 441.6)).toBeLessThan(0.1);
  expect(new Set(rooms.map(({ ceiling }) => ceiling))).toEqual(new Set([2.7]));
});

test('the large building: millimetres, doors in walls, desks, ceilings hung lower', async () => {
  const { storeys } = await readModel(load('LargeBuilding.ifc'));
  expect(storeys.map(({ name }) => name)).toEqual(['Level 1', 'Level 2']);
  const [first, second] = storeys as [DrawnStorey, DrawnStorey];
  expect(count(first)).toEqual({ rooms: 8, walls: 14, doors: 18, windows: 28 });
  expect(count(second)).toEqual({ rooms: 0, walls: 4, doors: 0, windows: 14 });
  expect(Math.abs(sum(first.rooms.map(areaOf)) - 299.5)).toBeLessThan(0.05);
  expect(first.pieces.map(({ kind }) => kind)).toEqual(Array(14).fill('desk'));
  expect(
    first.openings.filter(({ kind }) => kind === 'door').every(({ depth, sill }) => depth !== null && sill === 0),
  ).toBe(true);
  expect(saying(first.remarks, /covering hangs lower/)[0]?.count).toBe(4);
  expect(saying(second.remarks, /no rooms \(IfcSpace\)/)).toHaveLength(1);
});

test('the duplex: the stair rooms reach through the storey above and stay on their own', async () => {
  const { storeys } = await readModel(load('Duplex_A_20110907.ifc'));
  const first = storeys.find(({ name }) => name === 'Level 1')!;
  expect(saying(first.remarks, /reach through the storey above/)[0]?.count).toBe(2);
  expect(sum(storeys.map(({ rooms }) => rooms.length))).toBe(21);
  expect(Math.abs(sum(storeys.flatMap(({ rooms }) => rooms.map(areaOf))) - 375.7)).toBeLessThan(0.1);
  expect(sum(storeys.map((storey) => count(storey).doors))).toBe(14);
  expect(sum(storeys.map((storey) => count(storey).windows))).toBe(24);
});

test('one room, one door: the small file', async () => {
  const { storeys } = await readModel(load('revit_quantities.ifc'));
  expect(storeys.map(count)).toEqual([{ rooms: 7, walls: 10, doors: 1, windows: 2 }]);
  expect(Math.abs(sum(storeys.flatMap(({ rooms }) => rooms.map(areaOf))) - 185.1)).toBeLessThan(0.1);
});

test('the Japanese house: names, columns where they stand, a true north of three numbers', async () => {
  const { storeys } = await readModel(load('jp_revit2013_unicode_fixed.ifc'));
  expect(storeys.map(({ name }) => name)).toEqual(['1階', '2階', '屋根']);
  expect(sum(storeys.map(({ walls }) => walls.length))).toBe(8);
  const columns = storeys.flatMap(({ pieces }) => pieces.filter(({ kind }) => kind === 'column'));
  expect(columns).toHaveLength(8);
  for (const { outline } of columns) expect(Math.abs(areaOf({ outline, holes: [] }) - 0.25)).toBeLessThan(1e-6);
  expect(new Set(storeys[0]!.pieces.map(({ outline }) => outline[0]!.map(Math.round).join()))).toHaveProperty(
    'size',
    4,
  );
  for (const { north } of storeys) expect(north).toBeCloseTo(90, 6);
});

test('the open house: windows made of posts and panes, a storey without name and elevation', async () => {
  const { storeys } = await readModel(load('IfcOpenHouse_IFC4.ifc'));
  expect(storeys).toHaveLength(1);
  expect(storeys[0]).toMatchObject({ name: 'Storey 1' });
  expect(count(storeys[0]!)).toEqual({ rooms: 0, walls: 4, doors: 1, windows: 5 });
});

test('an empty model is refused with the reason', async () => {
  const { reason } = await readRefusal(load('NEG_EmptyTest.ifc'));
  expect(reason).toMatch(/section DATA is empty/);
});

test('none of these files needs the geometry engine but for what is cut or curved', async () => {
  const asked: string[] = [];
  for (const file of ['AC11-Institute-Var-2-IFC.ifc', 'LargeBuilding.ifc', 'revit_quantities.ifc']) {
    const read = await readIfc(load(file), {
      ifcApi: () => {
        asked.push(file);
        return Promise.reject(new Error('not here'));
      },
    });
    expect(read.ok).toBe(true);
  }
  expect(asked).toEqual([]);
});
