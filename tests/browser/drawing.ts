/** Floors drawn from nothing, as a person draws them, and saved as a file that a test can read. */
import { readFileSync } from 'node:fs';
import type { BrowserContextOptions, Page } from 'playwright-core';
import type { FloorFile } from '../../src/core/floor/index.ts';
import { eventually, type OpenApp } from './open-app.ts';

/** Opens the app where a save is a download, which a test can read. */
export async function openWithDownloads(
  openApp: (options?: BrowserContextOptions) => Promise<OpenApp>,
  options: BrowserContextOptions = {},
): Promise<OpenApp> {
  const app = await openApp(options);
  await app.page.addInitScript(() => Reflect.deleteProperty(window, 'showOpenFilePicker'));
  await app.page.reload();
  await app.page.waitForSelector('.verdict');
  return app;
}

/** Does what a sentence of the palette says. */
export async function runCommand(page: Page, command: string): Promise<void> {
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+k');
  await page.locator('.find-line').fill(command);
  await page.getByRole('option', { name: command }).first().waitFor();
  await page.keyboard.press('Enter');
}

/** Begins an empty floor as a person does who asks for it by its name. */
export async function beginFloor(page: Page): Promise<void> {
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+k');
  await page.locator('.find-line').fill('New floor');
  await page.keyboard.press('Enter');
  await page.locator('.empty').waitFor();
  await page.locator('[data-region="page"]').focus();
}

export async function saveFloor(page: Page): Promise<FloorFile> {
  const download = page.waitForEvent('download');
  await page.keyboard.press('Control+s');
  return JSON.parse(readFileSync(await (await download).path(), 'utf8')) as FloorFile;
}

export const readHints = (page: Page) => (): Promise<string | null> => page.locator('.hints').textContent();

/** Types to the tool in hand and sets it. */
export async function writeToTool(page: Page, text: string): Promise<void> {
  await page.keyboard.type(text);
  await eventually(() => page.locator('.typed').textContent()).toBe(text.trim());
  await page.keyboard.press('Enter');
  await page.locator('.typed').waitFor({ state: 'detached' });
}

/** Draws a rectangle of a room from a corner, by keys. */
export async function drawRoom(page: Page, corner: string, sides: string): Promise<void> {
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('r');
  await eventually(readHints(page)).toContain('first corner');
  await writeToTool(page, corner);
  await writeToTool(page, sides);
  await page.keyboard.press('Escape');
}

/** Asks the page to take a text from the clipboard, as Ctrl V does. */
export async function pasteText(page: Page, text: string): Promise<void> {
  await page.evaluate((content) => {
    const data = new DataTransfer();
    data.setData('text/plain', content);
    const target = document.activeElement ?? document.body;
    target.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }));
  }, text);
}

/** What the page puts on the clipboard for Ctrl C or Ctrl X. */
export function copyText(page: Page, how: 'copy' | 'cut'): Promise<string> {
  return page.evaluate((type) => {
    const data = new DataTransfer();
    const target = document.activeElement ?? document.body;
    target.dispatchEvent(new ClipboardEvent(type, { clipboardData: data, bubbles: true, cancelable: true }));
    return data.getData('text/plain');
  }, how);
}
