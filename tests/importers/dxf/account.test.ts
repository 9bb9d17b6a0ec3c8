/** What is left out and told, far coordinates, and units. */
import { describe, expect, test } from 'vitest';
import { surveyDxf } from '../../../src/importers/dxf/survey.ts';
import { arc, fileOf, type Group, line, readSource, rectangle } from './write-dxf.ts';

const room = rectangle('ROOM', 0, 0, 8, 6);

describe('what is left out is told', () => {
  test('hidden layers, paper space, invisible entities', () => {
    const source = readSource(
      fileOf({
        layers: [
          ['OFF', 0, -7],
          ['FROZEN', 1],
        ],
        entities: [
          ...room,
          ...line('OFF', 0, 0, 1, 1),
          ...line('FROZEN', 0, 0, 1, 1),
          ...line('WALL', 0, 0, 1, 0),
          ...line('WALL', 5, 5, 6, 5).concat([[67, 1]]),
          ...line('WALL', 5, 5, 6, 5).concat([[60, 1]]),
        ],
      }),
    );
    expect(source.storeys[0]?.walls).toHaveLength(1);
    const told = [...source.remarks, ...(source.storeys[0]?.remarks ?? [])].map(
      ({ what, count }) => `${count} ${what}`,
    );
    expect(told).toContain('1 entities in paper space');
    expect(told).toContain('1 invisible entities');
    expect(told.filter((line) => line === '1 entities on hidden layers')).toHaveLength(2);
    const shown = readSource(fileOf({ layers: [['OFF', 0, -7]], entities: [...room, ...line('OFF', 0, 0, 1, 1)] }), {
      layers: { off: 'wall' },
    });
    expect(shown.storeys[0]?.walls).toHaveLength(1);
  });

  test('far coordinates come near zero without losing a digit', () => {
    const [x, y] = [3_512_345.125, 5_400_000.25];
    const source = readSource(fileOf({ entities: rectangle('ROOM', x, y, x + 8, y + 6) }));
    const outline = source.storeys[0]?.rooms[0]?.outline ?? [];
    expect(Math.abs(outline[0]?.[0] ?? 1e9)).toBeLessThan(100);
    expect((outline[0]?.[0] ?? 0) + source.origin[0]).toBe(x);
    expect((outline[2]?.[1] ?? 0) + source.origin[1]).toBe(y + 6);
  });

  test('a stray point at 1e12, and words that are no numbers', () => {
    const broken: Group[] = [
      [0, 'LINE'],
      [5, 'AB'],
      [8, 'WALL'],
      [10, 'NaN'],
      [20, 0],
      [11, 1],
      [21, 1],
    ];
    const source = readSource(
      fileOf({ entities: [...room, ...line('WALL', 0, 0, 1e12, 1e12), ...line('WALL', 0, 0, 8, 0), ...broken] }),
    );
    expect(source.origin).toEqual([0, 0]);
    expect(source.storeys[0]?.walls).toHaveLength(1);
    const fault = source.remarks.find(({ what }) => what === 'broken entities');
    expect(fault?.places[0]).toMatchObject({
      key: 'AB',
      name: expect.stringMatching(/LINE at line \d+, fault at line \d+/),
    });
    expect(source.storeys[0]?.remarks).toContainEqual(expect.objectContaining({ what: 'entities far off', count: 1 }));
  });
});

describe('units', () => {
  const surveyOf = (scale: number, units: number, header: Group[] = []) => {
    const s = (value: number) => value * scale;
    const entities = [
      ...rectangle('ROOM', 0, 0, s(8), s(6)),
      ...[1, 3, 5].flatMap((x) => [...arc('DOOR', s(x), 0, s(0.9), 0, 90), ...line('DOOR', s(x), 0, s(x), s(0.9))]),
    ];
    const found = surveyDxf(fileOf({ units, header, entities }), {}, () => {});
    if (!found.ok) throw new Error(found.reason);
    return found.unit;
  };

  test.each([
    ['m', 1, 6],
    ['mm', 1000, 4],
    ['cm', 100, 5],
    ['in', 1 / 0.0254, 1],
    ['ft', 1 / 0.3048, 2],
  ] as const)('%s is read from the header', (unit, scale, code) => {
    expect(surveyOf(scale, code)).toMatchObject({ taken: unit, header: unit, standing: 'read' });
  });

  test.each([
    ['m', 1, 4],
    ['mm', 1000, 6],
    ['cm', 100, 4],
    ['in', 1 / 0.0254, 4],
    ['mm', 1000, 0],
    ['m', 1, 0],
  ] as const)('%s is seen in the doors where the header says otherwise', (unit, scale, code) => {
    expect(surveyOf(scale, code)).toMatchObject({ taken: unit, standing: 'guessed' });
  });
});
