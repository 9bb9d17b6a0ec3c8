/** A link that carries a floor, and the app without a network after its first visit. */
import { expect, inject, test, vi } from 'vitest';
import { eventually, prepareBrowser, waitForFindings } from './open-app.ts';

vi.setConfig({ testTimeout: 120_000 });

const openApp = prepareBrowser();

const SMALL = {
  format: 'lacuna/1',
  name: 'A <b>linked</b> floor',
  rooms: [
    {
      id: 'R',
      name: 'Room',
      outline: [
        [0, 0],
        [6, 0],
        [6, 4],
        [0, 4],
      ],
      ceiling: 3,
    },
  ],
  types: [{ id: 'T', name: 'T', ranges: [{ motion: 'minor', mounting: 3, plane: 0.8, diameter: 6 }] }],
  detectors: [{ id: 'D1', name: 'D1', type: 'T', at: [3, 2] }],
};

test('a link made here opens the same floor there; a damaged one says so and leaves the floor as it was', async () => {
  const { page } = await openApp({ permissions: ['clipboard-read', 'clipboard-write'] });
  await waitForFindings(page);
  await page.evaluate((floor) => {
    const data = new DataTransfer();
    data.items.add(new File([JSON.stringify(floor)], 'small.json', { type: 'application/json' }));
    window.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
  }, SMALL);
  await eventually(() => page.title()).toContain('linked');
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+k');
  await page.locator('.find-line').fill('Copy a link');
  await page.keyboard.press('Enter');
  await eventually(() => page.locator('.foot').textContent()).toContain('Copied a link');
  const link = await page.evaluate(() => navigator.clipboard.readText());
  expect(link).toContain('#floor=');
  expect(link.length).toBeLessThan(1_000);

  const other = await openApp();
  await other.page.goto(link);
  await eventually(() => other.page.title()).toBe('A <b>linked</b> floor · Lacuna');
  expect(await other.page.locator('h1 b').count()).toBe(0);
  expect(new URL(other.page.url()).hash).toBe('');
  await other.page.evaluate(
    (text) => {
      location.hash = text;
    },
    `${new URL(link).hash.slice(0, -20)}`,
  );
  await eventually(() => other.page.locator('.foot').textContent()).toContain('The link is damaged');
  expect(await other.page.title()).toBe('A <b>linked</b> floor · Lacuna');
  // Forty megabytes of blanks pack into a small link.
  const bomb = await other.page.evaluate(async () => {
    const pack = new CompressionStream('deflate-raw');
    const written = (async () => {
      const writer = pack.writable.getWriter();
      const blanks = new Uint8Array(1_000_000).fill(32);
      for (let k = 0; k < 40; k++) await writer.write(blanks);
      await writer.close();
    })();
    const bytes = new Uint8Array(await new Response(pack.readable).arrayBuffer());
    await written;
    let binary = '';
    for (const byte of bytes) binary += String.fromCharCode(byte);
    return btoa(binary).replaceAll('+', '-').replaceAll('/', '_');
  });
  await other.page.evaluate((code) => {
    location.hash = `#floor=${code}`;
  }, bomb);
  await eventually(() => other.page.locator('.foot').textContent()).toContain('more than a floor may hold');
});

test('after the first visit the app opens without a network, with all it needs to import and to hand over', async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  const kept = await page.evaluate(async () => {
    const [name = ''] = await caches.keys();
    return (await (await caches.open(name)).keys()).map((request) => new URL(request.url).pathname);
  });
  for (const part of [/web-ifc.*\.wasm$/u, /share-page\.html$/u, /\.woff2$/u, /manifest\.webmanifest$/u]) {
    expect(
      kept.some((path) => part.test(path)),
      String(part),
    ).toBe(true);
  }
  await page.context().setOffline(true);
  await page.goto(inject('appUrl'));
  await page.waitForFunction(() => document.documentElement.dataset.heatmap === 'ready', null, { timeout: 60_000 });
  await waitForFindings(page);
  expect(complaints).toEqual([]);
});
