import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, test, vi } from 'vitest';
import { serialiseFloor } from '../../../src/core/floor/index.ts';
import { edit, redo, undo } from '../../../src/editor/history.ts';
import { moveDetector } from '../../../src/editor/recipes.ts';
import { type Entry, readLog } from '../../../src/editor/storage/floor-log.ts';
import { weighPatch } from '../../../src/editor/storage/patch.ts';
import { generateFloor } from '../../models/generate-floor.ts';
import { openBrowser, quiet } from './fake-browser.ts';

vi.setConfig({ testTimeout: 120_000 });

const LARGE = generateFloor({ areaM2: 10_000, seed: 7 });

test('a step on 10,000 m² writes its change alone', async () => {
  const { disk, openTab } = openBrowser({ first: LARGE, isTrusting: true });
  const { store, keeper } = await openTab();
  await quiet();
  const detectors = store.getState().file.detectors ?? [];
  const before = disk.listKeys().length;
  for (let i = 0; i < 60; i += 1) {
    const { id, at } = detectors[(i * 7) % detectors.length] ?? {};
    if (id === undefined || at === undefined) throw new Error('The floor has no detectors.');
    edit(store, `Moved ${id}`, moveDetector(id, [at[0] + 0.1, at[1]]));
    await quiet();
  }
  expect(disk.listKeys().length - before).toBe(60);
  const records = await disk.read({ from: ['log', keeper.openId() ?? '', 2], to: ['log', keeper.openId() ?? '', 1e9] });
  const weights = records.map(({ value }) => {
    const entry = value as Entry;
    if (entry.kind !== 'change') throw new Error('A step wrote the whole line.');
    return entry.change.steps.reduce((sum, { patch }) => sum + weighPatch(patch), 0);
  });
  expect(weights).toHaveLength(60);
  expect(Math.max(...weights)).toBeLessThan(20);

  const start = performance.now();
  const log = await readLog(disk, keeper.openId() ?? '');
  const ms = performance.now() - start;
  expect(serialiseFloor(log?.line.files.at(-1) ?? LARGE)).toBe(serialiseFloor(store.getState().file));
  const megabytes = (serialiseFloor(LARGE).length / 1e6).toFixed(2);
  console.log(
    `floor of ${megabytes} MB, ${LARGE.furniture?.length} pieces: reading it with 60 steps ${ms.toFixed(0)} ms`,
  );
});

test('a log grown heavy by few large steps is written anew, upon the file it began with', async () => {
  const { disk, openTab, rest } = openBrowser({ first: LARGE, isTrusting: true });
  const { store, keeper } = await openTab();
  await rest();
  const id = keeper.openId() ?? '';
  const readBase = () => disk.read({ from: ['log', id, 0], to: ['log', id, 0] });
  const base = await readBase();
  const lengths: number[] = [];
  for (let i = 0; i < 7; i += 1) {
    edit(store, 'Moved all pieces', (draft) => {
      draft.furniture = draft.furniture?.map((piece) => ({
        ...piece,
        outline: piece.outline.map(([x, y]) => [x + 0.001, y]),
      }));
    });
    await rest();
    lengths.push(disk.listKeys().filter(([kind]) => kind === 'log').length);
  }
  console.log(`entries after each of 7 moves of all pieces: ${lengths.join(', ')}`);
  expect(Math.max(...lengths)).toBeLessThan(6);
  expect(await readBase()).toEqual(base);
  const state = await readLog(disk, id);
  expect(state?.line.steps).toHaveLength(7);
  expect(serialiseFloor(state?.line.files.at(-1) ?? LARGE)).toBe(serialiseFloor(store.getState().file));
});

test('1,000 edits, undone and done again twice, take a bounded amount of memory', async () => {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  const used = async (): Promise<number> => {
    await quiet();
    collect();
    return process.memoryUsage().heapUsed / 1e6;
  };
  const { openTab, rest } = openBrowser({ first: LARGE, isTrusting: true });
  const { store } = await openTab();
  await rest();
  const detectors = store.getState().file.detectors ?? [];
  const measured = [await used()];
  for (let i = 0; i < 1000; i += 1) {
    const { id, at } = detectors[i % detectors.length] ?? {};
    if (id === undefined || at === undefined) throw new Error('The floor has no detectors.');
    edit(store, `Moved ${id}`, moveDetector(id, [at[0] + 0.001 * (i + 1), at[1]]));
    if (i % 50 === 0) await rest();
  }
  await rest();
  measured.push(await used());
  for (let round = 0; round < 2; round += 1) {
    while (undo(store));
    await rest();
    while (redo(store));
    await rest();
    measured.push(await used());
  }
  const [before = 0, once = 0, twice = 0, thrice = 0] = measured;
  console.log(
    `heap: ${measured.map((each) => each.toFixed(1)).join(', ')} MB; ${(once - before).toFixed(1)} kB a step`,
  );
  expect(once - before).toBeLessThan(120);
  expect(Math.max(twice, thrice) - once).toBeLessThan(20);
});
