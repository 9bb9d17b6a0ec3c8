import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { findBrowser } from './find-browser.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await chromium.launch({ ...(await findBrowser()), headless: true });
});
afterAll(() => browser?.close());

test('the built app opens without an error and draws with WebGL 2', async () => {
  const page = await browser.newPage();
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => message.type() === 'error' && errors.push(message.text()));
  page.on('requestfailed', (request) => errors.push(request.url()));

  await page.goto(inject('appUrl'));
  await page.waitForSelector('#root > *');

  expect(await page.title()).toContain('Lacuna');
  expect(await page.evaluate(() => document.createElement('canvas').getContext('webgl2') !== null)).toBe(true);
  expect(errors).toEqual([]);
});

test('two pages stand beside each other in separate contexts', async () => {
  const [first, second] = await Promise.all([browser.newContext(), browser.newContext()]);
  const pages = await Promise.all([first.newPage(), second.newPage()]);
  await Promise.all(pages.map((page) => page.goto(inject('appUrl'))));
  await first.close();
  expect(await pages[1].title()).toContain('Lacuna');
  await second.close();
});
