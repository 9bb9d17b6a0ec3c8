/** Pointer, pen and fingers on the drawn floor: what they do to the document, and to the view. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { type Browser, type BrowserContextOptions, type CDPSession, chromium, type Page } from 'playwright-core';
import { build, type PreviewServer, preview } from 'vite';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { FloorFile, Point } from '../../src/core/floor/index.ts';
import { SMALL_FLOOR } from '../editor/open-floor.ts';
import { findBrowser } from './find-browser.ts';
import { eventually } from './open-app.ts';
import type {} from './tool-scene/main.tsx';

const outDir = mkdtempSync(join(tmpdir(), 'lacuna-tool-scene-'));
let browser: Browser;
let server: PreviewServer;
let url: string;

beforeAll(async () => {
  const root = fileURLToPath(new URL('./tool-scene', import.meta.url));
  // Under a test run's own setting Vite would build React's development version.
  const setting = process.env.NODE_ENV;
  process.env.NODE_ENV = 'production';
  await build({
    root,
    configFile: false,
    logLevel: 'warn',
    mode: 'production',
    plugins: [react()],
    build: { outDir, emptyOutDir: true, target: 'es2023', chunkSizeWarningLimit: 4_000 },
  });
  process.env.NODE_ENV = setting;
  server = await preview({
    root,
    configFile: false,
    logLevel: 'warn',
    build: { outDir },
    preview: { host: '127.0.0.1', port: 0 },
  });
  const address = server.httpServer.address();
  if (address === null || typeof address === 'string') throw new Error('The preview server has no port.');
  url = `http://127.0.0.1:${address.port}/`;
  browser = await chromium.launch({ ...(await findBrowser()), headless: true });
}, 120_000);

afterAll(async () => {
  await browser?.close();
  await server?.close();
  rmSync(outDir, { recursive: true, force: true });
});

async function openScene(file: FloorFile, options: BrowserContextOptions = {}): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1000, height: 700 }, ...options });
  const page = await context.newPage();
  await page.goto(url);
  await page.waitForFunction(() => window.openScene !== undefined);
  await page.evaluate((floor) => window.openScene?.(floor), file);
  await page.waitForFunction(() => document.documentElement.dataset.heatmap === 'ready');
  await page.evaluate(() => window.scene?.startTool('select'));
  await page.waitForFunction(() => window.scene?.store.getState().toolRun !== null);
  return page;
}

async function screenOf(page: Page, at: Point, height = 0): Promise<readonly [number, number]> {
  const found = await page.evaluate(([place, z]) => window.scene?.screenOf(place, z) ?? null, [at, height] as const);
  if (found === null) throw new Error('The place is not on screen.');
  return found;
}

const readFile = (page: Page): Promise<FloorFile> =>
  page.evaluate(() => window.scene?.store.getState().file as FloorFile);
const readSelection = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => window.scene?.store.getState().selection ?? []);
const readSteps = (page: Page): Promise<number> => page.evaluate(() => window.scene?.store.getState().past.length ?? 0);
const isShown = (page: Page): Promise<boolean> => page.evaluate(() => window.scene?.store.getState().preview !== null);

async function drag(page: Page, from: Point, to: Point, height = 0): Promise<void> {
  await page.mouse.move(...(await screenOf(page, from, height)));
  await page.mouse.down();
  await page.mouse.move(...(await screenOf(page, to, height)), { steps: 6 });
}

const shelfOf = (file: FloorFile) => file.furniture?.find(({ id }) => id === 'shelf');

test('a piece is moved by the pointer, in plan and in the model, each time as one step', async () => {
  const page = await openScene(SMALL_FLOOR);
  const top = shelfOf(SMALL_FLOOR)?.top ?? 0;
  for (const camera of ['plan', 'model'] as const) {
    await page.evaluate((kind) => window.scene?.store.setState({ camera: kind }), camera);
    // From above a top lies where its foot is.
    const isModel = camera === 'model';
    await eventually(async () => {
      const [foot, head] = [await screenOf(page, [5.2, 3]), await screenOf(page, [5.2, 3], 2)];
      return Math.hypot(foot[0] - head[0], foot[1] - head[1]) > 5;
    }).toBe(isModel);
    const before = shelfOf(await readFile(page))?.outline ?? [];
    const middle: Point = [
      before.reduce((sum, [x]) => sum + x, 0) / before.length,
      before.reduce((sum, [, y]) => sum + y, 0) / before.length,
    ];
    const steps = await readSteps(page);
    await drag(page, middle, [middle[0] - 1.2, middle[1]], top);
    await eventually(() => isShown(page)).toBe(true);
    expect(await readSteps(page)).toBe(steps);
    await page.mouse.up();
    await eventually(() => readSteps(page)).toBe(steps + 1);
    expect(await readSelection(page)).toEqual(['shelf']);
    const after = shelfOf(await readFile(page))?.outline ?? [];
    expect(Math.abs((after[0]?.[0] ?? 0) - (before[0]?.[0] ?? 0) + 1.2)).toBeLessThan(0.2);
    expect(await isShown(page)).toBe(false);
  }
});

test('Escape puts a dragged piece back exactly, and the drag is over', async () => {
  const page = await openScene(SMALL_FLOOR);
  const before = await readFile(page);
  await drag(page, [5.2, 3], [4, 3], 2.2);
  await eventually(() => isShown(page)).toBe(true);
  await page.evaluate(() => window.scene?.stepBack());
  expect(await isShown(page)).toBe(false);
  await page.mouse.move(300, 300, { steps: 3 });
  await page.mouse.up();
  expect(await readFile(page)).toEqual(before);
  expect(await readSteps(page)).toBe(0);
});

test('a handle resizes a piece; of a hidden kind nothing is taken, of a locked one nothing moves', async () => {
  const page = await openScene(SMALL_FLOOR);
  await page.evaluate(() => window.scene?.store.setState({ selection: ['shelf'] }));
  const [a, , c] = shelfOf(SMALL_FLOOR)?.outline ?? [];
  if (a === undefined || c === undefined) throw new Error('The small floor has no shelf.');
  const side: Point = [(a[0] + c[0]) / 2, Math.max(a[1], c[1])];
  await drag(page, side, [side[0], side[1] - 1], 2.2);
  await page.mouse.up();
  await eventually(() => readSteps(page)).toBe(1);
  const outline = shelfOf(await readFile(page))?.outline ?? [];
  const size = (ring: readonly Point[], axis: 0 | 1) =>
    Math.max(...ring.map((at) => at[axis])) - Math.min(...ring.map((at) => at[axis]));
  expect(size(outline, 1)).toBeCloseTo(size(shelfOf(SMALL_FLOOR)?.outline ?? [], 1) - 1, 1);
  expect(size(outline, 0)).toBeCloseTo(size(shelfOf(SMALL_FLOOR)?.outline ?? [], 0), 6);

  await page.evaluate(() =>
    window.scene?.store.setState({ selection: [], hiddenKinds: new Set(['furniture' as const]) }),
  );
  await page.mouse.click(...(await screenOf(page, [5.2, 2.5], 2.2)));
  await eventually(() => readSelection(page).then((ids) => ids.length)).toBe(0);
  await page.evaluate(() =>
    window.scene?.store.setState({ hiddenKinds: new Set(), lockedKinds: new Set(['furniture' as const]) }),
  );
  await drag(page, [5.2, 2.5], [4, 2.5], 2.2);
  await page.mouse.up();
  await page.waitForTimeout(200);
  expect(await readSelection(page)).toEqual(['shelf']);
  expect(await readSteps(page)).toBe(1);
});

test('Space and a drag move the page and leave the floor and the selection alone', async () => {
  const page = await openScene(SMALL_FLOOR);
  const before = await screenOf(page, [5.2, 3]);
  await page.keyboard.down('Space');
  await drag(page, [5.2, 3], [4.2, 3]);
  await page.mouse.up();
  await page.keyboard.up('Space');
  await eventually(async () => Math.round((await screenOf(page, [5.2, 3]))[0] - before[0])).not.toBe(0);
  expect(await readSteps(page)).toBe(0);
  expect(await readSelection(page)).toEqual([]);
});

test('an empty page: clicks draw a room, its lengths stand on its edges, and the view does not jump', async () => {
  const page = await openScene({ format: 'lacuna/1', name: 'Empty', rooms: [], types: [], detectors: [] });
  await page.evaluate(() => window.scene?.startTool('room'));
  await eventually(() => page.evaluate(() => window.scene?.store.getState().toolRun?.id)).toBe('room');
  const corners: Point[] = [
    [2, 2],
    [10, 2],
    [10, 8],
    [2, 8],
  ];
  const before = await screenOf(page, [2, 2]);
  for (const corner of corners) {
    await page.mouse.move(...(await screenOf(page, corner)), { steps: 2 });
    await page.mouse.down();
    await page.mouse.up();
    await page.waitForTimeout(60);
  }
  await eventually(async () => (await page.locator('.scene-word').allTextContents()).join(' | ')).toContain('8.00 m');
  expect((await page.locator('.scene-word').allTextContents()).join(' | ')).toContain('6.00 m');
  await page.mouse.move(...(await screenOf(page, [2, 2])), { steps: 2 });
  await page.mouse.down();
  await page.mouse.up();
  await eventually(() => readSteps(page)).toBe(1);
  expect((await readFile(page)).rooms[0]?.outline).toEqual(corners);
  const after = await screenOf(page, [2, 2]);
  expect(Math.hypot(after[0] - before[0], after[1] - before[1])).toBeLessThan(0.5);
});

/** Puts fingers on the screen, moves them, lifts them. */
async function touch(client: CDPSession, type: 'touchStart' | 'touchMove' | 'touchEnd', places: readonly Point[]) {
  await client.send('Input.dispatchTouchEvent', {
    type,
    touchPoints: places.map(([x, y], id) => ({ x: Math.round(x), y: Math.round(y), id })),
  });
}

test('one finger draws, a second one takes its press back and spreads the page', async () => {
  const page = await openScene(SMALL_FLOOR, { hasTouch: true });
  await page.evaluate(() => window.scene?.startTool('zone'));
  await eventually(() => page.evaluate(() => window.scene?.store.getState().toolRun?.id)).toBe('zone');
  const client = await page.context().newCDPSession(page);
  const tap = async (at: Point) => {
    await touch(client, 'touchStart', [await screenOf(page, at)]);
    await touch(client, 'touchEnd', []);
    await page.waitForTimeout(80);
  };
  const countMarks = () =>
    page.evaluate(
      () =>
        window.scene?.store
          .getState()
          .toolRun?.guides.filter((guide) => guide.kind === 'mark' && guide.mark === 'corner' && !guide.words).length,
    );
  await tap([1, 1]);
  await tap([2, 1]);
  const set = await countMarks();
  expect(set).toBeGreaterThanOrEqual(2);
  const [a, b] = [await screenOf(page, [1.5, 2]), await screenOf(page, [2.5, 2])];
  const width = Math.hypot(a[0] - b[0], a[1] - b[1]);
  await touch(client, 'touchStart', [a]);
  await touch(client, 'touchStart', [a, b]);
  await touch(client, 'touchMove', [
    [a[0] - 40, a[1]],
    [b[0] + 40, b[1]],
  ]);
  await touch(client, 'touchEnd', []);
  await eventually(async () => {
    const [p, q] = [await screenOf(page, [1.5, 2]), await screenOf(page, [2.5, 2])];
    return Math.hypot(p[0] - q[0], p[1] - q[1]);
  }).toBeGreaterThan(width + 20);
  expect(await countMarks()).toBe(set);
  expect(await readSteps(page)).toBe(0);
});
