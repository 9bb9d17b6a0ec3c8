/** Drawings by others, read from the folder beside the repository. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { DxfAnswers } from '../../../src/importers/dxf/answers.ts';
import { readDxf } from '../../../src/importers/dxf/read.ts';
import { surveyDxf } from '../../../src/importers/dxf/survey.ts';
import { findOutsideFolder } from '../../outside/visibility-files.ts';

const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(join(findOutsideFolder('dxf'), name)));
const read = (name: string, answers: Partial<DxfAnswers> = {}) => {
  const source = readDxf(bytesOf(name), answers, () => {});
  if (!source.ok) throw new Error(source.reason);
  return source;
};
const survey = (name: string) => {
  const found = surveyDxf(bytesOf(name), {}, () => {});
  if (!found.ok) throw new Error(found.reason);
  return found;
};

test('a house drawn in inches is read in inches, although its header says millimetres', () => {
  const { unit, counts, layers } = survey('floorplan.dxf');
  expect(unit).toMatchObject({ header: 'mm', taken: 'in', standing: 'guessed' });
  expect(unit.reason).toContain('This drawing seems to be in inches.');
  expect(counts.LINE).toBeGreaterThanOrEqual(624);
  expect(counts.LWPOLYLINE).toBeGreaterThanOrEqual(124);
  const title = (kind: string) => layers.filter(({ guess }) => guess === kind).map((layer) => layer.title);
  expect(title('wall')).toEqual(['A-WALL']);
  expect(title('opening')).toEqual(['A-OPENING']);
  expect(title('cabinet')).toEqual(['A-CASE-1']);
});

test('the doors of the house stand at their jambs, in the middle of their walls', () => {
  const [storey] = read('floorplan.dxf').storeys;
  const doors = storey?.openings.filter(({ kind }) => kind === 'door') ?? [];
  expect(doors).toHaveLength(10);
  const widths = doors.map(({ from, to }) => Math.hypot(to[0] - from[0], to[1] - from[1]) / 0.0254).map(Math.round);
  expect(widths.sort()).toEqual([24, 28, 30, 30, 30, 30, 30, 30, 36, 36]);
  // Walls of 4 and 6 inches; the first door, of handle 157A, is 30 wide at x −93.77 to −89.77, y 91.87 to 121.87.
  for (const { depth } of doors) expect([4, 6]).toContain(Math.round((depth ?? 0) / 0.0254));
  const first = doors.find(({ key }) => key === '157A');
  expect(first?.from[0]).toBeCloseTo(-91.77292602758018 * 0.0254, 9);
  expect(first?.from[1]).toBeCloseTo(121.8671317615637 * 0.0254, 9);
  expect(first?.to[1]).toBeCloseTo(91.8671317615637 * 0.0254, 9);
  expect(storey?.labels?.map(({ text }) => text)).toContain('GREAT ROOM');
});

test('a walkable area with obstacles is one room with holes', () => {
  const { storeys, remarks } = read('ISO-Office.dxf');
  expect(storeys[0]?.rooms).toHaveLength(1);
  const room = storeys[0]?.rooms[0];
  expect(room?.outline).toHaveLength(4);
  expect(room?.holes.map((hole) => hole.length)).toEqual([20, 36, 52]);
  expect(remarks).toContainEqual(
    expect.objectContaining({ fate: 'left out', what: 'entities of type IMAGE', count: 1 }),
  );
  expect(read('ISO-Corner.dxf').storeys[0]?.rooms[0]?.outline).toHaveLength(6);
});

test('one outline in text and binary, from R12 to 2004, is the same', () => {
  const names = ['trimesh_uc.r12a.dxf', 'trimesh_uc.r12b.dxf', 'trimesh_uc.r14a.dxf', 'trimesh_uc.r2004a.dxf'];
  for (const name of names) {
    const { storeys } = read(name, { unit: 'm' });
    const outline = storeys[0]?.rooms[0]?.outline ?? [];
    expect(outline).toHaveLength(4);
    const corners = outline.map(([x, y]) => `${Math.round(x * 1e9) / 1e9},${Math.round(y * 1e9) / 1e9}`).sort();
    expect(corners).toEqual(['0,0', '0,1', '1,0', '1,1']);
  }
});
