import { expect, test } from 'vitest';
import { eventually, listBarriers, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

test('presenting shows the picture and one sentence; keys step through the findings, any camera; Escape ends it', async () => {
  const { page, complaints } = await openApp({ viewport: { width: 1920, height: 1080 } });
  await waitForFindings(page);
  const verdict = ((await page.locator('.verdict').textContent()) ?? '').trim();
  const first = await page.locator('.finding-text').first().textContent();
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+Enter');
  const sentence = page.locator('.caption-sentence');
  await sentence.waitFor();
  expect(await sentence.textContent()).toBe(verdict);
  for (const part of ['.head', '.rule', '.margin', '.foot', '.key'])
    expect(await page.locator(part).isVisible(), part).toBe(false);
  // Large enough for the last row: 62 px at 1920.
  const size = await sentence.evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
  expect(size).toBeGreaterThan(40);
  const picture = await page.locator('[data-region="page"]').boundingBox();
  expect(picture?.width).toBe(1920);
  expect(picture?.height ?? 0).toBeGreaterThan(700);
  expect(await listBarriers(page)).toEqual([]);

  await page.keyboard.press('ArrowRight');
  await eventually(() => sentence.textContent()).toBe(first);
  await eventually(() => page.locator('.caption-reason').textContent()).toMatch(/^fail, 1 of \d+, at /u);
  await page.keyboard.press('PageDown');
  await eventually(() => page.locator('.caption-reason').textContent()).toMatch(/, 2 of \d+/u);
  await page.keyboard.press('ArrowLeft');
  await eventually(() => sentence.textContent()).toBe(first);
  expect(await page.locator('.key-plan').count()).toBe(1);
  await page.keyboard.press('n');
  await eventually(() => page.locator('.key-plan').count()).toBe(0);
  const walker = () => page.locator('.caption-reason').textContent();
  expect(await walker()).toContain('1 of');
  await page.keyboard.press('3');
  await page.keyboard.press('ArrowUp');
  await eventually(() => sentence.textContent()).toBe(first);
  await page.keyboard.press('Escape');
  await sentence.waitFor({ state: 'detached' });
  expect(await page.locator('.head').isVisible()).toBe(true);
  expect(await page.getByRole('button', { name: 'Walk 3' }).getAttribute('aria-pressed')).toBe('true');
  expect(complaints).toEqual([]);
});
