/** A part of the app that cannot be loaded takes nothing else with it. */
import { expect, test } from 'vitest';
import { eventually, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

test('a sheet that cannot be loaded says so, is closed, and the page works on', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  await page.route('**/KeysDialog-*.js', (route) => route.abort('failed'));
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('?');
  const said = page.getByRole('dialog').getByRole('alert');
  await eventually(() => said.textContent()).toContain('The sheet cannot be shown. What you have drawn is kept.');
  await page.keyboard.press('Escape');
  await said.waitFor({ state: 'detached' });
  await page.keyboard.press('Control+k');
  await page.locator('.find-line').fill('D13');
  await page.getByRole('option', { name: 'Go to D13' }).first().waitFor();
  await page.keyboard.press('Enter');
  await eventually(() => page.locator('.note-title').first().textContent()).toBe('D13');
});

test('where the drawn floor cannot be loaded, the panels stand and the findings come', async () => {
  const { page } = await openApp();
  await page.route('**/FloorScene-*.js', (route) => route.abort('failed'));
  await page.reload();
  await eventually(() => page.locator('[data-region="page"]').getByRole('alert').textContent()).toContain(
    'The drawn floor cannot be shown.',
  );
  await waitForFindings(page);
  expect(await page.locator('.finding').count()).toBeGreaterThan(5);
  await page.unroute('**/FloorScene-*.js');
  await page.getByRole('button', { name: 'Load the page again' }).click();
  await page.waitForFunction(() => document.documentElement.dataset.heatmap === 'ready');
});
