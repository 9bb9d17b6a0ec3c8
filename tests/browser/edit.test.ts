import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { type Coverage, updateCoverage } from '../../src/core/coverage/index.ts';
import { resolveFloor } from '../../src/core/floor/index.ts';
import { formatArea } from '../../src/ui/panels/format.ts';
import { eventually, findOnScreen, goTo, loadFirstFloor, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

const key = async (page: Page): Promise<string> => (await page.locator('.key').textContent()) ?? '';
const foot = async (page: Page): Promise<string> => (await page.locator('.hints').textContent()) ?? '';

/** The areas of the first floor once one detector is changed. */
function areasWith(id: string, change: object): Coverage['areas']['seated'] {
  const { file, coverage } = loadFirstFloor();
  const detectors = file.detectors?.map((each) => (each.id === id ? { ...each, ...change } : each));
  updateCoverage(coverage, resolveFloor({ ...file, detectors: detectors ?? [] }));
  return coverage.areas.seated;
}

function firstDetector() {
  const detector = loadFirstFloor().file.detectors?.find((each) => each.id === 'D13');
  if (detector === undefined) throw new Error('The first floor has no D13.');
  return detector;
}

test('a dragged detector changes key and verdict while it moves; Escape puts all back; a drop is one step', async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  const before = await key(page);
  const { at, name } = firstDetector();
  const [x, y] = await findOnScreen(page, at);
  const [farX] = await findOnScreen(page, [at[0] - 4, at[1]]);

  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move((x + farX) / 2, y, { steps: 4 });
  await page.mouse.move(farX, y, { steps: 4 });
  await eventually(() => key(page)).not.toBe(before);
  await page.keyboard.press('Escape');
  await eventually(() => key(page)).toBe(before);
  await page.mouse.up();
  expect(await key(page)).toBe(before);

  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(farX, y, { steps: 8 });
  await page.mouse.up();
  await eventually(() => key(page)).not.toBe(before);
  await eventually(() => foot(page)).toMatch(new RegExp(`^Moved ${name} by \\d`, 'u'));
  await eventually(() => page.locator('h1').textContent()).toContain('not saved');
  await page.keyboard.press('Control+z');
  await eventually(() => key(page)).toBe(before);
  await eventually(() => page.locator('h1').textContent()).not.toContain('not saved');
  expect(complaints).toEqual([]);
});

test('typed mask degrees are shown as they are typed; Enter keeps them, a wrong one says what would be right', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  const before = await key(page);
  await goTo(page, 'D13');
  await page.getByRole('button', { name: 'Add a mask' }).click();
  const mask = { from: 0, to: 30, inner: 40, outer: 90 };
  await eventually(() => key(page)).toContain(`masked ${formatArea(areasWith('D13', { masks: [mask] }).maskedM2)}`);

  const to = page.locator('[data-field="to 0"]');
  await to.fill('128');
  const wide = formatArea(areasWith('D13', { masks: [{ ...mask, to: 128 }] }).maskedM2);
  await eventually(() => key(page)).toContain(`masked ${wide}`);
  await page.keyboard.press('Escape');
  await eventually(() => key(page)).not.toContain(`masked ${wide}`);
  expect(await to.inputValue()).toBe('30°');

  await to.fill('128');
  await page.keyboard.press('Enter');
  await eventually(() => foot(page)).toContain('Mask of D13, to: 128°');
  await page.keyboard.press('ArrowUp');
  expect(await to.inputValue()).toBe('129°');
  await page.keyboard.press('Shift+ArrowUp');
  expect(await to.inputValue()).toBe('134°');
  await page.keyboard.press('Alt+ArrowDown');
  expect(await to.inputValue()).toBe('133.9°');
  await page.keyboard.press('Escape');
  expect(await to.inputValue()).toBe('128°');

  const inner = page.locator('[data-field="inner 0"]');
  await inner.fill('95');
  await page.keyboard.press('Enter');
  expect(await inner.getAttribute('aria-invalid')).toBe('true');
  expect(await page.locator('.row.bad .row-error').textContent()).toBe('Write at least 0° and at most 90°.');
  expect(await inner.evaluate((field) => field === document.activeElement)).toBe(true);
  await page.keyboard.press('Escape');
  await to.fill('0');
  expect(await page.locator('.row.bad .row-error').textContent()).toContain('Write another angle than from, 0°.');
  await page.keyboard.press('Escape');

  await page.getByRole('button', { name: 'Remove mask of D13' }).click();
  await eventually(() => key(page)).toBe(before);
});

test('a piece’s top is repainted as it is typed, and the findings follow within the check', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  const { file, coverage } = loadFirstFloor();
  const shelf = file.furniture?.find((piece) => piece.kind === 'shelving' && piece.top > 2);
  if (shelf === undefined) throw new Error('The first floor has no tall shelf.');
  await page.locator(`[data-thing="${shelf.id}"]`).evaluate((button: HTMLElement) => button.click());
  const top = page.locator('[data-field="top"]');
  await eventually(() => top.inputValue()).toBe(`${shelf.top.toFixed(2)}\u00a0m`);
  await top.fill('3 ft 6 in');
  const furniture = file.furniture?.map((piece) => (piece === shelf ? { ...piece, top: 1.067 } : piece)) ?? [];
  updateCoverage(coverage, resolveFloor({ ...file, furniture }));
  await eventually(() => key(page)).toContain(`hidden ${formatArea(coverage.areas.seated.hiddenM2)}`);
  await page.keyboard.press('Enter');
  await eventually(() => top.inputValue()).toBe('1.07\u00a0m');
  await waitForFindings(page);
});

test('the probe says who sees a place, who misses it and why', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('p');
  const { coverage } = loadFirstFloor();
  const seen = firstDetector().at;
  const [x, y] = await findOnScreen(page, [seen[0] + 0.5, seen[1] - 0.5]);
  await page.mouse.move(x, y);
  await eventually(() => page.locator('.note .say').textContent()).toMatch(/sees? a seated person here\.$/u);
  const missed = coverage.workplaces.findIndex((each) => each.share === 0);
  const place = coverage.floor.workplaces[missed];
  if (place === undefined) throw new Error('Every workplace of the first floor is seen.');
  await page.mouse.move(...(await findOnScreen(page, place.at)));
  await eventually(() => page.locator('.note .say').textContent()).toContain('Nobody sees a seated person here.');
  expect(await page.locator('svg.section').getAttribute('aria-label')).toMatch(/^Section from D/u);
  expect(await page.locator('.note .say').getAttribute('aria-live')).toBe('polite');
});

test('words that go with a detector lie on none of each other, and the page keeps its size whatever is said', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  const listMeeting = (): Promise<string[]> =>
    page.evaluate(() => {
      const words = [...document.querySelectorAll<HTMLElement>('.scene-word')]
        .filter((each) => each.style.visibility !== 'hidden')
        .map((each) => ({ text: each.textContent ?? '', box: each.getBoundingClientRect() }));
      return words.flatMap(({ text, box }, k) =>
        words
          .slice(0, k)
          .filter(
            (other) =>
              box.left < other.box.right - 0.5 &&
              other.box.left < box.right - 0.5 &&
              box.top < other.box.bottom - 0.5 &&
              other.box.top < box.bottom - 0.5,
          )
          .map((other) => `${text} / ${other.text}`),
      );
    });
  for (const name of ['D27', 'D10', 'D1']) {
    await goTo(page, name);
    await page.locator('.scene-word', { hasText: 'walking past' }).waitFor();
    await eventually(() => page.locator('.scene-word').count()).toBeGreaterThan(2);
    await eventually(async () => (await listMeeting()).join(', ')).toBe('');
  }
  const sizeOf = () => page.locator('[data-region="page"]').boundingBox();
  const before = await sizeOf();
  // Into the wall: a refusal of several lines.
  const [x, y] = await findOnScreen(page, firstDetector().at);
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let step = 1; step <= 8; step++) await page.mouse.move(20 + (x - 20) * (1 - step / 8), y);
  await page.mouse.up();
  const linesHigh = async () => (await page.locator('.hints-lines').boundingBox())?.height ?? 0;
  await eventually(linesHigh).toBeGreaterThan(45);
  expect(await sizeOf()).toEqual(before);
});

test('of a locked detector neither reach nor type is changed, and why is said', async () => {
  const { page } = await openApp();
  await waitForFindings(page);
  await goTo(page, 'D13');
  await page.getByLabel('place', { exact: true }).selectOption('locked');
  const reach = page.getByLabel('reach', { exact: true });
  await reach.fill('0.5');
  await eventually(() => page.locator('.margin').textContent()).toContain('D13 is locked. Unlock it first');
  await reach.press('Escape');
  await eventually(() => reach.inputValue()).toBe('1');
  const type = page.getByLabel('type', { exact: true });
  const was = await type.inputValue();
  const other = await type.evaluate(
    (select: HTMLSelectElement) => [...select.options].find((each) => !each.selected)?.value ?? '',
  );
  await type.selectOption(other);
  await eventually(() => foot(page)).toContain('D13 is locked');
  expect(await type.inputValue()).toBe(was);
});
