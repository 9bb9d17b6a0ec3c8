import { expect, test } from 'vitest';
import type { FloorFile, Ring } from '../../../src/core/floor/index.ts';
import { computeSignedArea } from '../../../src/core/geometry/polygon.ts';
import { applyEdit } from '../../../src/editor/edits/edit.ts';
import { listWallLengths, setWallLength } from '../../../src/editor/edits/wall-lengths.ts';

/** An L of 6 m by 6 m with 3 m by 2 m left out, and a room beside it behind a wall of 0.1 m. */
const L: Ring = [
  [0, 0],
  [6, 0],
  [6, 4],
  [3, 4],
  [3, 6],
  [0, 6],
];
const BESIDE: Ring = [
  [6.1, 0],
  [9, 0],
  [9, 4],
  [6.1, 4],
];

function floorOf(outline: Ring): FloorFile {
  const room = (id: string, ring: Ring) => ({ id, name: id, outline: [...ring], ceiling: 3 });
  return {
    format: 'lacuna/1',
    name: '',
    rooms: [room('L', outline), room('beside', BESIDE)],
    types: [],
    detectors: [],
  };
}

function setLength(file: FloorFile, edge: number, length: number): readonly Ring[] {
  const applied = applyEdit(file, setWallLength(file, 'L', edge, length));
  if (!applied.ok) throw new Error(`${applied.what}. ${applied.remedy}`);
  return applied.file.rooms.map(({ outline }) => outline);
}

const lengthsOf = (outline: Ring): readonly number[] =>
  listWallLengths({ outline }, 90).map(({ length }) => Math.round(length * 1e6) / 1e6);

test('walls are told by the side they stand on, those of one side by their number, whatever the winding', () => {
  const words = (outline: Ring) =>
    listWallLengths({ outline }, 90).map(({ side, number }) => `${side} ${number ?? ''}`.trim());
  expect(words(L)).toEqual(['south', 'east 1', 'north 1', 'east 2', 'north 2', 'west']);
  expect(words([...L].reverse()).sort()).toEqual(words(L).toSorted());
  expect(lengthsOf(L)).toEqual([6, 4, 3, 2, 3, 6]);
});

test('a wall made longer moves the wall at its end, and the room beside gives way', () => {
  const [own, beside] = setLength(floorOf(L), 0, 6.5);
  expect(lengthsOf(own ?? [])).toEqual([6.5, 4, 3.5, 2, 3, 6]);
  expect(beside?.map(([x]) => Math.round(x * 1e6) / 1e6)).toEqual([6.6, 9, 9, 6.6]);
});

test('at a corner that points inwards too, the wall has the length that was asked for', () => {
  const [own] = setLength(floorOf(L), 2, 2);
  expect(lengthsOf(own ?? [])[2]).toBe(2);
  expect(Math.abs(computeSignedArea(own ?? []))).toBeCloseTo(6 * 4 + 4 * 2, 9);
});

test('at a slanted corner the length is that of the wall, not of the way the other has gone', () => {
  const slanted: Ring = [
    [0, 0],
    [5, 0],
    [4, 3],
    [0, 3],
  ];
  const [own] = setLength(floorOf(slanted), 0, 5.5);
  expect(lengthsOf(own ?? [])[0]).toBe(5.5);
});

test('a wall that goes straight on, and one that would vanish, are refused with the way out', () => {
  const straight: Ring = [
    [0, 0],
    [3, 0],
    [6, 0],
    [6, 4],
    [0, 4],
  ];
  expect(setWallLength(floorOf(straight), 'L', 0, 4)).toMatchObject({
    ok: false,
    remedy: expect.stringContaining('corner'),
  });
  expect(setWallLength(floorOf(L), 'L', 9, 4).ok).toBe(false);
  const file = floorOf(L);
  expect(applyEdit(file, setWallLength(file, 'L', 2, 6.5)).ok).toBe(false);
});
