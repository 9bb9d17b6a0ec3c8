/** Plans on the page: masks with their cost, the plan of a group, groups proposed, settings taken, the energy estimate. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { eventually, goTo, listBarriers, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

const foot = async (page: Page): Promise<string> => (await page.locator('.hints').textContent()) ?? '';

async function run(page: Page, command: string): Promise<void> {
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+k');
  await page.locator('.find-line').fill(command);
  await page.getByRole('option', { name: command }).first().waitFor();
  await page.keyboard.press('Enter');
}

test('a source is masked by one click that names its cost, and undo takes it back', async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  await goTo(page, 'Oven');
  const button = page.getByRole('button', { name: 'Mask it from D41' });
  await button.waitFor({ timeout: 30_000 });
  const part = page.getByRole('region', { name: 'Masks for Oven' });
  expect(await part.textContent()).toMatch(/It costs .*m² for walking people\. Nobody is lost\./u);
  await button.click();
  await eventually(() => foot(page)).toMatch(/^Masked Oven from D41/u);
  await eventually(() => page.locator('.note').first().textContent()).toContain('no detector');
  await eventually(() => part.count()).toBe(0);
  await page.keyboard.press('Control+z');
  await eventually(() => page.locator('.note').first().textContent()).toContain('D41');
  expect(complaints).toEqual([]);
}, 90_000);

test('a group tells its cable against the limit, and takes the settings of its use', async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  await goTo(page, 'Booths');
  const note = page.getByRole('region', { name: 'The thing in hand' });
  await eventually(() => note.textContent()).toMatch(/cable3\.52\sm/u);
  expect(await note.textContent()).toContain('of 30.00');
  await eventually(() =>
    page
      .locator('.scene-word')
      .allTextContents()
      .then((all) => all.join()),
  ).toContain('cable 3.52');
  const settings = page.getByRole('region', { name: 'Settings by use' });
  expect(await settings.textContent()).toContain('common practice, no source');
  await settings.getByRole('button', { name: 'Take these' }).click();
  await eventually(() => foot(page)).toContain('Changed the settings of Booths');
  await eventually(() => settings.textContent()).toContain('set so');
  await page.keyboard.press('Control+z');
  await eventually(() => settings.textContent()).toContain('Take these');
  await goTo(page, 'D41');
  await eventually(() =>
    page
      .locator('.scene-word')
      .allTextContents()
      .then((all) => all.join()),
  ).not.toContain('cable');
  await eventually(() =>
    page
      .locator('.scene-word')
      .allTextContents()
      .then((all) => all.join()),
  ).toContain('measured');
  expect(complaints).toEqual([]);
}, 90_000);

test('proposed groups are one step', async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  await run(page, 'Propose groups');
  const dialog = page.getByRole('dialog', { name: 'Propose groups' });
  await eventually(() => dialog.locator('.say').textContent()).toMatch(/^\d+\sgroups with .* of cable in all/u);
  const before = await dialog.locator('.say').textContent();
  await dialog.getByLabel('one group lights at most').selectOption({ label: '30 m², energy credit' });
  await eventually(() => dialog.locator('.say').textContent()).not.toBe(before);
  await dialog.getByRole('button', { name: 'Take these groups' }).click();
  await dialog.waitFor({ state: 'detached' });
  await eventually(() => foot(page)).toMatch(/^Took \d+ proposed groups/u);
  await page.keyboard.press('Control+z');
  await eventually(() => page.locator('h1').textContent()).not.toContain('not saved');
  expect(complaints).toEqual([]);
}, 90_000);

describe.each([
  { width: 1280, height: 720, colorScheme: 'light' },
  { width: 390, height: 844, colorScheme: 'dark' },
] as const)('at $width × $height, $colorScheme', ({ width, height, colorScheme }) => {
  test('plans have no barrier, and nothing is wider than the window', async () => {
    const { page, complaints } = await openApp({ viewport: { width, height }, colorScheme, hasTouch: width < 500 });
    await waitForFindings(page);
    const expectClean = async (what: string): Promise<void> => {
      expect(await listBarriers(page), what).toEqual([]);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect(wide, what).toBeLessThanOrEqual(0);
    };
    await goTo(page, 'Booths');
    await page.getByRole('region', { name: 'Settings by use' }).waitFor();
    await expectClean('a group');
    await goTo(page, 'Oven');
    await page.getByRole('button', { name: 'Mask it from D41' }).waitFor({ timeout: 30_000 });
    await expectClean('a source');
    for (const name of ['Propose groups', 'Energy estimate']) {
      await run(page, name);
      await page.getByRole('dialog', { name }).locator('.say').waitFor();
      await expectClean(name);
      await page.keyboard.press('Escape');
      await page.getByRole('dialog').waitFor({ state: 'detached' });
    }
    expect(complaints).toEqual([]);
  }, 180_000);
});
