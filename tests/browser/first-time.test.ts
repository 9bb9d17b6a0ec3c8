import { expect, test } from 'vitest';
import { eventually, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

/** What is on screen says what to do next: nothing else is known here, no key, no name of a command. */
test.each([
  { how: 'pointer', viewport: { width: 1280, height: 720 }, hasTouch: false },
  { how: 'finger', viewport: { width: 390, height: 844 }, hasTouch: true },
])(
  'a first-time user gets from the demo to a room, a detector and a heat map by words on screen, by $how',
  async ({ how, viewport, hasTouch }) => {
    const { page, complaints } = await openApp({ viewport, hasTouch });
    await waitForFindings(page);
    const press = (name: RegExp | string) => {
      const button = page.getByRole('button', { name }).filter({ visible: true }).first();
      return how === 'finger' ? button.tap() : button.click();
    };
    await press('Files');
    await page.getByRole('dialog').waitFor();
    await press('New floor');
    await press(/^(R )?Draw a room/u);
    const box = await page.locator('[data-region="page"]').boundingBox();
    if (box === null) throw new Error('The page is not on screen.');
    const [x0, y0] = [box.x + box.width * 0.2, box.y + box.height * 0.25];
    const [x1, y1] = [box.x + box.width * 0.7, box.y + box.height * 0.7];
    const client = await page.context().newCDPSession(page);
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', at: readonly (readonly [number, number])[]) =>
      client.send('Input.dispatchTouchEvent', { type, touchPoints: at.map(([x, y]) => ({ x, y })) });
    await eventually(() =>
      page
        .locator('.hints, .phone-notice')
        .allTextContents()
        .then((all) => all.join()),
    ).toContain('drag a rectangle');
    if (how === 'finger') {
      await touch('touchStart', [[x0, y0]]);
      for (const share of [0.3, 0.7, 1]) await touch('touchMove', [[x0 + (x1 - x0) * share, y0 + (y1 - y0) * share]]);
      // A finger lifted in full swing starts a fling, and the browser takes the next tap as its end; a hand comes to rest first.
      await page.waitForTimeout(150);
      await touch('touchEnd', []);
    } else {
      await page.mouse.move(x0, y0);
      await page.mouse.down();
      await page.mouse.move(x1, y1, { steps: 3 });
      await page.mouse.up();
    }
    await eventually(() => page.locator('.note-title').first().textContent()).toBe('Room 1');
    await press(/^Next: hang a detector/u);
    await eventually(() =>
      page
        .locator('.hints, .phone-notice')
        .allTextContents()
        .then((all) => all.join()),
    ).toMatch(/(?:click|tap) hangs it/u);
    // The page has another size by now; its middle is in the room.
    const now = (await page.locator('[data-region="page"]').boundingBox()) ?? box;
    const [mx, my] = [now.x + now.width * 0.45, now.y + now.height * 0.48];
    if (how === 'finger') {
      await touch('touchStart', [[mx, my]]);
      await touch('touchEnd', []);
    } else await page.mouse.click(mx, my);
    await eventually(() => page.locator('.note-title').first().textContent()).toBe('D1');
    // Part of the room is seen now, and the hint is gone.
    await eventually(() => page.locator('.key').textContent()).toMatch(/seen\s?(?!0\s)[\d.]+\sm²/u);
    expect(await page.locator('.next-step').count()).toBe(0);
    await press(/^Done/u);
    expect(complaints).toEqual([]);
  },
);

test('a first-time user gets there by keys alone, each of them said on screen', async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  const { keyboard } = page;
  const onScreen = (text: string | RegExp) => page.getByText(text).filter({ visible: true }).first().waitFor();
  const hint = (): Promise<string> =>
    page
      .locator('.hints')
      .textContent()
      .then((text) => text ?? '');
  await onScreen('Ctrl K');
  await keyboard.press('Control+k');
  await page.locator('.find-line').waitFor();
  await keyboard.type('new floor');
  await page.getByRole('option', { name: /^New floor/u }).waitFor();
  await keyboard.press('Enter');
  await page.getByRole('button', { name: /^R Draw a room/u }).waitFor();
  await keyboard.press('r');
  await eventually(hint).toContain('type its place, such as 3.2 4.5');
  await keyboard.type('0 0');
  await eventually(hint).toContain('Enter sets it');
  await keyboard.press('Enter');
  await eventually(hint).toContain('type 5.4 8.1 for a rectangle');
  await keyboard.type('6 4');
  await keyboard.press('Enter');
  await eventually(() => page.locator('.note-title').first().textContent()).toBe('Room 1');
  // The tool stays in hand, as its hint says how to be done with it.
  const next = page.getByRole('button', { name: /^Next: hang a detector/u });
  expect(await next.locator('kbd').textContent()).toBe('D');
  await page.getByRole('button', { name: /^Done\s*Esc/u }).waitFor();
  await keyboard.press('Escape');
  await keyboard.press('d');
  await eventually(hint).toContain('Enter: place it by keys');
  await keyboard.press('Enter');
  await eventually(hint).toContain('Enter hangs it');
  await keyboard.press('Enter');
  await eventually(() => page.locator('.note-title').first().textContent()).toBe('D1');
  await eventually(() => page.locator('.key').textContent()).toMatch(/seen\s?(?!0\s)[\d.]+\sm²/u);
  expect(await page.locator('.next-step').count()).toBe(0);
  expect(complaints).toEqual([]);
});
