import { expect, test } from 'vitest';
import { LIMITS } from '../../src/core/floor/index.ts';
import { dropFile, eventually, loadFirstFloor, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

test('a faulty file is not opened: every fault stands in the margin, the floor stays as it was', async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  const verdict = await page.locator('.verdict').textContent();
  const { file } = loadFirstFloor();
  const bad = {
    ...file,
    furniture: file.furniture?.map((piece, i) => (i === 3 ? { ...piece, top: 0.7, base: 0.9 } : piece)),
    detectors: file.detectors?.map((each, i) => (i === 0 ? { ...each, type: 'no-such-type' } : each)),
    extra: 1,
  };
  await dropFile(page, 'bad.json', JSON.stringify(bad));
  const faults = page.locator('.faults');
  await faults.waitFor();
  expect(await faults.textContent()).toContain('bad.json');
  const paths = await page.locator('.fault').allTextContents();
  expect(paths.length).toBeGreaterThan(0);
  expect(await page.locator('.verdict').textContent()).toBe(verdict);
  await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+c');
  const copied = await page.evaluate(() => navigator.clipboard.readText());
  expect(copied.split('\n')[0]).toBe('bad.json');
  expect(copied.split('\n')).toHaveLength(paths.length + 1);
  await page.keyboard.press('Escape');
  await faults.waitFor({ state: 'detached' });
  await page.keyboard.press('Control+c');
  expect(await page.evaluate(() => navigator.clipboard.readText())).toMatch(/^fail\t/u);
  expect(complaints).toEqual([]);
});

test('text that is no JSON, bytes that are no UTF-8 and a file too large are told so', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  await dropFile(page, 'text.json', 'no JSON at all');
  await eventually(() => page.locator('.faults').textContent()).toContain('JSON');
  const drop = (name: string, make: string): Promise<void> =>
    page.evaluate(
      ([fileName, code, size]) => {
        const data = new DataTransfer();
        data.items.add(
          new File([code === 'bytes' ? new Uint8Array([0x7b, 0xff, 0xfe]) : new Uint8Array(size)], fileName),
        );
        window.dispatchEvent(new DragEvent('drop', { dataTransfer: data, cancelable: true }));
      },
      [name, make, LIMITS.fileCharacters + 1] as const,
    );
  await drop('bytes.json', 'bytes');
  await eventually(() => page.locator('.faults').textContent()).toContain('UTF-8');
  await drop('large.json', 'large');
  await eventually(() => page.locator('.faults').textContent()).toContain(
    `at most ${Math.ceil(LIMITS.fileCharacters / 1e6)} MB`,
  );
});

test('names are text: markup does nothing, and their direction stays their own', async () => {
  const { page, complaints } = await openApp();
  const { file } = loadFirstFloor();
  const name = '<img src=x onerror=alert(1)> \u202eevil\u202c =cmd()';
  let alerts = 0;
  page.on('dialog', (dialog) => {
    alerts += 1;
    void dialog.dismiss();
  });
  const detectors = file.detectors?.map((each, i) => (i === 0 ? { ...each, name: `${name} hung` } : each));
  const hostile = {
    ...file,
    name,
    rooms: file.rooms.map((room, i) => (i === 0 ? { ...room, name } : room)),
    detectors,
  };
  await dropFile(page, 'names.json', JSON.stringify(hostile));
  await eventually(() => page.locator('h1 bdi').textContent()).toBe(name);
  await waitForFindings(page);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+k');
  await page.getByRole('combobox').fill('evil hung');
  await eventually(() => page.locator('.hit bdi').first().textContent()).toBe(`${name} hung`);
  await page.keyboard.press('Enter');
  await eventually(() => page.locator('.note-title').first().textContent()).toBe(`${name} hung`);
  expect(await page.locator('img').count()).toBe(0);
  // Asked again where the note is just drawn anew: a title that has left the page has no style.
  await eventually(() =>
    page
      .locator('.note-title')
      .first()
      .evaluate((title) => getComputedStyle(title).unicodeBidi),
  ).toBe('isolate');
  expect(await page.title()).toBe(`${name} · Lacuna`);
  expect(alerts).toBe(0);
  expect(complaints).toEqual([]);
});

test('an example takes the place of the floor', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+e');
  await page.getByRole('button', { name: 'Small rooms' }).click();
  await eventually(() => page.locator('h1').textContent()).toContain('Small rooms');
  await waitForFindings(page);
});
