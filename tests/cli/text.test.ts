import { describe, expect, test } from 'vitest';
import { cutToCells, escapeJson, escapeText, formatTable, measureCells, wrapText } from '../../src/cli/text.ts';

describe('escapeText', () => {
  test('a name cannot move the cursor, end the line or turn the writing', () => {
    expect(escapeText('a\u001b[2Jb\r\nc\u202ed\u2066e\u0007\u009b\u2028')).toBe(
      'a\\u{1b}[2Jb\\u{d}\\u{a}c\\u{202e}d\\u{2066}e\\u{7}\\u{9b}\\u{2028}',
    );
  });

  test('letters of any script stay', () => {
    const names = 'Büro 4, 会議室, חדר, क्षेत्र, 👩‍💻 m²';
    expect(escapeText(names)).toBe(names);
  });
});

test('escapeJson gives the same document without anything a terminal obeys', () => {
  const value = { 'k\u202e': ['a\u001b[31m', '\u009b1m', '\u{e0041}', 'tab\t', '\ud800', 'é'] };
  const text = escapeJson(JSON.stringify(value, null, 2));
  expect(
    [...text].filter((letter) => /[\p{Cc}\u202a-\u202e\u{e0000}-\u{e007f}]/u.test(letter) && letter !== '\n'),
  ).toEqual([]);
  expect(JSON.parse(text)).toEqual(value);
});

describe('measureCells', () => {
  test.each([
    ['plain', 5],
    ['Büro', 4],
    ['e\u0301', 1],
    ['会議室', 6],
    ['👩‍💻', 2],
    ['ｱ', 1],
    ['', 0],
  ])('%s takes %i', (text, cells) => expect(measureCells(text)).toBe(cells));
});

describe('formatTable', () => {
  test('columns stand under one another whatever the script, and numbers flush right', () => {
    const lines = formatTable(
      [{ title: 'room' }, { title: 'seen', flush: 'right' }, { title: 'by' }],
      [
        ['会議室', '9.5 %', 'D1'],
        ['Main', '100.0 %', 'D2, D3'],
      ],
    );
    expect(lines).toEqual(['  room       seen  by', '  会議室    9.5 %  D1', '  Main    100.0 %  D2, D3']);
  });

  test('a column with nothing in it is left out', () => {
    expect(formatTable([{ title: 'a' }, { title: 'b' }, { title: 'c' }], [['1', '', '3']])).toEqual([
      '  a  c',
      '  1  3',
    ]);
  });

  test('a cell cannot start a new line, and a very long one is cut', () => {
    const [, line] = formatTable(
      [{ title: 'name' }, { title: 'x' }],
      [[`evil\nAll workplaces are met.${'!'.repeat(90)}`, '1']],
    );
    expect(line).toContain('evil\\u{a}All');
    expect(line).toMatch(/… {2}1$/);
    expect(line!.length).toBeLessThan(70);
  });
});

test('cutToCells keeps whole letters', () => {
  expect(cutToCells('会議室の隣', 6)).toBe('会議…');
  expect(cutToCells('short', 6)).toBe('short');
});

test('wrapText keeps to the width and loses no word', () => {
  expect(wrapText('one two three four', 9)).toEqual(['one two', 'three', 'four']);
  expect(wrapText('unbreakable', 4)).toEqual(['unbreakable']);
});
