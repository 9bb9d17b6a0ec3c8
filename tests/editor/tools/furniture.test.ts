import { describe, expect, test } from 'vitest';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { furnitureTool } from '../../../src/editor/tools/furniture.ts';
import { EMPTY_FLOOR, ToolTrial } from './drive-tool.ts';
import { MIXED_FLOOR } from './mixed-floor.ts';

const ROOM: FloorFile = {
  ...EMPTY_FLOOR,
  rooms: [
    {
      id: 'R1',
      name: 'Room',
      outline: [
        [0, 0],
        [30, 0],
        [30, 20],
        [0, 20],
      ],
      ceiling: 3,
    },
  ],
};

const begin = (letter: string) => {
  const trial = new ToolTrial(furnitureTool, ROOM);
  trial.key(letter);
  return trial;
};

describe('furniture', () => {
  test('a desk is set by a click, with its workplace', () => {
    const trial = begin('d');
    trial.click(5, 5);
    expect(trial.file.furniture).toMatchObject([
      {
        kind: 'desk',
        outline: [
          [4.2, 4.6],
          [5.8, 4.6],
          [5.8, 5.4],
          [4.2, 5.4],
        ],
      },
    ]);
    expect(trial.file.workplaces).toMatchObject([{ at: [5, 4.25], facing: 90 }]);
  });

  test('nothing is set before a kind is chosen', () => {
    const trial = new ToolTrial(furnitureTool, ROOM);
    expect(trial.click(5, 5)).toMatchObject({ refused: true, commit: null });
    expect(trial.said.at(-1)).toContain('Choose a kind first: D desk');
  });

  test('a screen is as long as the line it is dragged along', () => {
    const trial = begin('s');
    trial.drag([
      [2, 2],
      [3, 2.02],
      [6.4, 2.01],
    ]);
    expect(trial.intents).toMatchObject([
      { kind: 'piece', at: [4.2, 2], turn: 0, entry: { length: 4.4, width: 0.04 } },
    ]);
  });

  test('a desk dragged along a line keeps its size and begins where the line does', () => {
    const trial = begin('d');
    trial.drag([
      [2, 2],
      [2.01, 3],
      [2.02, 6],
    ]);
    expect(trial.intents).toMatchObject([{ kind: 'piece', at: [2, 2.8], turn: 90, entry: { length: 1.6 } }]);
  });

  test('a length typed while the line is dragged takes over', () => {
    const trial = begin('p');
    trial.pointer('move', [2, 2]);
    trial.pointer('down', [2, 2]);
    trial.pointer('move', [5, 2]);
    trial.enter('2.45');
    expect(trial.intents).toMatchObject([{ kind: 'piece', at: [3.225, 2], turn: 0, entry: { length: 2.45 } }]);
    // The button is still down: letting go sets nothing more.
    trial.pointer('move', [6, 2]);
    expect(trial.pointer('up', [6, 2]).commit).toBeNull();
    expect(trial.file.furniture).toHaveLength(1);
  });

  test('a row goes on from the piece set last, and x2 mirrors it back to back with a screen', () => {
    const trial = begin('d');
    trial.click(5, 5);
    trial.enter('row 4 1.6');
    expect(trial.file.furniture).toHaveLength(4);
    expect(trial.file.workplaces).toHaveLength(4);
    expect(trial.file.furniture?.map(({ outline }) => outline[0])).toEqual([
      [4.2, 4.6],
      [5.8, 4.6],
      [7.4, 4.6],
      [9, 4.6],
    ]);
    trial.enter('x2 1.4');
    expect(trial.file.furniture).toHaveLength(12);
    expect(trial.file.workplaces).toHaveLength(8);
    const screens = trial.file.furniture?.filter(({ kind }) => kind === 'screen') ?? [];
    expect(screens.map(({ outline, top }) => [outline[0], outline[2], top])[3]).toEqual([[9, 5.4], [10.6, 5.44], 1.4]);
    const seats = trial.file.workplaces?.slice(4).map(({ at, facing }) => [at, facing]);
    expect(seats?.[0]).toEqual([[5, 6.59], 270]);
    expect(trial.names).toEqual(['Added Desk 1', 'Added 3 pieces and 3 workplaces', 'Added 8 pieces and 4 workplaces']);
  });

  test('a row of the same pieces is what is made at once when it is typed before', () => {
    const after = begin('d');
    after.click(5, 5);
    after.enter('row 3 1.6 2 4');
    const before = begin('d');
    before.enter('row 3 1.6 2 4');
    before.click(5, 5);
    const outlines = ({ file }: { readonly file: FloorFile }) =>
      file.furniture?.map(({ outline }) => JSON.stringify(outline)).sort();
    expect(outlines(after)).toEqual(outlines(before));
    expect(before.intents).toHaveLength(1);
  });

  test('a row that stands is not set twice', () => {
    const trial = begin('d');
    trial.click(5, 5);
    trial.enter('row 3 1.6');
    expect(trial.enter('row 3 1.6').refused).toBe(true);
    expect(trial.enter('row 5 2').refused).toBe(true);
    trial.enter('row 5 1.6');
    expect(trial.file.furniture).toHaveLength(5);
    trial.enter('x2');
    expect(trial.enter('x2').refused).toBe(true);
    expect(trial.file.furniture).toHaveLength(10);
  });

  test('sizes are typed, and the piece is turned while it is in hand', () => {
    const trial = begin('c');
    trial.enter('1.2 0.5 1.95');
    trial.key('[');
    trial.key('{');
    trial.keys(']', 1);
    trial.keys('[', 6);
    trial.key('}');
    trial.click(5, 5);
    expect(trial.intents).toMatchObject([{ turn: 90, entry: { length: 1.2, width: 0.5, top: 1.95 } }]);
  });

  test('a piece rests by its corner in the corner of the room', () => {
    const trial = begin('v');
    trial.click(0.55, 0.25);
    expect(trial.intents).toMatchObject([{ at: [0.5, 0.2] }]);
  });

  test('is set by keys alone', () => {
    const trial = begin('d');
    trial.key('Enter');
    trial.keys('ArrowLeft', 20);
    trial.key('ArrowUp', { shift: true });
    trial.key('Enter');
    expect(trial.intents).toMatchObject([{ kind: 'piece', at: [13, 10.2] }]);
    trial.enter('at 3.25 4');
    expect(trial.intents.at(-1)).toMatchObject({ at: [3.25, 4] });
  });

  test('the letter again takes the next of its kind from the catalogue', () => {
    const entry = { kind: 'desk', width: 0.8, base: 0.7, top: 0.74 } as const;
    const trial = new ToolTrial(furnitureTool, ROOM, {
      catalogue: [
        { ...entry, name: 'Desk 1.6 m', length: 1.6 },
        { ...entry, name: 'Desk 1.4 m', length: 1.4 },
      ],
    });
    trial.key('d');
    trial.key('d');
    expect(trial.state.entry?.length).toBe(1.4);
    trial.key('d');
    expect(trial.state.entry?.length).toBe(1.6);
  });

  test('cancelling a drag puts nothing down', () => {
    const trial = new ToolTrial(furnitureTool, MIXED_FLOOR);
    trial.key('s');
    trial.pointer('down', [2, 2]);
    trial.pointer('move', [5, 2]);
    trial.cancel();
    expect(trial.pointer('up', [5, 2]).commit).toBeNull();
    expect(trial.file).toBe(MIXED_FLOOR);
  });
});
