import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatFault, LIMITS, parseFloor, validateFloor } from '../../../src/core/floor/index.ts';
import { readJsonSteps } from '../../../src/core/floor/json-steps.ts';
import { createSampleFloor, listFaultLines, listTextFaults } from './sample-floor.ts';

const sample = JSON.stringify(createSampleFloor());
const linesOf = (text: string): readonly string[] => listTextFaults(text).map(formatFault);

describe('the text of a floor file', () => {
  test('is read with and without a byte order mark', () => {
    expect(linesOf(sample)).toEqual([]);
    expect(linesOf(`\uFEFF${sample}`)).toEqual([]);
  });

  test.each([
    ['', 'The file is empty. A floor file is one JSON object.'],
    [' \n\t', 'The file is empty. A floor file is one JSON object.'],
    ['{', 'The file is no JSON: line 1, column 2 ends where a key in quotation marks is due. Mend the text there.'],
    [
      '{\n  "a": 1,\n  "b" 2\n}',
      'The file is no JSON: line 3, column 7 has "2" where a colon is due. Mend the text there.',
    ],
    ['[1, 2', 'The file is no JSON: line 1, column 6 ends where a comma or ] is due. Mend the text there.'],
    ['{"a": NaN}', 'The file is no JSON: line 1, column 7 has "N" where a value is due. Mend the text there.'],
    ['{"a": -Infinity}', 'The file is no JSON: line 1, column 7 has "-" where a value is due. Mend the text there.'],
    ['{"a": 01}', 'The file is no JSON: line 1, column 8 has "1" where a comma or } is due. Mend the text there.'],
    [
      '{"a": 1,}',
      'The file is no JSON: line 1, column 9 has "}" where a key in quotation marks is due. Mend the text there.',
    ],
    ['{} {}', 'The file is no JSON: line 1, column 4 has "{" where the end of the file is due. Mend the text there.'],
    [
      '["\\x"]',
      'The file is no JSON: line 1, column 3 has "\\\\" where an escape JSON knows is due. Mend the text there.',
    ],
    ['[\u202E]', 'The file is no JSON: line 1, column 2 has "\\u{202e}" where a value is due. Mend the text there.'],
    ['3', 'The file is 3. A floor file is one JSON object.'],
    ['null', 'The file is null. A floor file is one JSON object.'],
    ['[]', 'The file is an empty list. A floor file is one JSON object.'],
    ['"x"', 'The file is the text "x". A floor file is one JSON object.'],
  ])('%j is refused: %s', (text, line) => {
    expect(linesOf(text)).toEqual([line]);
  });

  test('breaks off inside a string with the place it began to be wrong', () => {
    expect(linesOf('{"a": "x\ny"}')[0]).toMatch(
      /^The file is no JSON: line 1, column 9 has "\\u\{a\}" where the end of the text/,
    );
  });

  test('is refused when it is longer than a floor file may be', () => {
    const zeros = '0'.repeat(200_000_000);
    expect(linesOf(zeros)).toEqual([
      `The file holds 200000000 characters. A floor file has at most ${LIMITS.fileCharacters}.`,
    ]);
  });

  test.each([
    ['a million open lists', '['.repeat(1_000_000)],
    ['two million open lists', '['.repeat(2_000_000)],
    ['a million nested lists', '['.repeat(1_000_000) + ']'.repeat(1_000_000)],
    ['nested objects', '{"a":'.repeat(300_000)],
    ['nested notes', sample.replace('{', `{"notes":{"a":${'['.repeat(200)}${']'.repeat(200)}},`)],
  ])('%s give a message, not an overflow', (_, text) => {
    const lines = linesOf(text);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(/nests|nesting/);
  });
});

describe('a key written twice', () => {
  test.each([
    ['{"format":"lacuna/1",', 'format'],
    ['{"notes":{"a":1,"b":{"c":1,"c":2}},', 'notes.b.c'],
    ['{"notes":{"a":1,"\\u0061":2},', 'notes.a'],
    ['{"notes":{"a:b":1,"a\\u003ab":2},', 'notes["a:b"]'],
    ['{"notes":{"__proto__":1,"__proto__":2},', 'notes.__proto__'],
    ['{"notes":{"list":[0,{"x":0},{"y":0,"y":0}]},', 'notes.list[2].y'],
  ])('%s is refused at %s', (start, path) => {
    expect(linesOf(sample.replace('{', start))).toEqual([
      `${path}: is written more than once in one object. Keep one of them.`,
    ]);
  });

  test('is told with the list position of its object', () => {
    const text = sample.replace('"kind":"heater"', '"kind":"heater","base":0');
    expect(linesOf(text)).toEqual(['sources[0].base: is written more than once in one object. Keep one of them.']);
  });

  test('cannot hide behind colons in texts', () => {
    expect(linesOf(sample.replace('{', '{"notes":{"a":"x","a":"\\u003a"},'))).toHaveLength(1);
    expect(linesOf(sample.replace('{', '{"notes":"a: b: \\u003a c",'))).toEqual([]);
  });

  test('is found in any object, and nothing else is', () => {
    const key = fc.constantFrom('a', 'b', 'c:', '\\u0061', '__proto__');
    const { value } = fc.letrec<{ value: { text: string; repeats: number } }>((tie) => ({
      value: fc.oneof(
        { maxDepth: 4 },
        fc.constantFrom('1', '"x:y"', 'null', '[]', '{}').map((text) => ({ text, repeats: 0 })),
        fc.array(fc.tuple(key, tie('value')), { maxLength: 4 }).map((members) => ({
          text: `{${members.map(([name, member]) => `"${name}":${member.text}`).join(',')}}`,
          repeats:
            members.reduce((sum, [, member]) => sum + member.repeats, 0) +
            members.length -
            new Set(members.map(([name]) => JSON.parse(`"${name}"`))).size,
        })),
        fc.array(tie('value'), { maxLength: 3 }).map((items) => ({
          text: `[${items.map((item) => item.text).join(',')}]`,
          repeats: items.reduce((sum, item) => sum + item.repeats, 0),
        })),
      ),
    }));
    let repeated = 0;
    fc.assert(
      fc.property(value, ({ text, repeats }) => {
        const lines = linesOf(sample.replace('{', `{"notes":{"in":${text}},`));
        if (repeats > 0) repeated++;
        expect(lines.filter((line) => line.includes('more than once'))).toHaveLength(repeats);
        expect(lines).toHaveLength(repeats);
      }),
      { seed: 11, numRuns: 500 },
    );
    expect(repeated).toBeGreaterThan(50);
  });
});

describe('what no JSON file can hold', () => {
  test('a number beyond the largest is refused where it stands', () => {
    expect(linesOf(sample.replace('"ceiling":3', '"ceiling":1e999'))).toEqual([
      'rooms[0].ceiling: is a number too large to hold. Give a finite number.',
    ]);
    expect(linesOf(sample.replace('{', '{"notes":{"a":[1,-1e400]},'))).toEqual([
      'notes.a[1]: is a number too large to hold. Give a finite number.',
    ]);
  });

  test('keys of the prototype are harmless', () => {
    expect(linesOf(sample.replace('{', '{"notes":{"__proto__":{"polluted":1},"constructor":2},'))).toEqual([]);
    expect(linesOf(sample.replace('{', '{"__proto__":{"name":"x"},'))).toEqual([
      expect.stringMatching(/^__proto__: is a key this format does not know\./),
    ]);
    expect(linesOf(sample.replace('"name":"Sample",', '"__proto__":{"name":"x"},'))).toHaveLength(2);
    expect(({} as Record<string, unknown>).polluted).toBe(undefined);
  });

  test.each([
    ['NaN', Number.NaN, 'is no number'],
    ['a function', () => 0, 'is nothing a JSON file can hold'],
    ['a bigint', 1n, 'is nothing a JSON file can hold'],
    ['a date', new Date(0), 'is an object of a class'],
  ])('a value with %s is refused', (_, thing, what) => {
    const parsed = validateFloor({ ...createSampleFloor(), notes: { thing } });
    expect(parsed.ok ? [] : parsed.faults.map(({ path, what }) => [path, what])).toEqual([['notes.thing', what]]);
  });

  test('a cycle is refused', () => {
    const notes: Record<string, unknown> = {};
    notes.self = notes;
    const parsed = validateFloor({ ...createSampleFloor(), notes });
    expect(parsed.ok ? [] : parsed.faults.map(({ what }) => what)).toEqual(['goes too deep']);
  });

  test('a key without a value counts as left out', () => {
    expect(validateFloor({ ...createSampleFloor(), notes: undefined }).ok).toBe(true);
    const parsed = validateFloor({ ...createSampleFloor(), name: undefined });
    expect(parsed.ok ? [] : parsed.faults.map(formatFault)).toEqual([
      'name: is missing. Give a text of at most 1000 characters.',
    ]);
  });
});

describe('the format', () => {
  test('of a newer Lacuna is told by name', () => {
    expect(listFaultLines((floor) => (floor.format = 'lacuna/2'))).toEqual([
      'This file is from a newer Lacuna (lacuna/2). This one reads lacuna/1.',
    ]);
  });

  test.each([
    ['lacuna/0', 'format: is "lacuna/0". This Lacuna reads "lacuna/1".'],
    ['lacuna/1 ', 'format: is "lacuna/1 ". This Lacuna reads "lacuna/1".'],
    [7, 'format: is 7. This Lacuna reads "lacuna/1".'],
    [undefined, 'format: is missing. This Lacuna reads "lacuna/1".'],
  ])('%j is refused', (format, line) => {
    expect(listFaultLines((floor) => (floor.format = format))).toEqual([line]);
  });
});

describe('reading JSON step by step', () => {
  test('agrees with the native parser on what is JSON', () => {
    const text = fc.oneof(
      fc.json(),
      fc.string({ unit: fc.constantFrom(...'{}[]",:\\0123456789.eE+-truefalsn \n\tu'), maxLength: 30 }),
      fc.tuple(fc.json({ maxDepth: 3 }), fc.nat(), fc.constantFrom('', '"', ',', ']', '0')).map(([json, at, patch]) => {
        const cut = at % (json.length + 1);
        return json.slice(0, cut) + patch + json.slice(cut + 1);
      }),
    );
    let [valid, invalid] = [0, 0];
    fc.assert(
      fc.property(text, (json) => {
        let isJson = true;
        try {
          JSON.parse(json);
        } catch {
          isJson = false;
        }
        if (isJson) valid++;
        else invalid++;
        const stop = readJsonSteps(json, () => undefined);
        expect(stop === undefined).toBe(isJson);
        if (stop !== undefined) expect(stop.at).toBeLessThanOrEqual(json.length);
      }),
      { seed: 5, numRuns: 5_000 },
    );
    expect(Math.min(valid, invalid)).toBeGreaterThan(1_000);
  });
});

test('a floor that is accepted comes with its file as it was written', () => {
  const parsed = parseFloor(sample);
  expect(parsed.ok && parsed.file).toEqual(JSON.parse(sample));
});
