import { describe, expect, test } from 'vitest';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { selectTool } from '../../../src/editor/tools/select.ts';
import type { ToolContext } from '../../../src/editor/tools/tool.ts';
import { ToolTrial } from './drive-tool.ts';
import { MIXED_FLOOR } from './mixed-floor.ts';

const open = (selection: readonly string[] = [], rest: Partial<ToolContext> = {}) =>
  new ToolTrial(selectTool, MIXED_FLOOR, { selection, ...rest });

const piece = (file: FloorFile, id: string) => file.furniture?.find((each) => each.id === id)?.outline;
const detector = (file: FloorFile, id: string) => file.detectors.find((each) => each.id === id);
const room = (file: FloorFile, id: string) => file.rooms.find((each) => each.id === id);

describe('selecting', () => {
  test('a click takes a thing, Shift adds and takes away, empty floor lets go', () => {
    const trial = open();
    trial.click(14, 2.5);
    expect(trial.context.selection).toEqual(['F2']);
    trial.click(4.2, 3.5, { shift: true });
    expect(trial.context.selection).toEqual(['F2', 'F1']);
    trial.click(14, 2.5, { shift: true });
    expect(trial.context.selection).toEqual(['F1']);
    trial.click(10.6, 4);
    expect(trial.context.selection).toEqual([]);
    expect(trial.file).toBe(MIXED_FLOOR);
  });

  test.each([
    ['a detector', [5.55, 2.5], 'D1'],
    ['a workplace', [9.1, 7.05], 'W2'],
    ['a source', [17.45, 4.5], 'Q1'],
    ['a luminaire', [15.4, 2.6], 'L1'],
    ['a piece', [8.8, 1.6], 'F3'],
    ['an opening', [12.1, 2.5], 'O1'],
    ['the edge of a zone', [1.05, 4], 'Z1'],
    ['a wall', [0.05, 3], 'hall'],
    ['a wall between two rooms, from either side', [8, 5.05], 'O3'],
    ['a wall, from the store', [11, 5.1], 'store'],
    ['a wall, from the hall', [11, 4.9], 'hall'],
  ] as const)('a click meets %s', (_, [x, y], id) => {
    const trial = open();
    trial.click(x, y);
    expect(trial.context.selection).toEqual([id]);
  });

  test('a frame takes what lies wholly in it, Shift adds', () => {
    const trial = open();
    trial.drag([
      [12.6, 0.4],
      [14, 2],
      [16.4, 4],
    ]);
    expect([...trial.context.selection].sort()).toEqual(['D2', 'F2', 'L1', 'W1']);
    trial.drag(
      [
        [3.5, 1.5],
        [4, 3],
        [5, 4.5],
      ],
      { shift: true },
    );
    expect(trial.context.selection).toContain('F1');
    expect(trial.context.selection).toHaveLength(5);
  });

  test('what the scene says is under the pointer comes first', () => {
    const trial = open();
    const at = {
      at: [2, 2],
      metresPerPixel: 0.02,
      modifiers: { shift: false, alt: false, ctrl: false },
      pointerType: 'mouse',
    } as const;
    trial.send({ type: 'pointer-down', ...at, over: 'F1' });
    trial.send({ type: 'pointer-up', ...at, over: 'F1' });
    expect(trial.context.selection).toEqual(['F1']);
  });
});

describe('moving things', () => {
  test('one drag is one edit, and the thing keeps its offset from the pointer', () => {
    const trial = open();
    const steps = [
      [14.5, 2.7],
      [15, 3],
      [16.03, 3.42],
    ] as const;
    trial.drag(steps, { ctrl: true });
    expect(trial.intents).toEqual([{ kind: 'move', ids: ['F2'], by: [1.53, 0.72] }]);
    expect(trial.names).toEqual(['Moved Desk 1 by 1.69 m']);
    expect(trial.context.selection).toEqual(['F2']);
  });

  test('a piece rests by its corner on a wall', () => {
    const trial = open();
    trial.drag([
      [14.5, 2.7],
      [14, 2],
      [14.5, 0.75],
    ]);
    expect(piece(trial.file, 'F2')?.[0]?.[1]).toBe(0);
  });

  test('Shift keeps to one axis', () => {
    const trial = open();
    trial.drag(
      [
        [14.5, 2.7],
        [15, 2.8],
        [15.5, 3],
      ],
      { shift: true },
    );
    expect(trial.intents).toMatchObject([{ kind: 'move', by: [expect.closeTo(1, 0), 0] }]);
  });

  test('a typed distance takes over, along the way of the hand or an angle, or along x and y', () => {
    const trial = open();
    const begin = () => {
      trial.pointer('down', [14.5, 2.4]);
      trial.pointer('move', [15, 2.4], { ctrl: true });
    };
    begin();
    trial.enter('1.2');
    expect(trial.intents.at(-1)).toEqual({ kind: 'move', ids: ['F2'], by: [1.2, 0] });
    // Letting go of the button afterwards moves nothing.
    expect(trial.pointer('up', [16, 3]).commit).toBeNull();
    trial.pointer('down', [15, 2.4]);
    trial.pointer('move', [14.7, 2.4], { ctrl: true });
    trial.enter('0.5 @90');
    expect(trial.intents.at(-1)).toEqual({ kind: 'move', ids: ['F2'], by: [0, 0.5] });
    trial.pointer('down', [15, 2.9]);
    trial.pointer('move', [14.7, 2.9], { ctrl: true });
    trial.enter('-1.2 -0.5');
    expect(piece(trial.file, 'F2')).toEqual(piece(MIXED_FLOOR, 'F2'));
  });

  test('a number typed while the pointer drags takes over when the pointer lets go', () => {
    const trial = open();
    trial.pointer('down', [14.5, 2.7]);
    trial.pointer('move', [15.3, 2.7], { ctrl: true });
    for (const key of '1.25') trial.key(key);
    expect(trial.last?.hints).toContain('1.25 · Enter');
    trial.pointer('up', [15.3, 2.7], { ctrl: true });
    expect(trial.intents).toEqual([{ kind: 'move', ids: ['F2'], by: [1.25, 0] }]);
    trial.pointer('down', [15.75, 2.7]);
    trial.pointer('move', [15.3, 2.7], { ctrl: true });
    for (const key of '1..') trial.key(key);
    expect(trial.pointer('up', [15.3, 2.7], { ctrl: true })).toMatchObject({ refused: true, commit: null });
    expect(trial.state).toMatchObject({ act: null, entry: '' });
  });

  test('the turn handle of a locked detector is not taken', () => {
    const trial = open(['D3']);
    trial.key('h');
    expect(trial.said.at(-1)).toBe('D3 is locked.');
    expect(trial.last?.guides.some((guide) => guide.kind === 'mark' && guide.mark === 'turn')).toBe(true);
  });

  test('several go together, and locked ones stay', () => {
    const trial = open(['D3', 'F1', 'D1']);
    trial.drag(
      [
        [4.2, 3.6],
        [4.2, 4],
        [4.2, 4.6],
      ],
      { ctrl: true },
    );
    expect(trial.intents).toEqual([{ kind: 'move', ids: ['F1', 'D1'], by: [0, 1] }]);
    expect(detector(trial.file, 'D3')?.at).toEqual([8.5, 7.5]);
  });

  test('a locked detector, and a locked kind, are not moved', () => {
    const trial = open();
    trial.drag([
      [8.5, 7.5],
      [8.8, 7.8],
      [9, 8],
    ]);
    expect(trial.said).toContain('D3 is locked.');
    const locked = open([], { locked: new Set(['furniture' as const]) });
    locked.drag([
      [14.5, 2.7],
      [15, 3],
      [16, 3],
    ]);
    expect([...trial.intents, ...locked.intents]).toEqual([]);
  });

  test('a detector goes from tile to tile, with the distances to its walls', () => {
    const trial = open();
    trial.pointer('down', [13.7, 3.3]);
    trial.pointer('move', [14, 3.6]);
    const step = trial.pointer('move', [15.51, 2.14]);
    expect(step.guides.filter(({ kind }) => kind === 'length')).toHaveLength(3);
    trial.pointer('up', [15.51, 2.14]);
    expect(detector(trial.file, 'D2')?.at).toEqual([15.5, 2.1]);
  });

  test('a place outside every room is refused, and everything is as it was', () => {
    const trial = open();
    trial.drag([
      [13.7, 3.3],
      [14, 6],
      [14, 12],
    ]);
    expect(trial.last).toMatchObject({ refused: true, commit: null });
    expect(trial.said.at(-1)).toContain('D2 is');
    expect(trial.file).toBe(MIXED_FLOOR);
    expect(trial.state).toMatchObject({ press: null, act: null, entry: '' });
  });

  test('an opening slides along its wall, and to another wall', () => {
    const trial = open();
    trial.drag([
      [14.6, 0],
      [15, 0.1],
      [16.6, 0.2],
    ]);
    expect(trial.file.openings?.[1]).toMatchObject({ from: [16, 0], to: [17.2, 0] });
    trial.drag([
      [16.6, 0],
      [17, 1],
      [17.9, 2.5],
    ]);
    expect(trial.file.openings?.[1]).toMatchObject({ from: [18, 1.9], to: [18, 3.1] });
  });

  test('Enter picks up and sets down, arrows move, and what is near is read out', () => {
    const trial = open(['F2']);
    trial.key('Enter');
    expect(trial.said.at(-1)).toBe('Desk 1 picked up. Arrows move, Enter sets down, Escape puts back.');
    trial.keys('ArrowRight', 2);
    trial.key('ArrowUp', { alt: true });
    expect(trial.said.at(-1)).toContain('Moved by 0.20 m, 0.01 m.');
    trial.key('Enter');
    expect(trial.intents).toEqual([{ kind: 'move', ids: ['F2'], by: [0.2, 0.01] }]);
  });

  test('a room picked up takes along what is in it', () => {
    const trial = open(['office']);
    trial.key('Enter');
    trial.enter('3 0');
    expect(room(trial.file, 'office')?.outline[0]).toEqual([15.2, 0]);
    expect(detector(trial.file, 'D2')?.at).toEqual([16.7, 3.3]);
  });

  test.each(['Escape', 'pointer'])('%s puts everything back', (way) => {
    const trial = open(['F2']);
    if (way === 'pointer') {
      trial.pointer('down', [14.5, 2.7]);
      trial.pointer('move', [16, 3]);
      trial.pointer('cancel', [16, 3]);
    } else {
      trial.key('Enter');
      trial.key('ArrowRight');
      trial.cancel();
    }
    expect(trial.state.act).toBeNull();
    expect(trial.pointer('up', [17, 4]).commit).toBeNull();
    expect(trial.file).toBe(MIXED_FLOOR);
  });
});

describe('handles', () => {
  test('a corner of a room is dragged', () => {
    const trial = open(['store']);
    trial.drag([
      [10, 9],
      [10.3, 9],
      [11.02, 9.02],
    ]);
    expect(room(trial.file, 'store')?.outline[2]).toEqual([11, 9]);
  });

  test('a wall is dragged anywhere along it, and the door in it goes along', () => {
    const trial = open(['office']);
    trial.drag([
      [16, 0],
      [16, -0.3],
      [16, -0.98],
    ]);
    expect(trial.intents).toMatchObject([{ kind: 'edge', room: 'office', edge: 0, by: 1 }]);
    expect(room(trial.file, 'office')?.outline[0]).toEqual([12.2, -1]);
    expect(trial.file.openings?.[1]?.from).toEqual([14, -1]);
  });

  test('a wall that is not selected frames instead', () => {
    const trial = open();
    trial.drag([
      [16, 0],
      [16, 0.4],
      [16.5, 1],
    ]);
    expect(trial.intents).toEqual([]);
  });

  test('rooms that meet in a corner go along, or not', () => {
    const drag = (alt: boolean) => {
      const trial = open(['store']);
      trial.drag(
        [
          [7, 5],
          [7, 5.2],
          [7, 5.5],
        ],
        { alt, ctrl: true },
      );
      return trial;
    };
    const together = drag(false);
    expect(room(together.file, 'hall')?.outline).toContainEqual([7, 5.5]);
    // Alone it would leave a gap, which is allowed.
    const alone = drag(true);
    expect(alone.intents).toMatchObject([{ together: false }]);
    expect(room(alone.file, 'hall')).toBe(room(MIXED_FLOOR, 'hall'));
  });

  test('a rectangle is resized by a side and by a corner', () => {
    const trial = open(['F2']);
    trial.drag(
      [
        [14.6, 2.4],
        [14.8, 2.4],
        [15, 2.4],
      ],
      { ctrl: true },
    );
    expect(piece(trial.file, 'F2')?.[2]).toEqual([15, 2.8]);
    trial.drag(
      [
        [13, 2],
        [12.9, 1.9],
        [12.5, 1.5],
      ],
      { ctrl: true },
    );
    expect(piece(trial.file, 'F2')).toEqual([
      [12.5, 1.5],
      [15, 1.5],
      [15, 2.8],
      [12.5, 2.8],
    ]);
  });

  test('a piece is turned by its handle, in steps of 15°', () => {
    const trial = open(['F2']);
    const handle = trial.context.pointer;
    expect(handle).toBeNull();
    const at = selectTool.show(trial.state, trial.context).guides.at(-1);
    if (at?.kind !== 'mark') throw new Error('The turn handle is the last one.');
    trial.drag([at.at, [13.8, 2.9], [12.5, 2.42]]);
    expect(trial.intents).toMatchObject([{ kind: 'turn', ids: ['F2'], degrees: 90, centre: [13.8, 2.4] }]);
  });

  test('a side of an opening is dragged', () => {
    const trial = open(['O2']);
    trial.drag([
      [15.2, 0],
      [15.3, 0.1],
      [15.5, 0.1],
    ]);
    expect(trial.file.openings?.[1]).toMatchObject({ from: [14, 0], to: [15.5, 0] });
    expect(trial.names).toEqual(['Made window O2 1.50 m wide']);
  });

  test('are taken one after the other by keys, moved, and given numbers', () => {
    const trial = open(['store']);
    trial.key('h');
    expect(trial.said.at(-1)).toBe('Corner 1 of Store. Arrows move it, H takes the next.');
    trial.key('h');
    trial.key('h');
    trial.keys('ArrowRight', 5);
    trial.key('Enter');
    expect(room(trial.file, 'store')?.outline[2]).toEqual([10.5, 9]);
    trial.key('H', { shift: true });
    expect(trial.said.at(-1)).toContain('Wall 4 of Store');
    trial.key('H', { shift: true });
    expect(trial.said.at(-1)).toContain('Wall 3 of Store');
    trial.enter('0.5');
    expect(trial.intents.at(-1)).toMatchObject({ kind: 'edge', edge: 2, by: 0.5 });
    trial.context = { ...trial.context, selection: ['F2'] };
    trial.key('H', { shift: true });
    expect(trial.said.at(-1)).toContain('Turn of Desk 1');
    trial.enter('90');
    expect(trial.intents.at(-1)).toMatchObject({ kind: 'turn', degrees: 90 });
  });

  test('nothing is changed where nothing has moved', () => {
    const trial = open(['store']);
    trial.key('h');
    trial.key('Enter');
    expect(trial.said.at(-1)).toBe('Nothing has moved.');
    expect(trial.intents).toEqual([]);
  });
});
