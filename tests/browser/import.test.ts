import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { assembleFloor } from '../../src/importers/assembly/assemble.ts';
import { findMainStorey, readSource } from '../../src/importers/source.ts';
import { openIfcApi } from '../../src/workers/ifc-api.ts';
import { findOutsideFolder } from '../outside/visibility-files.ts';
import { dropFile, eventually, listBarriers, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

/** Models are read for seconds, and much longer on a busy machine. */
const LONG = 240_000;

const OFFICE = join(findOutsideFolder('ifc'), 'AC11-Institute-Var-2-IFC.ifc');
const HOUSE = join(findOutsideFolder('dxf'), 'floorplan.dxf');

async function drop(page: Page, path: string): Promise<void> {
  await page.evaluate(
    ([name, base64]) => {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      const data = new DataTransfer();
      data.items.add(new File([bytes], name));
      window.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
    },
    [basename(path), readFileSync(path).toString('base64')] as const,
  );
}

const sheet = (page: Page) => page.locator('.import-sheet');
const waitForPreview = (page: Page) =>
  page.locator('.import-preview:not(.stale) .small-plan').waitFor({ timeout: 45_000 });

/** What the command line makes of the same file: it calls the same two functions. */
async function assembleHere(path: string) {
  const file = { name: basename(path), bytes: new Uint8Array(readFileSync(path)) };
  const { source } = await readSource([file], {}, { ifcApi: openIfcApi }, () => {});
  const storey = source.ok ? findMainStorey(source) : undefined;
  if (!source.ok || storey === undefined) throw new Error('The source cannot be read here.');
  return assembleFloor(storey, {}, source);
}

test('a model dropped on the window becomes a floor with the numbers of the command line, its guesses listed', {
  timeout: LONG,
}, async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  await drop(page, OFFICE);
  await waitForPreview(page);
  const { floor } = await assembleHere(OFFICE);
  expect(await page.locator('.import-preview .say').textContent()).toBe(
    '22 rooms, 22 doors, 54 windows, 26 pieces of furniture, 28 workplaces.',
  );
  expect(await listBarriers(page)).toEqual([]);
  await page.getByRole('button', { name: 'Open as a new floor' }).click();
  await sheet(page).waitFor({ state: 'detached' });

  await eventually(() => page.title()).toContain('1. Obergeschoss');
  const note = page.locator('.note[aria-label="The thing in hand"]');
  await eventually(() => note.textContent()).toContain(`${floor.rooms.length}, ${floor.openings?.length}`);
  expect(floor.rooms).toHaveLength(22);
  const report = page.locator('.note[aria-label="Import"]');
  expect(await report.textContent()).toContain('What the import guessed');
  expect(await listBarriers(page)).toEqual([]);
  // A guessed thing is gone to and is in hand, to be put right.
  await report.locator('summary', { hasText: 'desks' }).click();
  await report.locator('li button').first().click();
  await eventually(() => page.locator('.note-title').first().textContent()).toContain('Schreibtisch');
  await page.keyboard.press('Control+z');
  expect(complaints).toEqual([]);
});

test('storeys are gone through by the keyboard, each with its preview', { timeout: LONG }, async () => {
  const { page } = await openApp();
  await drop(page, OFFICE);
  await waitForPreview(page);
  await page.locator('.import-storey input:checked').focus();
  await page.keyboard.press('ArrowUp');
  await eventually(() => page.locator('.import-preview .say').textContent()).toMatch(/^18 rooms/u);
  await page.keyboard.press('ArrowDown');
  await eventually(() => page.locator('.import-preview .say').textContent()).toMatch(/^22 rooms/u);
});

test('an import is stopped at once, the floor stays, and the next one works', { timeout: LONG }, async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  const title = await page.title();
  // Pressed by the page itself as soon as it stands there: a quick machine would be done before a hand from outside came.
  await page.evaluate(() => {
    const { prototype } = Worker;
    const { terminate } = prototype;
    let start = Number.NaN;
    Object.assign(window, {
      stopped: new Promise<number>((resolve) => {
        prototype.terminate = function end(this: Worker) {
          terminate.call(this);
          if (!Number.isNaN(start)) resolve(performance.now() - start);
        };
      }),
    });
    const watcher = new MutationObserver(() => {
      const stop = [...document.querySelectorAll<HTMLButtonElement>('.import-sheet button')].find(
        (each) => each.textContent === 'Stop',
      );
      if (stop === undefined) return;
      watcher.disconnect();
      start = performance.now();
      stop.click();
    });
    watcher.observe(document.body, { childList: true, subtree: true, characterData: true });
  });
  await drop(page, OFFICE);
  const took = await page.evaluate(() => (window as unknown as { stopped: Promise<number> }).stopped);
  // Ending the worker waits neither for what it does nor for the page to be drawn.
  expect(took).toBeLessThan(200);
  await sheet(page).waitFor({ state: 'detached' });
  expect(await page.title()).toBe(title);
  await drop(page, HOUSE);
  await waitForPreview(page);
  await page.keyboard.press('Escape');
  await sheet(page).waitFor({ state: 'detached' });
  expect(await page.title()).toBe(title);
  expect(complaints).toEqual([]);
});

test('a drawing asks what its layers hold, and remembers the answer', { timeout: LONG }, async () => {
  const { page } = await openApp();
  await drop(page, HOUSE);
  await waitForPreview(page);
  expect(await page.getByLabel('one unit is').inputValue()).toBe('in');
  const cases = page.getByLabel('What A-CASE-1 holds');
  expect(await cases.inputValue()).toBe('cabinet');
  await cases.selectOption('ignore');
  await eventually(() => page.locator('.import-layers tr', { hasText: 'A-CASE-1' }).textContent()).toContain(
    'as answered',
  );
  await waitForPreview(page);
  expect(await listBarriers(page)).toEqual([]);
  await page.getByRole('button', { name: 'Cancel' }).click();
  await sheet(page).waitFor({ state: 'detached' });
  await drop(page, HOUSE);
  await waitForPreview(page);
  expect(await cases.inputValue()).toBe('ignore');
});

test('files that cannot be imported are refused with what and what would be right; a map in a .json is imported', {
  timeout: LONG,
}, async () => {
  const { page } = await openApp();
  const title = await page.title();
  await drop(page, join(findOutsideFolder('ifc'), 'NEG_EmptyTest.ifc'));
  await page.locator('.import-sheet [role="alert"]').waitFor();
  expect(await sheet(page).textContent()).toMatch(/section DATA is empty.*Export the architecture/su);
  expect(await listBarriers(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await sheet(page).waitFor({ state: 'detached' });
  expect(await page.title()).toBe(title);

  const ring = [
    [0, 0],
    [8, 0],
    [8, 5],
    [0, 5],
    [0, 0],
  ];
  const map = {
    type: 'FeatureCollection',
    features: [
      {
        type: 'Feature',
        properties: { type: 'room', name: '<b>Hall</b>' },
        geometry: { type: 'Polygon', coordinates: [ring] },
      },
    ],
  };
  await dropFile(page, 'map.json', JSON.stringify(map));
  await waitForPreview(page);
  await page.getByLabel('1 ceiling').fill('3.3');
  await page.keyboard.press('Enter');
  await waitForPreview(page);
  await page.getByRole('button', { name: 'Open as a new floor' }).click();
  await sheet(page).waitFor({ state: 'detached' });
  await eventually(() => page.title()).toContain('map');
  expect(await page.locator('[data-thing]', { hasText: '<b>Hall</b>' }).first().textContent()).toContain('<b>Hall</b>');

  // A newer version is brought onto the open floor in one step that can be taken back.
  const wider = structuredClone(map);
  const [feature] = wider.features;
  if (feature !== undefined)
    feature.geometry.coordinates = [
      [
        [0, 0],
        [9, 0],
        [9, 5],
        [0, 5],
        [0, 0],
      ],
    ];
  await dropFile(page, 'map.json', JSON.stringify(wider));
  await waitForPreview(page);
  await page.getByLabel('1 ceiling').fill('3.3');
  await page.keyboard.press('Enter');
  await waitForPreview(page);
  await page.getByRole('button', { name: 'Bring onto the open floor' }).click();
  await sheet(page).waitFor({ state: 'detached' });
  const changes = page.getByRole('list', { name: 'Changed by the newer version' });
  await eventually(() => changes.textContent()).toContain('changed: outline');
  await page.locator('[data-region="page"]').focus();
  await page.keyboard.press('Control+z');
  await eventually(() => page.locator('.foot').textContent()).toContain('again');
});
