import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { check } from '../../../src/core/coverage/index.ts';
import { parseFloor, resolveFloor, serialiseFloor } from '../../../src/core/floor/index.ts';
import { computeSignedArea } from '../../../src/core/geometry/polygon.ts';
import { assembleFloor } from '../../../src/importers/assembly/assemble.ts';
import { type NamedBytes, readGeoJson } from '../../../src/importers/geojson/read.ts';
import { createTangentPlane } from '../../../src/importers/geojson/tangent-plane.ts';
import { findOutsideFolder } from '../../outside/visibility-files.ts';

const bytesOf = (name: string, value: unknown): NamedBytes => ({
  name,
  bytes: new TextEncoder().encode(JSON.stringify(value)),
});
const feature = (properties: object, type: string, coordinates: unknown) => ({
  type: 'Feature',
  properties,
  geometry: { type, coordinates },
});
const collection = (...features: object[]) => ({ type: 'FeatureCollection', features });
const square = (x: number, y: number, size: number) => [
  [
    [x, y],
    [x + size, y],
    [x + size, y + size],
    [x, y + size],
    [x, y],
  ],
];
const nothing = (): void => {};

describe('the tangent plane', () => {
  test('a degree of latitude and of longitude at 45° have the lengths of the ellipsoid', () => {
    const project = createTangentPlane([10, 45]);
    // Radii of curvature at 45° from the ellipsoid itself: M = a(1 − e²)/(1 − e² sin²φ)^1.5, N = a/√(1 − e² sin²φ).
    const [a, e2] = [6378137, 0.0066943799901413];
    const w = 1 - e2 / 2;
    const step = 0.0005;
    const radians = (step * Math.PI) / 180;
    expect(project([10, 45 + step])[1]).toBeCloseTo(((a * (1 - e2)) / w ** 1.5) * radians, 3);
    expect(project([10 + step, 45])[0]).toBeCloseTo((a / Math.sqrt(w)) * Math.SQRT1_2 * radians, 3);
    expect(project([10, 45]).map(Math.abs)).toEqual([0, 0]);
  });

  test('distances within a kilometre are those through space, to a millimetre', () => {
    const project = createTangentPlane([-2.978, 56.46]);
    const a = project([-2.97, 56.4605]);
    const b = project([-2.986, 56.4595]);
    // The same two places from another centre: a plane that touches elsewhere measures the same.
    const other = createTangentPlane([-2.975, 56.461]);
    const [c, d] = [other([-2.97, 56.4605]), other([-2.986, 56.4595])];
    const [one, two] = [Math.hypot(a[0] - b[0], a[1] - b[1]), Math.hypot(c[0] - d[0], c[1] - d[1])];
    expect(one).toBeGreaterThan(900);
    expect(Math.abs(one - two)).toBeLessThan(0.001);
  });
});

describe('a map by hand', () => {
  test('the one that comes with the models: offices from walls, the corridor as drawn, doors that join them', () => {
    const bytes = readFileSync(new URL('../../../models/imports/two-offices.geojson', import.meta.url));
    const source = readGeoJson([{ name: 'two-offices.geojson', bytes }], {}, nothing);
    if (!source.ok) throw new Error(source.reason);
    const [storey] = source.storeys;
    if (storey === undefined) throw new Error('a storey is missing');
    const { floor } = assembleFloor(storey, {}, source);
    expect(
      floor.rooms.map(({ name, ceiling, ceilingFrom, outline }) => [
        name,
        ceiling,
        ceilingFrom,
        computeSignedArea(outline).toFixed(2),
      ]),
    ).toEqual([
      ['Corridor', 2.6, undefined, '16.56'],
      ['West office', 2.6, 'assumed', '18.90'],
      ['Room 2', 2.6, 'assumed', '18.90'],
    ]);
    expect(floor.openings?.map(({ kind, depth }) => [kind, depth])).toEqual([
      ['door', 0.24],
      ['door', 0.24],
    ]);
    expect(floor.furniture?.map(({ kind, top, from }) => [kind, top, from])).toEqual([
      ['desk', 0.74, 'assumed'],
      ['desk', 0.74, 'assumed'],
      ['shelving', 1.6, undefined],
    ]);
    expect(floor.workplaces).toHaveLength(2);
  });

  test('metres, levels by property, rooms, walls as lines, doors as thin polygons and desks', () => {
    const source = readGeoJson(
      [
        bytesOf(
          'map.geojson',
          collection(
            feature({ type: 'room', name: 'Hall', level: '0', height: 3.1 }, 'Polygon', square(0, 0, 10)),
            feature({ type: 'door', level: '0' }, 'Polygon', [
              [
                [4, -0.2],
                [5, -0.2],
                [5, 0],
                [4, 0],
                [4, -0.2],
              ],
            ]),
            feature({ type: 'desk', level: '0' }, 'Polygon', [
              [
                [2, 2],
                [3.6, 2],
                [3.6, 2.8],
                [2, 2.8],
                [2, 2],
              ],
            ]),
            feature({ indoor: 'wall', level: '1' }, 'LineString', [
              [0, 0],
              [6, 0],
              [6, 5],
              [0, 5],
              [0, 0],
            ]),
            feature({ type: 'spaceship', level: '1' }, 'Polygon', square(1, 1, 1)),
          ),
        ),
      ],
      { unit: 'm' },
      nothing,
    );
    if (!source.ok) throw new Error(source.reason);
    expect(source.storeys.map(({ name }) => name)).toEqual(['Level 0', 'Level 1']);
    const floors = source.storeys.map((storey) => assembleFloor(storey, {}, source).floor);
    expect(floors[0]?.rooms).toMatchObject([{ name: 'Hall', ceiling: 3.1 }]);
    expect(floors[0]?.openings).toMatchObject([{ kind: 'door', from: [4, -0.1], to: [5, -0.1] }]);
    expect(floors[0]?.furniture).toMatchObject([{ kind: 'desk', top: 0.74, from: 'assumed' }]);
    expect(floors[0]?.workplaces).toHaveLength(1);
    expect(floors[1]?.rooms.map(({ outline }) => computeSignedArea(outline))).toEqual([30]);
    expect(source.storeys[1]?.remarks).toMatchObject([{ fate: 'left out', what: 'features of type spaceship' }]);
  });

  test.each([
    ['no JSON', new Uint8Array([0xff, 0xfe, 0]), /no JSON text/],
    ['another JSON', new TextEncoder().encode('{"a":1}'), /holds no features/],
    ['a floor', new TextEncoder().encode('{"format":"lacuna/1"}'), /floor of Lacuna already/],
    ['no coordinates', new TextEncoder().encode('{"type":"FeatureCollection","features":[]}'), /no coordinates/],
  ])('%s is refused with a reason and a remedy', (_, bytes, reason) => {
    const source = readGeoJson([{ name: 'x.geojson', bytes }], {}, nothing);
    expect(source).toMatchObject({
      ok: false,
      reason: expect.stringMatching(reason),
      remedy: expect.stringMatching(/\w/),
    });
  });

  test('coordinates that are no numbers, rings of two points and nested nonsense are told, not thrown', () => {
    const source = readGeoJson(
      [
        bytesOf(
          'odd.geojson',
          collection(
            feature({ type: 'room' }, 'Polygon', square(0, 0, 4)),
            feature({ type: 'room' }, 'Polygon', [
              [
                ['a', 'b'],
                [1, 2],
              ],
            ]),
            feature({ type: 'room' }, 'Polygon', 7),
            { type: 'Feature', geometry: null },
            { type: 'Feature', geometry: { type: 'GeometryCollection', geometries: [{ type: 'GeometryCollection' }] } },
          ),
        ),
      ],
      { unit: 'm' },
      nothing,
    );
    expect(source).toMatchObject({
      ok: true,
      remarks: expect.arrayContaining([expect.objectContaining({ what: 'features', count: 4 })]),
    });
  });
});

describe('a real building in degrees', () => {
  const folder = join(findOutsideFolder('other'), 'wrld-westport-house');
  const readFolder = () => {
    const source = readGeoJson(
      readdirSync(folder).map((name) => ({ name, bytes: readFileSync(join(folder, name)) })),
      {},
      nothing,
    );
    if (!source.ok) throw new Error(source.reason);
    return source;
  };

  test('the list of levels names the storeys; files that are not here are told', () => {
    const source = readFolder();
    expect(source.storeys.map(({ name }) => name)).toEqual(['Ground Floor', 'Second Floor']);
    expect(source.remarks.filter(({ what }) => what === 'levels')).toHaveLength(5);
  });

  test('both storeys are valid floors within their outlines, with nearly every door in a wall', () => {
    const source = readFolder();
    // The outlines' areas by an equirectangular projection of their own: 2,458 and 2,375 m² (stated with the files: 2,458).
    for (const [i, outline] of [2458, 2375].entries()) {
      const storey = source.storeys[i];
      if (storey === undefined) throw new Error('a storey is missing');
      const { floor, report } = assembleFloor(storey, {}, source);
      const parsed = parseFloor(serialiseFloor(floor));
      expect(parsed.ok ? [] : parsed.faults).toEqual([]);
      const area = floor.rooms.reduce(
        (sum, { outline: ring, holes = [] }) =>
          sum + computeSignedArea(ring) - holes.reduce((part, hole) => part + computeSignedArea(hole), 0),
        0,
      );
      expect(area).toBeLessThan(outline);
      expect(area).toBeGreaterThan(outline * 0.83);
      expect(floor.openings?.length).toBe(54);
      expect(floor.rooms.every(({ ceilingFrom }) => ceilingFrom === 'assumed')).toBe(true);
      expect(report.remarks.some(({ what, fate }) => what === 'levels' && fate === 'left out')).toBe(true);
      const { planes } = check(resolveFloor({ ...floor, analysis: { cell: 0.2 } }));
      expect(planes.walking.areaM2).toBeGreaterThan(area * 0.97);
    }
    const second = source.storeys[1];
    expect(second === undefined ? [] : assembleFloor(second, {}, source).floor.rooms.map(({ name }) => name)).toEqual(
      expect.arrayContaining([
        'Meeting Room Large',
        'Server room',
        'Kitchen',
        'Meeting Room Small',
        'Storage Cupboard',
        'Unit 1',
      ]),
    );
  });
});
