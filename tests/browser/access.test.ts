import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { dropFile, eventually, goTo, listBarriers, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

const focused = (page: Page): Promise<string> =>
  page.evaluate(
    () =>
      document.activeElement?.closest<HTMLElement>('[data-region]')?.dataset.region ??
      document.activeElement?.tagName ??
      '',
  );

test('the whole floor is worked by keys alone', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  const key = async (): Promise<string | null> => page.locator('.key').textContent();

  // F6 walks the regions, there and back.
  await page.locator('[data-region="page"]').focus();
  const visited: string[] = [];
  for (let step = 0; step < 5; step++) {
    await page.keyboard.press('F6');
    visited.push(await focused(page));
  }
  expect(visited).toEqual(['margin', 'head', 'rule', 'foot', 'page']);
  await page.keyboard.press('Shift+F6');
  expect(await focused(page)).toBe('foot');
  await page.keyboard.press('F6');

  // Tab walks the things: each has a sentence and becomes the one in hand.
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  const named = await page.evaluate(() => document.activeElement?.textContent ?? '');
  expect(named).toMatch(/, 2 of \d+$/u);
  expect(named.startsWith((await page.locator('.note-title').first().textContent()) ?? 'nothing')).toBe(true);
  await page.keyboard.press('Shift+Tab');
  expect(await page.evaluate(() => document.activeElement?.textContent)).toMatch(/, 1 of \d+$/u);

  // Arrows move the selected detector, brackets turn it, undo takes both back.
  await goTo(page, 'D13');
  const before = await key();
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Shift+ArrowLeft');
  await page.keyboard.press('Shift+ArrowLeft');
  await eventually(key).not.toBe(before);
  await eventually(() => page.locator('.hints').textContent()).toContain('Moved D13 by 1.20 m');
  await page.keyboard.press('[');
  await eventually(() => page.getByLabel('turn', { exact: true }).inputValue()).toBe('15°');
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await eventually(key).toBe(before);

  // Enter goes into the ledger, Escape comes back; letters typed there are letters.
  await page.keyboard.press('Enter');
  expect(await focused(page)).toBe('margin');
  await page.keyboard.press('2');
  expect(await page.getByRole('button', { name: 'Plan 1' }).getAttribute('aria-pressed')).toBe('true');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  expect(await focused(page)).toBe('page');

  // A mask by keys: add, widen, type an angle, let go.
  await page.keyboard.press('k');
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Shift+ArrowLeft');
  await eventually(() => page.locator('[data-field="to 0"]').inputValue()).toBe('36°');
  await page.keyboard.press('4');
  await page.keyboard.press('5');
  await page.keyboard.press('Enter');
  await eventually(() => page.locator('[data-field="to 0"]').inputValue()).toBe('45°');
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');

  // Findings: step, filter, leave.
  await page.keyboard.press('.');
  expect(await page.locator('.finding[aria-current="true"]').count()).toBe(1);
  await page.keyboard.press('/');
  await page.keyboard.type('warn');
  expect(await page.locator('.level.fail').count()).toBe(0);
  await page.keyboard.press('Escape');
  expect(await focused(page)).toBe('page');

  // The rule: next mark, and a mark moved by 0.02 m.
  await page.keyboard.press('PageUp');
  expect(await focused(page)).toBe('rule');
  const mark = await page.evaluate(() => document.activeElement?.getAttribute('data-mark'));
  expect(mark).toBe('seated');
  await page.keyboard.press('ArrowUp');
  await eventually(key).toMatch(/seated at 0\.82\sm/u);
  await page.keyboard.press('Control+z');
  await eventually(key).toMatch(/seated at 0\.80\sm/u);

  // A top's mark is another element once it has moved: the focus goes with it, and stays where it is taken meanwhile.
  const focusedMark = (): Promise<string | null | undefined> =>
    page.evaluate(() => document.activeElement?.getAttribute('data-mark'));
  while (!/\d$/u.test((await focusedMark()) ?? '')) await page.keyboard.press('PageUp');
  const top = await focusedMark();
  await page.keyboard.press('ArrowUp');
  await eventually(focusedMark).not.toBe(top);
  expect(await focused(page)).toBe('rule');
  await page.evaluate(async () => {
    for (const name of ['ArrowDown', 'F6'])
      document.activeElement?.dispatchEvent(
        new KeyboardEvent('keydown', { key: name, bubbles: true, cancelable: true }),
      );
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  });
  expect(await focused(page)).toBe('foot');
  await page.keyboard.press('Shift+F6');

  // All keys, listed; the focus comes back.
  await page.keyboard.press('F6');
  await page.keyboard.press('F6');
  await page.keyboard.press('?');
  await page.getByRole('dialog', { name: 'All keys' }).waitFor();
  await page.keyboard.press('Escape');
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  await eventually(() => focused(page)).toBe('page');
});

describe.each([
  { width: 1280, height: 720, colorScheme: 'light' },
  { width: 1280, height: 720, colorScheme: 'dark' },
  { width: 390, height: 844, colorScheme: 'light' },
  { width: 390, height: 844, colorScheme: 'dark' },
] as const)('at $width × $height, $colorScheme', ({ width, height, colorScheme }) => {
  test('no state of the app has a barrier', async () => {
    const { page } = await openApp({ viewport: { width, height }, colorScheme });
    await waitForFindings(page);
    expect(await listBarriers(page), 'the floor').toEqual([]);
    await goTo(page, 'D13');
    await page.getByRole('button', { name: 'Add a mask' }).click();
    expect(await listBarriers(page), 'a detector').toEqual([]);
    await page.locator('[data-field="to 0"]').fill('nothing');
    expect(await listBarriers(page), 'a field with a wrong value').toEqual([]);
    await page.keyboard.press('Escape');
    await page.locator('[data-region="page"]').focus();
    await page.keyboard.press('p');
    await page.keyboard.press('Enter');
    await page.waitForSelector('.note .say[aria-live]');
    expect(await listBarriers(page), 'the probe').toEqual([]);
    await page.keyboard.press('5');
    expect(await listBarriers(page), 'how many').toEqual([]);
    for (const keys of ['Control+k', 'Control+e', '?']) {
      await page.keyboard.press(keys);
      await page.getByRole('dialog').waitFor();
      expect(await listBarriers(page), keys).toEqual([]);
      await page.keyboard.press('Escape');
      await page.getByRole('dialog').waitFor({ state: 'detached' });
    }
    await dropFile(page, 'bad.json', '{}');
    await page.waitForSelector('.faults');
    expect(await listBarriers(page), 'a faulty file').toEqual([]);
  });

  test('nothing is cut, and every target is large enough', async () => {
    const { page } = await openApp({ viewport: { width, height }, colorScheme, hasTouch: width < 500 });
    await waitForFindings(page);
    await goTo(page, 'D13');
    const least = width < 500 ? 48 : 28;
    const found = await page.evaluate((size) => {
      const targets = [...document.querySelectorAll<HTMLElement>('button, input, select')].filter(
        (each) => each.closest('.things') === null && each.getClientRects().length > 0,
      );
      const small = targets
        .filter((each) => each.getBoundingClientRect().height < size - 0.5)
        .map((each) => `${each.className} ${each.textContent} ${each.getBoundingClientRect().height}`);
      return { targets: targets.length, small, wide: document.documentElement.scrollWidth - window.innerWidth };
    }, least);
    expect(found.targets).toBeGreaterThan(15);
    expect(found.small).toEqual([]);
    expect(found.wide).toBeLessThanOrEqual(0);
  });
});

test('with text at 200 % the margin stands below the page and nothing is cut', async () => {
  const { page } = await openApp({ viewport: { width: 640, height: 360 }, deviceScaleFactor: 2 });
  await waitForFindings(page);
  const layout = await page.evaluate(() => {
    const box = (selector: string): DOMRect | undefined => document.querySelector(selector)?.getBoundingClientRect();
    return {
      page: box('.page'),
      margin: box('.margin'),
      wide: document.documentElement.scrollWidth - window.innerWidth,
    };
  });
  expect(layout.margin?.top).toBeGreaterThanOrEqual(layout.page?.bottom ?? Number.POSITIVE_INFINITY);
  expect(layout.page?.height).toBeGreaterThan(150);
  expect(layout.wide).toBeLessThanOrEqual(0);
  await page.locator('.finding').first().click();
  expect(await page.locator('.finding[aria-current="true"]').count()).toBe(1);
});
