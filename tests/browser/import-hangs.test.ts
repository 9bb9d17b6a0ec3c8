import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { draftIfc } from '../importers/ifc/write-ifc.ts';
import { dropFile, eventually, listBarriers, prepareBrowser, waitForFindings } from './open-app.ts';

const openApp = prepareBrowser();

const sheet = (page: Page) => page.locator('.import-sheet');
const waitForPreview = (page: Page) =>
  page.locator('.import-preview:not(.stale) .small-plan').waitFor({ timeout: 120_000 });

/** Put before the import's script: whatever worker it starts hears what it is asked and never comes back. */
const HANGING = `self.Worker = class extends self.Worker {
  constructor() {
    super(URL.createObjectURL(new Blob(['onmessage = () => { for (;;); };'])));
  }
};
`;

/** A room that is read by hand, and a turned body in it that is left to the geometry engine. */
function drawCurved(): string {
  const draft = draftIfc();
  const profile = draft.add('IFCRECTANGLEPROFILEDEF(.AREA.,$,$,2.,3.)');
  const axis = draft.add(`IFCAXIS1PLACEMENT(#${draft.point([5, 0, 0])},#${draft.direction([0, 1, 0])})`);
  const turned = draft.add(`IFCREVOLVEDAREASOLID(#${profile},#${draft.axes([0, 0, 0])},#${axis},1.)`);
  draft.space('1', 'Office', [
    draft.block(
      [
        [0, 0],
        [9, 0],
        [9, 8],
        [0, 8],
      ],
      0,
      2.7,
    ),
  ]);
  draft.element('IFCFURNISHINGELEMENT', 'Curved', [turned]);
  return draft.text();
}

test('a geometry engine that hangs is given up: the finished part is offered, the rest is said, the next import works', {
  timeout: 240_000,
}, async () => {
  const { page, complaints } = await openApp();
  await waitForFindings(page);
  const script = '**/import.worker-*.js';
  let isStubbed = false;
  await page.route(script, async (route) => {
    const whole = await route.fetch();
    isStubbed = true;
    await route.fulfill({ response: whole, body: `${HANGING}${await whole.text()}` });
  });
  const workers = () => page.workers().filter((each) => /\/import\.worker-/u.test(each.url()));
  await dropFile(page, 'curved.ifc', drawCurved());
  await waitForPreview(page);
  expect(isStubbed).toBe(true);
  expect(await page.locator('.import-preview .say').textContent()).toMatch(/^1 room/u);
  expect(await listBarriers(page)).toEqual([]);
  await page.getByRole('button', { name: 'Open as a new floor' }).click();
  await sheet(page).waitFor({ state: 'detached' });
  await eventually(() => workers().length).toBe(0);
  const report = page.locator('.note[aria-label="Import"]');
  await eventually(() => report.textContent()).toContain('the geometry engine did not come back within 60 s');
  expect(await report.textContent()).toContain('Curved');

  await page.unroute(script);
  await dropFile(page, 'curved.ifc', drawCurved());
  await waitForPreview(page);
  expect(await page.locator('.import-preview .say').textContent()).toContain('1 piece of furniture');
  expect(complaints).toEqual([]);
});
