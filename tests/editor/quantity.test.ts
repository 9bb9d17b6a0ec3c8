import { expect, test } from 'vitest';
import { parseQuantity, type QuantityRule } from '../../src/editor/quantity.ts';

const length: QuantityRule = { kind: 'length', min: 0, max: 50 };

test.each([
  ['2.4', 2.4],
  ['2,4', 2.4],
  ['2.4 m', 2.4],
  ['240 cm', 2.4],
  ['3.6+1.2', 4.8],
  ['3.6 - 1.2', 2.4],
  ['3.6 − 1.2', 2.4],
  ['8 ft', 2.4384],
  ['8ft 2in', 2.4892],
  [`8' 2"`, 2.4892],
  [`8' 2 1/2"`, 2.5019],
  ['5/8 in', 0.015875],
  ['1/2', 0.5],
  [`17' 8 5/8"`, 5.400675],
  ['.5', 0.5],
])('%s is %d m', (text, metres) => {
  const read = parseQuantity(text, length, 'metres');
  expect(read.ok && read.value).toBeCloseTo(metres, 9);
});

test.each([
  '',
  'abc',
  '2 4',
  '2..4',
  '2°',
  '1 ft 2',
  '1/0',
  '1/',
  '/2',
  '3 1/2 1/2',
  '--2',
  '2.4m3',
  '=1+1',
  'NaN',
  'Infinity',
  '1e3',
])('%j is refused with an example', (text) => {
  expect(parseQuantity(text, length, 'metres')).toEqual({
    ok: false,
    remedy: expect.stringContaining('Write metres, such as 2.4'),
  });
});

test('a value outside its bounds is answered with the bounds', () => {
  expect(parseQuantity('51', length, 'metres')).toEqual({ ok: false, remedy: 'Write at least 0 m and at most 50 m.' });
  expect(parseQuantity('0', { kind: 'number', above: 0, max: 2 }, 'metres')).toEqual({
    ok: false,
    remedy: 'Write above 0 and at most 2.',
  });
});

test('a check of its own answers in its own words', () => {
  const rule: QuantityRule = { kind: 'angle', check: (value) => (value < 40 ? 'Write more than 40°.' : null) };
  expect(parseQuantity('128°', rule, 'metres')).toEqual({ ok: true, value: 128 });
  expect(parseQuantity('12', rule, 'metres')).toEqual({ ok: false, remedy: 'Write more than 40°.' });
});

test.each([
  ['8', 2.4384],
  ['8.2', 2.49936],
  ['3 + 1.5', 1.3716],
  [`8' 2 1/2"`, 2.5019],
  ['6"', 0.1524],
  ['245 cm', 2.45],
  ['2.4 m', 2.4],
  ['8 + 6 in', 2.5908],
])('where lengths are shown in feet, %s is %d m', (text, metres) => {
  const read = parseQuantity(text, length, 'feet');
  expect(read.ok && read.value).toBeCloseTo(metres, 9);
});

test('where lengths are shown in feet, bounds and examples are in feet too; angles and numbers stay', () => {
  expect(parseQuantity('200', length, 'feet')).toEqual({
    ok: false,
    remedy: `Write at least 0" and at most 164' 1/2".`,
  });
  expect(parseQuantity('wide', length, 'feet')).toMatchObject({
    remedy: expect.stringContaining('Write feet, such as'),
  });
  expect(parseQuantity('30', { kind: 'angle' }, 'feet')).toEqual({ ok: true, value: 30 });
  expect(parseQuantity('0.9', { kind: 'number' }, 'feet')).toEqual({ ok: true, value: 0.9 });
});
