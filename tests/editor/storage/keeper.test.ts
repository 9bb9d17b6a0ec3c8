import { expect, test, vi } from 'vitest';
import { serialiseFloor } from '../../../src/core/floor/index.ts';
import { beginGesture, commitGesture, previewGesture, redo, undo } from '../../../src/editor/history.ts';
import { moveDetector } from '../../../src/editor/recipes.ts';
import { sayOrigin } from '../../../src/editor/storage/kept-floor.ts';
import { hasUnsavedChanges, replaceDocument } from '../../../src/editor/store.ts';
import { createRandom } from '../../models/random.ts';
import { SMALL_FLOOR } from '../open-floor.ts';
import { openBrowser, quiet } from './fake-browser.ts';
import { doSomething, remember, rename, textOf } from './random-steps.ts';

vi.setConfig({ testTimeout: 60_000 });

test('every finished gesture is on its way to the disk before its call returns; a running one is not', async () => {
  const { disk, openTab } = openBrowser();
  const { store } = await openTab();
  const { asked } = disk;
  rename(store, 'East');
  expect(disk.asked).toBe(asked + 1);
  beginGesture(store, 'Dragging D1');
  previewGesture(store, moveDetector('D1', [2, 2]));
  expect(disk.asked).toBe(asked + 1);
  commitGesture(store, 'Moved D1', moveDetector('D1', [2, 2]));
  expect(disk.asked).toBe(asked + 2);
  undo(store);
  redo(store);
  expect(disk.asked).toBe(asked + 4);
});

test('the floor is there again with its steps, and what was saved is told apart', async () => {
  const { openTab } = openBrowser();
  const first = await openTab();
  rename(first.store, 'East');
  first.store.setState({ savedFile: first.store.getState().file, fileName: 'plan.json' });
  rename(first.store, 'West');
  rename(first.store, 'South');
  undo(first.store);
  const before = remember(first.store);
  await quiet();
  first.kill();

  const second = await openTab();
  expect(remember(second.store)).toEqual(before);
  const { returned } = second.keeper.state.getState();
  if (returned === null) throw new Error('Nothing is said on return.');
  expect(`${returned.name}, ${sayOrigin(returned)}`).toBe('Trial, changed since it was saved to plan.json');
  expect(undo(second.store)).toBe(true);
  expect(hasUnsavedChanges(second.store.getState())).toBe(false);
  expect(undo(second.store)).toBe(true);
  expect(textOf(second.store)).toBe(serialiseFloor(SMALL_FLOOR));
  expect(undo(second.store)).toBe(false);
  expect(second.keeper.state.getState().returned).toBeNull();
});

test('200 sessions that end at any write: the floor is that of the last write that arrived, steps and all', async () => {
  let lost = 0;
  let steps = 0;
  for (let seed = 1; seed <= 200; seed += 1) {
    const random = createRandom(seed);
    const { disk, openTab } = openBrowser();
    // Some sessions go on from one that ended before.
    for (let session = random.whole(1, 3); session > 0; session -= 1) {
      const tab = await openTab();
      await quiet();
      const states = [{ asked: disk.asked, kept: remember(tab.store) }];
      tab.store.subscribe((state, before) => {
        if (state.past !== before.past || state.savedFile !== before.savedFile || state.fileName !== before.fileName)
          states.push({ asked: disk.asked, kept: remember(tab.store) });
      });
      disk.holdBack();
      for (let i = random.whole(0, 16); i > 0; i -= 1) {
        doSomething(tab.store, random);
        steps += 1;
        if (random.chance(0.4)) disk.goOn(random.whole(0, 3));
        if (random.chance(0.4)) await quiet();
      }
      tab.kill();
      const crashed = disk.crash();
      lost += crashed;
      const arrived = disk.asked - crashed;
      const expected = states.findLast((state) => state.asked <= arrived);
      const back = await openTab();
      expect({ seed, ...remember(back.store) }).toEqual({ seed, ...expected?.kept });
      await quiet();
      back.kill();
    }
  }
  console.log(`${steps} steps, ${lost} writes that never arrived`);
  expect(lost).toBeGreaterThan(500);
});

test('a long log is written anew: at least 500 steps can be taken back after the return, and older ones before it', async () => {
  const { disk, openTab, rest } = openBrowser();
  const tab = await openTab();
  for (let i = 0; i < 1400; i += 1) {
    rename(tab.store, `D${i}`);
    if (i % 50 === 0) await rest();
  }
  await rest();
  await rest();
  expect(disk.listKeys().filter(([kind]) => kind === 'log').length).toBeLessThan(320);
  const before = remember(tab.store);
  tab.kill();

  const back = await openTab();
  const { past, ...others } = remember(back.store);
  expect(past.length).toBeGreaterThanOrEqual(500);
  expect(past).toEqual(before.past.slice(-past.length));
  // The file that was opened is 1,400 steps back: it is not among them any more.
  expect(others).toEqual({ ...before, past: undefined, saved: null });

  // Taking back more than is kept writes the line anew.
  back.kill();
  const third = await openTab();
  while (undo(third.store));
  await quiet();
  const first = remember(third.store);
  third.kill();
  expect(remember((await openTab()).store)).toEqual(first);
});

test('taking back more steps than are kept keeps the floor where it then stands', async () => {
  const { openTab, rest } = openBrowser();
  const tab = await openTab();
  for (let i = 0; i < 1400; i += 1) {
    rename(tab.store, `D${i}`);
    if (i % 100 === 0) await rest();
  }
  await rest();
  for (let i = 0; i < 1200; i += 1) undo(tab.store);
  await quiet();
  const before = remember(tab.store);
  tab.kill();
  const back = remember((await openTab()).store);
  expect(back.file).toBe(before.file);
  expect(back.past).toEqual(before.past);
  expect(back.future).toEqual(before.future.slice(-back.future.length));
  expect(back.future.length).toBeGreaterThanOrEqual(500);
});

test('another floor is kept beside the first; both are listed, opened, removed', async () => {
  const { openTab, clock } = openBrowser();
  const { store, keeper } = await openTab();
  rename(store, 'East');
  await quiet();
  clock.turn(60_000);
  replaceDocument(store, { ...SMALL_FLOOR, name: 'Second' }, 'second.json');
  await quiet();
  const list = await keeper.list();
  expect(list.map((floor) => [floor.name, floor.areaM2, sayOrigin(floor)])).toEqual([
    ['Second', 48, 'as it was opened from second.json'],
    ['Trial', 48, 'changed since it was opened from trial.json'],
  ]);
  const [second, first] = list;
  if (first === undefined || second === undefined) throw new Error('Two floors are kept.');
  expect(await keeper.remove(second.id)).toBe(false);
  await keeper.open(first);
  expect(store.getState().file.detectors?.[0]?.name).toBe('East');
  expect(undo(store)).toBe(true);
  expect(textOf(store)).toBe(serialiseFloor(SMALL_FLOOR));
  await quiet();
  expect(await keeper.remove(second.id)).toBe(true);
  expect((await keeper.list()).map(({ name }) => name)).toEqual(['Trial']);
});

test('the same floor opened again takes the place of the one without changes; one with changes stays', async () => {
  const { openTab, clock } = openBrowser();
  const { store, keeper } = await openTab();
  for (let i = 0; i < 3; i += 1) {
    replaceDocument(store, structuredClone(SMALL_FLOOR), 'trial.json');
    await quiet();
    await quiet();
  }
  expect(await keeper.list()).toHaveLength(1);
  rename(store, 'East');
  clock.turn(1000);
  replaceDocument(store, SMALL_FLOOR, 'trial.json');
  await quiet();
  await quiet();
  expect((await keeper.list()).map(sayOrigin)).toEqual([
    'as it was opened from trial.json',
    'changed since it was opened from trial.json',
  ]);
});

test('unchanged floors beyond twenty go, the oldest first; those with changes stay', async () => {
  const { openTab, clock } = openBrowser();
  const { store, keeper } = await openTab();
  rename(store, 'East');
  for (let i = 0; i < 25; i += 1) {
    clock.turn(1000);
    replaceDocument(store, { ...SMALL_FLOOR, name: `Floor ${i}` }, `${i}.json`);
    for (let j = 0; j < 4; j += 1) await quiet();
  }
  const names = (await keeper.list()).map(({ name }) => name);
  expect(names).toEqual([...Array.from({ length: 21 }, (_, i) => `Floor ${24 - i}`), 'Trial']);
});

test('a kept floor that this program does not accept is left alone and said', async () => {
  const { disk, openTab } = openBrowser();
  const tab = await openTab();
  rename(tab.store, 'East');
  await quiet();
  tab.kill();
  const [head] = await tab.keeper.list();
  await disk.write({
    add: [],
    put: [{ key: ['log', head?.id ?? '', 0], value: { kind: 'base', format: 'lacuna-kept/2' } }],
    remove: [],
  });
  const back = await openTab();
  expect(textOf(back.store)).toBe(serialiseFloor(SMALL_FLOOR));
  expect(back.store.getState().notice?.text).toBe('Trial, kept in this browser, cannot be read.');
  await quiet();
  expect(await back.keeper.list()).toHaveLength(2);
});
