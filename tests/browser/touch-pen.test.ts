import type { CDPSession, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { beginFloor, openWithDownloads, readHints, runCommand, saveFloor } from './drawing.ts';
import { eventually, findOnScreen, loadFirstFloor, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true } as const;

type Spot = readonly [number, number];

async function touch(client: CDPSession, type: 'touchStart' | 'touchMove' | 'touchEnd', fingers: readonly Spot[]) {
  await client.send('Input.dispatchTouchEvent', {
    type,
    touchPoints: fingers.map(([x, y], id) => ({ x: Math.round(x), y: Math.round(y), id })),
  });
}

/** Moves fingers from places to others in steps, and lifts them. */
async function slide(client: CDPSession, from: readonly Spot[], to: readonly Spot[], steps = 6): Promise<void> {
  // One finger comes down after the other, as on a hand.
  for (let count = 1; count <= from.length; count++) await touch(client, 'touchStart', from.slice(0, count));
  for (let step = 1; step <= steps; step++) {
    const at = from.map(([x, y], i): Spot => {
      const [tx, ty] = to[i] ?? [x, y];
      return [x + ((tx - x) * step) / steps, y + ((ty - y) * step) / steps];
    });
    await touch(client, 'touchMove', at);
  }
  await touch(client, 'touchEnd', []);
}

async function measureView(page: Page): Promise<{ readonly pxPerMetre: number; readonly origin: Spot }> {
  const origin = await findOnScreen(page, [0, 0]);
  const [x] = await findOnScreen(page, [10, 0]);
  return { pxPerMetre: (x - origin[0]) / 10, origin };
}

test('on a phone a tap selects, two fingers carry and spread the page, and a finger on empty floor changes nothing', async () => {
  const { page, complaints } = await openApp(PHONE);
  await waitForFindings(page);
  const client = await page.context().newCDPSession(page);
  const { file } = loadFirstFloor();
  const at = file.detectors.find(({ name }) => name === 'D18')?.at;
  if (at === undefined) throw new Error('There is no D18.');
  const [x, y] = await findOnScreen(page, at);
  await touch(client, 'touchStart', [[x, y]]);
  await touch(client, 'touchEnd', []);
  await eventually(() => page.locator('.note-title').first().textContent()).toBe('D18');

  const box = await page.locator('[data-region="page"]').boundingBox();
  if (box === null) throw new Error('The page is not on screen.');
  const [cx, cy] = [box.x + box.width / 2, box.y + box.height / 2];
  const before = await measureView(page);
  await slide(
    client,
    [
      [cx - 40, cy],
      [cx + 40, cy],
    ],
    [
      [cx - 80, cy],
      [cx + 80, cy],
    ],
  );
  const nearer = await measureView(page);
  expect(nearer.pxPerMetre / before.pxPerMetre).toBeCloseTo(2, 1);
  await slide(
    client,
    [
      [cx - 40, cy],
      [cx + 40, cy],
    ],
    [
      [cx - 10, cy + 24],
      [cx + 70, cy + 24],
    ],
  );
  const carried = await measureView(page);
  expect(carried.pxPerMetre / nearer.pxPerMetre).toBeCloseTo(1, 1);
  expect(carried.origin[0] - nearer.origin[0]).toBeGreaterThan(20);
  expect(carried.origin[1] - nearer.origin[1]).toBeGreaterThan(15);
  // Nothing of it was an edit.
  expect(await page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(true);
  expect(complaints).toEqual([]);
});

test('on a phone a finger draws a room, and a second finger takes back what the first has begun', async () => {
  const { page, complaints } = await openWithDownloads(openApp, PHONE);
  await waitForFindings(page);
  await beginFloor(page);
  await runCommand(page, 'Room');
  await page.locator('.phone-entry').waitFor();
  const client = await page.context().newCDPSession(page);
  const box = await page.locator('[data-region="page"]').boundingBox();
  if (box === null) throw new Error('The page is not on screen.');
  const [left, top] = [box.x + 60, box.y + 60];
  // The first finger begins a rectangle; the second makes a pinch of it.
  await touch(client, 'touchStart', [[left, top]]);
  await touch(client, 'touchMove', [[left + 60, top + 60]]);
  await touch(client, 'touchStart', [
    [left + 60, top + 60],
    [left + 160, top + 60],
  ]);
  await touch(client, 'touchEnd', []);
  await slide(client, [[left, top]], [[left + 180, top + 120]]);
  await eventually(() => page.locator('.verdict').textContent()).not.toContain('Nothing is drawn yet');
  await page.getByRole('button', { name: 'Done' }).click();
  const { rooms } = await saveFloor(page);
  expect(rooms).toHaveLength(1);
  expect(rooms[0]?.outline).toHaveLength(4);
  expect(complaints).toEqual([]);
});

test('a pen draws as a mouse does', async () => {
  const { page, complaints } = await openWithDownloads(openApp);
  await waitForFindings(page);
  await beginFloor(page);
  const [x0, y0] = await findOnScreen(page, [0, 0]);
  const [x1, y1] = await findOnScreen(page, [6, 4]);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('r');
  await eventually(readHints(page)).toContain('first corner');
  const client = await page.context().newCDPSession(page);
  const pen = (type: 'mousePressed' | 'mouseMoved' | 'mouseReleased', x: number, y: number) =>
    client.send('Input.dispatchMouseEvent', {
      type,
      x,
      y,
      button: 'left',
      buttons: type === 'mouseReleased' ? 0 : 1,
      clickCount: 1,
      pointerType: 'pen',
      force: 0.5,
    });
  await pen('mousePressed', x0, y0);
  for (let step = 1; step <= 6; step++)
    await pen('mouseMoved', x0 + ((x1 - x0) * step) / 6, y0 + ((y1 - y0) * step) / 6);
  await pen('mouseReleased', x1, y1);
  await eventually(() => page.locator('.key').textContent()).toMatch(/24\.0\sm²/u);
  const { rooms } = await saveFloor(page);
  expect(rooms[0]?.outline).toEqual([
    [0, 0],
    [6, 0],
    [6, 4],
    [0, 4],
  ]);
  expect(complaints).toEqual([]);
});
