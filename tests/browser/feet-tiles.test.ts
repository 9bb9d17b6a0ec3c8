import { expect, test } from 'vitest';
import { beginFloor, drawRoom, openWithDownloads, readHints, runCommand, saveFloor, writeToTool } from './drawing.ts';
import { eventually, findOnScreen, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

const FOOT = 0.3048;

test('in feet a bare number is feet in tools and fields; inches, centimetres and metres may be written; the file is metres', async () => {
  const { page, complaints } = await openWithDownloads(openApp);
  await waitForFindings(page);
  await runCommand(page, 'Lengths in feet and inches');
  await beginFloor(page);
  await drawRoom(page, '0 0', '20 10');
  await eventually(() => page.locator('.key').textContent()).toMatch(/out of range\s?197\ssq\sft/u);
  await page.keyboard.press('d');
  await eventually(readHints(page)).toContain('click hangs it');
  await page.keyboard.press('Enter');
  await eventually(readHints(page)).toContain('click or Enter hangs it');
  await writeToTool(page, '10 5');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await eventually(() => page.locator('.note-title').first().textContent()).toBe('D1');
  const x = page.getByLabel('x', { exact: true });
  expect(await x.inputValue()).toMatch(/^10'\s0"$/u);
  for (const [typed, metres] of [
    ['12', 12 * FOOT],
    [`8' 2 1/2"`, 98.5 * 0.0254],
    ['245 cm', 2.45],
    ['3 m', 3],
  ] as const) {
    await x.fill(typed);
    await x.press('Enter');
    await eventually(readHints(page)).toMatch(/Place of D1 in x/u);
    const { detectors } = await saveFloor(page);
    expect(detectors[0]?.at[0]).toBeCloseTo(metres, 3);
  }
  // An arrow is an inch.
  await x.press('ArrowUp');
  await x.press('Enter');
  expect((await saveFloor(page)).detectors[0]?.at[0]).toBeCloseTo(3 + 0.0254, 2);
  const { rooms } = await saveFloor(page);
  expect(rooms[0]?.outline[2]?.[0]).toBeCloseTo(20 * FOOT, 9);
  // The floor itself is written in feet too.
  await eventually(() => page.locator('.scene-scale').textContent()).toMatch(/ft$/u);
  expect(complaints).toEqual([]);
});

test('under a ceiling grid a detector comes to rest in the middle of a tile, by pointer and by arrows', async () => {
  const { page, complaints } = await openWithDownloads(openApp);
  await waitForFindings(page);
  await beginFloor(page);
  await drawRoom(page, '0 0', '6 4.8');
  // The room's tiles: 0.6 m from its corner.
  await page.keyboard.press('Escape');
  await runCommand(page, 'Go to Room 1');
  await page
    .locator('.note')
    .getByRole('button', { name: /tiles|ceiling grid/iu })
    .click();
  await eventually(async () => JSON.stringify((await saveFloor(page)).rooms[0]?.tiles ?? null)).toContain('origin');
  const { rooms } = await saveFloor(page);
  const origin = rooms[0]?.tiles?.origin ?? [0, 0];
  const onTile = (at: readonly [number, number]): boolean =>
    at.every((value, axis) => {
      const tiles = (value - (origin[axis] ?? 0)) / 0.6 - 0.5;
      return Math.abs(tiles - Math.round(tiles)) < 1e-6;
    });
  const spot = await findOnScreen(page, [2.23, 1.67]);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('d');
  await eventually(readHints(page)).toContain('click hangs it');
  await page.mouse.click(...spot);
  await eventually(() => page.locator('.note-title').first().textContent()).toBe('D1');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  const [first] = (await saveFloor(page)).detectors;
  expect(first?.at).toBeDefined();
  expect(onTile(first?.at ?? [0, 0])).toBe(true);
  expect(Math.hypot((first?.at[0] ?? 0) - 2.23, (first?.at[1] ?? 0) - 1.67)).toBeLessThan(0.43);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Shift+ArrowRight');
  await eventually(readHints(page)).toContain('Moved D1 by 0.60 m');
  const [moved] = (await saveFloor(page)).detectors;
  expect((moved?.at[0] ?? 0) - (first?.at[0] ?? 0)).toBeCloseTo(0.6, 9);
  expect(onTile(moved?.at ?? [0, 0])).toBe(true);
  expect(complaints).toEqual([]);
});
