/** Every file by others is imported or refused with a reason; what is imported is a floor on which everything else runs. */
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type FloorFile, parseFloor } from '../../src/core/floor/index.ts';
import { computeRingDistance, computeSignedArea, isInRing } from '../../src/core/geometry/polygon.ts';
import { findOutsideFolder } from '../outside/visibility-files.ts';
import { createFolder, lacuna } from './terminal.ts';

const IFC = findOutsideFolder('ifc');
const DXF = findOutsideFolder('dxf');
const MAPS = join(findOutsideFolder('other'), 'wrld-westport-house');
const file = createFolder();

const sources = [
  ...readdirSync(IFC)
    .filter((name) => name.endsWith('.ifc'))
    .map((name) => join(IFC, name)),
  ...readdirSync(DXF).map((name) => join(DXF, name)),
  ...readdirSync(MAPS).map((name) => join(MAPS, name)),
  MAPS,
];

/** Sources that hold no floor, and what is said of them. */
const REFUSED: Readonly<Record<string, RegExp>> = {
  'NEG_EmptyTest.ifc': /section DATA is empty/,
  'trimesh_uc.r14a.dxf': /Nothing in this drawing was taken for a wall, a room or furniture/,
  'trimesh_uc.r2004a.dxf': /Nothing in this drawing was taken for a wall, a room or furniture/,
  'main.json': /none of their files is here/,
  'desks_geojson_trace.geojson': /no rooms were found/,
  'example-office-floor-g.geojson': /no rooms were found/,
};

const sizeOf = ({ outline, holes = [] }: FloorFile['rooms'][number]): number =>
  Math.abs(computeSignedArea(outline)) - holes.reduce((sum, hole) => sum + Math.abs(computeSignedArea(hole)), 0);

const readBack = (path: string): FloorFile => {
  const parsed = parseFloor(readFileSync(path, 'utf8'));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
  return parsed.file;
};

describe('every source by others', () => {
  test.each(sources.map((path) => [basename(path), path] as const))('%s', async (name, path) => {
    const out = file(`${name}.out.json`);
    const report = file(`${name}.txt`);
    const { code, out: said, err } = await lacuna('import', path, '--out', out, '--report', report);
    const refused = REFUSED[name];
    if (refused !== undefined) {
      expect(code).toBe(2);
      expect(err).toMatch(refused);
      expect(err.trimEnd().split('\n').length).toBeGreaterThan(1);
      expect(statSync(out, { throwIfNoEntry: false })).toBeUndefined();
      return;
    }
    expect([code, err.replace(/^.* is taken, with most rooms .*\n/, '')]).toEqual([0, '']);
    expect(readFileSync(report, 'utf8')).toContain('Import of');
    expect(said).toContain('The floor has');
    const floor = readBack(out);
    expect(floor.rooms.length).toBeGreaterThan(0);
    const checked = await lacuna('check', out, '--json', '--cell', '0.25');
    expect([0, 1]).toContain(checked.code);
    expect(JSON.parse(checked.out).planes.seated.areaM2).toBeGreaterThan(0);
  });
});

describe('areas and counts against what the authors state', () => {
  const stated = JSON.parse(readFileSync(join(IFC, 'space_quantities.json'), 'utf8')) as Record<
    string,
    readonly { readonly guid: string; readonly name: string; readonly mesh: { readonly footprint_m2: number } }[]
  >;
  test.each(Object.keys(stated))('%s: every room to 0.5 %%', async (name) => {
    const listed = JSON.parse((await lacuna('import', join(IFC, name), '--list', '--json')).out) as {
      readonly storeys: readonly { readonly name: string; readonly rooms: number }[];
    };
    const found = new Map<string, number>();
    for (const storey of listed.storeys.filter(({ rooms }) => rooms > 0)) {
      const out = file(`${name} ${storey.name}.json`);
      const { code } = await lacuna('import', join(IFC, name), '--storey', storey.name, '--out', out);
      expect(code).toBe(0);
      for (const room of readBack(out).rooms) {
        const [guid = ''] = String((room.notes as { source: string }).source).split(' part ');
        found.set(guid, (found.get(guid) ?? 0) + sizeOf(room));
      }
    }
    const far = (stated[name] ?? []).filter(({ guid, mesh }) => {
      const area = found.get(guid);
      return area === undefined || Math.abs(area - mesh.footprint_m2) > 0.005 * mesh.footprint_m2;
    });
    expect(far.map((each) => [each.name, each.mesh.footprint_m2, found.get(each.guid)])).toEqual([]);
  });

  test('the office drawn by others as a floor has the same rooms, desks and area', async () => {
    const out = file('institute.json');
    await lacuna('import', join(IFC, 'AC11-Institute-Var-2-IFC.ifc'), '--storey', '1. Obergeschoss', '--out', out);
    const floor = readBack(out);
    const area = floor.rooms.reduce((sum, room) => sum + sizeOf(room), 0);
    expect(floor.rooms).toHaveLength(22);
    expect(Math.abs(area - 441.6)).toBeLessThan(0.005 * 441.6);
  });
});

describe('words and answers', () => {
  const plan = join(DXF, 'ISO-Office.dxf');
  test('storeys are listed, and chosen by name, by another case or by number', async () => {
    const source = join(IFC, 'LargeBuilding.ifc');
    const { out } = await lacuna('import', source, '--list');
    expect(out).toMatch(/Level 1\s+0\.00\s+8\b/);
    for (const [words, count] of [
      [['--storey', 'level 1'], 8],
      [['--storey', '1'], 8],
      [[], 8],
    ] as const) {
      const path = file(`large-${words.join('')}.json`);
      const ended = await lacuna('import', source, '--out', path, ...words);
      expect(ended.code).toBe(0);
      expect(readBack(path).rooms).toHaveLength(count);
      expect(ended.err.includes('is taken, with most rooms (8)')).toBe(words.length === 0);
    }
    const wrong = await lacuna('import', source, '--out', file('none.json'), '--storey', 'Attic');
    expect(wrong).toMatchObject({
      code: 2,
      err: expect.stringContaining('has no storey Attic. It has: Level 1, Level 2.'),
    });
  });

  test('answers are heard: ceiling, unit, class, height', async () => {
    const path = file('answered.json');
    const { code } = await lacuna(
      'import',
      plan,
      '--out',
      path,
      '--ceiling',
      '3.4',
      '--unit',
      'm',
      '--class',
      'jps-obstacles=cabinet',
      '--height',
      'cabinet=1.6',
    );
    expect(code).toBe(0);
    const floor = readBack(path);
    expect(floor.rooms[0]).toMatchObject({ ceiling: 3.4, ceilingFrom: 'assumed' });
    expect(
      floor.furniture?.every(({ kind, top, from }) => kind === 'cabinet' && top === 1.6 && from === 'assumed'),
    ).toBe(true);
    expect(floor.furniture?.length).toBeGreaterThan(0);
  });

  test('--json is one document on stdout', async () => {
    const { out } = await lacuna('import', plan, '--out', file('json.json'), '--json');
    expect(JSON.parse(out)).toMatchObject({
      format: 'lacuna-import/1',
      counts: { rooms: 1 },
      remarks: expect.any(Array),
    });
  });

  test.each([
    [[], 'no source is named'],
    [['x.ifc'], 'no file to write to'],
    [['x.ifc', '--out', 'y.json', '--unit', 'ell'], '--unit is ell. It must be mm'],
    [['x.ifc', '--out', 'y.json', '--height', 'desk'], '--height is desk. It must be KIND=M'],
    [['x.ifc', '--out', 'y.json', '--class', 'A=palace'], '--class is palace. It must be wall'],
    [['x.ifc', '--out', 'y.json', '--gap', '9'], '--gap is 9. It must be a number from 0 to 2'],
    [['absent.ifc', '--out', 'y.json'], 'does not exist'],
  ])('%j is refused', async (words, reason) => {
    const { code, err } = await lacuna('import', ...words);
    expect(code).toBe(2);
    expect(err).toContain(reason);
  });

  test.each([
    ['rubbish.ifc', 'not a model at all'],
    ['rubbish.dxf', '<html></html>'],
    ['cut.ifc', readFileSync(join(IFC, 'LargeBuilding.ifc')).subarray(0, 4000)],
    ['cut.geojson', '{"type":"FeatureCollection","features":['],
    ['floor.json', '{"format":"lacuna/1"}'],
  ])('%s is refused with what would be right, and nothing is written', async (name, content) => {
    const out = file(`${name}.floor`);
    const { code, err } = await lacuna('import', file(name, content), '--out', out);
    expect(code).toBe(2);
    expect(err.trimEnd().split('\n').length).toBeGreaterThan(1);
    expect(statSync(out, { throwIfNoEntry: false })).toBeUndefined();
  });

  test('a newer version goes onto a floor that was worked on', async () => {
    const old = file('onto-old.json');
    await lacuna('import', plan, '--out', old);
    const floor = JSON.parse(readFileSync(old, 'utf8'));
    floor.types = [{ id: 'T1', name: 'T', ranges: [{ motion: 'minor', mounting: 2.8, plane: 0.8, diameter: 8 }] }];
    const [{ outline, holes = [] }] = floor.rooms;
    const isFree = (x: number, y: number): boolean =>
      isInRing(outline, x, y) && [outline, ...holes].every((ring) => computeRingDistance(ring, x, y) > 0.3);
    const places = Array.from({ length: 400 }, (_, i): [number, number] => [
      (i % 20) + 0.5,
      Math.floor(i / 20) * 0.5 + 0.25,
    ]);
    floor.detectors = [{ id: 'D1', name: 'D1', type: 'T1', at: places.find(([x, y]) => isFree(x, y)) }];
    writeFileSync(old, JSON.stringify(floor));
    const next = file('onto-new.json');
    const { code, out } = await lacuna('import', plan, '--onto', old, '--out', next, '--ceiling', '3');
    expect(code).toBe(0);
    expect(out).toMatch(/changed: .*: ceiling/);
    expect(readBack(next)).toMatchObject({ detectors: floor.detectors, rooms: [{ ceiling: 3 }] });
  });
});
