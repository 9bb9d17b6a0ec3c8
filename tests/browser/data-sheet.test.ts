import { expect, test } from 'vitest';
import { beginFloor, openWithDownloads, runCommand, saveFloor } from './drawing.ts';
import { eventually, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

test('a data sheet is entered row by row; the plane is asked for; the size stands as stated and as it is at the plane', async () => {
  const { page, complaints } = await openWithDownloads(openApp);
  await waitForFindings(page);
  await beginFloor(page);
  await runCommand(page, 'Detector types: enter a data sheet');
  const sheet = page.getByRole('dialog');
  await sheet.getByRole('button', { name: 'New type' }).click();
  await sheet.getByLabel('name', { exact: true }).fill('Own sheet');
  await page.keyboard.press('Enter');
  await eventually(() => sheet.getByLabel('type', { exact: true }).locator('option:checked').textContent()).toBe(
    'Own sheet',
  );

  const minor = sheet.getByRole('region', { name: 'small movements' });
  const write = async (label: string, value: string): Promise<void> => {
    await minor.getByLabel(label).fill(value);
    await page.keyboard.press('Enter');
  };
  await write('small movements, new row, mounted at', '3');
  await write('small movements, new row, diameter', '6');
  // Nobody is spared the choice of the plane.
  await minor.getByRole('button', { name: 'Add' }).click();
  await eventually(() => minor.locator('.new-row > .row-error').textContent()).toMatch(/plane|height at which/u);
  expect(await minor.locator('tbody tr').count()).toBe(0);
  await minor.getByLabel('the size holds').selectOption({ label: 'on the floor, 0 m' });
  await minor.getByRole('button', { name: 'Add' }).click();
  await minor.locator('tbody tr').first().waitFor();
  // 6 m on the floor from 3 m is a cone of 4.4 m at 0.8 m.
  expect(await minor.locator('tbody tr td').nth(2).textContent()).toMatch(/^4\.40\sm$/u);

  // A second mounting height of the same motion takes the plane of the first.
  await write('small movements, new row, mounted at', '3.5');
  await write('small movements, new row, diameter', '7');
  await minor.getByRole('button', { name: 'Add' }).click();
  await eventually(() => minor.locator('tbody tr').count()).toBe(2);
  // The same height twice is refused in words, and what was typed stays.
  await write('small movements, new row, mounted at', '3');
  await write('small movements, new row, diameter', '5');
  await minor.getByRole('button', { name: 'Add' }).click();
  await eventually(() => minor.locator('.new-row > .row-error').textContent()).toMatch(/3/u);
  expect(await minor.locator('tbody tr').count()).toBe(2);

  const radial = sheet.getByRole('region', { name: 'walking at it' });
  await radial.getByLabel('shape').selectOption('rectangular');
  await radial.getByLabel('the size holds').selectOption({ label: 'at the walking plane, 1.20 m' });
  for (const [label, value] of [
    ['mounted at', '3'],
    ['length', '8'],
    ['width', '4'],
  ] as const) {
    await radial.getByLabel(`walking at it, new row, ${label}`).fill(value);
    await page.keyboard.press('Enter');
  }
  await radial.getByRole('button', { name: 'Add' }).click();
  await radial.locator('tbody tr').first().waitFor();
  expect(await radial.locator('tbody tr td').nth(2).textContent()).toMatch(/^8\.00 × 4\.00\sm$/u);
  await page.keyboard.press('Escape');
  await sheet.waitFor({ state: 'detached' });

  const { types = [] } = await saveFloor(page);
  expect(types.find(({ name }) => name === 'Own sheet')).toMatchObject({
    origin: 'own data sheet',
    ranges: [
      { motion: 'minor', mounting: 3, plane: 0, diameter: 6 },
      { motion: 'minor', mounting: 3.5, plane: 0, diameter: 7 },
      { motion: 'radial', mounting: 3, plane: 1.2, length: 8, width: 4 },
    ],
  });
  expect(complaints).toEqual([]);
});
