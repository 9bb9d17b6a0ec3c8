import { gzipSync } from 'node:zlib';
import { PNG } from 'pngjs';
import { expect, test } from 'vitest';
import { formatArea } from '../../src/ui/panels/format.ts';
import { eventually, loadFirstFloor, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

test('the app opens on the first floor: its heat map, its verdict, its findings, and no complaint', async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  const { coverage } = loadFirstFloor();
  const missed = coverage.workplaces.filter((each) => !each.met).length;
  expect(missed).toBeGreaterThan(0);
  expect(await page.locator('.verdict').textContent()).toContain(
    `${missed} of ${coverage.workplaces.length} workplaces`,
  );
  const key = await page.locator('.key').textContent();
  expect(key).toContain(`hidden ${formatArea(coverage.areas.seated.hiddenM2)}`);
  expect(key).toContain(`out of range ${formatArea(coverage.areas.seated.rangeM2)}`);
  expect(key).toContain(`seen ${formatArea(coverage.areas.seated.seenM2)}`);
  await eventually(async () => countReds(await page.locator('canvas').screenshot())).toBeGreaterThan(1000);
  expect(complaints).toEqual([]);
});

test('each way of showing the floor changes the picture and its key', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  const { areas } = loadFirstFloor().coverage;
  await page.locator('[data-region="page"]').focus();
  await eventually(async () => countReds(await page.locator('canvas').screenshot())).toBeGreaterThan(1000);
  const blind = await page.locator('canvas').screenshot();
  await page.keyboard.press('5');
  expect(await page.locator('.key').textContent()).toMatch(/^Seen, seated/u);
  expect(await page.getByRole('button', { name: /^by 2,/u }).getAttribute('aria-label')).toContain(
    formatArea(areas.seated.byCount[1] ?? 0),
  );
  await eventually(async () => (await page.locator('canvas').screenshot()).equals(blind)).toBe(false);
  await page.keyboard.press('6');
  expect(await page.locator('.key').textContent()).toContain(
    `every heading ${formatArea(areas.walking.everyHeadingM2)}`,
  );
  await page.keyboard.press('7');
  expect(await page.locator('.key').textContent()).toMatch(/^Blind, seated/u);
});

test('until the first heat map at most 450 kB of script are loaded, compressed', async () => {
  const { page } = await openApp();
  await page.waitForSelector('canvas');
  await waitForFindings(page);
  const bodies = await page.evaluate(async () => {
    const drawn = performance.getEntriesByName('lacuna:heatmap')[0]?.startTime ?? Number.POSITIVE_INFINITY;
    const before = performance.getEntriesByType('resource').filter((entry) => entry.startTime <= drawn);
    const names = before.map((entry) => entry.name);
    const scripts = names.filter((name) => name.endsWith('.js') && !name.includes('worker'));
    return Promise.all(scripts.map(async (name) => (await fetch(name)).text()));
  });
  const bytes = bodies.reduce((sum, body) => sum + gzipSync(body).length, 0);
  console.log(`script before the first heat map: ${bytes} B compressed, in ${bodies.length} files`);
  expect(bodies.length).toBeGreaterThan(1);
  expect(bytes).toBeGreaterThan(200_000);
  expect(bytes).toBeLessThanOrEqual(450_000);
});

test('nothing is fetched from another place', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  const origins = await page.evaluate(() =>
    performance.getEntriesByType('resource').map((entry) => new URL(entry.name).origin),
  );
  expect(origins.length).toBeGreaterThan(3);
  expect(new Set(origins)).toEqual(new Set([new URL(page.url()).origin]));
});

/** Pixels of the blind red, light theme: what outlines and hatches leave. */
function countReds(png: Buffer): number {
  const { data } = PNG.sync.read(png);
  let reds = 0;
  for (let k = 0; k < data.length; k += 4)
    if ((data[k] ?? 0) > 170 && (data[k + 1] ?? 0) < 120 && (data[k + 2] ?? 0) < 100) reds++;
  return reds;
}
