/** A floor in one HTML file: opened from disk with the network off, it shows what `check` says. */
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { parseFloor } from '../../src/core/floor/index.ts';
import { judgeFloor } from '../../src/core/planning/judge.ts';
import { writeSharePage } from '../../src/handover/share/share-page.ts';
import { findBrowser } from './find-browser.ts';
import { eventually, listBarriers } from './open-app.ts';

vi.setConfig({ testTimeout: 120_000 });

const folder = mkdtempSync(join(tmpdir(), 'lacuna-shared-'));
const built = readFileSync(fileURLToPath(new URL('../../dist/share/share.html', import.meta.url)), 'utf8');
const parsed = parseFloor(readFileSync(new URL('../../models/floors/open-plan-office.json', import.meta.url), 'utf8'));
if (!parsed.ok) throw new Error('The office floor is faulty.');
const { floor } = parsed;
let browser: Browser;

beforeAll(async () => {
  browser = await chromium.launch({ ...(await findBrowser()), headless: true });
});
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

async function openFromDisk(text: string) {
  const path = join(folder, 'floor.html');
  writeFileSync(path, text);
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 }, offline: true });
  const page = await context.newPage();
  const requests: string[] = [];
  const complaints: string[] = [];
  page.on('request', (request) => {
    if (!/^(file|data|blob):/u.test(request.url())) requests.push(request.url());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(`file://${path}`);
  return { page, requests, complaints, path };
}

test('it opens from disk without a request, shows the heat map, and its numbers are those of check', async () => {
  const { page, requests, complaints, path } = await openFromDisk(writeSharePage(built, floor));
  expect(statSync(path).size).toBeLessThanOrEqual(2_500_000);
  await page.waitForFunction(() => document.documentElement.dataset.heatmap === 'ready', null, { timeout: 60_000 });
  await page.waitForSelector('.findings:not(.stale) .finding');
  const { workplacesMet, findings } = judgeFloor(floor);
  const unmet = workplacesMet[1] - workplacesMet[0];
  expect(unmet).toBeGreaterThan(0);
  expect(await page.locator('#verdict').textContent()).toContain(`${unmet} of ${workplacesMet[1]} workplaces`);
  expect(await page.locator('.finding').count()).toBe(findings.length);
  expect(await page.locator('.finding-text').first().textContent()).toBe(findings[0]?.text);
  expect(await page.title()).toContain(floor.name);
  // All three cameras, a probe, a step through the findings; and nothing moves that would change the floor.
  for (const camera of ['Model', 'Walk', 'Plan']) {
    const word = page.locator('.cameras').getByRole('button', { name: camera });
    await word.click();
    await eventually(() => word.getAttribute('aria-pressed')).toBe('true');
  }
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('.');
  await eventually(() => page.locator('.finding[aria-current="true"]').count()).toBe(1);
  await page.keyboard.press('p');
  await eventually(() => page.locator('.note .aside').first().textContent()).toContain('seated');
  expect(await listBarriers(page)).toEqual([]);
  expect(requests).toEqual([]);
  expect(complaints).toEqual([]);
});

test('names stay text: markup, an end of the script, right-to-left letters', async () => {
  const name = '</script><script>document.title="bad"</script><b>مكتب</b> =1+1';
  const { page, complaints } = await openFromDisk(writeSharePage(built, { ...floor, name }));
  await page.waitForSelector('#verdict');
  await eventually(() => page.locator('h1 bdi').textContent()).toBe(name);
  expect(await page.title()).not.toBe('bad');
  expect(await page.locator('h1 b').count()).toBe(0);
  expect(complaints).toEqual([]);
});
