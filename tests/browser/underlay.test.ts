import type { Page } from 'playwright-core';
import { PNG } from 'pngjs';
import { expect, test } from 'vitest';
import { writePdf } from '../importers/underlay/small-pdf.ts';
import { dropFile, eventually, findOnScreen, listBarriers, prepareBrowser } from './open-app.ts';

const openApp = prepareBrowser();

/** A drawing of a cross: black lines of 4 pixels on white. */
function drawCross(width: number, height: number): Buffer {
  const png = new PNG({ width, height });
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const isLine = Math.abs(x - width / 2) < 2 || Math.abs(y - height / 2) < 2;
      png.data.fill(isLine ? 0 : 255, (y * width + x) * 4, (y * width + x) * 4 + 3);
      png.data[(y * width + x) * 4 + 3] = 255;
    }
  }
  return PNG.sync.write(png);
}

async function openDialog(page: Page): Promise<void> {
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+k');
  await page.locator('.find-line').fill('Picture under the plan');
  await page.getByRole('option', { name: 'Picture under the plan', exact: false }).first().waitFor();
  await page.keyboard.press('Enter');
  await page.getByRole('dialog', { name: 'Picture under the plan' }).waitFor();
}

const choose = (page: Page, name: string, mimeType: string, buffer: Buffer): Promise<void> =>
  page.getByRole('dialog').locator('input[type=file]').setInputFiles({ name, mimeType, buffer });
const status = (page: Page) => page.getByRole('dialog').locator('p[role=status]').textContent();
const field = (page: Page, label: string) => page.getByRole('dialog').getByLabel(label, { exact: false }).first();

/** An empty floor: nothing else draws the hand to itself. */
const EMPTY = JSON.stringify({ format: 'lacuna/1', name: 'Empty', rooms: [], types: [], detectors: [] });

test('a picture is laid, scaled by two places, moved, taken back, and comes again with the page', async () => {
  const { page, complaints } = await openApp();
  await dropFile(page, 'empty.json', EMPTY);
  await eventually(() => page.title()).toContain('Empty');
  await openDialog(page);
  await choose(page, 'plan.txt', 'text/plain', Buffer.from('no picture'));
  await eventually(() => status(page)).toContain('neither a PNG nor a JPEG');
  await choose(page, 'scan.png', 'image/png', drawCross(800, 400));
  await eventually(() => status(page)).toContain('scan.png lies under the plan');
  await eventually(() => field(page, 'width').inputValue()).toContain('20');
  expect(await listBarriers(page)).toEqual([]);
  // It lies from (0, 0) to (20, 10). Two places 5 m apart shall be 2.5 m apart.
  await page.getByRole('button', { name: 'Scale or move it on the plan' }).click();
  const middle = await findOnScreen(page, [10, 5]);
  const right = await findOnScreen(page, [15, 5]);
  await page.mouse.click(...middle);
  await page.mouse.click(...right);
  await page.keyboard.type('2.5');
  await page.keyboard.press('Enter');
  await openDialog(page);
  await eventually(() => field(page, 'width').inputValue()).toContain('10');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Control+z');
  await openDialog(page);
  await eventually(() => field(page, 'width').inputValue()).toContain('20');
  expect(complaints).toEqual([]);
  await page.reload();
  await page.waitForSelector('.verdict');
  await openDialog(page);
  await eventually(() => field(page, 'width').inputValue()).toContain('20');
  await eventually(() => status(page)).not.toContain('not kept');
});

test('a picture that another browser has is asked for by its name, and lies as it lay', async () => {
  const { page } = await openApp();
  const notes = {
    underlay: {
      name: 'survey.png',
      digest: '00000000000000',
      page: 1,
      width: 800,
      height: 400,
      placement: { at: [1, 2], scale: 0.05, turn: 0, opacity: 0.5, locked: false },
    },
  };
  await dropFile(page, 'elsewhere.json', JSON.stringify({ ...JSON.parse(EMPTY), name: 'Elsewhere', notes }));
  await eventually(() => page.title()).toContain('Elsewhere');
  await openDialog(page);
  await eventually(() => status(page)).toContain('survey.png is not kept in this browser');
  await eventually(() => field(page, 'width').inputValue()).toContain('40');
});

test('a page of a PDF document is as large as it is, and its lines draw the hand', async () => {
  const { page, complaints } = await openApp();
  await dropFile(page, 'empty.json', EMPTY);
  await eventually(() => page.title()).toContain('Empty');
  await openDialog(page);
  // 720 points are 254 mm, 25.4 m at 1:100; the line runs from the page's left edge to its right, a tenth above the middle.
  const pdf = Buffer.from(writePdf([720, 360], '2 w 0 196 m 720 196 l S 0 0 0 rg 300 40 60 60 re f'));
  await choose(page, 'storey.pdf', 'application/pdf', pdf);
  await eventually(() => status(page)).toContain('storey.pdf lies under the plan');
  await eventually(() => field(page, 'width').inputValue()).toContain('25.4');
  await page.keyboard.press('Escape');
  await page.locator('[data-region="page"]').focus();
  // 196 points are 6.914 m.
  const [x, y] = await findOnScreen(page, [3, 6.914]);
  await page.keyboard.press('m');
  await page.mouse.move(x, y + 2);
  await eventually(() => page.locator('.scene-words').textContent()).toContain('line of the picture');
  expect(complaints).toEqual([]);
});
