import { describe, expect, test } from 'vitest';
import type { FloorFile } from '../../src/core/floor/index.ts';
import { resolveFloor } from '../../src/core/floor/index.ts';
import { applyEdit, type Edit } from '../../src/editor/edits/edit.ts';
import { moveUnderlay, putUnderlay, scaleUnderlay, setPlacement } from '../../src/editor/edits/underlays.ts';
import { SNAP_DEFAULTS } from '../../src/editor/snapping/snap-kinds.ts';
import { snapPoint } from '../../src/editor/snapping.ts';
import { underlayTool } from '../../src/editor/tools/underlay.ts';
import { readUnderlay, toFloor, type Underlay } from '../../src/editor/underlay.ts';
import { EMPTY_FLOOR, ToolTrial } from './tools/drive-tool.ts';

const PICTURE: Underlay = {
  name: 'scan.png',
  digest: 'abc',
  page: 1,
  width: 1000,
  height: 500,
  placement: { at: [2, 1], scale: 0.01, turn: 0, opacity: 0.5, locked: false },
};
const made = (file: FloorFile, edit: Edit): FloorFile => {
  const applied = applyEdit(file, edit);
  if (!applied.ok) throw new Error(applied.what);
  return applied.file;
};
const laid = made(EMPTY_FLOOR, putUnderlay(EMPTY_FLOOR, PICTURE, 'Laid'));
const placementOf = (file: FloorFile) => {
  const underlay = readUnderlay(file.notes);
  if (underlay === null) throw new Error('no picture');
  return underlay.placement;
};

describe('the picture in the floor file', () => {
  test('is read back, and free text of the notes stays', () => {
    expect(readUnderlay(laid.notes)).toEqual(PICTURE);
    const worded = { ...EMPTY_FLOOR, notes: 'measured in spring' };
    const both = made(worded, putUnderlay(worded, PICTURE, 'Laid'));
    expect(both.notes).toMatchObject({ text: 'measured in spring' });
    expect(made(both, putUnderlay(both, null, 'Taken')).notes).toBe('measured in spring');
    expect(made(laid, putUnderlay(laid, null, 'Taken'))).not.toHaveProperty('notes');
  });

  test('that makes no sense is none', () => {
    const faulty = [
      { width: 0 },
      { digest: 3 },
      { placement: null },
      { placement: { ...PICTURE.placement, scale: -1 } },
    ];
    for (const fault of [...faulty, { placement: { ...PICTURE.placement, at: [1] } }])
      expect(readUnderlay({ underlay: { ...PICTURE, ...fault } })).toBeNull();
    expect(readUnderlay('text')).toBeNull();
  });
});

describe('placing', () => {
  test('two places and their distance set the scale; the first stays', () => {
    // (2, 1) and (7, 1) are 5 m apart and shall be 10.
    const placement = placementOf(made(laid, scaleUnderlay(laid, [2, 1], [7, 1], 10, null)));
    expect(placement).toMatchObject({ at: [2, 1], scale: 0.02, turn: 0 });
    const about = placementOf(made(laid, scaleUnderlay(laid, [4, 3], [4, 5], 3, null)));
    expect(about.scale).toBeCloseTo(0.015, 12);
    const [x, y] = toFloor(about, 200, 200);
    expect([x, y]).toEqual([expect.closeTo(4, 12), expect.closeTo(3, 12)]);
  });

  test('with an angle it is turned too', () => {
    const placement = placementOf(made(laid, scaleUnderlay(laid, [3, 2], [6, 2], 6, 90)));
    expect(placement.turn).toBeCloseTo(90, 9);
    const [x, y] = toFloor(placement, 400, 100);
    expect([x, y]).toEqual([expect.closeTo(3, 9), expect.closeTo(8, 9)]);
  });

  test('a locked picture stays, and what has no size is refused', () => {
    const locked = made(laid, setPlacement(laid, { locked: true }, 'Locked'));
    expect(moveUnderlay(locked, [0, 0], [1, 1])).toMatchObject({ ok: false });
    expect(scaleUnderlay(locked, [0, 0], [1, 1], 2, null)).toMatchObject({ ok: false });
    expect(scaleUnderlay(laid, [1, 1], [1, 1], 2, null)).toMatchObject({ ok: false });
    expect(setPlacement(laid, { scale: 0 }, '')).toMatchObject({ ok: false });
    expect(setPlacement(EMPTY_FLOOR, { turn: 5 }, '')).toMatchObject({ ok: false });
  });
});

describe('lines of the picture', () => {
  const lines = Float64Array.of(100, 100, 900, 100);
  const settings = { ...SNAP_DEFAULTS, under: { lines, placement: { ...PICTURE.placement, at: [200, 100] as const } } };
  const floor = resolveFloor(laid);
  const snap = (x: number, y: number) => snapPoint(floor, settings, { at: [x, y], metresPerPixel: 0.02 });

  test('draw the hand to their ends and along themselves', () => {
    expect(snap(201.05, 101.08)).toMatchObject({
      at: [201, 101],
      kind: 'corner',
      words: 'end of a line of the picture',
    });
    expect(snap(204.02, 101.08)).toMatchObject({ kind: 'edge', words: 'line of the picture' });
    expect(snap(204.02, 101.08).at[1]).toBeCloseTo(101, 9);
    expect(snap(204.02, 103.08).kind).toBe('grid');
  });
});

test('the tool: two clicks, a typed distance, one step; then the picture is moved', () => {
  const tool = new ToolTrial(underlayTool, laid);
  tool.click(2, 1);
  tool.click(7, 1);
  expect(tool.intents).toEqual([]);
  tool.enter('10');
  expect(tool.intents).toEqual([{ kind: 'scale picture', from: [2, 1], to: [7, 1], length: 10, direction: null }]);
  expect(placementOf(tool.file).scale).toBeCloseTo(0.02, 12);
  tool.key('v');
  tool.click(2, 1);
  tool.click(3, 4);
  expect(tool.intents.at(-1)).toEqual({ kind: 'move picture', from: [2, 1], to: [3, 4] });
  expect(placementOf(tool.file).at).toEqual([3, 4]);
  expect(tool.names).toEqual(['Set the scale of the picture', 'Moved the picture']);
});
