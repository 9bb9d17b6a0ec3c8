/**
 * Time to the first heat map against the first frame of an empty react-three-fiber page: same browser, in turns, every
 * page in a window of its own. The times are printed, not judged: they depend on what else the machine does.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { type Browser, chromium } from 'playwright-core';
import { build, type PreviewServer, preview } from 'vite';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { findBrowser } from './find-browser.ts';

const ROUNDS = 7;

let browser: Browser;
let server: PreviewServer;
let emptyUrl: string;
const outDir = mkdtempSync(join(tmpdir(), 'lacuna-empty-scene-'));

beforeAll(async () => {
  const root = fileURLToPath(new URL('./empty-scene', import.meta.url));
  // Under a test run's own setting Vite would build React's development version.
  const setting = process.env.NODE_ENV;
  process.env.NODE_ENV = 'production';
  await build({
    root,
    configFile: false,
    logLevel: 'warn',
    mode: 'production',
    plugins: [react()],
    define: { 'process.env.NODE_ENV': '"production"' },
    build: { outDir, emptyOutDir: true, target: 'es2022', chunkSizeWarningLimit: 2_000 },
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
  emptyUrl = `http://127.0.0.1:${address.port}/`;
  browser = await chromium.launch({ ...(await findBrowser()), headless: true });
}, 120_000);

afterAll(async () => {
  await browser?.close();
  await server?.close();
  rmSync(outDir, { recursive: true, force: true });
});

/** Milliseconds from the start of navigation to a mark the page sets. */
async function timeTo(url: string, mark: string): Promise<number> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 }, reducedMotion: 'reduce' });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  await page.goto(url);
  const handle = await page
    .waitForFunction((name) => performance.getEntriesByName(name)[0]?.startTime, mark)
    .catch((error: Error) => {
      throw new Error(`${url}: ${error.message} ${complaints.join(' ')}`);
    });
  const time = Number(await handle.jsonValue());
  await context.close();
  return time;
}

test('the first heat map and the first frame of an empty page', { timeout: 180_000 }, async () => {
  const heat: number[] = [];
  const empty: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    empty.push(await timeTo(emptyUrl, 'empty:frame'));
    heat.push(await timeTo(inject('appUrl'), 'lacuna:heatmap'));
  }
  const median = (times: readonly number[]) => [...times].sort((a, b) => a - b)[ROUNDS >> 1] ?? Number.NaN;
  const ratio = median(heat) / median(empty);
  console.info(
    `first heat map ${median(heat).toFixed(0)} ms, empty page ${median(empty).toFixed(0)} ms, ratio ${ratio.toFixed(2)} (medians of ${ROUNDS})`,
  );
  expect(heat.every((time) => time > 0) && empty.every((time) => time > 0)).toBe(true);
});
