import { expect, test } from 'vitest';
import { eventually, goTo, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser(['--disable-3d-apis']);

test('without WebGL the page says so and why, and everything in the margin works', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  expect(await page.locator('.flat').textContent()).toMatch(/The floor is not drawn\..*WebGL/u);
  expect(await page.getByRole('button', { name: /^Model/u }).isDisabled()).toBe(true);
  await goTo(page, 'D13');
  await page.getByLabel('turn', { exact: true }).fill('30');
  await page.keyboard.press('Enter');
  await eventually(() => page.locator('.hints').textContent()).toContain('Turn of D13: 30°');
});
