import { describe, expect, test } from 'vitest';
import { openingTool } from '../../../src/editor/tools/opening.ts';
import { SMALL_FLOOR } from '../open-floor.ts';
import { EMPTY_FLOOR, ToolTrial } from './drive-tool.ts';
import { MIXED_FLOOR } from './mixed-floor.ts';

const open = (file = SMALL_FLOOR) => new ToolTrial(openingTool, file);
const made = (trial: { readonly file: typeof SMALL_FLOOR }) => trial.file.openings?.at(-1);

describe('the opening tool', () => {
  test('puts a door where the pointer is, in steps from the nearer corner', () => {
    const trial = open();
    trial.click(6.02, 0.1);
    expect(made(trial)).toMatchObject({ kind: 'door', from: [5.55, 0], to: [6.45, 0] });
    expect(trial.names).toEqual(['Added door O1']);
  });

  test('is drawn to the middle of a wall', () => {
    const trial = open();
    trial.click(4.1, -0.05);
    expect(made(trial)).toMatchObject({ from: [3.55, 0], to: [4.45, 0] });
  });

  test('takes the distance from the nearer corner, then the width', () => {
    const trial = open();
    trial.pointer('move', [7, 0.05]);
    trial.enter('0.3 0.8');
    expect(made(trial)).toMatchObject({ from: [6.9, 0], to: [7.7, 0] });
    trial.pointer('move', [1, 0.05]);
    trial.enter('0.3 80 cm');
    expect(made(trial)).toMatchObject({ from: [0.3, 0], to: [1.1, 0] });
    // The width stays in hand.
    trial.pointer('move', [0.05, 1.4]);
    trial.enter('1');
    const { from, to } = made(trial) ?? {};
    expect([from, to]).toEqual([
      [0, 1.8],
      [0, 1],
    ]);
  });

  test('slides along the wall and shows how far it is from both corners', () => {
    const trial = open();
    for (const x of [1, 2, 3.03]) trial.pointer('move', [x, 0.1]);
    const step = trial.pointer('move', [2.03, 0.1]);
    expect(step.guides).toContainEqual({ kind: 'length', from: [0, 0], to: [1.6, 0], text: '1.60 m' });
    expect(step.guides).toContainEqual({ kind: 'length', from: [2.5, 0], to: [8, 0], text: '5.50 m' });
    expect(step.preview?.ok).toBe(true);
    expect(step.hints).toContain('1.60 m from the nearer corner');
  });

  test('makes windows and passages by their letter, and open doors', () => {
    const trial = open();
    trial.key('w');
    trial.click(2, 0);
    expect(made(trial)).toMatchObject({ kind: 'window', sill: 0.9, from: [1.4, 0], to: [2.6, 0] });
    trial.key('p');
    trial.click(6, 0);
    expect(made(trial)).toMatchObject({ kind: 'passage' });
    trial.key('d');
    trial.key('s');
    trial.click(8, 2);
    expect(made(trial)).toMatchObject({ kind: 'door', state: 'open' });
  });

  test('lies in the middle of a wall between two rooms, and cuts both', () => {
    const trial = open(MIXED_FLOOR);
    trial.click(12.02, 4);
    expect(made(trial)).toMatchObject({ depth: 0.4 });
    expect(made(trial)?.from[0]).toBeCloseTo(12.1, 6);
  });

  test('is set by keys alone', () => {
    const trial = open();
    trial.keys('ArrowDown', 60);
    trial.key('ArrowLeft');
    expect(trial.said.at(-1)).toContain('from the nearer corner.');
    trial.enter('0.5 0.9');
    expect(made(trial)).toMatchObject({ from: [0.5, 0], to: [1.4, 0] });
  });

  test.each(['0.3 0.05', '9 0.9', '1 2 3', '0-1'])('refuses %j and keeps it to be mended', (text) => {
    const trial = open();
    trial.pointer('move', [7, 0.05]);
    expect(trial.enter(text)).toMatchObject({ refused: true, commit: null });
    expect(trial.said.at(-1)).toMatch(/\.$/);
    expect(trial.state.entry).toBe(text);
  });

  test('says that no wall is near', () => {
    expect(open(EMPTY_FLOOR).click(3, 3)).toMatchObject({ refused: true, says: 'No wall is near. Point at a wall.' });
    expect(open().click(4, 3).says).toBe('No wall is near. Point at a wall.');
  });
});
