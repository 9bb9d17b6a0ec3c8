import { readFileSync } from 'node:fs';
import { type Browser, type BrowserContext, type CDPSession, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { serialiseFloor } from '../../src/core/floor/index.ts';
import { generateFloor } from '../models/generate-floor.ts';
import { findBrowser } from './find-browser.ts';
import { dropFile, eventually, goTo, listBarriers, loadFirstFloor } from './open-app.ts';

let browser: Browser;
beforeAll(async () => {
  const { executablePath, args } = await findBrowser();
  browser = await chromium.launch({ executablePath, args, headless: true });
});
afterAll(() => browser?.close());

const openContext = (): Promise<BrowserContext> =>
  browser.newContext({ viewport: { width: 1280, height: 720 }, reducedMotion: 'reduce' });

async function openPage(context: BrowserContext, before?: (page: Page) => Promise<unknown>): Promise<Page> {
  const page = await context.newPage();
  // A save is a download, which a test can read.
  await page.addInitScript(() => Reflect.deleteProperty(window, 'showOpenFilePicker'));
  await before?.(page);
  await page.goto(inject('appUrl'));
  await page.waitForSelector('.verdict');
  return page;
}

const note = (page: Page): Promise<string | null> => page.locator('.kept').textContent({ timeout: 10_000 });
const title = (page: Page): Promise<string | null> => page.locator('h1').textContent();

async function press(page: Page, ...keys: readonly string[]): Promise<void> {
  await page.locator('[data-region="page"]').focus();
  for (const key of keys) await page.keyboard.press(key);
}

/** The floor as Ctrl S writes it. */
async function save(page: Page): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent('download'), press(page, 'Control+s')]);
  return readFileSync(await download.path(), 'utf8');
}

async function openFiles(page: Page): Promise<void> {
  await press(page, 'Control+e');
  await page.getByRole('dialog').waitFor();
}

test('a floor that was changed is there after a reload, step by step, and its changes are told apart from the file', async () => {
  const context = await openContext();
  const page = await openPage(context);
  await goTo(page, 'D13');
  await press(page, 'ArrowLeft', ']', 'ArrowUp');
  const saved = await save(page);
  await press(page, 'Alt+ArrowRight', '[');
  await page.reload();
  await page.waitForSelector('.verdict');
  expect(await note(page)).toContain('Open-plan office, changed since it was saved to open-plan-office.json.');
  expect(await title(page)).toContain('not saved');
  expect(await listBarriers(page)).toEqual([]);
  const { file } = loadFirstFloor();
  await press(page, 'Control+z', 'Control+z');
  await eventually(() => title(page)).not.toContain('not saved');
  expect(await page.locator('.kept').count()).toBe(0);
  expect(await save(page)).toBe(saved);
  await press(page, 'Control+z', 'Control+z', 'Control+z');
  expect(await save(page)).toBe(serialiseFloor(file));
  await context.close();
});

test('recent floors are listed with when, area and state, opened by keyboard, and removed', async () => {
  const context = await openContext();
  const page = await openPage(context);
  await goTo(page, 'D13');
  await press(page, 'ArrowLeft');
  await openFiles(page);
  await page.getByRole('button', { name: 'Small rooms' }).click();
  await eventually(() => title(page)).toContain('Small rooms');
  await openFiles(page);
  const recent = page.locator('.recent li').filter({ hasText: 'Open-plan office' });
  await recent.waitFor();
  expect(await recent.textContent()).toMatch(
    /^Open-plan office[\d ]+\u00a0m² of rooms, today \d\d:\d\d, changed, in no file yetRemove$/u,
  );
  expect(await listBarriers(page)).toEqual([]);
  await recent.locator('.choice').press('Enter');
  await eventually(() => title(page)).toContain('Open-plan office');
  await press(page, 'Control+z');
  await eventually(() => title(page)).not.toContain('not saved');
  await openFiles(page);
  await page.getByRole('button', { name: 'Remove Small rooms' }).click();
  await eventually(() => page.locator('.recent li').count()).toBe(0);
  await context.close();
});

test('two tabs on one floor: the second looks, follows, takes over; the first then only looks', async () => {
  const context = await openContext();
  const first = await openPage(context);
  await goTo(first, 'D13');
  await press(first, 'ArrowLeft');
  const second = await openPage(context);
  expect(await note(second)).toContain('This floor is changed in another tab.');
  expect(await title(second)).toContain('look only');
  expect(await listBarriers(second)).toEqual([]);
  await goTo(second, 'D13');
  await press(second, ']');
  expect(await second.locator('.faults').textContent()).toContain('Take it over to change it here.');
  await press(second, 'Escape');

  await press(first, 'ArrowUp', 'ArrowUp');
  const inFirst = await save(first);
  await eventually(() => save(second)).toBe(inFirst);

  await second.getByRole('button', { name: 'Take over' }).click();
  await eventually(() => title(second)).not.toContain('look only');
  await eventually(() => title(first)).toContain('look only');
  expect(await note(first)).toContain('Taken over by another tab');
  await press(second, ']');
  const inSecond = await save(second);
  expect(inSecond).not.toBe(inFirst);
  await eventually(() => save(first)).toBe(inSecond);
  await press(first, 'Control+z');
  expect(await save(first)).toBe(inSecond);

  await second.close();
  await eventually(() => title(first)).not.toContain('look only');
  await press(first, 'Control+z');
  expect(await save(first)).toBe(inFirst);
  await context.close();
});

test('with a full disk the app says so, asks before it is closed, and keeps all once there is room', async () => {
  const context = await openContext();
  const { origin } = new URL(inject('appUrl'));
  let session: CDPSession | undefined;
  const page = await openPage(context, async (each) => {
    session = await context.newCDPSession(each);
    await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 });
  });
  expect(await note(page)).toContain('The disk has no room left for this browser. Changes are not kept.');
  expect(await listBarriers(page)).toEqual([]);
  await goTo(page, 'D13');
  await press(page, 'ArrowLeft');
  await eventually(() => title(page)).toContain('not saved, not kept');
  const asked = page.waitForEvent('dialog');
  await page.close({ runBeforeUnload: true });
  const dialog = await asked;
  expect(dialog.type()).toBe('beforeunload');
  await dialog.dismiss();

  const saved = await save(page);
  await eventually(() => title(page)).not.toContain('not saved');
  await press(page, 'ArrowUp');
  await session?.send('Storage.overrideQuotaForOrigin', { origin });
  // It is tried again by itself.
  await expect.poll(() => page.locator('.kept').count(), { timeout: 30_000 }).toBe(0);
  await page.reload();
  await page.waitForSelector('.verdict');
  await press(page, 'Control+z');
  expect(await save(page)).toBe(saved);
  await context.close();
});

test('site data cleared under the open page: the next step writes the floor anew, with the steps before it', async () => {
  const context = await openContext();
  const page = await openPage(context);
  await goTo(page, 'D13');
  await press(page, 'ArrowLeft');
  const session = await context.newCDPSession(page);
  const { origin } = new URL(inject('appUrl'));
  await session.send('Storage.clearDataForOrigin', { origin, storageTypes: 'indexeddb' });
  await press(page, ']');
  await eventually(() => page.locator('.kept').count()).toBe(0);
  const count = (): Promise<number> =>
    page.evaluate(
      () =>
        new Promise<number>((resolve) => {
          const request = indexedDB.open('lacuna');
          // One that is not there yet is not to be made here, without its store.
          request.onupgradeneeded = () => request.transaction?.abort();
          request.onerror = () => resolve(0);
          request.onsuccess = () => {
            const counting = request.result.transaction('records').objectStore('records').count();
            counting.onsuccess = () => {
              request.result.close();
              resolve(counting.result);
            };
          };
        }),
    );
  await eventually(count).toBeGreaterThan(0);
  const saved = await save(page);
  await page.reload();
  await page.waitForSelector('.verdict');
  expect(await save(page)).toBe(saved);
  await press(page, 'Control+z', 'Control+z');
  expect(await save(page)).toBe(serialiseFloor(loadFirstFloor().file));
  await context.close();
});

test('without a database the app says so once and works; saving to a file still does', async () => {
  const context = await openContext();
  const page = await openPage(context, (each) =>
    each.addInitScript(() => {
      Object.defineProperty(window, 'indexedDB', {
        get() {
          throw new DOMException('Denied.', 'SecurityError');
        },
      });
    }),
  );
  expect(await note(page)).toContain('This browser keeps no floors here, as in a private window.');
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  await goTo(page, 'D13');
  await press(page, 'ArrowLeft');
  expect(await page.locator('.kept').count()).toBe(0);
  const saved = await save(page);
  expect(saved).not.toBe(serialiseFloor(loadFirstFloor().file));
  await context.close();
});

test('kept changes are not asked about when the page is closed', async () => {
  const context = await openContext();
  const page = await openPage(context);
  await goTo(page, 'D13');
  await press(page, 'ArrowLeft');
  await eventually(() => title(page)).toContain('not saved');
  let dialogs = 0;
  page.on('dialog', (dialog) => {
    dialogs += 1;
    void dialog.accept();
  });
  const closed = page.waitForEvent('close');
  await page.close({ runBeforeUnload: true });
  await closed;
  expect(dialogs).toBe(0);
  await context.close();
});

test('where the browser writes files, the second save goes to the same file, and a failed one leaves it as it was', async () => {
  const context = await openContext();
  const page = await context.newPage();
  // The picker is a window of the system: here the answer to it is a file of the page's own.
  await page.addInitScript(() => {
    const pick = async (): Promise<FileSystemFileHandle> => {
      document.documentElement.dataset.picked = `${Number(document.documentElement.dataset.picked ?? 0) + 1}`;
      return (await navigator.storage.getDirectory()).getFileHandle('my plan.json', { create: true });
    };
    Object.assign(window, { showSaveFilePicker: pick });
  });
  await page.goto(inject('appUrl'));
  await page.waitForSelector('.verdict');
  const read = (): Promise<string> =>
    page.evaluate(async () => {
      const handle = await (await navigator.storage.getDirectory()).getFileHandle('my plan.json', { create: true });
      return (await handle.getFile()).text();
    });
  const picked = (): Promise<string | null> => page.locator('html').getAttribute('data-picked');
  await goTo(page, 'D13');
  await press(page, 'ArrowLeft', 'Control+s');
  await eventually(() => title(page)).not.toContain('not saved');
  await eventually(() => page.locator('.hints').textContent()).toContain('Saved my plan.json.');
  const first = await read();
  expect(first).toContain('"format": "lacuna/1"');

  await press(page, 'ArrowLeft', 'Control+s');
  await eventually(read).not.toBe(first);
  await eventually(() => title(page)).not.toContain('not saved');
  expect(await picked()).toBe('1');

  const second = await read();
  await page.evaluate(() => {
    FileSystemFileHandle.prototype.createWritable = () => Promise.reject(new DOMException('The disk is full.'));
  });
  await press(page, 'ArrowLeft', 'Control+s');
  await eventually(() => page.locator('.hints').textContent()).toContain('The floor is not saved: The disk is full.');
  expect(await title(page)).toContain('not saved');
  expect(await read()).toBe(second);
  await page.reload();
  await page.waitForSelector('.verdict');
  expect(await note(page)).toContain('changed since it was saved to my plan.json');
  await context.close();
});

test('a step on 10,000 m² takes the page little time to keep', async () => {
  const context = await openContext();
  const page = await openPage(context, (each) =>
    each.addInitScript(() => {
      // From the beginning of a write to its end in the page, and until it has arrived.
      const times = { handOn: [] as number[], arrive: [] as number[] };
      Object.assign(window, { times });
      const begin = IDBDatabase.prototype.transaction;
      IDBDatabase.prototype.transaction = function (...args) {
        const start = performance.now();
        const transaction = begin.apply(this, args);
        if (args[1] === 'readwrite') {
          const { commit } = transaction;
          transaction.commit = () => {
            commit.call(transaction);
            times.handOn.push(performance.now() - start);
          };
          transaction.addEventListener('complete', () => times.arrive.push(performance.now() - start));
        }
        return transaction;
      };
    }),
  );
  const floor = generateFloor({ areaM2: 10_000, seed: 7 });
  await dropFile(page, 'large.json', serialiseFloor(floor));
  await eventually(() => title(page)).toContain(floor.name);
  const name = floor.detectors?.[20]?.name ?? '';
  await goTo(page, name);
  await page.evaluate(() => {
    const { times } = window as unknown as { times: { handOn: number[]; arrive: number[] } };
    times.handOn.length = 0;
    times.arrive.length = 0;
  });
  for (let i = 0; i < 15; i += 1) await press(page, 'ArrowLeft');
  const read = () =>
    page.evaluate(() => (window as unknown as { times: { handOn: number[]; arrive: number[] } }).times);
  await eventually(async () => (await read()).arrive.length).toBe(15);
  const { handOn, arrive } = await read();
  const spread = (list: readonly number[]): string => {
    const sorted = list.toSorted((a, b) => a - b);
    return [0, 7, 14].map((i) => sorted[i]?.toFixed(2)).join(', ');
  };
  console.log(`handed on in ${spread(handOn)} ms, on the disk after ${spread(arrive)} ms (least, median, most of 15)`);
  expect(handOn).toHaveLength(15);
  await context.close();
});
