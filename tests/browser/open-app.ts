import { readFileSync } from 'node:fs';
import axeCore from 'axe-core';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject } from 'vitest';
import { type Coverage, createCoverage } from '../../src/core/coverage/index.ts';
import { type FloorFile, parseFloor } from '../../src/core/floor/index.ts';
import { findBrowser } from './find-browser.ts';

/** The one line that the drawing library writes about itself. */
const ALLOWED = /THREE\.Clock/u;

const FIRST_FLOOR = new URL('../../models/floors/open-plan-office.json', import.meta.url);

export interface OpenApp {
  readonly page: Page;
  /** Everything the page complained about: errors, warnings, failed requests. */
  readonly complaints: readonly string[];
}

/** The matchers that are asked again and again. */
interface Eventually {
  readonly not: Eventually;
  toBe(expected: unknown): Promise<void>;
  toContain(expected: string): Promise<void>;
  toMatch(expected: RegExp): Promise<void>;
  toBeGreaterThan(expected: number): Promise<void>;
}

/** Asks again until the answer is as expected: a loaded machine draws and checks slowly. */
export function eventually<Value>(read: () => Value | Promise<Value>): Eventually {
  return expect.poll(read, { timeout: 10_000 }) as Eventually;
}

/** Starts a browser for the tests of a file and returns the way to open the app in a window of its own. */
export function prepareBrowser(
  extraArgs: readonly string[] = [],
): (options?: BrowserContextOptions) => Promise<OpenApp> {
  let browser: Browser;
  beforeAll(async () => {
    const { executablePath, args } = await findBrowser();
    browser = await chromium.launch({ executablePath, args: [...args, ...extraArgs], headless: true });
  });
  afterAll(() => browser?.close());
  return async (options = {}) => {
    const context = await browser.newContext({
      viewport: { width: 1280, height: 720 },
      reducedMotion: 'reduce',
      ...options,
    });
    const page = await context.newPage();
    const complaints: string[] = [];
    const complain = (text: string): void => {
      if (!ALLOWED.test(text)) complaints.push(text);
    };
    page.on('pageerror', (error) => complain(error.message));
    page.on('console', (message) => {
      if (['error', 'warning'].includes(message.type())) complain(message.text());
    });
    page.on('requestfailed', (request) => {
      // A check that a newer floor has overtaken is called off, with what it was still loading.
      if (request.failure()?.errorText !== 'net::ERR_ABORTED') complain(request.url());
    });
    await page.goto(inject('appUrl'));
    await page.waitForSelector('.verdict');
    return { page, complaints };
  };
}

/** Waits until the complete check of the floor shown has come. */
export async function waitForFindings(page: Page): Promise<void> {
  await page.waitForSelector('.findings:not(.stale) .finding');
}

/** The floor the app starts with, and its coverage, computed here. */
export function loadFirstFloor(): { readonly file: FloorFile; readonly coverage: Coverage } {
  const parsed = parseFloor(readFileSync(FIRST_FLOOR, 'utf8'));
  if (!parsed.ok) throw new Error('The first floor is faulty.');
  return { file: parsed.file, coverage: createCoverage(parsed.floor) };
}

/** Opens a file as a person does who drops it on the window. */
export async function dropFile(page: Page, name: string, text: string): Promise<void> {
  await page.evaluate(
    ([fileName, content]) => {
      const data = new DataTransfer();
      data.items.add(new File([content], fileName, { type: 'application/json' }));
      window.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
    },
    [name, text] as const,
  );
}

/** Takes the focus to the page and finds a thing by its name. */
export async function goTo(page: Page, name: string): Promise<void> {
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+k');
  await page.locator('.find-line').fill(name);
  await page
    .getByRole('option', { name: `Go to ${name}`, exact: false })
    .first()
    .waitFor();
  await page.keyboard.press('Enter');
  await eventually(() => page.locator('.note-title').first().textContent()).toBe(name);
}

/** Where a place of the floor is on screen, from what the foot says of two places under the pointer. Plan only. */
export async function findOnScreen(page: Page, at: readonly [number, number]): Promise<readonly [number, number]> {
  const box = await page.locator('[data-region="page"]').boundingBox();
  if (box === null) throw new Error('The page is not on screen.');
  const read = async (x: number, y: number): Promise<readonly [number, number]> => {
    await page.mouse.move(x - 1, y);
    const before = await page.locator('.pointer').textContent();
    await page.mouse.move(x, y);
    await eventually(() => page.locator('.pointer').textContent()).not.toBe(before);
    const [px = Number.NaN, py = Number.NaN] =
      ((await page.locator('.pointer').textContent()) ?? '')
        .match(/[−\d.]+/gu)
        ?.map((part) => Number(part.replace('−', '-'))) ?? [];
    return [px, py];
  };
  const [x0, y0, x1, y1] = [box.x + 40, box.y + 40, box.x + box.width - 40, box.y + box.height - 40];
  const a = await read(x0, y0);
  const b = await read(x1, y1);
  return [x0 + ((at[0] - a[0]) / (b[0] - a[0])) * (x1 - x0), y0 + ((at[1] - a[1]) / (b[1] - a[1])) * (y1 - y0)];
}

/** The rules of WCAG 2.2 A and AA and of good practice that the page breaks now, with the elements that break them. */
export async function listBarriers(page: Page): Promise<readonly string[]> {
  await page.evaluate(axeCore.source);
  return page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: {
        run(options: object): Promise<{
          violations: { id: string; nodes: { target: unknown[]; failureSummary?: string }[] }[];
          passes: unknown[];
        }>;
      };
    };
    const { violations, passes } = await axe.run({
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
    });
    if (passes.length < 10) throw new Error('axe has looked at next to nothing.');
    return violations.flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id}: ${node.target.join(' ')} ${node.failureSummary ?? ''}`),
    );
  });
}
