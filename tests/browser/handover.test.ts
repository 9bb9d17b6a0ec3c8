import { readFileSync } from 'node:fs';
import { unzipSync } from 'fflate';
import { expect, test } from 'vitest';
import { readPdf } from '../handover/pdf-reading.ts';
import { eventually, listBarriers, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

/** A loaded machine takes its time over sixty pages. */
const LONG = { timeout: 300_000 };

test('H opens the hand-over; chosen parts are made off the main thread and downloaded', LONG, async () => {
  const { page, complaints } = await openApp({ acceptDownloads: true });
  await waitForFindings(page);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('h');
  const parts = page.locator('.handover-parts input');
  await parts.first().waitFor();
  // By keys alone: the first part has the focus, Space takes it out and in again.
  expect(await page.evaluate(() => document.activeElement?.getAttribute('type'))).toBe('checkbox');
  await page.keyboard.press('Space');
  expect(await parts.first().isChecked()).toBe(false);
  await page.keyboard.press('Space');
  expect(await listBarriers(page)).toEqual([]);

  // The page answers while the documents are made: frames go on, and the share of what is done grows.
  await page.getByRole('button', { name: 'Make the documents' }).click();
  await page.locator('.handover-progress').waitFor();
  const longest = await page.evaluate(async () => {
    let worst = 0;
    let last = performance.now();
    while (document.querySelector('.handover-progress') !== null && performance.now() < 600_000) {
      await new Promise((done) => setTimeout(done, 10));
      worst = Math.max(worst, performance.now() - last);
      last = performance.now();
    }
    return worst;
  });
  console.log(`longest wait of the page while documents were made: ${Math.round(longest)} ms`);
  await page.locator('.handover-made').waitFor({ timeout: 240_000 });
  expect(await listBarriers(page)).toEqual([]);

  const save = async (name: RegExp): Promise<Uint8Array> => {
    const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name }).click()]);
    return readFileSync(await download.path());
  };
  const report = await save(/^report\.pdf/u);
  const pages = await readPdf(report);
  expect(pages.length).toBeGreaterThan(20);
  expect(pages[0]?.text).toContain('Open-plan office');
  const archive = unzipSync(await save(/one archive/u));
  expect(Buffer.compare(archive['report.pdf'] ?? new Uint8Array(), report)).toBe(0);
  expect(Object.keys(archive)).toContain('schedule.xlsx');
  expect(complaints).toEqual([]);
});

test('making is called off by Cancel and by closing, and can be begun anew', LONG, async () => {
  const { page, complaints } = await openApp({ viewport: { width: 390, height: 844 }, colorScheme: 'dark' });
  await waitForFindings(page);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('h');
  await page.locator('.handover-parts input').first().waitFor();
  const make = page.getByRole('button', { name: 'Make the documents' });
  await make.click();
  await page.getByRole('button', { name: 'Cancel' }).click();
  await make.waitFor();
  expect(await listBarriers(page)).toEqual([]);
  await make.click();
  await page.keyboard.press('Escape');
  await page.locator('.handover-sheet').waitFor({ state: 'detached' });
  await eventually(() => page.workers().filter((worker) => /papers/u.test(worker.url())).length).toBe(0);

  // Only what is chosen is made.
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('h');
  const parts = page.locator('.handover-parts label');
  await parts.first().waitFor();
  for (const label of await parts.all()) {
    if (!(await label.textContent())?.startsWith('Walk test')) await label.locator('input').uncheck();
  }
  await make.click();
  await page.locator('.handover-made').waitFor({ timeout: 120_000 });
  expect(await page.locator('.handover-made li').allInnerTexts()).toHaveLength(1);
  expect(complaints).toEqual([]);
});
