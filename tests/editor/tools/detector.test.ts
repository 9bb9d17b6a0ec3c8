import { describe, expect, test } from 'vitest';
import { type FloorFile, resolveFloor } from '../../../src/core/floor/index.ts';
import { detectorTool } from '../../../src/editor/tools/detector.ts';
import { deriveSpacing, layOverRoom } from '../../../src/editor/tools/detector-fill.ts';
import { EMPTY_FLOOR, ToolTrial } from './drive-tool.ts';
import { MIXED_FLOOR } from './mixed-floor.ts';

const open = (file = MIXED_FLOOR) => new ToolTrial(detectorTool, file);
const last = (trial: { readonly file: FloorFile }) => trial.file.detectors.at(-1);

describe('the detector tool', () => {
  test('hangs the usual type at once, in the middle of a tile', () => {
    const trial = open();
    const step = trial.pointer('move', [16.1, 1.6]);
    expect(step.cursor).toEqual([16.1, 1.5]);
    expect(step.guides).toContainEqual({ kind: 'tiles', room: 'office', at: [16.1, 1.5] });
    trial.click(16.1, 1.6);
    expect(last(trial)).toMatchObject({ id: 'D5', name: 'D5', type: 'round', at: [16.1, 1.5] });
    expect(trial.context.selection).toEqual(['D5']);
  });

  test('shows the distances to the two nearest walls', () => {
    const step = open().pointer('move', [16.1, 1.6]);
    expect(step.guides).toContainEqual({ kind: 'length', from: [18, 1.5], to: [16.1, 1.5], text: '1.90 m' });
    expect(step.guides).toContainEqual({ kind: 'length', from: [16.1, 0], to: [16.1, 1.5], text: '1.50 m' });
    expect(step.preview?.ok).toBe(true);
  });

  test('finds a type by a part of its name', () => {
    const trial = open();
    trial.type('4 × 3');
    expect(trial.state.type).toBe('flush');
    expect(trial.said.at(-1)).toBe('Flush 4 × 3, 1 of 2 types.');
    trial.click(16, 1);
    expect(last(trial)?.type).toBe('flush');
    trial.type('no such');
    expect(trial.state.type).toBe('flush');
    expect(trial.said.at(-1)).toContain('no type of this name');
  });

  test('is used by keys alone: type, Enter, arrows by the tile, Enter', () => {
    const trial = open();
    trial.key('ArrowDown');
    expect(trial.state.type).toBe('flush');
    trial.key('ArrowUp');
    trial.context = { ...trial.context, pointer: [15.2, 0.9] };
    trial.cancel();
    trial.key('Enter');
    expect(trial.said.at(-1)).toContain('Round 6 in hand.');
    trial.key('ArrowRight');
    trial.key('ArrowUp');
    expect(trial.state.placing.hand?.at).toEqual([16.1, 1.5]);
    expect(trial.said.at(-1)).toBe('16.10, 1.50, tile. 1.90 m and 1.50 m from the nearest walls.');
    trial.key('Enter');
    expect(last(trial)).toMatchObject({ at: [16.1, 1.5] });
  });

  test('follows a ceiling grid that is turned', () => {
    const trial = open();
    trial.context = { ...trial.context, pointer: [5, 7] };
    trial.cancel();
    trial.key('Enter');
    trial.key('ArrowRight');
    const from = trial.state.placing.hand?.at ?? [0, 0];
    trial.key('ArrowRight');
    const to = trial.state.placing.hand?.at ?? [0, 0];
    expect(to[0] - from[0]).toBeCloseTo(0.6 * Math.cos(Math.PI / 18), 5);
    expect(to[1] - from[1]).toBeCloseTo(0.6 * Math.sin(Math.PI / 18), 5);
  });

  test('takes a typed place, and turns', () => {
    const trial = open();
    trial.key('Enter');
    trial.key('[');
    trial.keys('}', 2);
    trial.enter('8.25 6');
    expect(last(trial)).toMatchObject({ at: [8.25, 6], turn: 13 });
  });

  test('refuses a place outside every room, and one in a wall', () => {
    const trial = open();
    expect(trial.click(30, 30)).toMatchObject({ refused: true, preview: null });
    expect(trial.said.at(-1)).toBe('A detector hangs in a room. Move it in, or draw the room it belongs to.');
    trial.key('Enter');
    expect(trial.enter('0.001 3').refused).toBe(true);
    expect(trial.said.at(-1)).toContain('A lens keeps 5 mm from walls');
    expect(trial.file).toBe(MIXED_FLOOR);
  });

  test('says that there is no type', () => {
    const trial = open(EMPTY_FLOOR);
    expect(trial.click(1, 1)).toMatchObject({ refused: true, says: 'The floor has no detector type. Add one first.' });
  });
});

describe('fill', () => {
  test('lays a type over the room as a draft, in steps its range gives, and sets all as one', () => {
    const trial = open();
    trial.pointer('move', [14, 4]);
    trial.enter('fill');
    expect(trial.said.at(-1)).toMatch(/^\d detectors, 3\.\d\d m apart\. Enter sets them all\.$/);
    expect(trial.last?.preview?.ok).toBe(true);
    expect(trial.intents).toEqual([]);
    trial.key('Enter');
    expect(trial.intents).toHaveLength(1);
    const added = trial.file.detectors.slice(MIXED_FLOOR.detectors.length);
    expect(added.length).toBeGreaterThan(2);
    expect(trial.names).toEqual([`Added ${added.length} detectors`]);
    for (const { at } of added) {
      // The middles of the office's tiles.
      expect((at[0] - 12.2 - 0.3) / 0.6).toBeCloseTo(Math.round((at[0] - 12.5) / 0.6), 5);
      expect((at[1] - 0.3) / 0.6).toBeCloseTo(Math.round((at[1] - 0.3) / 0.6), 5);
    }
  });

  test('takes a spacing, another one while it is looked over, and is taken back whole', () => {
    const trial = open();
    trial.pointer('move', [14, 4]);
    trial.enter('fill 1.5');
    const many = trial.last?.guides.length ?? 0;
    trial.enter('3');
    expect(trial.last?.guides.length).toBeLessThan(many);
    expect(trial.enter('0.1').refused).toBe(true);
    trial.cancel();
    expect(trial.state).toEqual(detectorTool.start(trial.context));
    expect(trial.file).toBe(MIXED_FLOOR);
  });

  test('needs a room, and lays no more than can be looked over', () => {
    const trial = open();
    trial.pointer('move', [30, 30]);
    expect(trial.enter('fill').refused).toBe(true);
    trial.cancel();
    trial.pointer('move', [14, 4]);
    expect(trial.enter('fill 0.05')).toMatchObject({ refused: true });
    expect(trial.said.at(-1)).toMatch(/^That would be \d+ detectors\. Write a larger spacing\.$/);
  });

  test('leaves out holes, what stands at the height of the lens, and where one hangs already', () => {
    const floor = resolveFloor(MIXED_FLOOR);
    const [hall] = floor.rooms;
    const [round] = floor.types;
    if (hall === undefined || round === undefined) throw new Error('The floor has lost its hall.');
    const places = layOverRoom(floor, hall, round, { along: 0.7, across: 0.7 });
    expect(places.length).toBeGreaterThan(50);
    for (const [x, y] of places) {
      expect(x > 2 && x < 3 && y > 6 && y < 7).toBe(false);
      for (const { at } of floor.detectors) expect(Math.hypot(at[0] - x, at[1] - y)).toBeGreaterThanOrEqual(0.3);
    }
  });

  test('has its ranges meet at the seated plane', () => {
    const floor = resolveFloor(MIXED_FLOOR);
    const [hall] = floor.rooms;
    const [round, flush] = floor.types;
    if (hall === undefined || round === undefined || flush === undefined)
      throw new Error('The floor has lost its types.');
    // 6 m across at 3 m: the square it holds has sides of 6 / √2.
    expect(deriveSpacing(floor, hall, round).along).toBeCloseTo(6 / Math.SQRT2, 6);
    const { along, across } = deriveSpacing(floor, hall, flush);
    expect(along / across).toBeCloseTo(4 / 3, 6);
  });
});
