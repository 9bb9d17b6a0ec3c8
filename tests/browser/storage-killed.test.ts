/**
 * The browser process is killed in the middle of random editing sequences. Several run beside each other, each on a site
 * of its own, so that one kill ends all of them. 40 sequences in a usual run, as many as `LACUNA_KILLS` says in another.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { expect, inject, test } from 'vitest';
import { type FloorFile, serialiseFloor, validateFloor } from '../../src/core/floor/index.ts';
import { redo, undo } from '../../src/editor/history.ts';
import { nudgeDetector, nudgeTurn } from '../../src/editor/nudges.ts';
import { createEditorStore, type EditorStore } from '../../src/editor/store.ts';
import { select } from '../../src/editor/view.ts';
import { SMALL_FLOOR } from '../editor/open-floor.ts';
import { createRandom, type Random } from '../models/random.ts';
import { findBrowser } from './find-browser.ts';
import { dropFile, goTo } from './open-app.ts';

const SEQUENCES = Number(process.env.LACUNA_KILLS ?? 40);
/** Sites open beside each other. */
const BESIDE = 5;
const FLOOR: FloorFile = { ...SMALL_FLOOR, furniture: [] };

/** What a person does, and what that does to the floor. */
interface Stroke {
  readonly press: (page: Page) => Promise<void>;
  readonly act: (store: EditorStore) => void;
}
const key = (name: string, act: Stroke['act']): Stroke => ({ press: (page) => page.keyboard.press(name), act });
const move = (name: string, dx: number, dy: number): Stroke => key(name, (store) => void nudgeDetector(store, dx, dy));
const STROKES: readonly Stroke[] = [
  move('ArrowLeft', -0.1, 0),
  move('ArrowRight', 0.1, 0),
  move('ArrowUp', 0, 0.1),
  move('ArrowDown', 0, -0.1),
  move('Alt+ArrowUp', 0, 0.01),
  move('Alt+ArrowLeft', -0.01, 0),
  key('[', (store) => void nudgeTurn(store, 15)),
  key(']', (store) => void nudgeTurn(store, -15)),
  key('Control+z', undo),
  key('Control+z', undo),
  key('Control+Shift+Z', redo),
];

/** Five pages start at once, and a busy machine is slow to write. */
const patiently = <Value>(read: () => Value | Promise<Value>) => expect.poll(read, { timeout: 30_000, interval: 20 });

const focusPage = (page: Page): Promise<void> => page.locator('[data-region="page"]').focus();

/** One sequence as far as it went. */
interface Run {
  readonly seed: number;
  /** The floor after each stroke asked for, and how many of them had changed it; the first is the floor it began with. */
  readonly states: { readonly text: string; readonly changes: number }[];
  /** Strokes the page has answered. */
  answered: number;
  /** Changes the browser has told the page are on its disk, up to the kill. */
  kept: number;
  /** A gesture was in hand at the kill, and all before it was on the disk. */
  isInHand: boolean;
}

interface Site {
  readonly url: string;
  page: Page;
  /** Entries asked to be added to a floor's log, and those that are on the disk. */
  asked: number;
  written: number;
  run: Run | null;
}

function simulate(): EditorStore {
  const store = createEditorStore(FLOOR, {
    createCoverage: () => null,
    updateCoverage: () => null,
    findFaults(file) {
      const judged = validateFloor(file);
      return judged.ok ? [] : judged.faults;
    },
    schedule: (work) => work(),
  });
  select(store, ['D1']);
  return store;
}

async function open(context: BrowserContext, site: Site): Promise<void> {
  site.page = await context.newPage();
  [site.asked, site.written] = [0, 0];
  await site.page.exposeBinding('tell', (_, what: 'asked' | 'written') => {
    site[what] += 1;
  });
  await site.page.addInitScript(() => {
    // A save is a download, which a test can read.
    Reflect.deleteProperty(window, 'showOpenFilePicker');
    const { add } = IDBObjectStore.prototype;
    const { tell } = window as unknown as { tell(what: 'asked' | 'written'): void };
    IDBObjectStore.prototype.add = function (...record) {
      tell('asked');
      this.transaction.addEventListener('complete', () => tell('written'));
      return add.apply(this, record);
    };
  });
  await site.page.goto(site.url);
  await site.page.waitForSelector('.verdict');
}

/** The floor as it came back is one the run had reached: none before the last that was on the disk, none torn. Answers how many strokes were lost. */
async function check({ page, run }: Site): Promise<number> {
  if (run === null) return 0;
  const saving = page.waitForEvent('download');
  await page.keyboard.press('Control+s');
  const text = readFileSync(await (await saving).path(), 'utf8');
  const from = run.states.findIndex(({ changes }) => changes === run.kept);
  const reachable = run.states.slice(from);
  if (run.isInHand) expect(new Set(reachable.map((state) => state.text)).size).toBe(1);
  expect({ seed: run.seed, found: reachable.some((state) => state.text === text) }).toEqual({
    seed: run.seed,
    found: true,
  });
  const at = run.states.findLastIndex((state) => state.text === text);
  return Math.max(0, run.answered - at);
}

/** Begins a floor anew and edits it until the page dies; resolves once the kill may come. */
async function begin(site: Site, seed: number, random: Random): Promise<void> {
  const { page } = site;
  await dropFile(page, `${seed}.json`, serialiseFloor({ ...FLOOR, name: `Run ${seed}` }));
  await patiently(() => page.locator('h1').textContent()).toContain(`Run ${seed}`);
  await patiently(() => site.written - site.asked).toBe(0);
  await goTo(page, 'D1');
  await focusPage(page);
  const store = simulate();
  const textNow = (): string => serialiseFloor({ ...store.getState().file, name: `Run ${seed}` });
  const run: Run = { seed, states: [{ text: textNow(), changes: 0 }], answered: 0, kept: 0, isInHand: false };
  const start = site.written;
  site.run = run;
  const atLeast = random.whole(2, 14);
  const isInHand = random.chance(0.5);

  const stroke = async (): Promise<void> => {
    const { press, act } = random.pick(STROKES);
    const { file } = store.getState();
    act(store);
    const { changes } = run.states.at(-1) ?? { changes: 0 };
    run.states.push({ text: textNow(), changes: changes + (store.getState().file === file ? 0 : 1) });
    await press(page);
    run.answered += 1;
    // As fast as a held key repeats, and slower.
    await page.waitForTimeout(random.whole(0, 40));
  };
  const count = setInterval(() => {
    run.kept = site.written - start;
  }, 1);
  page.once('close', () => clearInterval(count));

  for (let i = 0; i < atLeast; i += 1) await stroke();
  if (isInHand) {
    await patiently(() => run.kept).toBe(run.states.at(-1)?.changes);
    await page.getByLabel('turn', { exact: true }).fill('77');
    run.isInHand = true;
    return;
  }
  void (async () => {
    try {
      for (;;) await stroke();
    } catch {
      // The page is dead.
    }
  })();
}

test(`${SEQUENCES} random editing sequences with the browser killed in the middle: the floor is that of the last finished gesture`, {
  timeout: 1_200_000,
}, async () => {
  const { executablePath, args } = await findBrowser();
  const folder = mkdtempSync(join(tmpdir(), 'lacuna-killed-'));
  const { port } = new URL(inject('appUrl'));
  const sites: Site[] = Array.from({ length: BESIDE }, (_, i) => ({
    url: `http://site-${i}.localhost:${port}/`,
    page: undefined as unknown as Page,
    asked: 0,
    written: 0,
    run: null,
  }));
  const lost: number[] = [];
  let inHand = 0;
  let last: BrowserContext | null = null;
  try {
    for (let done = 0; done <= SEQUENCES; done += BESIDE) {
      const context = await chromium.launchPersistentContext(folder, {
        executablePath,
        args: [...args, '--disable-3d-apis'],
        headless: true,
        viewport: { width: 1280, height: 720 },
        reducedMotion: 'reduce',
      });
      last = context;
      await Promise.all(sites.map((site) => open(context, site)));
      for (const site of sites) {
        if (site.run !== null) lost.push(await check(site));
        inHand += site.run?.isInHand === true ? 1 : 0;
      }
      if (done >= SEQUENCES) break;
      const random = createRandom(done + 1);
      await Promise.all(sites.map((site, i) => begin(site, done + i + 1, createRandom(done + i + 1))));
      const session = await context.browser()?.newBrowserCDPSession();
      const processes = await session?.send('SystemInfo.getProcessInfo');
      const pid = processes?.processInfo.find(({ type }) => type === 'browser')?.id;
      if (pid === undefined) throw new Error('The browser does not tell its process.');
      await new Promise((resolve) => setTimeout(resolve, random.between(0, 80)));
      const closed = context.waitForEvent('close');
      process.kill(pid, 'SIGKILL');
      await closed;
    }
  } finally {
    await last?.close();
    rmSync(folder, { recursive: true, force: true, maxRetries: 20, retryDelay: 200 });
  }
  const strokes = (count: number): number => lost.filter((each) => each === count).length;
  console.log(
    `${lost.length} sequences killed, ${inHand} with a gesture in hand; strokes answered by the page and not on the disk: ` +
      `none in ${strokes(0)}, one in ${strokes(1)}, more in ${lost.length - strokes(0) - strokes(1)}`,
  );
  expect(lost).toHaveLength(SEQUENCES);
});
