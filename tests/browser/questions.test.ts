/** The questions a floor is asked beside its verdicts, as notes in the margin: answers equal to the computation's own. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, test, vi } from 'vitest';
import { resolveFloor } from '../../src/core/floor/index.ts';
import { findMoveRoom } from '../../src/core/planning/question/move-room.ts';
import { stressFloor } from '../../src/core/planning/question/stress.ts';
import { sweepHeights } from '../../src/core/planning/question/sweep.ts';
import { dropFile, eventually, listBarriers, loadFirstFloor, prepareBrowser, waitForFindings } from './open-app.ts';

// Generous: a busy machine is no fault.
vi.setConfig({ testTimeout: 120_000 });

const openApp = prepareBrowser();
const { file } = loadFirstFloor();
const floor = resolveFloor(file);

async function ask(page: Page, words: string): Promise<void> {
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+k');
  await page.locator('.find-line').fill(words);
  await page.getByRole('option', { name: words, exact: false }).first().waitFor();
  await page.keyboard.press('Enter');
}

test('what if: the sentence names the height that costs nobody, and setting it is one step', async () => {
  const { page, complaints } = await openApp();
  const shelving = floor.furniture.filter((piece) => piece.kind === 'shelving').map((piece) => piece.id);
  const { free, workplaces } = sweepHeights(floor, shelving);
  await ask(page, 'What if these pieces');
  await page.waitForSelector('.curve');
  const say = await page.locator('.question [role="status"]').textContent();
  expect(say?.replaceAll('\u00a0', ' ')).toContain(`Up to ${free?.toFixed(2)} m they cost no workplace`);
  expect(workplaces.length).toBeGreaterThan(0);
  expect(await listBarriers(page)).toEqual([]);
  await page.locator('.question .words button').click();
  await eventually(() => page.locator('.question .words button').textContent()).toContain('1.41');
  await page.keyboard.press('Escape');
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+z');
  await eventually(() => page.locator('.foot').textContent()).toContain('Set 11');
  expect(complaints).toEqual([]);
});

/** A small floor: every case and every place is tried in a moment. */
const islandText = readFileSync(new URL('../../models/floors/small-rooms.json', import.meta.url), 'utf8');
const island = resolveFloor(JSON.parse(islandText));

async function openIsland(page: Page): Promise<void> {
  await dropFile(page, 'small-rooms.json', islandText);
  await eventually(() => page.title()).toContain(island.name);
  await waitForFindings(page);
}

test('stress says what the computation says', async () => {
  const { page, complaints } = await openApp();
  await openIsland(page);
  await ask(page, 'Stress');
  const costly = stressFloor(island).cases.filter(
    ({ lost }) => lost.workplaces.length + lost.zones.length + lost.entrances.length > 0,
  );
  await page.waitForSelector('.question .answers', { timeout: 60_000 });
  await eventually(() => page.getByRole('list', { name: 'Cases that lose something' }).locator('li').count()).toBe(
    costly.length,
  );
  expect(await listBarriers(page)).toEqual([]);
  expect(complaints).toEqual([]);
});

test('move-room says what the computation says; Stop stops it, Escape closes the note', async () => {
  const { page, complaints } = await openApp();
  await openIsland(page);
  await ask(page, 'Move-room');
  await page.waitForSelector('.question .answers', { timeout: 60_000 });
  const rooms = findMoveRoom(island).detectors;
  expect(await page.locator('.question .answers li').count()).toBe(rooms.length);
  const least = [...rooms].sort((a, b) => a.allowed / a.places.length - b.allowed / b.places.length)[0];
  const first = await page.locator('.question .answers li').first().textContent();
  expect(first).toContain(least?.critical ? 'critical' : `${least?.allowed} of ${least?.places.length}`);
  expect(await listBarriers(page)).toEqual([]);
  await page.locator('.question-close').focus();
  await page.keyboard.press('Escape');
  await eventually(() => page.locator('.question').count()).toBe(0);
  // The large floor takes long enough to be stopped.
  await page.reload();
  await waitForFindings(page);
  await dropFile(page, 'office.json', JSON.stringify(file));
  await eventually(() => page.title()).toContain(floor.name);
  await ask(page, 'Move-room');
  await page.getByRole('button', { name: 'Stop' }).click();
  await eventually(() => page.locator('.question [role="status"]').textContent()).toBe('Stopped.');
  expect(complaints).toEqual([]);
});

test('compare: what was changed since the start is told, and the plan shows where', async () => {
  const { page, complaints } = await openApp({ colorScheme: 'dark' });
  const taller = {
    ...file,
    furniture: (file.furniture ?? []).map((piece) => (piece.kind === 'screen' ? { ...piece, top: 1.7 } : piece)),
  };
  await dropFile(page, 'taller.json', JSON.stringify(taller));
  await waitForFindings(page);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('c');
  await page.waitForSelector('.question');
  // Against the file that was open first: handed to the picker.
  const picking = page.waitForEvent('filechooser').catch(() => null);
  await page.evaluate(() => Reflect.deleteProperty(window, 'showOpenFilePicker'));
  await page.getByRole('button', { name: 'another file' }).click();
  const chooser = await picking;
  if (chooser === null) throw new Error('No picker came.');
  await chooser.setFiles({
    name: 'before.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(file)),
  });
  await page.waitForSelector('.map-key');
  await eventually(() => page.locator('.question [role="status"]').textContent()).toContain(
    '15 fewer than before.json',
  );
  expect(await page.locator('.question .answers .worse').count()).toBeGreaterThan(15);
  expect(await listBarriers(page)).toEqual([]);
  expect(complaints).toEqual([]);
});

test('people, not planes: workplaces not seen whole are listed, on a phone too', async () => {
  const { page, complaints } = await openApp({ viewport: { width: 390, height: 844 } });
  await page.locator('[data-region="page"]').focus();
  await ask(page, 'People, not planes');
  await page.waitForSelector('.map-key');
  await eventually(() => page.locator('.question [role="status"]').textContent()).toMatch(
    /\d+ of \d+ seated workplaces/u,
  );
  expect(await listBarriers(page)).toEqual([]);
  expect(complaints).toEqual([]);
});
