/** Arranging detectors on the page: chosen, searched in a worker, shown as a draft, taken over in one step, or stopped. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, test, vi } from 'vitest';
import { dropFile, eventually, listBarriers, prepareBrowser, waitForFindings } from './open-app.ts';

// Generous: a busy machine is no fault.
vi.setConfig({ testTimeout: 240_000 });

const openApp = prepareBrowser();
const roomsText = readFileSync(new URL('../../models/floors/small-rooms.json', import.meta.url), 'utf8');

async function openNote(page: Page): Promise<void> {
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+k');
  await page.locator('.find-line').fill('Arrange: the fewest');
  await page.getByRole('option', { name: 'Arrange: the fewest', exact: false }).first().waitFor();
  await page.keyboard.press('Enter');
  await page.waitForSelector('.arrange-start');
}

async function openRooms(page: Page): Promise<void> {
  await dropFile(page, 'small-rooms.json', roomsText);
  await eventually(() => page.title()).toContain('Small rooms');
  await waitForFindings(page);
}

/** How many detectors the open floor has: the palette lists them all by their kind. */
async function countHung(page: Page): Promise<string> {
  return ((await page.locator('.foot').textContent()) ?? '').replaceAll('\u00a0', ' ');
}

test.each([
  ['light', { width: 1280, height: 720 }],
  ['dark', { width: 390, height: 844 }],
] as const)('a draft in %s is proved, drawn, and hung in one step', async (colorScheme, viewport) => {
  const { page, complaints } = await openApp({ colorScheme, viewport });
  await openRooms(page);
  await openNote(page);
  expect(await listBarriers(page)).toEqual([]);
  await page.getByRole('checkbox', { name: 'Rectangle 8 × 6', exact: true }).check();
  await shoot(page, `choices-${colorScheme}`);
  await page.locator('.arrange-start').click();
  const hang = page.getByRole('button', { name: /^Hang these/u });
  await hang.waitFor({ timeout: 120_000 });
  const says = await page.locator('.question [role="status"]').textContent();
  expect(says).toMatch(/^\d+\sdetectors\. Proved fewest on this grid\./u);
  const number = Number(/^\d+/u.exec(says ?? '')?.[0]);
  expect(number).toBeGreaterThan(5);
  expect(await listBarriers(page)).toEqual([]);
  await shoot(page, `draft-${colorScheme}`);
  await hang.click();
  await eventually(() => countHung(page)).toContain(`Arranged ${number} detectors`);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+z');
  await eventually(() => countHung(page)).toContain('Arranged');
  expect(complaints).toEqual([]);
});

test('a search that is stopped keeps the best so far, and the page answers meanwhile', async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  await openNote(page);
  // Two types on every tile of a large floor: that takes its time.
  await page.getByRole('checkbox', { name: 'Round 6', exact: true }).check();
  await page.locator('.arrange-start').click();
  const stop = page.getByRole('button', { name: 'Stop and keep this' });
  await stop.waitFor({ timeout: 120_000 });
  await shoot(page, 'searching');
  // The page's thread stays free while the worker proves: of timers that are due at once, most come at once.
  const waits = await page.evaluate(async () => {
    const waited: number[] = [];
    for (let turn = 0; turn < 31; turn++) {
      const from = performance.now();
      await new Promise((resolve) => setTimeout(resolve, 0));
      waited.push(performance.now() - from);
    }
    return waited;
  });
  expect(waits.sort((a, b) => a - b)[15]).toBeLessThan(200);
  await stop.click();
  await page.getByRole('button', { name: /^Hang these/u }).waitFor({ timeout: 1_000 });
  expect(await page.locator('.question [role="status"]').textContent()).toMatch(/the best when you stopped/u);
  await page.keyboard.press('Escape');
  expect(complaints).toEqual([]);
});

test('what cannot be met is named, with the way to it', async () => {
  const { page, complaints } = await openApp();
  const rooms = JSON.parse(roomsText) as { rooms: { ceiling: number }[] };
  await dropFile(
    page,
    'high.json',
    JSON.stringify({
      ...rooms,
      detectors: [],
      groups: [],
      zones: [],
      luminaires: [],
      furniture: [],
      rooms: rooms.rooms.map((room) => ({ ...room, ceiling: 6 })),
    }),
  );
  await eventually(() => page.title()).toContain('Small rooms');
  await openNote(page);
  await page.locator('.arrange-start').click();
  await page.waitForSelector('.question .answers, .question [role="alert"]', { timeout: 60_000 });
  const first = page.getByRole('list', { name: 'Needs that are not met' }).getByRole('button').first();
  expect(await first.textContent()).toMatch(/cannot be met: .* ceiling is 6\.00 m/u);
  await first.click();
  await eventually(() => page.locator('[aria-label="The thing in hand"]').textContent()).toMatch(/./u);
  expect(complaints).toEqual([]);
});

/** A picture for whoever wants to look, where a folder is named. */
async function shoot(page: Page, name: string): Promise<void> {
  const folder = process.env.LACUNA_SHOTS;
  if (folder !== undefined) await page.screenshot({ path: `${folder}/${name}.png` });
}
