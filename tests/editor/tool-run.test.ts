import { beforeAll, expect, test } from 'vitest';
import type { FloorFile } from '../../src/core/floor/index.ts';
import { beginGesture, undo } from '../../src/editor/history.ts';
import { type EditorStore, replaceDocument } from '../../src/editor/store.ts';
import { loadTools, sendToolEvent, startTool, stepBackWithTool } from '../../src/editor/tool-run.ts';
import { TOOLS } from '../../src/editor/tools/registry.ts';
import { select, setTool } from '../../src/editor/view.ts';
import { TOOL_WORDS } from '../../src/ui/panels/tool-words.ts';
import { openTrial, SMALL_FLOOR } from './open-floor.ts';

const EMPTY: FloorFile = { format: 'lacuna/1', name: 'Empty', rooms: [], types: [], detectors: [] };
const PLAIN = { shift: false, alt: false, ctrl: false };

function press(store: EditorStore, key: string): void {
  sendToolEvent(store, { type: 'key', key, modifiers: PLAIN });
}

function write(store: EditorStore, text: string): void {
  for (const key of text) press(store, key);
  press(store, 'Enter');
}

beforeAll(async () => {
  await loadTools();
});

test('the words in the foot are those of the registry', () => {
  const drawn = TOOL_WORDS.filter(({ id }) => id !== 'probe' && id !== 'mask');
  const sorted = <Word extends { readonly id: string }>(words: readonly Word[]) =>
    [...words].sort((a, b) => (a.id < b.id ? -1 : 1));
  expect(sorted(drawn)).toEqual(sorted(TOOLS).map(({ id, key, word, text }) => ({ id, key, word, text })));
});

test('a room is drawn by typed lengths, as one step that undo takes back', () => {
  const { store } = openTrial(EMPTY);
  startTool(store, 'room');
  for (const text of ['0 0', '6 @0', '4 @90', '6 @180']) {
    write(store, text);
    expect(store.getState().toolRun?.guides.length).toBeGreaterThan(0);
  }
  expect(store.getState().file.rooms).toEqual([]);
  press(store, 'c');
  expect(store.getState().file.rooms.map(({ outline }) => outline)).toEqual([
    [
      [0, 0],
      [6, 0],
      [6, 4],
      [0, 4],
    ],
  ]);
  expect(store.getState().past).toHaveLength(1);
  expect(store.getState().toolRun?.announcement?.text).toMatch(/^Added /u);
  undo(store);
  expect(store.getState().file).toBe(EMPTY);
});

test('what is sent before the tools are there, and another tool taken up meanwhile, does not get mixed up', () => {
  const { store } = openTrial(EMPTY);
  startTool(store, 'room');
  press(store, '3');
  expect(store.getState().toolRun?.hint).toMatch(/^3 · Enter/u);
  startTool(store, 'zone');
  expect(store.getState().toolRun?.id).toBe('zone');
  expect(store.getState().toolRun?.hint).not.toMatch(/^3/u);
});

test('Escape takes back what is in hand, then the tool, then the selection', () => {
  const { store, runFrame } = openTrial();
  startTool(store, 'select');
  select(store, ['shelf']);
  press(store, 'Enter');
  press(store, 'ArrowRight');
  runFrame();
  expect(store.getState().gesture).not.toBeNull();
  expect(store.getState().preview).not.toBeNull();
  expect(stepBackWithTool(store)).toBe(true);
  expect(store.getState().gesture).toBeNull();
  expect(store.getState().preview).toBeNull();
  expect(store.getState().file).toBe(SMALL_FLOOR);
  expect(store.getState().selection).toEqual(['shelf']);
  startTool(store, 'workplace');
  expect(stepBackWithTool(store)).toBe(true);
  expect(store.getState().tool).toBe('select');
  expect(stepBackWithTool(store)).toBe(true);
  expect(store.getState().selection).toEqual([]);
  expect(stepBackWithTool(store)).toBe(false);
});

test('a value typed in the margin is not taken back by a pointer that passes over the floor', () => {
  const { store } = openTrial();
  startTool(store, 'select');
  beginGesture(store, 'Typing: top of Shelf');
  sendToolEvent(store, {
    type: 'pointer-move',
    at: [1, 1],
    metresPerPixel: 0.02,
    modifiers: PLAIN,
    pointerType: 'mouse',
  });
  expect(store.getState().gesture).toBe('Typing: top of Shelf');
});

test('a tool taken up behind its back, and another floor, begin anew', () => {
  const { store } = openTrial();
  startTool(store, 'room');
  press(store, '3');
  setTool(store, 'probe');
  expect(store.getState().toolRun).toBeNull();
  setTool(store, 'select');
  expect(store.getState().toolRun?.id).toBe('select');
  replaceDocument(store, EMPTY, null);
  expect(store.getState().toolRun?.id).toBe('select');
  expect(store.getState().tool).toBe('select');
});
