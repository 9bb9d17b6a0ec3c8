import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import type { FloorFile } from '../../src/core/floor/index.ts';
import { beginFloor, openWithDownloads, readHints, saveFloor, writeToTool } from './drawing.ts';
import { eventually, findOnScreen, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

const TYPES = JSON.parse(readFileSync(new URL('../../models/detectors/types.json', import.meta.url), 'utf8')) as {
  types: NonNullable<FloorFile['types']>;
};

/** An L of 6 m by 6 m with a corner of 3 m by 2 m left out, and a detector in the wide part. */
const REFERENCE = {
  format: 'lacuna/1',
  name: 'Untitled floor',
  rooms: [
    {
      name: 'Room 1',
      outline: [
        [0, 0],
        [6, 0],
        [6, 4],
        [3, 4],
        [3, 6],
        [0, 6],
      ],
      ceiling: 2.8,
      ceilingFrom: 'assumed',
    },
  ],
  types: TYPES.types,
  detectors: [{ name: 'D1', type: 'round-6', at: [2, 2] }],
};

/** Ids are the editor's own affair; everything else must be as in the reference. */
function withoutIds(file: FloorFile): unknown {
  const plain = <Item extends { readonly id: string }>({ id, ...rest }: Item): Omit<Item, 'id'> => rest;
  return { ...file, rooms: file.rooms.map(plain), detectors: file.detectors.map(plain) };
}

const key = (page: Page) => (): Promise<string | null> => page.locator('.key').textContent();

test('an L-shaped room with a detector is drawn by keys alone, and saved as the reference', async () => {
  const { page, complaints } = await openWithDownloads(openApp);
  await waitForFindings(page);
  await beginFloor(page);
  await page.keyboard.press('r');
  await eventually(readHints(page)).toContain('first corner');
  for (const text of ['0 0', '6 @0', '4 @90', '3 @180', '2 @90', '3 @180']) await writeToTool(page, text);
  await page.keyboard.press('c');
  await eventually(key(page)).toMatch(/out of range\s?30\.0\sm²/u);
  await eventually(() => page.locator('[data-announcement]').textContent()).toContain('Added Room 1');

  await page.keyboard.press('d');
  await eventually(readHints(page)).toContain('Round 6');
  await page.keyboard.type('Round 6');
  await page.keyboard.press('Enter');
  await eventually(readHints(page)).toContain('click or Enter hangs it');
  await page.keyboard.type('2 2');
  await eventually(readHints(page)).toContain('2 2');
  await page.keyboard.press('Enter');
  await eventually(() => page.locator('.note-title').first().textContent()).toBe('D1');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  // The heat map: part of the room is seen now.
  await eventually(key(page)).toMatch(/seen\s?(?!0\s)[\d.]+\sm²/u);
  expect(withoutIds(await saveFloor(page))).toEqual(REFERENCE);
  expect(complaints).toEqual([]);
});

test('the same is drawn with pointer and keyboard', async () => {
  const { page, complaints } = await openWithDownloads(openApp);
  await waitForFindings(page);
  await beginFloor(page);
  // The view stays while the floor is drawn: two places tell where all others are.
  const [x0, y0] = await findOnScreen(page, [0, 0]);
  const [x1, y1] = await findOnScreen(page, [6, 6]);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('r');
  await eventually(readHints(page)).toContain('first corner');
  const click = async (x: number, y: number): Promise<void> => {
    await page.mouse.move(x0 + ((x1 - x0) * x) / 6, y0 + ((y1 - y0) * y) / 6);
    await page.mouse.down();
    await page.mouse.up();
  };
  await click(0, 0);
  await eventually(readHints(page)).toContain('type 5.4 8.1 for a rectangle');
  await click(6, 0);
  await click(6, 4);
  await writeToTool(page, '3 @180');
  await writeToTool(page, '2 @90');
  await click(0, 6);
  await page.keyboard.press('c');
  await eventually(key(page)).toMatch(/out of range\s?30\.0\sm²/u);
  await page.keyboard.press('d');
  await eventually(readHints(page)).toContain('Round 6');
  await click(2, 2);
  await eventually(() => page.locator('.note-title').first().textContent()).toBe('D1');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await eventually(key(page)).toMatch(/seen\s?(?!0\s)[\d.]+\sm²/u);
  expect(withoutIds(await saveFloor(page))).toEqual(REFERENCE);
  expect(complaints).toEqual([]);
});
