/** `arrange` as it is asked in a terminal. */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test, vi } from 'vitest';
import { type FloorFile, formatFault, parseFloor } from '../../src/core/floor/index.ts';
import { createFolder, lacuna } from './terminal.ts';

vi.setConfig({ testTimeout: 120_000 });

const file = createFolder();
const ROOM: FloorFile = {
  format: 'lacuna/1',
  name: 'Two rooms',
  rooms: [
    {
      id: 'a',
      name: 'A',
      outline: [
        [0, 0],
        [12, 0],
        [12, 8],
        [0, 8],
      ],
      ceiling: 2.8,
      tiles: { origin: [0, 0] },
    },
    {
      id: 'b',
      name: 'B',
      outline: [
        [12, 0],
        [18, 0],
        [18, 8],
        [12, 8],
      ],
      ceiling: 2.8,
    },
  ],
  workplaces: [
    { id: 'W1', name: 'W1', at: [2, 2] },
    { id: 'W2', name: 'W2', at: [10, 6] },
    { id: 'W3', name: 'W3', at: [15, 4] },
  ],
  types: [{ id: 'T', name: 'Type', ranges: [{ motion: 'minor', mounting: 2.8, plane: 0.8, diameter: 9 }] }],
  detectors: [{ id: 'old', name: 'Old', type: 'T', at: [6, 4] }],
};
const room = file('rooms.json', ROOM);

function readArranged(path: string): FloorFile {
  const parsed = parseFloor(readFileSync(path, 'utf8'));
  if (!parsed.ok) throw new Error(parsed.faults.map(formatFault).join(' '));
  return parsed.file;
}

describe('arrange', () => {
  test('writes a valid floor, says what it is, and ends with 0; the floor that was read stays', async () => {
    const out = file('arranged.json');
    const before = readFileSync(room, 'utf8');
    const { code, out: text, err } = await lacuna('arrange', room, '--type', 'T', '--out', out);
    expect([code, err]).toEqual([0, '']);
    expect(text).toContain('3 new detectors (3 × Type): at least 3');
    expect(text).toContain('Proved fewest on this grid.');
    expect(text).toContain('1 detectors that were not fixed are replaced.');
    expect(text.replaceAll('\n', ' ')).toContain('not an approval');
    const arranged = readArranged(out);
    expect(arranged.detectors.map(({ id }) => id)).toEqual(['D1', 'D2', 'D3']);
    expect(arranged.groups).toHaveLength(2);
    expect((await lacuna('check', out, '--json')).out).toContain('"workplacesMet": [\n    3,\n    3\n  ]');
    expect(readFileSync(room, 'utf8')).toBe(before);
  });

  test('--json prints one document and nothing else', async () => {
    const { code, out, err } = await lacuna(
      'arrange',
      room,
      '--type=T',
      '--pitch',
      '1',
      '--out',
      file('j.json'),
      '--json',
    );
    expect([code, err]).toEqual([0, '']);
    expect(JSON.parse(out)).toMatchObject({
      format: 'lacuna-arrange/1',
      count: 3,
      bound: 3,
      proved: true,
      met: true,
      workplacesMet: [3, 3],
      replacedIds: ['old'],
    });
  });

  test('a type of the catalogue is brought along', async () => {
    const out = file('catalogue.json');
    const { code } = await lacuna('arrange', room, '--type', 'wide-9', '--keep', 'none', '--out', out);
    expect(code).toBe(0);
    expect(readArranged(out).types.map(({ id }) => id)).toEqual(['T', 'wide-9']);
  });

  test('a need that cannot be met: 1, the rest is written, and it is said why', async () => {
    const high = file('high.json', {
      ...ROOM,
      rooms: ROOM.rooms.map((each) => (each.id === 'b' ? { ...each, ceiling: 6 } : each)),
      detectors: [],
    });
    const out = file('partly.json');
    const { code, out: text } = await lacuna('arrange', high, '--type', 'T', '--out', out);
    expect(code).toBe(1);
    expect(text.replaceAll('\n', ' ')).toContain('Workplace W3 cannot be met: no place on this grid sees any of it.');
    expect(text.replaceAll('\n', ' ')).toContain('The ceiling is 6.00 m high');
    expect(readArranged(out).detectors).toHaveLength(2);
  });

  // The reading room of the archive is 4 m high, and the type's ranges are declared up to 3.5 m.
  const READERS = ['W1', 'W2', 'W3', 'W4', 'W5', 'W6', 'W7', 'W8'];
  test.each([
    ['open-plan-office', 124, []],
    ['small-rooms', 10, []],
    ['archive', 11, READERS],
  ])('%s: check meets all of %i workplaces of what it writes, except %j, and it says why', async (name, all, unmet) => {
    const out = file(`${name}.json`);
    const words = ['--type', 'wide-9', '--pitch', '1.2', '--time', '5', '--out', out, '--json'];
    const said = JSON.parse((await lacuna('arrange', `models/floors/${name}.json`, ...words)).out);
    const judged = JSON.parse((await lacuna('check', out, '--json')).out);
    type Named = { readonly id: string; readonly text: string };
    const missed = judged.workplaces.filter(({ met }: { met: boolean }) => !met).map(({ id }: Named) => id);
    expect(missed).toEqual(unmet);
    expect([said.workplacesMet, judged.workplacesMet]).toEqual(Array(2).fill([all - unmet.length, all]));
    const named = said.unmet.filter(({ id }: Named) => id.startsWith('W'));
    expect(named.map(({ id }: Named) => id)).toEqual(unmet);
    for (const { text } of named) expect(text).toContain('The ceiling is 4.00 m high');
  });

  test.each([
    [['arrange'], 'no floor is named'],
    [['arrange', room, '--out', 'x.json'], 'no detector type is named'],
    [['arrange', room, '--type', 'T'], 'no file to write to'],
    [['arrange', room, '--type', 'X', '--out', 'x.json'], 'there is no detector type X'],
    [['arrange', room, '--type', 'T', '--out', 'x.json', '--pitch', '0'], '--pitch is 0'],
    [['arrange', room, '--type', 'T', '--out', 'x.json', '--keep', 'some'], '--keep is some'],
    [['arrange', room, '--type', 'T', '--out', 'x.json', '--price', 'X=2'], '--price is X=2'],
    [['arrange', room, '--type', 'T', '--out', 'x.json', '--turns', 'left'], '--turns is left'],
    [['arrange', room, '--type', 'T', '--out', 'x.json', '--avoid', 'c'], '--avoid is c'],
    [['arrange', room, '--type', 'T', '--out', 'x.json', '--needs', 'W9'], 'There is no workplace or zone W9'],
    [['arrange', room, '--type', 'T', '--out', 'x.json', '--wall', '90'], 'keep-outs take all'],
    [['arrange', 'none.json', '--type', 'T', '--out', 'x.json'], 'none.json'],
  ])('%j ends with 2, says why, and writes nothing', async (words, reason) => {
    const { code, out, err } = await lacuna(...words);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(reason);
    expect(existsSync('x.json')).toBe(false);
  });
});
