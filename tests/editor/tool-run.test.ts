import { beforeAll, expect, test } from 'vitest';
import type { FloorFile } from '../../src/core/floor/index.ts';
import { undo } from '../../src/editor/history.ts';
import { createEditorStore, type EditorStore } from '../../src/editor/store.ts';
import { loadTools, sendToolEvent, startTool, stepBackWithTool } from '../../src/editor/tool-run.ts';
import { TOOLS } from '../../src/editor/tools/registry.ts';
import { select, setTool } from '../../src/editor/view.ts';
import { TOOL_WORDS } from '../../src/ui/panels/tool-words.ts';

const EMPTY: FloorFile = { format: 'lacuna/1', name: 'Empty', rooms: [], types: [], detectors: [] };
const PLAIN = { shift: false, alt: false, ctrl: false };

function open(file: FloorFile = EMPTY): { readonly store: EditorStore; readonly frame: () => void } {
  const works: (() => void)[] = [];
  const store = createEditorStore(file, {
    createCoverage: () => null,
    updateCoverage: () => null,
    findFaults: () => [],
    schedule: (work) => void works.push(work),
  });
  return { store, frame: () => works.splice(0).forEach((work) => work()) };
}

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
  const { store } = open();
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
