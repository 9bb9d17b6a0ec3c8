import type { Page } from 'playwright-core';
import { PNG } from 'pngjs';
import { expect, test } from 'vitest';
import { BLIND, type Coverage, SEEN } from '../../src/core/coverage/index.ts';
import { PALETTES } from '../../src/ui/tokens.ts';
import { eventually, findOnScreen, loadFirstFloor, prepareBrowser, waitForFindings } from './open-app.ts';

declare global {
  interface Window {
    __lacunaFrames?: number;
  }
}

const openApp = prepareBrowser();

const waitForField = (page: Page) => page.waitForFunction(() => document.documentElement.dataset.heatmap === 'ready');
const countFrames = (page: Page): Promise<number> => page.evaluate(() => window.__lacunaFrames ?? 0);

/** Waits until no frame has been drawn for a while. */
async function waitForRest(page: Page): Promise<void> {
  await page.waitForFunction(() => {
    const seen = window as Window & { restFrames?: number; restSince?: number };
    if (seen.restFrames !== window.__lacunaFrames) {
      seen.restFrames = window.__lacunaFrames ?? 0;
      seen.restSince = performance.now();
    }
    return performance.now() - (seen.restSince ?? 0) > 500;
  });
}

/** Cells of the seated plane in whose surroundings of `radius` cells every cell has a state and a cause. */
function findCells({ grid, seated }: Coverage, state: number, cause: number, radius: number): [number, number][] {
  const { x0, y0, cell, nx, ny } = grid.lattice;
  const cells: [number, number][] = [];
  for (let j = radius; j < ny - radius; j += 3) {
    for (let i = radius; i < nx - radius; i += 3) {
      let all = true;
      for (let v = j - radius; all && v <= j + radius; v++) {
        for (let u = i - radius; all && u <= i + radius; u++) {
          const k = v * nx + u;
          all = seated.state[k] === state && seated.cause[k] === cause && grid.room[k] === grid.room[j * nx + i];
        }
      }
      if (all) cells.push([x0 + (i + 0.5) * cell, y0 + (j + 0.5) * cell]);
    }
  }
  return cells;
}

const accent = [1, 3, 5].map((at) => Number.parseInt(PALETTES.light.accent.slice(at, at + 2), 16));

/** Share of the px in a square round a place that are as red as the accent. */
function shareOfRed(png: PNG, x: number, y: number, half: number): number {
  let red = 0;
  let all = 0;
  for (let v = Math.round(y - half); v <= y + half; v++) {
    for (let u = Math.round(x - half); u <= x + half; u++) {
      const at = 4 * (v * png.width + u);
      const far = accent.reduce((sum, value, channel) => sum + Math.abs(value - (png.data[at + channel] ?? 0)), 0);
      if (far < 200) red++;
      all++;
    }
  }
  return red / all;
}

test('the page rests when nothing changes, and draws one frame for one change', async () => {
  const { page, complaints } = await openApp();
  await waitForField(page);
  await waitForFindings(page);
  await waitForRest(page);
  const before = await countFrames(page);
  await page.waitForTimeout(400);
  expect(await countFrames(page)).toBe(before);
  expect(await page.evaluate(() => performance.getEntriesByName('lacuna:heatmap').length)).toBe(1);

  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('5');
  await eventually(() => countFrames(page)).toBeGreaterThan(before);
  await waitForRest(page);
  expect(await countFrames(page)).toBeLessThan(before + 6);
  expect(complaints).toEqual([]);
});

test('what the coverage calls blind is hatched red, what it calls seen is not', async () => {
  const { coverage } = loadFirstFloor();
  const { page } = await openApp();
  await waitForField(page);
  await waitForRest(page);
  const origin = await findOnScreen(page, [0, 0]);
  const [right, up] = await findOnScreen(page, [10, 10]);
  const scale = [(right - origin[0]) / 10, (up - origin[1]) / 10] as const;
  await page.mouse.move(2, 2);
  await waitForRest(page);
  const png = PNG.sync.read(await page.screenshot());
  const shares = (cells: readonly [number, number][]): number[] =>
    cells.map(([x, y]) => shareOfRed(png, origin[0] + x * scale[0], origin[1] + y * scale[1], 7));
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

  // Seven px round a place are under five cells here: the squares stay inside what is asked about.
  const outOfRange = shares(findCells(coverage, BLIND, 3, 5));
  const hidden = shares(findCells(coverage, BLIND, 1, 4));
  const seen = shares(findCells(coverage, SEEN, 0, 6));
  console.log(
    `red: out of range ${mean(outOfRange).toFixed(3)}, hidden ${mean(hidden).toFixed(3)}, seen ${mean(seen).toFixed(4)}`,
  );
  expect(outOfRange.length).toBeGreaterThan(20);
  expect(hidden.length).toBeGreaterThan(5);
  expect(seen.length).toBeGreaterThan(1_000);
  expect(mean(outOfRange)).toBeGreaterThan(0.05);
  expect(mean(hidden)).toBeGreaterThan(0.08);
  // Signs of workplaces that are not met reach into seen ground; nothing else that is red does.
  expect(mean(seen)).toBeLessThan(0.005);
});

test('the hatch is as dense at two device px a px, and at twice the zoom', async () => {
  const { coverage } = loadFirstFloor();
  const [place] = findCells(coverage, BLIND, 3, 12);
  if (place === undefined) throw new Error('The first floor has no broad area out of range.');
  const shares: number[] = [];
  for (const [deviceScaleFactor, nearer] of [
    [1, 0],
    [2, 0],
    [1, 1],
  ] as const) {
    const { page } = await openApp({ deviceScaleFactor });
    await waitForField(page);
    for (let k = 0; k < nearer; k++) {
      const [x, y] = await findOnScreen(page, place);
      await page.mouse.move(x, y);
      await page.mouse.wheel(0, -440);
      await waitForRest(page);
    }
    const [x, y] = await findOnScreen(page, place);
    await page.mouse.move(2, 2);
    await waitForRest(page);
    const png = PNG.sync.read(await page.screenshot());
    shares.push(shareOfRed(png, x * deviceScaleFactor, y * deviceScaleFactor, 14 * deviceScaleFactor));
  }
  console.log(`share of red: ${shares.map((share) => share.toFixed(3)).join(', ')}`);
  for (const share of shares) {
    expect(share).toBeGreaterThan(0.03);
    expect(share).toBeLessThan(0.14);
  }
}, 120_000);

test('a dragged detector costs little script, and no more frames than moves', async () => {
  const { file } = loadFirstFloor();
  const detector = file.detectors?.find((each) => each.id === 'D6');
  if (detector === undefined) throw new Error('The first floor has no D6.');
  const { page } = await openApp();
  await waitForField(page);
  await waitForFindings(page);
  const [x, y] = await findOnScreen(page, detector.at);
  const client = await page.context().newCDPSession(page);
  await client.send('Performance.enable');
  const readScript = async (): Promise<number> => {
    const { metrics } = await client.send('Performance.getMetrics');
    return metrics.find(({ name }) => name === 'ScriptDuration')?.value ?? Number.NaN;
  };
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 12, y + 8, { steps: 3 });
  await waitForRest(page);
  const [frames, script] = [await countFrames(page), await readScript()];
  const moves = 40;
  for (let k = 0; k < moves; k++) await page.mouse.move(x + 12 + 40 * Math.sin(k / 5), y + 8 + 20 * Math.cos(k / 3));
  await waitForRest(page);
  const drawn = (await countFrames(page)) - frames;
  const perFrame = (1_000 * ((await readScript()) - script)) / drawn;
  console.log(
    `drag on 953 m²: ${moves} moves, ${drawn} frames, ${perFrame.toFixed(1)} ms of script a frame, panels and all`,
  );
  expect(drawn).toBeGreaterThan(5);
  // A move gives at most one preview and one reading of the pointer.
  expect(drawn).toBeLessThanOrEqual(2 * moves + 4);
  await page.keyboard.press('Escape');
  await page.mouse.up();
}, 120_000);
