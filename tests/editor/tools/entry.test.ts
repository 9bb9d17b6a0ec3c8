import { describe, expect, test } from 'vitest';
import { readPlace, readTyped, SIGNED_START, typeInto } from '../../../src/editor/tools/entry.ts';
import { readFurnitureEntry } from '../../../src/editor/tools/furniture-entry.ts';
import type { KeyToolEvent } from '../../../src/editor/tools/tool.ts';
import { sayArea, sayLength, sayPlace } from '../../../src/editor/tools/words.ts';

const key = (name: string, ctrl = false, alt = false): KeyToolEvent => ({
  type: 'key',
  key: name,
  modifiers: { shift: false, alt, ctrl },
});

describe('typing', () => {
  test('begins with a number and then takes everything', () => {
    expect(typeInto('', key('5'))).toBe('5');
    expect(typeInto('', key('m'))).toBeNull();
    expect(typeInto('5', key('m'))).toBe('5m');
    expect(typeInto('5', key(' '))).toBe('5 ');
    expect(typeInto('', key(' '))).toBeNull();
    expect(typeInto('5', key('z', true))).toBeNull();
    expect(typeInto('5', key('Enter'))).toBeNull();
  });
  test('takes signs that a keyboard writes with Alt or AltGr, and no commands', () => {
    expect(typeInto('5', key('@', true, true))).toBe('5@');
    expect(typeInto('5', key('@', false, true))).toBe('5@');
    expect(typeInto('5', key('2', false, true))).toBeNull();
    expect(typeInto('5', key('-', true))).toBeNull();
  });
  test('leaves plus and minus to the page until something is typed', () => {
    expect(typeInto('', key('-'))).toBeNull();
    expect(typeInto('', key('-'), SIGNED_START)).toBe('-');
    expect(typeInto('0', key('-'))).toBe('0-');
    expect(typeInto('', { type: 'text', text: '-3 4' })).toBe('-3 4');
  });
  test('takes a character back, and none where there is none', () => {
    expect(typeInto('5😀', key('Backspace'))).toBe('5');
    expect(typeInto('', key('Backspace'))).toBeNull();
  });
  test('takes a text that came at once, on one line', () => {
    expect(typeInto('', { type: 'text', text: ' 5.4\n8.1' })).toBe('5.4 8.1');
    expect(typeInto('', { type: 'text', text: 'hello' })).toBeNull();
  });
});

describe('what was typed reads as', () => {
  test.each([
    ['5.4', [5.4], null],
    ['5,4 8.1', [5.4, 8.1], null],
    ['5.4 @30', [5.4], 30],
    ['@ 45 + 15', [], 60],
    ['3 -2', [3, -2], null],
    ['3 - 2', [1], null],
    ['3.6+1.2 2', [4.8, 2], null],
    ['245 cm 1 m', [2.45, 1], null],
    ['8 ft 2 in 3 ft', [2.4892, 0.9144], null],
    ['', [], null],
  ] as const)('%j', (text, numbers, angle) => {
    const read = readTyped(text, 'metres');
    expect(read.ok).toBe(true);
    if (!read.ok) return;
    expect(read.numbers.map((each) => Math.round(each * 1e6) / 1e6)).toEqual(numbers);
    expect(read.angle).toBe(angle);
  });
  test.each(['five', '5 @3 @4', '5 @x', '5 furlongs'])('nothing, with what would be right: %j', (text) => {
    const read = readTyped(text, 'metres');
    expect(read).toMatchObject({ ok: false, remedy: expect.stringMatching(/^Write .*\.$/) });
  });
  test('a place', () => {
    expect(readPlace('at 3.2 -4.5', 'metres')).toEqual([3.2, -4.5]);
    expect(readPlace('at 3.2', 'metres')).toMatchObject({ remedy: expect.any(String) });
    expect(readPlace('3.2 4.5', 'metres')).toBeNull();
    expect(readPlace('attic 3', 'metres')).toBeNull();
  });
});

test.each([
  ['1.6 0.8', { kind: 'size', length: 1.6, width: 0.8, top: null }],
  ['160 cm 80 cm 1.4', { kind: 'size', length: 1.6, width: 0.8, top: 1.4 }],
  ['row 4', { kind: 'row', count: 4, pitch: null, rows: 1, rowPitch: null }],
  ['row 4 1.6', { kind: 'row', count: 4, pitch: 1.6, rows: 1, rowPitch: null }],
  ['ROW 4 160 cm 3 4.5', { kind: 'row', count: 4, pitch: 1.6, rows: 3, rowPitch: 4.5 }],
  ['x2', { kind: 'mirror', screen: null }],
  ['x2 1.4', { kind: 'mirror', screen: 1.4 }],
] as const)('furniture reads %j', (text, entry) => {
  expect(readFurnitureEntry(text, 'metres')).toEqual(entry);
});

test.each(['row', 'row x', 'row 0', 'row 4 1.6 0', 'x3', 'x2 0', '1 2 3 4', 'r', '@30'])(
  'furniture says what would be right for %j',
  (text) => {
    expect(readFurnitureEntry(text, 'metres')).toMatchObject({
      kind: 'unread',
      remedy: expect.stringMatching(/^Write /),
    });
  },
);

describe('lengths in words', () => {
  test.each([
    [5.4, '5.40 m', `17' 8 5/8"`],
    [0, '0.00 m', '0"'],
    [-0.001, '0.00 m', '0"'],
    [-1.2, '−1.20 m', `−3' 11 1/4"`],
    [0.3048, '0.30 m', `1' 0"`],
    [0.0127, '0.01 m', '1/2"'],
    [0.0381, '0.04 m', '1 1/2"'],
  ])('%d', (metres, inMetres, inFeet) => {
    expect(sayLength(metres, 'metres')).toBe(inMetres);
    expect(sayLength(metres, 'feet')).toBe(inFeet);
  });
  test('places and areas', () => {
    expect(sayPlace([3.2, -4.5], 'metres')).toBe('3.20, −4.50');
    expect(sayArea(43.68, 'metres')).toBe('43.7 m²');
    expect(sayArea(9.290304, 'feet')).toBe('100 sq ft');
  });
});
