/** The tools that place one thing at a click, and those that draw and measure. */
import { describe, expect, test } from 'vitest';
import { groupTool } from '../../../src/editor/tools/group.ts';
import { luminaireTool } from '../../../src/editor/tools/luminaire.ts';
import { measureTool } from '../../../src/editor/tools/measure.ts';
import { sourceTool } from '../../../src/editor/tools/source.ts';
import { splitTool } from '../../../src/editor/tools/split.ts';
import { workplaceTool } from '../../../src/editor/tools/workplace.ts';
import { zoneTool } from '../../../src/editor/tools/zone.ts';
import { SMALL_FLOOR } from '../open-floor.ts';
import { ToolTrial } from './drive-tool.ts';
import { MIXED_FLOOR } from './mixed-floor.ts';

describe('workplaces', () => {
  test('are placed by a click, turned and standing', () => {
    const trial = new ToolTrial(workplaceTool, SMALL_FLOOR);
    trial.key('[');
    trial.key('t');
    trial.click(3.31, 4.52);
    expect(trial.file.workplaces?.at(-1)).toMatchObject({
      name: '3',
      at: [3.3, 4.5],
      facing: 105,
      posture: 'standing',
    });
  });
  test('are placed by keys, with a place and a direction typed', () => {
    const trial = new ToolTrial(workplaceTool, SMALL_FLOOR);
    trial.enter('3.25 1 @-90');
    expect(trial.file.workplaces?.at(-1)).toMatchObject({ at: [3.25, 1], facing: 270, posture: 'seated' });
    trial.keys('ArrowUp', 5);
    trial.key('Enter');
    expect(trial.file.workplaces?.at(-1)?.at).toEqual([3.25, 1.5]);
  });
});

describe('sources', () => {
  test('have a kind by their letter, and hang where their kind hangs', () => {
    const trial = new ToolTrial(sourceTool, SMALL_FLOOR);
    trial.click(2, 2);
    expect(trial.file.sources?.at(-1)).toMatchObject({ kind: 'air outlet', base: 2.98, top: 3, radius: 0.3 });
    trial.key('h');
    trial.enter('0.5');
    trial.click(2, 4);
    expect(trial.file.sources?.at(-1)).toMatchObject({ kind: 'heater', base: 0.1, top: 0.6, radius: 0.5 });
    trial.enter('3.3 4.4');
    expect(trial.file.sources?.at(-1)?.at).toEqual([3.3, 4.4]);
  });
});

describe('luminaires', () => {
  test('hang on the ceiling grid, an even number of tiles on a joint', () => {
    const trial = new ToolTrial(luminaireTool, MIXED_FLOOR);
    trial.pointer('move', [14, 1]);
    trial.click(14.1, 1);
    expect(trial.file.luminaires?.at(-1)).toMatchObject({ at: [14.3, 0.9], size: [0.6, 0.6], top: 2.7, base: 2.65 });
    trial.enter('1.2 0.6');
    trial.click(14.1, 2.2);
    expect(trial.file.luminaires?.at(-1)).toMatchObject({ at: [14, 2.1], size: [1.2, 0.6] });
    trial.keys('[', 6);
    trial.click(14.25, 3.5);
    expect(trial.file.luminaires?.at(-1)).toMatchObject({ at: [14.3, 3.6], turn: 90 });
  });
  test('hang lower, or light the way out', () => {
    const trial = new ToolTrial(luminaireTool, SMALL_FLOOR);
    trial.enter('1.5 0.1 0.8');
    trial.key('e');
    trial.enter('at 4 2');
    expect(trial.file.luminaires?.at(-1)).toMatchObject({ at: [4, 2], top: 2.2, base: 2.15, emergency: true });
  });
});

describe('zones', () => {
  test('are drawn like rooms, and have a need by its letter', () => {
    const trial = new ToolTrial(zoneTool, SMALL_FLOOR);
    trial.key('n');
    trial.drag([
      [1, 1],
      [2, 2],
      [3, 2],
    ]);
    expect(trial.file.zones?.at(-1)).toMatchObject({
      need: 'nobody',
      outline: [
        [1, 1],
        [3, 1],
        [3, 2],
        [1, 2],
      ],
    });
    trial.key('w');
    trial.enter('1 3');
    trial.enter('2 1');
    expect(trial.file.zones?.at(-1)).toMatchObject({
      need: 'walking',
      outline: [
        [1, 3],
        [3, 3],
        [3, 4],
        [1, 4],
      ],
    });
  });
});

describe('splitting', () => {
  test('cuts a room from wall to wall, by clicks, by a drag and by keys', () => {
    for (const cut of [
      (trial: ToolTrial<unknown>) => {
        trial.click(4, 0.05);
        trial.click(4.05, 5.95);
      },
      (trial: ToolTrial<unknown>) =>
        trial.drag([
          [4, 0.05],
          [4, 3],
          [4.05, 5.95],
        ]),
      (trial: ToolTrial<unknown>) => {
        trial.enter('4 0');
        trial.enter('6 @90');
      },
    ]) {
      const trial = new ToolTrial<unknown>(splitTool, SMALL_FLOOR);
      cut(trial);
      expect(trial.intents).toEqual([{ kind: 'split', room: 'room', from: [4, 0], to: [4, 6] }]);
      expect(trial.file.rooms).toHaveLength(2);
    }
  });
  test('says that a line goes through no room', () => {
    const trial = new ToolTrial(splitTool, SMALL_FLOOR);
    trial.click(20, 20);
    expect(trial.click(20, 30)).toMatchObject({ refused: true, commit: null });
  });
});

describe('groups', () => {
  test('have the main first, then the extensions, by clicks', () => {
    const trial = new ToolTrial(groupTool, MIXED_FLOOR);
    trial.click(8.52, 7.45);
    trial.click(13.7, 3.3);
    expect(trial.said.at(-1)).toBe('D2 is extension 1. It leaves Office.');
    trial.click(1.5, 7.5);
    expect(trial.said.at(-1)).toBe('D4 is extension 2. It leaves Hall.');
    trial.click(1.5, 7.5);
    expect(trial.said.at(-1)).toBe('D4 is no extension.');
    trial.click(8.5, 7.5);
    expect(trial.intents).toEqual([{ kind: 'group', main: 'D3', extensions: ['D2'] }]);
    expect(trial.file.groups?.at(-1)).toMatchObject({ main: 'D3', extensions: ['D2'] });
    // The office lost its only detector, and with it its group.
    expect(trial.file.groups?.map(({ id }) => id)).toEqual(['G1', 'G3']);
  });
  test('are changed from their main, by keys alone', () => {
    const trial = new ToolTrial(groupTool, MIXED_FLOOR);
    trial.key('ArrowRight');
    expect(trial.said.at(-1)).toBe('D1, of Hall.');
    trial.key('Enter');
    expect(trial.said.at(-1)).toBe('D1 leads, with 1 extension. Choose its extensions.');
    trial.key('ArrowUp');
    expect(trial.said.at(-1)).toBe('D3.');
    trial.key('Enter');
    trial.key('c');
    expect(trial.names).toEqual(['Set the extensions of Hall']);
    expect(trial.file.groups?.[0]).toMatchObject({ id: 'G1', extensions: ['D4', 'D3'] });
  });
  test('take a choice back', () => {
    const trial = new ToolTrial(groupTool, MIXED_FLOOR);
    trial.click(13.7, 3.3);
    trial.click(8.5, 7.5);
    trial.key('Backspace');
    expect(trial.state.extensions).toEqual([]);
    trial.key('Backspace');
    expect(trial.state.main).toBeNull();
  });
});

describe('measuring', () => {
  test('a distance between two marks', () => {
    const trial = new ToolTrial(measureTool, SMALL_FLOOR);
    trial.click(8, 6);
    trial.click(5, 5);
    expect(trial.said.at(-1)).toBe('3.16 m at 198.4°, 3.00 m along x, 1.00 m along y.');
    expect(trial.last?.hints).toContain('3.16 m');
    expect(trial.last?.commit).toBeNull();
  });
  test('in feet and inches', () => {
    const trial = new ToolTrial(measureTool, SMALL_FLOOR, { units: 'feet' });
    trial.click(0, 0);
    trial.click(8, 0);
    expect(trial.said.at(-1)).toBe(`26' 3" at 0°, 26' 3" along x, 0" along y.`);
  });
  test('an area, by keys', () => {
    const trial = new ToolTrial(measureTool, SMALL_FLOOR);
    trial.key('a');
    trial.enter('0 0');
    trial.enter('8 6');
    expect(trial.said.at(-1)).toBe('48.0 m², 28.00 m round.');
  });
  test('typed places, and a length along the way to the hand or at an angle', () => {
    const trial = new ToolTrial(measureTool, SMALL_FLOOR);
    trial.enter('1 1');
    expect(trial.said.at(-1)).toBe('From 1.00, 1.00.');
    trial.enter('4 5');
    expect(trial.said.at(-1)).toBe('5.00 m at 53.1°, 3.00 m along x, 4.00 m along y.');
    trial.enter('0 0');
    trial.enter('5.4 @90');
    expect(trial.said.at(-1)).toBe('5.40 m at 90°, 0.00 m along x, 5.40 m along y.');
    expect(trial.enter('5').refused).toBe(true);
    expect(trial.last?.hints).toContain('5 · Enter');
    trial.key('Escape');
    expect(trial.state.marks).toEqual([]);
  });
  test('typed heights, and the height of what stands at a typed place', () => {
    const trial = new ToolTrial(measureTool, SMALL_FLOOR);
    trial.key('h');
    trial.enter('5.2 3');
    expect(trial.said.at(-1)).toBe('From the top of Shelf, 2.20 m.');
    trial.enter('0.8');
    expect(trial.said.at(-1)).toBe('The height, 0.80 m, is 1.40 m below the top of Shelf, 2.20 m.');
  });
  test('typed numbers are in the unit shown', () => {
    const trial = new ToolTrial(measureTool, SMALL_FLOOR, { units: 'feet' });
    trial.enter('0 0');
    trial.enter('10 @0');
    expect(trial.said.at(-1)).toBe(`10' 0" at 0°, 10' 0" along x, 0" along y.`);
  });
  test('a height between two marks', () => {
    const trial = new ToolTrial(measureTool, SMALL_FLOOR);
    trial.key('h');
    trial.click(5.2, 3);
    expect(trial.said.at(-1)).toBe('From the top of Shelf, 2.20 m.');
    trial.click(3, 3);
    expect(trial.said.at(-1)).toBe('The lens of D1, 3.00 m, is 0.80 m above the top of Shelf, 2.20 m.');
    trial.click(1, 1);
    trial.click(1, 2);
    expect(trial.said.at(-1)).toBe('The ceiling, 3.00 m, is 3.00 m above the floor, 0.00 m.');
  });
});
