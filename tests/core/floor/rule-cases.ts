import { expect, test } from 'vitest';
import { type Loose, listFaultLines } from './sample-floor.ts';

/** A name, what is done to the sample floor, and the lines it is then refused with: none when it is accepted. */
export type Case = readonly [name: string, breakIt: (floor: Loose) => unknown, ...lines: readonly unknown[]];

/** One test a case. */
export const checkCases = (cases: readonly Case[]): void => {
  test.each(cases.map(([name, breakIt, ...lines]) => ({ name, breakIt, lines })))('$name', ({ breakIt, lines }) => {
    expect(listFaultLines((floor) => void breakIt(floor))).toEqual(lines);
  });
};

/** A square by its lower left corner. */
export const square = (x: number, y: number, side: number): number[][] => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
];
