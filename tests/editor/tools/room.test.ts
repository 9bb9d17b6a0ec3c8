import { describe, expect, test } from 'vitest';
import type { Ring } from '../../../src/core/floor/index.ts';
import { roomTool } from '../../../src/editor/tools/room.ts';
import { SMALL_FLOOR } from '../open-floor.ts';
import { EMPTY_FLOOR, ToolTrial } from './drive-tool.ts';

/** An L of 8 m by 6 m with a corner of 3 m by 2 m left out. */
const L_SHAPE: Ring = [
  [1, 1],
  [9, 1],
  [9, 5],
  [6, 5],
  [6, 7],
  [1, 7],
];

const outlineOf = (trial: { readonly file: typeof EMPTY_FLOOR }): Ring | undefined => trial.file.rooms.at(-1)?.outline;

describe('an L-shaped room', () => {
  test('is drawn by pointer alone', () => {
    const trial = new ToolTrial(roomTool, EMPTY_FLOOR);
    for (const [x, y] of L_SHAPE) trial.click(x + 0.01, y - 0.015);
    trial.click(1.05, 1.1);
    expect(outlineOf(trial)).toEqual(L_SHAPE);
    expect(trial.names).toEqual(['Added Room 1']);
  });

  test('is drawn by keyboard alone, in steps', () => {
    const trial = new ToolTrial(roomTool, EMPTY_FLOOR);
    trial.keys('ArrowRight', 10);
    trial.keys('ArrowUp', 10);
    trial.key('Enter');
    const ways = [
      ['ArrowRight', 80],
      ['ArrowUp', 40],
      ['ArrowLeft', 30],
      ['ArrowUp', 20],
      ['ArrowLeft', 50],
    ] as const;
    for (const [key, times] of ways) {
      trial.keys(key, times);
      trial.key('Enter');
    }
    trial.keys('ArrowDown', 60);
    trial.key('Enter');
    expect(outlineOf(trial)).toEqual(L_SHAPE);
    expect(trial.said).toContain('Corner 3 at 9.00, 5.00. 4.00 m from the last.');
  });

  test('is drawn by typed lengths', () => {
    const trial = new ToolTrial(roomTool, EMPTY_FLOOR);
    trial.enter('1 1');
    trial.enter('8 @0');
    trial.key('ArrowUp');
    trial.enter('4');
    trial.key('ArrowLeft');
    trial.enter('300 cm');
    trial.enter('1.5 + 0.5 @90');
    trial.enter('5 @180');
    trial.key('c');
    expect(outlineOf(trial)).toEqual(L_SHAPE);
  });
});

describe('the room tool', () => {
  test('makes a rectangle of a drag, and of two typed sides', () => {
    const trial = new ToolTrial(roomTool, EMPTY_FLOOR);
    trial.drag([
      [2, 3],
      [4, 4],
      [7.4, 11.1],
    ]);
    expect(outlineOf(trial)).toEqual([
      [2, 3],
      [7.4, 3],
      [7.4, 11.1],
      [2, 11.1],
    ]);
    trial.click(20, 20);
    trial.pointer('move', [19, 21]);
    trial.enter('5.4 8.1');
    expect(outlineOf(trial)).toEqual([
      [14.6, 20],
      [20, 20],
      [20, 28.1],
      [14.6, 28.1],
    ]);
    expect(trial.intents).toHaveLength(2);
  });

  test('follows a typed length along the direction of the hand', () => {
    const trial = new ToolTrial(roomTool, EMPTY_FLOOR);
    trial.click(0, 0);
    trial.pointer('move', [3, 4]);
    trial.enter('10');
    expect(trial.state.draft.corners).toEqual([
      [0, 0],
      [6, 8],
    ]);
    trial.enter('2 @30');
    expect(trial.state.draft.corners[2]).toEqual([7.732051, 9]);
  });

  test('takes corners back one by one', () => {
    const trial = new ToolTrial(roomTool, EMPTY_FLOOR);
    trial.click(0, 0);
    trial.click(4, 0);
    trial.key('5');
    trial.key('Backspace');
    expect(trial.state.draft).toMatchObject({
      entry: '',
      corners: [
        [0, 0],
        [4, 0],
      ],
    });
    trial.key('Backspace');
    trial.key('Backspace');
    expect(trial.state.draft.corners).toEqual([]);
    expect(trial.key('Backspace').used).toBe(false);
  });

  test('shows at once that the outline would cross itself, and does not set the corner', () => {
    const trial = new ToolTrial(roomTool, EMPTY_FLOOR);
    trial.click(0, 0);
    trial.click(4, 0);
    trial.click(4, 4);
    const step = trial.pointer('move', [2, -2]);
    expect(step.hints).toContain('The outline crosses itself between corners 1 and 3. Move the corner.');
    expect(step.guides).toContainEqual({ kind: 'line', style: 'fault', from: [4, 4], to: [2, -2] });
    expect(step.guides).toContainEqual({ kind: 'line', style: 'fault', from: [0, 0], to: [4, 0] });
    expect(trial.click(2, -2)).toMatchObject({ refused: true, commit: null });
    expect(trial.state.draft.corners).toHaveLength(3);
  });

  test('does not close over its own edge', () => {
    const trial = new ToolTrial(roomTool, EMPTY_FLOOR);
    for (const [x, y] of [
      [0, 0],
      [6, 0],
      [6, 4],
      [3, 4],
      [3, 6],
      [8, 6],
      [8, 2],
    ] as const)
      trial.click(x, y);
    expect(trial.key('c')).toMatchObject({ refused: true, commit: null });
    expect(trial.said.at(-1)).toMatch(/^The outline crosses itself between corners \d and \d\. Move one of them\.$/);
    expect(trial.state.draft.corners).toHaveLength(7);
  });

  test('says why a room over another one is not made, and keeps the outline in hand', () => {
    const trial = new ToolTrial(roomTool, SMALL_FLOOR);
    trial.click(7, 5);
    trial.click(12, 5);
    trial.click(12, 9);
    expect(trial.key('c').refused).toBe(true);
    expect(trial.said.at(-1)).toContain('overlaps Room by more than');
    expect(trial.state.draft.corners).toHaveLength(3);
    expect(trial.file).toBe(SMALL_FLOOR);
  });

  test('cuts a hole into the room around it', () => {
    const trial = new ToolTrial(roomTool, SMALL_FLOOR);
    trial.key('h');
    trial.drag([
      [1, 4],
      [1.5, 4.5],
      [2, 5],
    ]);
    expect(trial.intents).toMatchObject([{ kind: 'hole', room: 'room' }]);
    expect(trial.file.rooms[0]?.holes).toHaveLength(1);
    trial.key('h');
    trial.drag([
      [11, 4],
      [11.5, 4.5],
      [12, 5],
    ]);
    expect(trial.said.at(-1)).toBe('The hole lies in no room. Draw it inside one.');
  });

  test('snaps to the corner of another room', () => {
    const trial = new ToolTrial(roomTool, SMALL_FLOOR);
    const step = trial.pointer('move', [8.1, 5.9]);
    expect(step.cursor).toEqual([8, 6]);
    trial.click(8.1, 5.9);
    expect(trial.state.draft.corners).toEqual([[8, 6]]);
  });

  test('reads what would be right when it cannot read what was typed', () => {
    const trial = new ToolTrial(roomTool, EMPTY_FLOOR);
    expect(trial.enter('5.4').refused).toBe(true);
    expect(trial.said.at(-1)).toBe('Write x and y of the first corner, such as 3.2 4.5.');
    expect(trial.state.draft.entry).toBe('5.4');
    trial.cancel();
    trial.click(0, 0);
    trial.enter('5 furlongs');
    expect(trial.said.at(-1)).toContain('Write metres');
  });

  const begun: readonly (readonly [string, (trial: ToolTrial<unknown>) => void])[] = [
    [
      'an outline',
      (trial) => {
        trial.click(1, 1);
        trial.click(3, 1);
        trial.type('4');
      },
    ],
    [
      'a drag',
      (trial) => {
        trial.pointer('down', [1, 1]);
        trial.pointer('move', [4, 4]);
      },
    ],
    ['a hole', (trial) => void trial.key('h')],
  ];
  test.each(begun)('cancels %s exactly, and then leaves', (_, begin) => {
    const trial = new ToolTrial<unknown>(roomTool, EMPTY_FLOOR);
    begin(trial);
    const step = trial.cancel();
    expect(step).toMatchObject({ commit: null, leave: false });
    expect(trial.state).toEqual(roomTool.start(trial.context));
    expect(trial.cancel().leave).toBe(true);
  });

  test('a press taken back leaves what was set before', () => {
    const trial = new ToolTrial(roomTool, EMPTY_FLOOR);
    trial.click(0, 0);
    trial.pointer('down', [3, 0]);
    trial.pointer('cancel', [3, 0]);
    trial.pointer('up', [3, 0]);
    expect(trial.state.draft.corners).toEqual([[0, 0]]);
  });
});
