import { expect, test, vi } from 'vitest';
import { serialiseFloor } from '../../../src/core/floor/index.ts';
import { undo } from '../../../src/editor/history.ts';
import { isAtRisk } from '../../../src/editor/storage/keeper.ts';
import type { WriteFailure } from '../../../src/editor/storage/platform.ts';
import { replaceDocument } from '../../../src/editor/store.ts';
import { createRandom } from '../../models/random.ts';
import { SMALL_FLOOR } from '../open-floor.ts';
import { openBrowser, quiet, type Tab } from './fake-browser.ts';
import { doSomething, remember, rename, textOf } from './random-steps.ts';

vi.setConfig({ testTimeout: 60_000 });

const troubleOf = ({ keeper }: Tab): string | undefined => keeper.state.getState().trouble?.kind;
const isAsked = ({ keeper, store }: Tab): boolean => isAtRisk(keeper.state.getState(), store.getState());

test('a full disk is said once, in words; the editor goes on, and all is kept once there is room', async () => {
  const { disk, openTab } = openBrowser();
  const tab = await openTab();
  await quiet();
  const told: string[] = [];
  tab.keeper.state.subscribe(({ trouble }) =>
    told.push(trouble === null ? 'none' : `${trouble.what} ${trouble.remedy}`),
  );
  disk.failAlways('full');
  for (const name of ['East', 'West', 'South']) {
    rename(tab.store, name);
    await quiet();
  }
  expect(told).toEqual([
    'The disk has no room left for this browser. Changes are not kept. Save the floor to a file. Removing recent floors makes room.',
  ]);
  expect(tab.store.getState().past).toHaveLength(3);
  expect(isAsked(tab)).toBe(true);
  tab.store.setState({ savedFile: tab.store.getState().file });
  expect(isAsked(tab)).toBe(false);

  disk.failAlways(null);
  rename(tab.store, 'North');
  await quiet();
  expect(told.at(-1)).toBe('none');
  expect(tab.store.getState().notice?.text).toBe('The browser keeps all changes again.');
  expect(isAsked(tab)).toBe(false);
  const before = remember(tab.store);
  tab.kill();
  expect(remember((await openTab()).store)).toEqual(before);
});

test('what failed is tried again by itself, ever more seldom', async () => {
  const { disk, openTab, clock } = openBrowser();
  const tab = await openTab();
  await quiet();
  disk.failAlways('failed');
  rename(tab.store, 'East');
  await quiet();
  const { asked } = disk;
  for (let second = 0; second < 60; second += 1) {
    clock.turn(1000);
    await quiet();
  }
  expect(disk.asked - asked).toBe(3);
  disk.failAlways(null);
  clock.turn(80_000);
  await quiet();
  expect(troubleOf(tab)).toBeUndefined();
  tab.kill();
  expect((await openTab()).store.getState().file.detectors?.[0]?.name).toBe('East');
});

test('a browser that keeps nothing says so at once; nothing else is different', async () => {
  const { disk, openTab } = openBrowser();
  disk.failAlways('unavailable');
  const tab = await openTab();
  await quiet();
  expect(troubleOf(tab)).toBe('unavailable');
  expect(isAsked(tab)).toBe(false);
  rename(tab.store, 'East');
  expect(isAsked(tab)).toBe(true);
  expect(undo(tab.store)).toBe(true);
  expect(await tab.keeper.list()).toEqual([]);
  replaceDocument(tab.store, { ...SMALL_FLOOR, name: 'Second' }, null);
  await quiet();
  expect(tab.store.getState().file.name).toBe('Second');
});

test('a write that does not end is said, and taken back when it has ended', async () => {
  const { disk, openTab, clock } = openBrowser();
  const tab = await openTab();
  await quiet();
  disk.holdBack();
  rename(tab.store, 'East');
  clock.turn(4999);
  expect(troubleOf(tab)).toBeUndefined();
  clock.turn(1);
  expect(troubleOf(tab)).toBe('slow');
  disk.goOn();
  await quiet();
  expect(troubleOf(tab)).toBeUndefined();
});

test('site data cleared under an open tab: the floor is written anew with all its steps', async () => {
  const { disk, openTab } = openBrowser();
  const tab = await openTab();
  rename(tab.store, 'East');
  await quiet();
  disk.clear();
  disk.fail('gone');
  rename(tab.store, 'West');
  await quiet();
  expect(troubleOf(tab)).toBeUndefined();
  const before = remember(tab.store);
  tab.kill();
  expect(remember((await openTab()).store)).toEqual(before);
});

test('writes that fail among others: what comes back is a state that was, and all of it after the next that succeeds', async () => {
  const failures: readonly WriteFailure[] = ['full', 'failed', 'gone'];
  let failed = 0;
  let back = 0;
  for (let seed = 1; seed <= 150; seed += 1) {
    const random = createRandom(seed);
    const { disk, openTab, clock } = openBrowser();
    const tab = await openTab();
    if (random.chance(0.8)) await quiet();
    const texts = new Set([textOf(tab.store)]);
    tab.store.subscribe(() => texts.add(textOf(tab.store)));
    for (let i = random.whole(5, 15); i > 0; i -= 1) {
      if (random.chance(0.2)) {
        disk.fail(random.pick(failures));
        failed += 1;
      }
      doSomething(tab.store, random);
      if (random.chance(0.3)) await quiet();
      if (random.chance(0.1)) clock.turn(6000);
    }
    const isMended = random.chance(0.5);
    if (isMended) {
      disk.failAlways(null);
      for (let i = 0; i < 10; i += 1) {
        clock.turn(90_000);
        await quiet();
      }
      rename(tab.store, 'Last');
      await quiet();
      expect(troubleOf(tab)).toBeUndefined();
    }
    const before = remember(tab.store);
    tab.kill();
    const second = await openTab();
    if (isMended) expect({ seed, ...remember(second.store) }).toEqual({ seed, ...before });
    else {
      expect([...texts]).toContain(textOf(second.store));
      back += 1;
    }
    while (undo(second.store)) expect([...texts]).toContain(textOf(second.store));
  }
  expect(failed).toBeGreaterThan(150);
  expect(back).toBeGreaterThan(40);
});

test('a floor left while its last write was under way is kept to the end', async () => {
  const { disk, openTab } = openBrowser();
  const tab = await openTab();
  await quiet();
  disk.holdBack();
  rename(tab.store, 'East');
  replaceDocument(tab.store, { ...SMALL_FLOOR, name: 'Second' }, null);
  disk.goOn();
  await quiet();
  const trial = (await tab.keeper.list()).find(({ name }) => name === 'Trial');
  if (trial === undefined) throw new Error('The floor left is not kept.');
  await tab.keeper.open(trial);
  expect(tab.store.getState().file.detectors?.[0]?.name).toBe('East');
});

test('a floor left whose last write fails is said', async () => {
  const { disk, openTab } = openBrowser();
  const tab = await openTab();
  await quiet();
  disk.fail('full');
  rename(tab.store, 'East');
  replaceDocument(tab.store, { ...SMALL_FLOOR, name: 'Second' }, null);
  await quiet();
  expect(tab.store.getState().notice?.text).toBe('The last change of the floor before could not be kept.');
});

test('removing a floor makes room, and what failed is tried again at once', async () => {
  const { disk, openTab, clock } = openBrowser();
  const tab = await openTab();
  rename(tab.store, 'East');
  await quiet();
  clock.turn(1000);
  replaceDocument(tab.store, { ...SMALL_FLOOR, name: 'Second' }, null);
  await quiet();
  disk.fail('full');
  rename(tab.store, 'West');
  await quiet();
  expect(troubleOf(tab)).toBe('full');
  const trial = (await tab.keeper.list()).find(({ name }) => name === 'Trial');
  expect(await tab.keeper.remove(trial?.id ?? '')).toBe(true);
  await quiet();
  expect(troubleOf(tab)).toBeUndefined();
});

test('records that come late do not keep the page waiting, and keep what is done meanwhile', async () => {
  const { disk, openTab, clock } = openBrowser();
  const tab = await openTab();
  rename(tab.store, 'East');
  await quiet();
  tab.kill();
  disk.holdReads();
  disk.holdBack();
  const opening = openTab();
  await quiet();
  clock.turn(8000);
  const late = await opening;
  expect(textOf(late.store)).toBe(serialiseFloor(SMALL_FLOOR));
  expect(late.store.getState().notice?.text).toBe('What this browser keeps comes late. Recent floors are in Files.');
  rename(late.store, 'West');
  clock.turn(5000);
  expect(troubleOf(late)).toBe('slow');
  disk.goOn();
  for (let i = 0; i < 3; i += 1) await quiet();
  expect(troubleOf(late)).toBeUndefined();
  const [, east] = await late.keeper.list();
  if (east === undefined) throw new Error('The floor before is not listed.');
  await late.keeper.open(east);
  expect(late.store.getState().file.detectors?.[0]?.name).toBe('East');
});
