import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import {
  eventually,
  findOnScreen,
  goTo,
  listBarriers,
  loadFirstFloor,
  prepareBrowser,
  waitForFindings,
} from './open-app.ts';

const openApp = prepareBrowser(['--disable-3d-apis']);

const hints = (page: Page) => (): Promise<string | null> => page.locator('.hints').textContent();

/** Px of the heat map that hold something. */
function countDrawn(page: Page): Promise<number> {
  return page.evaluate(() => {
    const canvas = document.querySelector<HTMLCanvasElement>('canvas.flat-layer');
    if (canvas === null) return 0;
    // Read from a copy: the page's own canvas is only written.
    const context = new OffscreenCanvas(canvas.width, canvas.height).getContext('2d', { willReadFrequently: true });
    context?.drawImage(canvas, 0, 0);
    const image = context?.getImageData(0, 0, canvas.width, canvas.height);
    let drawn = 0;
    for (let at = 3; image !== undefined && at < image.data.length; at += 4) if (image.data[at] !== 0) drawn += 1;
    return drawn;
  });
}

test('without WebGL there is the plan in full; Model and Walk are struck out with the reason', async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  await page.locator('.flat-plan svg text', { hasText: 'D13' }).waitFor();
  for (const name of ['Model', 'Walk']) {
    const word = page.locator('.cameras').getByRole('button', { name });
    expect(await word.isDisabled()).toBe(true);
    expect(await word.locator('s').textContent()).toBe(name);
  }
  expect(await page.locator('.cameras').textContent()).toContain('WebGL 2');
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('2');
  await eventually(hints(page)).toContain('The model is not drawn here. They need WebGL 2.');
  expect(await page.locator('.cameras').getByRole('button', { name: /^Plan/u }).getAttribute('aria-pressed')).toBe(
    'true',
  );
  expect(await listBarriers(page)).toEqual([]);

  // As much is drawn blind as the coverage says, to the px at its edges.
  const [x0] = await findOnScreen(page, [0, 5]);
  const [x1] = await findOnScreen(page, [10, 5]);
  const pxPerMetre = (x1 - x0) / 10;
  const { coverage } = loadFirstFloor();
  const { hiddenM2, maskedM2, rangeM2 } = coverage.areas.seated;
  const drawnM2 = (await countDrawn(page)) / pxPerMetre ** 2;
  const blindM2 = hiddenM2 + maskedM2 + rangeM2;
  expect(blindM2).toBeGreaterThan(50);
  expect(Math.abs(drawnM2 - blindM2) / blindM2).toBeLessThan(0.02);
  expect(complaints).toEqual([]);
});

test('without WebGL a detector is selected and dragged, a piece is dragged, a place is probed, and all of it taken back', async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  const { file } = loadFirstFloor();
  const at = file.detectors.find(({ name }) => name === 'D17')?.at;
  if (at === undefined) throw new Error('There is no D17.');
  const [x, y] = await findOnScreen(page, at);
  const blind = await countDrawn(page);
  await page.mouse.click(x, y);
  await eventually(() => page.locator('.note-title').first().textContent()).toBe('D17');
  // Its three ranges are written on their lines.
  await page.locator('.scene-word', { hasText: 'small movements' }).waitFor();
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 12, y + 6);
  await page.mouse.move(x + 50, y + 25, { steps: 3 });
  await eventually(() => countDrawn(page)).not.toBe(blind);
  await page.mouse.up();
  await eventually(hints(page)).toMatch(/Moved D17 by \d/u);
  await page.keyboard.press('Control+z');
  await eventually(() => countDrawn(page)).toBe(blind);

  const shelf = file.furniture?.find(({ name }) => name === 'Shelf, west wing');
  if (shelf === undefined) throw new Error('There is no shelf.');
  const xs = shelf.outline.map((corner) => corner[0]);
  const ys = shelf.outline.map((corner) => corner[1]);
  const middle = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2] as const;
  const [sx, sy] = await findOnScreen(page, middle);
  await page.mouse.move(sx, sy);
  await page.mouse.down();
  await page.mouse.move(sx, sy + 12);
  await page.mouse.move(sx, sy + 30, { steps: 2 });
  await page.mouse.up();
  await eventually(hints(page)).toMatch(/Moved Shelf, west wing by \d/u);
  await page.keyboard.press('Control+z');
  await eventually(() => countDrawn(page)).toBe(blind);

  await page.keyboard.press('p');
  await page.mouse.click(sx, sy + 30);
  await page.locator('section[aria-label="Probe"] .note-title').waitFor();
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');

  // The wheel comes nearer, and the whole floor comes back.
  await page.mouse.wheel(0, -600);
  await eventually(() => countDrawn(page)).not.toBe(blind);
  await page.keyboard.press('0');
  await eventually(() => countDrawn(page)).toBe(blind);
  await goTo(page, 'D13');
  await page.getByLabel('turn', { exact: true }).fill('30');
  await page.keyboard.press('Enter');
  await eventually(hints(page)).toContain('Turn of D13: 30°');
  expect(complaints).toEqual([]);
});
