import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { eventually, goTo, listBarriers, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

async function run(page: Page, command: string): Promise<void> {
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+k');
  await page.locator('.find-line').fill(command);
  await page.getByRole('option', { name: command }).first().waitFor();
  await page.keyboard.press('Enter');
}

async function closeDialog(page: Page): Promise<void> {
  await page.keyboard.press('Escape');
  await page.getByRole('dialog').waitFor({ state: 'detached' });
}

describe.each([
  { width: 1280, height: 720, colorScheme: 'light' },
  { width: 1280, height: 720, colorScheme: 'dark' },
  { width: 390, height: 844, colorScheme: 'light' },
  { width: 390, height: 844, colorScheme: 'dark' },
] as const)('at $width × $height, $colorScheme', ({ width, height, colorScheme }) => {
  test('no note, tool or sheet of the editor has a barrier, and nothing is wider than the window', async () => {
    const { page, complaints } = await openApp({ viewport: { width, height }, colorScheme, hasTouch: width < 500 });
    await waitForFindings(page);
    const expectClean = async (what: string): Promise<void> => {
      expect(await listBarriers(page), what).toEqual([]);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect(wide, what).toBeLessThanOrEqual(0);
    };
    for (const name of ['Meeting 1', 'Door 15', 'Shelf, west wing', 'Open office, west wing']) {
      await goTo(page, name);
      await page.locator('.note .field').first().waitFor();
      await expectClean(name);
    }
    await run(page, 'Select all workplaces');
    await eventually(() => page.locator('.note-title').first().textContent()).toMatch(/selected$/u);
    await page.locator('.note .field').first().waitFor();
    await expectClean('many things');

    await run(page, 'Detector types: enter a data sheet');
    await page.locator('.range-drawing').waitFor();
    await expectClean('types');
    await closeDialog(page);
    await run(page, 'Workplaces from a spreadsheet');
    await page.locator('.list-text').fill('A\t3,2\t4\t90\tseated\nB\ttwo\t4');
    await eventually(() => page.locator('.list-read').textContent()).toContain('Line 2.');
    await expectClean('a list');
    await closeDialog(page);

    await run(page, 'Draw a room');
    await eventually(() => page.locator(width < 500 ? '.phone-notice' : '.hints').textContent()).toContain(
      'first corner',
    );
    await expectClean('a tool in hand');
    await page.keyboard.press('Escape');
    await run(page, 'New floor');
    await page.locator('.empty').waitFor();
    await expectClean('an empty floor');
    expect(complaints).toEqual([]);
  }, 180_000);
});
