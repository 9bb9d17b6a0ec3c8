import { expect, test } from 'vitest';
import {
  beginFloor,
  copyText,
  drawRoom,
  openWithDownloads,
  pasteText,
  readHints,
  runCommand,
  saveFloor,
  writeToTool,
} from './drawing.ts';
import { eventually, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

test('blocks of mirrored pairs are typed, copied, cut, pasted in place and on another floor, aligned and distributed', async () => {
  const { page, complaints } = await openWithDownloads(openApp);
  await waitForFindings(page);
  await beginFloor(page);
  await drawRoom(page, '0 0', '20 14');

  // Four desks at 1.6 m in two rows, each with one back to back and a screen between.
  await page.keyboard.press('f');
  await eventually(readHints(page)).toContain('Choose a kind');
  await page.keyboard.press('d');
  await eventually(readHints(page)).toMatch(/desk/iu);
  await writeToTool(page, '1.6 0.8');
  await page.keyboard.type('row 4 1.6 2 4.5');
  await page.keyboard.press('Enter');
  await eventually(readHints(page)).toContain('8 × ');
  await page.keyboard.type('x2 1.4');
  await page.keyboard.press('Enter');
  await page.keyboard.type('at 3 3');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  const first = await saveFloor(page);
  const desks = (first.furniture ?? []).filter(({ kind }) => kind === 'desk');
  const screens = (first.furniture ?? []).filter(({ kind }) => kind === 'screen');
  expect(desks).toHaveLength(16);
  expect(screens.length).toBeGreaterThanOrEqual(2);
  expect(screens.every(({ top }) => top === 1.4)).toBe(true);
  expect(first.workplaces).toHaveLength(16);
  // Back to back: half of them face one way, half the other.
  const facings = (first.workplaces ?? []).map(({ facing }) => facing);
  expect(new Set(facings).size).toBe(2);

  // Cut takes them away, paste in place brings them back where they were.
  await runCommand(page, 'Select all workplaces');
  await eventually(() => page.locator('.note-title').first().textContent()).toContain('16');
  await page.locator('[data-region="page"]').focus();
  const cut = await copyText(page, 'cut');
  await eventually(readHints(page)).toContain('Cut 16');
  expect((await saveFloor(page)).workplaces ?? []).toHaveLength(0);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Shift+V');
  await eventually(readHints(page)).toContain('Pasted 16');
  const placesOf = (file: typeof first): unknown => (file.workplaces ?? []).map(({ at }) => at).sort();
  expect(placesOf(await saveFloor(page))).toEqual(placesOf(first));

  // Pasted beside where they were: half a metre to the right and down.
  await page.locator('[data-region="page"]').focus();
  await pasteText(page, cut);
  await eventually(readHints(page)).toContain('Pasted 16');
  expect((await saveFloor(page)).workplaces).toHaveLength(32);
  await page.keyboard.press('Control+z');

  // On another floor they stand at the same places.
  await beginFloor(page);
  await drawRoom(page, '0 0', '20 14');
  await page.locator('[data-region="page"]').focus();
  await pasteText(page, cut);
  await eventually(readHints(page)).toContain('Pasted 16');
  expect((await saveFloor(page)).workplaces).toHaveLength(16);
  await page.keyboard.press('Control+z');

  // Workplaces from a spreadsheet, then aligned and distributed.
  await page.locator('[data-region="page"]').focus();
  await pasteText(page, 'A\t3,2\t4\t90\tseated\nB\t9\t4,6\nC\t5\t4,3\n');
  const sheet = page.getByRole('dialog');
  await sheet.waitFor();
  await eventually(() => sheet.locator('.list-read').textContent()).toContain('A: 3.20, 4.00');
  await sheet.getByRole('button', { name: /Add 3/u }).click();
  await sheet.waitFor({ state: 'detached' });
  await runCommand(page, 'Select all workplaces');
  await runCommand(page, 'Align at the top');
  await eventually(readHints(page)).toContain('Aligned 3');
  await runCommand(page, 'Distribute along x');
  await eventually(readHints(page)).toContain('Spread 3');
  const { workplaces = [] } = await saveFloor(page);
  expect(workplaces.map(({ name }) => name).sort()).toEqual(['A', 'B', 'C']);
  const at = new Map(workplaces.map((each) => [each.name, each.at]));
  expect(workplaces.map((each) => each.at[1])).toEqual([4.6, 4.6, 4.6]);
  expect([at.get('A')?.[0], at.get('C')?.[0], at.get('B')?.[0]]).toEqual([3.2, 6.1, 9]);
  expect(complaints).toEqual([]);
});
