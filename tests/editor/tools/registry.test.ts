import { describe, expect, test } from 'vitest';
import { redo, undo } from '../../../src/editor/history.ts';
import { loadTools, sendToolEvent, startTool } from '../../../src/editor/tool-run.ts';
import { isJudged } from '../../../src/editor/tools/judged.ts';
import { findTool, TOOLS } from '../../../src/editor/tools/registry.ts';
import type { Modifiers, ToolEvent, ToolId } from '../../../src/editor/tools/tool.ts';
import { openTrial } from '../open-floor.ts';
import { createToolContext } from './drive-tool.ts';
import { MIXED_FLOOR } from './mixed-floor.ts';

const NONE: Modifiers = { shift: false, alt: false, ctrl: false };

describe('the registry', () => {
  test('has a letter, a word and a sentence for every tool, each its own', () => {
    for (const field of ['id', 'key', 'word', 'text'] as const)
      expect(new Set(TOOLS.map((tool) => tool[field])).size).toBe(TOOLS.length);
    for (const { key, word, underlined } of TOOLS)
      if (underlined >= 0) expect(word.charAt(underlined).toUpperCase()).toBe(key);
    expect(findTool('select')).toMatchObject({ key: 'V', underlined: -1 });
    expect(findTool('furniture')).toMatchObject({ key: 'F', underlined: 0 });
  });
  test('leaves the letters of probe, mask and section line free', () => {
    for (const letter of ['P', 'K', 'X', 'C', 'A', 'B', 'H', 'N'])
      expect(TOOLS.map(({ key }) => key)).not.toContain(letter);
  });
  test.each(TOOLS.map((tool) => [tool.id, tool] as const))('opens %s with something to read', (id, tool) => {
    const context = createToolContext(MIXED_FLOOR);
    const session = tool.open(context);
    expect(session.id).toBe(id);
    expect(session.show(context).hints).not.toBe('');
  });
});

/** A tool at work on a store, as the page has it. */
async function work(id: ToolId) {
  await loadTools();
  const trial = openTrial();
  const { store } = trial;
  startTool(store, id);
  const send = (event: ToolEvent) => sendToolEvent(store, event);
  return {
    ...trial,
    pointer: (type: 'down' | 'move' | 'up', x: number, y: number, modifiers: Partial<Modifiers> = {}) =>
      send({
        type: `pointer-${type}`,
        at: [x, y],
        metresPerPixel: 0.02,
        modifiers: { ...NONE, ...modifiers },
        pointerType: 'mouse',
      }),
    key: (key: string) => send({ type: 'key', key, modifiers: NONE }),
  };
}

describe('a tool on a store', () => {
  test('previews as a gesture, and one gesture is one step of the history', async () => {
    const { store, pointer, runFrame } = await work('select');
    const before = store.getState().file;
    pointer('down', 5.2, 3);
    expect(store.getState().selection).toEqual(['shelf']);
    for (const x of [5.3, 5.5, 5.8]) pointer('move', x, 3, { ctrl: true });
    runFrame();
    expect(store.getState().preview?.furniture[0]?.outline[0]?.[0]).toBeCloseTo(5.6, 6);
    expect(store.getState().past).toHaveLength(0);
    pointer('up', 5.8, 3, { ctrl: true });
    expect(store.getState()).toMatchObject({ gesture: null, preview: null });
    expect(store.getState().past.map(({ name }) => name)).toEqual(['Moved Shelf by 0.60 m']);
    const after = store.getState().file;
    undo(store);
    expect(store.getState().file).toBe(before);
    redo(store);
    expect(store.getState().file).toBe(after);
  });

  test('Escape gives floor and coverage back exactly', async () => {
    const { store, pointer, key, runFrame } = await work('select');
    const { file, floor, coverage } = store.getState();
    if (coverage === null) throw new Error('The trial has no coverage.');
    const seen = Array.from(coverage.seated.count);
    expect(seen.length).toBeGreaterThan(0);
    pointer('down', 5.2, 3);
    pointer('move', 6.4, 3, { ctrl: true });
    runFrame();
    expect(Array.from(coverage.seated.count)).not.toEqual(seen);
    key('Escape');
    pointer('up', 6.4, 3);
    runFrame();
    expect(store.getState()).toMatchObject({ gesture: null, preview: null, past: [] });
    expect(store.getState().file).toBe(file);
    expect(store.getState().floor).toBe(floor);
    expect(Array.from(coverage.seated.count)).toEqual(seen);
  });

  test('what is placed is selected, and the file it gave was judged already', async () => {
    const { store, pointer } = await work('detector');
    pointer('move', 2, 2);
    expect(store.getState().gesture).toBe('Added D2');
    pointer('down', 2, 2);
    pointer('up', 2, 2);
    expect(store.getState().selection).toEqual(['D2']);
    expect(isJudged(store.getState().file)).toBe(true);
    expect(store.getState().pointer).toEqual([2, 2]);
  });

  test('a refusal is said in the foot, and nothing else is changed', async () => {
    const { store, pointer } = await work('detector');
    const { file } = store.getState();
    pointer('down', 20, 2);
    pointer('up', 20, 2);
    expect(store.getState().notice?.text).toBe(
      'A detector hangs in a room. Move it in, or draw the room it belongs to.',
    );
    expect(store.getState().file).toBe(file);
    expect(store.getState().refusal).toBeNull();
  });
});
