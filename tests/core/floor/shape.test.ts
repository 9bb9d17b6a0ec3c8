import { describe, expect, test } from 'vitest';
import { formatFault, parseFloor } from '../../../src/core/floor/index.ts';
import { createSampleFloor, type Loose, listFaultLines, listTextFaults } from './sample-floor.ts';

test('the sample floor is accepted', () => {
  expect(listFaultLines(() => undefined)).toEqual([]);
});

describe('a value of the wrong shape is refused with its path and what would be right', () => {
  const cases: readonly (readonly [string, (floor: Loose) => void, string])[] = [
    [
      'a missing key',
      (f) => delete f.rooms[1].ceiling,
      'rooms[1].ceiling: is missing. Give a number above 0 and up to 50.',
    ],
    ['a missing list', (f) => delete f.types, 'types: is missing. Give a list of at most 1000.'],
    [
      'a text for a number',
      (f) => (f.furniture[0].top = '2.2'),
      'furniture[0].top: is the text "2.2". Give a number from 0 to 50.',
    ],
    [
      'a height over 50 m',
      (f) => (f.furniture[0].top = 50.1),
      'furniture[0].top: is 50.1. Give a number from 0 to 50.',
    ],
    [
      'a height below 0',
      (f) => (f.furniture[0].base = -0.1),
      'furniture[0].base: is -0.1. Give a number from 0 to 50.',
    ],
    [
      'a coordinate beyond 10 km',
      (f) => (f.rooms[0].outline[2][1] = 10_001),
      'rooms[0].outline[2][1]: is 10001. Give a number from -10000 to 10000.',
    ],
    [
      'a point of three',
      (f) => f.workplaces[0].at.push(1),
      'workplaces[0].at: is a list of 3. Give a list of 2, each a number from -10000 to 10000.',
    ],
    [
      'an outline of two',
      (f) => (f.zones[0].outline.length = 2),
      'zones[0].outline: is a list of 2. Give a list of 3 to 5000.',
    ],
    [
      'null',
      (f) => (f.rooms[0].outline[0] = null),
      'rooms[0].outline[0]: is null. Give a list of 2, each a number from -10000 to 10000.',
    ],
    [
      'an unknown word',
      (f) => (f.openings[0].kind = 'dor'),
      'openings[0].kind: is the text "dor". Write "door", "window" or "passage". The nearest is "door".',
    ],
    [
      'a word far from all',
      (f) => (f.openings[0].kind = 'gate'),
      'openings[0].kind: is the text "gate". Write "door", "window" or "passage".',
    ],
    [
      'a yes or no',
      (f) => (f.furniture[0].glass = 'yes'),
      'furniture[0].glass: is the text "yes". Give true or false.',
    ],
    [
      'an object',
      (f) => (f.detectors[1] = 'd2'),
      'detectors[1]: is the text "d2". Give an object with id, name, type, at.',
    ],
    ['a list', (f) => (f.rooms = { r1: {} }), 'rooms: is an object. Give a list of at most 2000.'],
    [
      'an empty id',
      (f) => (f.sources[0].id = ''),
      'sources[0].id: is an empty text. Give a text of 1 to 200 characters.',
    ],
    [
      'a long name',
      (f) => (f.name = 'x'.repeat(1_001)),
      'name: is a text of 1001 characters. Give a text of at most 1000 characters.',
    ],
    [
      'a whole number',
      (f) => (f.types[0].extensionLimit = 1.5),
      'types[0].extensionLimit: is 1.5. Give a whole number from 0 to 2000.',
    ],
    ['notes', (f) => (f.rooms[0].notes = 5), 'rooms[0].notes: is 5. Give a text or an object.'],
    ['notes as a list', (f) => (f.notes = ['a']), 'notes: is a list of 1. Give a text or an object.'],
    [
      'a verdict of a record',
      (f) => (f.records[0].pass = 'yes'),
      'records[0].pass: is the text "yes". Give true or false or null.',
    ],
    [
      'a record without what was found',
      (f) => delete f.records[0].found,
      'records[0].found: is missing. Give any value.',
    ],
    [
      'a cell below 0.02 m',
      (f) => (f.analysis = { cell: 0.01 }),
      'analysis.cell: is 0.01. Give a number from 0.02 to 1.',
    ],
    ['a cell above 1 m', (f) => (f.analysis = { cell: 1.5 }), 'analysis.cell: is 1.5. Give a number from 0.02 to 1.'],
    [
      'a plane on the floor',
      (f) => (f.analysis = { seatedPlane: 0 }),
      'analysis.seatedPlane: is 0. Give a number above 0 and up to 50.',
    ],
    [
      'a crossing angle of 90',
      (f) => (f.analysis = { crossingAngle: 90 }),
      'analysis.crossingAngle: is 90. Give a number from 0 up to but not 90.',
    ],
    [
      'headings of 0',
      (f) => (f.analysis = { headings: 0 }),
      'analysis.headings: is 0. Give a number above 0 and up to 1.',
    ],
    ['a share over 1', (f) => (f.zones[0].share = 1.1), 'zones[0].share: is 1.1. Give a number from 0 to 1.'],
    ['a reach of 0', (f) => (f.detectors[0].reach = 0), 'detectors[0].reach: is 0. Give a number above 0 and up to 2.'],
    [
      'a reach over 2',
      (f) => (f.detectors[0].reach = 2.1),
      'detectors[0].reach: is 2.1. Give a number above 0 and up to 2.',
    ],
    [
      'a range of 0 m',
      (f) => (f.types[0].ranges[0].diameter = 0),
      'types[0].ranges[0].diameter: is 0. Give a number above 0 and up to 100.',
    ],
    [
      'a range over 100 m',
      (f) => (f.types[0].ranges[2].width = 101),
      'types[0].ranges[2].width: is 101. Give a number above 0 and up to 100.',
    ],
    [
      'a range of no size',
      (f) => delete f.types[0].ranges[0].diameter,
      'types[0].ranges[0]: has no diameter, length or width. Give either diameter, or length and width.',
    ],
    [
      'a range of two shapes',
      (f) => (f.types[0].ranges[0].length = 4),
      'types[0].ranges[0]: has diameter and length, which exclude each other. Give either diameter, or length and width.',
    ],
    [
      'a rectangle of one side',
      (f) => delete f.types[0].ranges[2].width,
      'types[0].ranges[2].width: is missing. Give a number above 0 and up to 100.',
    ],
    [
      'a range that is no object',
      (f) => (f.types[0].ranges[1] = 7),
      'types[0].ranges[1]: is 7. Give an object with motion, mounting, plane, diameter or an object with motion, mounting, plane, length, width.',
    ],
    [
      'a misspelt key',
      (f) => (f.rooms[0].cieling = 3),
      'rooms[0].cieling: is a key this format does not know. The nearest known key is ceiling.',
    ],
    [
      'a key in another case',
      (f) => (f.furniture[0].Glass = true),
      'furniture[0].Glass: is a key this format does not know. The nearest known key is glass.',
    ],
    [
      'a key far from all',
      (f) => (f.groups[0].settings = { wattage: 4 }),
      'groups[0].settings.wattage: is a key this format does not know. Leave it out, or put it under notes. Known here: switchOn, level, delay, ventilationDelay, background, button, notes.',
    ],
    [
      'a key of the prototype',
      (f) => (f.rooms[0].constructor = 1),
      'rooms[0].constructor: is a key this format does not know. Leave it out, or put it under notes. Known here: id, name, use, outline, holes, ceiling, ceilingFrom, tiles, notes.',
    ],
  ];
  test.each(cases)('%s', (_, breakIt, line) => {
    expect(listFaultLines((floor) => void breakIt(floor))).toEqual([line]);
  });

  test.each([
    ['rooms', 2_000],
    ['detectors', 2_000],
    ['furniture', 50_000],
    ['types', 1_000],
  ])('more %s than %i', (list, most) => {
    const lines = listFaultLines((floor) => {
      floor[list] = Array.from({ length: most + 1 }, (_, i) => ({ ...floor[list][0], id: `x${i}` }));
    });
    expect(lines).toEqual([`${list}: is a list of ${most + 1}. Give a list of at most ${most}.`]);
  });

  test('an outline of more than 5,000 points', () => {
    const lines = listFaultLines((floor) => {
      floor.zones[0].outline = Array.from({ length: 5_001 }, (_, i) => [i, i * i]);
    });
    expect(lines).toEqual(['zones[0].outline: is a list of 5001. Give a list of 3 to 5000.']);
  });
});

describe('the lines of a file with many faults', () => {
  test('name every fault, in the order of the format, whatever the order in the file', () => {
    const lines = listFaultLines((floor) => {
      floor.rooms[0].ceiling = 'high';
      floor.rooms[1].name = 4;
      floor.detectors[0].at = [1];
      floor.colour = 'red';
    });
    expect(lines.map((line) => line.split(':')[0])).toEqual([
      'rooms[0].ceiling',
      'rooms[1].name',
      'detectors[0].at',
      'colour',
    ]);
  });

  test('are 1,000 at most, and one that counts the rest', () => {
    const lines = listFaultLines((floor) => {
      floor.records = Array.from({ length: 3_000 }, () => 0);
    });
    expect(lines).toHaveLength(1_001);
    expect(lines[1_000]).toBe('2000 more faults are not listed. Mend these first.');
  });

  test('stop being counted where nobody would read on', () => {
    const ring = `[${'0,'.repeat(4_999)}0]`;
    const text = `{"format":"lacuna/1","name":"","types":[],"detectors":[],"rooms":[{"id":"a","name":"","ceiling":3,"outline":${ring},"holes":[${`${ring},`.repeat(900)}${ring}]}]}`;
    const faults = listTextFaults(text);
    expect(faults).toHaveLength(1_001);
    expect(formatFault(faults[1_000]!)).toBe('More than 98999 more faults are not listed. Mend these first.');
  });
});

describe('text from the file in a message', () => {
  const lineFor = (id: string): string => listFaultLines((floor) => (floor.detectors[0].type = id))[0] ?? '';

  test.each([
    ['a line end', 'a\nb', '"a\\u{a}b"'],
    ['a line separator', 'a\u2028b', '"a\\u{2028}b"'],
    ['a direction mark', '\u202Eabc', '"\\u{202e}abc"'],
    ['a control', 'a\u0000\u001b[31m', '"a\\u{0}\\u{1b}[31m"'],
    ['half a character', 'a\uD83D', '"a\\u{d83d}"'],
    ['quotation marks', 'a"b\\c', '"a\\"b\\\\c"'],
    ['markup', '<b>x</b>', '"<b>x</b>"'],
    ['great length', 'y'.repeat(200), `"${'y'.repeat(60)}…"`],
    ['a character cut in two', `${'y'.repeat(59)}😀z`, `"${'y'.repeat(59)}\\u{d83d}…"`],
  ])('%s is shown harmlessly', (_, id, shown) => {
    expect(lineFor(id)).toBe(
      `detectors[0].type: names ${shown}, which is not in the file. Name a detector type by its id.`,
    );
  });

  test('a key is quoted where it is no plain word', () => {
    const lines = listFaultLines((floor) => {
      floor['a\nb'] = 1;
      floor.rooms[0]['x'.repeat(500)] = 1;
    });
    expect(lines[0]).toMatch(/^rooms\[0\]\["x{60}…"\]: is a key/);
    expect(lines[1]).toMatch(/^\["a\\u\{a\}b"\]: is a key/);
  });
});

test('a floor without rooms is valid: an editor begins with it', () => {
  const parsed = parseFloor('{"format":"lacuna/1","name":"","rooms":[],"types":[],"detectors":[]}');
  expect(parsed.ok).toBe(true);
});

test('numbers that JSON can write but nobody means are kept as they are', () => {
  const parsed = parseFloor(JSON.stringify(createSampleFloor()).replace('"base":0,', '"base":-0,'));
  expect(parsed.ok && Object.is(parsed.file.sources?.[0]?.base, -0)).toBe(true);
});
