/** The walk test on a phone, without a network: what is found goes into the floor file and comes back with it. */
import { expect, inject, test, vi } from 'vitest';
import type { FloorFile } from '../../src/core/floor/index.ts';
import { runCommand, saveFloor } from './drawing.ts';
import { dropFile, eventually, listBarriers, prepareBrowser, waitForFindings } from './open-app.ts';

vi.setConfig({ testTimeout: 120_000 });

const openApp = prepareBrowser();

const ROOM: FloorFile = {
  format: 'lacuna/1',
  name: 'Two seats',
  rooms: [
    {
      id: 'R',
      name: 'Reading room',
      outline: [
        [0, 0],
        [10, 0],
        [10, 4],
        [0, 4],
      ],
      ceiling: 3,
    },
  ],
  openings: [{ id: 'O', kind: 'door', from: [2, 0], to: [3, 0] }],
  workplaces: [
    { id: 'W1', name: 'Near', at: [3, 2] },
    { id: 'W2', name: 'Far', at: [9, 2] },
  ],
  types: [
    {
      id: 'T',
      name: 'T',
      ranges: [
        { motion: 'minor', mounting: 3, plane: 0.8, diameter: 6 },
        { motion: 'tangential', mounting: 3, plane: 1.2, diameter: 8 },
        { motion: 'radial', mounting: 3, plane: 1.2, diameter: 8 },
      ],
    },
  ],
  detectors: [{ id: 'D1', name: 'D1', type: 'T', at: [3, 2] }],
};

test('on a phone, offline: points are gone through, seen and not seen go into the file with their notes', async () => {
  const { page, complaints } = await openApp({
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
  });
  await waitForFindings(page);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.context().setOffline(true);
  // A save is then a download, which a test can read.
  await page.addInitScript(() => Reflect.deleteProperty(window, 'showOpenFilePicker'));
  await page.goto(inject('appUrl'));
  await page.waitForSelector('.verdict');
  await dropFile(page, 'two-seats.json', JSON.stringify(ROOM));
  await eventually(() => page.title()).toContain('Two seats');
  await waitForFindings(page);
  await runCommand(page, 'Walk test on site');
  const title = page.locator('.test-point');
  const answer = (name: string) => page.getByRole('button', { name, exact: true });
  await eventually(() => title.textContent()).toMatch(/^E1 · /u);
  const said = await page.locator('.question').textContent();
  expect(said).toContain('Walk straight into Reading room.');
  expect(await answer('Seen').isDisabled()).toBe(true);
  // The answers lie in sight, above the bar at the foot.
  const bar = await page.locator('.phone-bar').boundingBox();
  const box = await answer('Seen').boundingBox();
  if (bar === null || box === null) throw new Error('The answers are not on screen.');
  expect(box.y + box.height).toBeLessThanOrEqual(bar.y);
  expect(box.height).toBeGreaterThanOrEqual(48);
  expect(await listBarriers(page)).toEqual([]);

  await page.getByLabel('Metres until the light').fill('1,8');
  await page.getByRole('textbox', { name: 'Name' }).fill('A. Walker');
  await answer('Seen').tap();
  await eventually(() => title.textContent()).toMatch(/^S1 · Far/u);
  await page.getByRole('textbox', { name: 'Note' }).fill('<b>lamp</b> went out');
  await answer('Not seen').tap();
  await eventually(() => title.textContent()).toMatch(/^S2 · Near/u);
  // Who walks is kept from point to point.
  expect(await page.getByRole('textbox', { name: 'Name' }).inputValue()).toBe('A. Walker');
  await answer('Seen').tap();
  await eventually(() => page.locator('.question [role="status"]').textContent()).toContain('3 of 3 points are walked');
  await page.getByRole('button', { name: 'Point before' }).tap();
  await eventually(() => title.textContent()).toMatch(/^S1 · Far/u);
  expect(await page.getByRole('textbox', { name: 'Note' }).inputValue()).toBe('<b>lamp</b> went out');

  const { records = [] } = await saveFloor(page);
  expect(records.map(({ about, found, pass, text, by }) => ({ about, found, pass, text, by }))).toEqual([
    { about: 'O', found: { seen: true, metres: 1.8 }, pass: false, text: '', by: 'A. Walker' },
    { about: 'W2', found: { seen: false }, pass: false, text: '<b>lamp</b> went out', by: 'A. Walker' },
    { about: 'W1', found: { seen: true }, pass: true, text: '', by: 'A. Walker' },
  ]);
  expect(complaints).toEqual([]);
});
