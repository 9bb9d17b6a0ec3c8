import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parseWorkplaces } from '../../../src/editor/edits/workplace-table.ts';
import { addWorkplaces, setFacing, setPosture, setWorkplaceRadius } from '../../../src/editor/edits/workplaces.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

const inMetres = (text: string) => parseWorkplaces(text, 'metres');

test('a list with semicolons and decimal commas is read line by line', () => {
  expect(inMetres('Anna;3,25;4;90;seated\nBen;1;2,5;;standing\r\n\r\n;7;8\n')).toEqual({
    items: [
      { name: 'Anna', at: [3.25, 4], facing: 90, posture: 'seated' },
      { name: 'Ben', at: [1, 2.5], posture: 'standing' },
      { at: [7, 8] },
    ],
    faults: [],
  });
});

test('tabs part cells before semicolons do, and commas part them last', () => {
  expect(inMetres('Seat; left\t1,5\t2').items).toEqual([{ name: 'Seat; left', at: [1.5, 2] }]);
  expect(inMetres('Seat,1.5,2,-90').items).toEqual([{ name: 'Seat', at: [1.5, 2], facing: -90 }]);
});

test('quoted names hold separators, quotation marks and line ends', () => {
  const text = '"Miller, ""Jo""\nby the window",1,2\n"Seat; 2",3,4\n5" ledge,6,7';
  expect(inMetres(text)).toEqual({
    items: [
      { name: 'Miller, "Jo"\nby the window', at: [1, 2] },
      { name: 'Seat; 2', at: [3, 4] },
      { name: '5" ledge', at: [6, 7] },
    ],
    faults: [],
  });
});

test('headings put the columns in another order and state the unit', () => {
  const text = '\uFEFFy (mm);X [mm];Direction (°);Seat no;Posture;Radius\n2500;1000;45;7;Standing;60 cm\n1 m;20;;;;\n';
  expect(inMetres(text)).toEqual({
    items: [{ at: [1, 2.5], facing: 45, posture: 'standing', radius: 0.6 }, { at: [0.02, 1] }],
    faults: [],
  });
  expect(inMetres('Name\tx in cm\ty in cm\nA\t250\t200+100\nB\t2 m\t1').items).toEqual([
    { name: 'A', at: [2.5, 3] },
    { name: 'B', at: [2, 0.01] },
  ]);
});

test('lengths may carry units, feet and sums', () => {
  expect(inMetres('A;245 cm;8\' 2"\nB;3.6+1.2;−1').items).toEqual([
    { name: 'A', at: [2.45, expect.closeTo(2.4892, 9)] },
    { name: 'B', at: [expect.closeTo(4.8, 9), -1] },
  ]);
});

test('each bad line is told by its number, and the others stand', () => {
  const { items, faults } = inMetres(
    ['A;1;2', '"two', 'lines";here;2', 'C;1', 'D;1;2;north', 'E;1;2;;lying', 'F;1;2;;;;x', 'G;99999;0', 'H;5;6'].join(
      '\n',
    ),
  );
  expect(items).toEqual([
    { name: 'A', at: [1, 2] },
    { name: 'H', at: [5, 6] },
  ]);
  expect(faults.map(({ line, what }) => [line, what])).toEqual([
    [2, 'x is "here"'],
    [4, 'y is missing'],
    [5, 'Facing is "north"'],
    [6, 'Posture is "lying"'],
    [7, 'The line has 7 cells and there are 5 columns'],
    [8, 'x is 99999 m'],
  ]);
  for (const { remedy } of faults) expect(remedy).toMatch(/^[A-Z].*\.$/);
});

test('headings without places, and marks that are not closed, are told', () => {
  expect(inMetres('Name;Facing\nA;90')).toEqual({
    items: [],
    faults: [{ line: 1, what: 'The headings name no x and y', remedy: 'Call two columns x and y.' }],
  });
  expect(inMetres('Name;x\nA;90').faults[0]?.what).toBe('The headings name no y');
  expect(inMetres('x;y;x\n1;2;3').faults[0]?.what).toBe('Two columns are called x');
  expect(inMetres('A;1;2\n"B;1;2').faults).toEqual([
    { line: 2, what: 'A quotation mark is not closed', remedy: 'Close it with another ".' },
  ]);
  expect(inMetres('')).toEqual({ items: [], faults: [] });
});

test('any text is read without throwing, and every line of a fault exists', () => {
  const scraps = fc.constantFrom(
    'a',
    '1',
    ',',
    ';',
    '\t',
    '"',
    '""',
    '\n',
    '\r\n',
    ' ',
    'x',
    'y',
    '__proto__',
    '=1+1',
    '°',
    '\u202E',
  );
  fc.assert(
    fc.property(fc.array(fc.oneof(scraps, fc.string()), { maxLength: 40 }), (parts) => {
      const text = parts.join('');
      const { items, faults } = inMetres(text);
      const lines = text.split(/\r\n?|[\n\u2028\u2029]/).length;
      for (const { line } of faults) expect(line).toBeLessThanOrEqual(lines);
      for (const { at } of items) expect(at.every(Number.isFinite)).toBe(true);
    }),
    { seed: 5, numRuns: 1000 },
  );
});

test('texts of many marks are read in time that grows with their length only', () => {
  for (const text of [
    '"'.repeat(2e5),
    '"a\n'.repeat(6e4),
    ';'.repeat(2e5),
    '"a";'.repeat(2e5),
    'a;1;2\n'.repeat(4e4),
  ]) {
    const start = performance.now();
    inMetres(text);
    expect(performance.now() - start).toBeLessThan(5000);
  }
}, 60_000);

test('workplaces are added as they were read; a name that is missing is the next number', () => {
  const { items } = inMetres('=SUM(A1);3;4;450;standing\n;1;2');
  const asked = planned(addWorkplaces(TRIAL_FLOOR, items));
  expect(asked.name).toBe('Added 2 workplaces');
  expect(made(TRIAL_FLOOR, asked).workplaces?.slice(2)).toEqual([
    { id: 'W3', name: '=SUM(A1)', at: [3, 4], facing: 90, posture: 'standing' },
    { id: 'W4', name: '3', at: [1, 2] },
  ]);
  expect(refusalOf(addWorkplaces(TRIAL_FLOOR, []))).toMatch(/^There is no workplace to add/);
});

test('radius, facing and posture are set on several', () => {
  const radius = made(TRIAL_FLOOR, setWorkplaceRadius(TRIAL_FLOOR, ['W1', 'W2'], 0.4));
  expect(radius.workplaces?.map((each) => each.radius)).toEqual([0.4, 0.4]);
  const facing = made(TRIAL_FLOOR, setFacing(TRIAL_FLOOR, ['W2'], -90));
  expect(facing.workplaces?.[1]?.facing).toBe(270);
  expect(made(facing, setFacing(facing, ['W2'], null)).workplaces?.[1]).toEqual(TRIAL_FLOOR.workplaces?.[1]);
  const asked = planned(setPosture(TRIAL_FLOOR, ['W1'], 'standing'));
  expect(asked.name).toBe('Set the posture at workplace 1');
  expect(made(TRIAL_FLOOR, asked).workplaces?.[0]?.posture).toBe('standing');
  expect(refusalOf(setWorkplaceRadius(TRIAL_FLOOR, ['W1'], 11))).toMatch(/above 0 and up to 10 m/);
});

test('in feet a length without a unit is feet, also in a heading that names none; a heading with one decides', () => {
  expect(parseWorkplaces('A;10;3 m', 'feet').items).toEqual([{ name: 'A', at: [3.048, 3] }]);
  expect(parseWorkplaces('name;x;y\nA;10;20', 'feet').items).toEqual([{ name: 'A', at: [3.048, 6.096] }]);
  expect(parseWorkplaces('name;x (m);y (m)\nA;10;20', 'feet').items).toEqual([{ name: 'A', at: [10, 20] }]);
});
