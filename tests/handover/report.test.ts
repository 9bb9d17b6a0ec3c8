import { describe, expect, test, vi } from 'vitest';
import type { FloorFile } from '../../src/core/floor/index.ts';
import { makeReport } from '../../src/handover/report/report.ts';
import { writeBlindTable, writeWorkplaceTable } from '../../src/handover/report/sections/findings.ts';
import { writeCables, writeGroups } from '../../src/handover/tables/groups.ts';
import { writeSchedule } from '../../src/handover/tables/schedule.ts';
import { type Table, writeCell } from '../../src/handover/tables/table.ts';
import { writeWalkTest } from '../../src/handover/tables/walk-test.ts';
import { generateFloor } from '../models/generate-floor.ts';
import { jobOf, PLATFORM, readFloorFile } from './paper-platform.ts';
import { readPdf, squeeze } from './pdf-reading.ts';

vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const QUIET = () => {};
const SMALL = 'models/floors/small-rooms.json';

/** A room of 10 m × 6 m with one lens: nothing else on the sheet is as long as its walls. */
const ROOM: FloorFile = {
  format: 'lacuna/1',
  name: 'Ten metres',
  rooms: [
    {
      id: 'R' as never,
      name: 'Room',
      outline: [
        [0, 0],
        [10, 0],
        [10, 6],
        [0, 6],
      ],
      ceiling: 3,
    },
  ],
  types: [
    {
      id: 'T' as never,
      name: 'Type',
      ranges: [{ motion: 'minor', mounting: 3, plane: 0.8, diameter: 6 }],
    },
  ],
  detectors: [{ id: 'D1' as never, name: 'D1', type: 'T' as never, at: [3.25, 2.5] }],
};

describe('the report', () => {
  test.each([
    [50, 200],
    [100, 100],
    [200, 50],
  ])('at 1:%i a wall of 10 m measures %i mm on the page', async (scale, length) => {
    const pages = await readPdf(await makeReport(jobOf(ROOM, { paper: 'a3', scale }), PLATFORM.fonts, QUIET));
    const sheets = pages.filter(({ text }) => text.includes(`1:${scale}`) && !text.includes('Contents'));
    expect(sheets.length).toBeGreaterThanOrEqual(6);
    for (const { lines } of sheets) {
      const level = lines.filter(({ y0, y1, lengthMm }) => Math.abs(y1 - y0) < 0.01 && Math.abs(lengthMm - length) < 3);
      const upright = lines.filter(
        ({ x0, x1, lengthMm }) => Math.abs(x1 - x0) < 0.01 && Math.abs(lengthMm - length * 0.6) < 2,
      );
      expect(level.length).toBeGreaterThanOrEqual(2);
      expect(upright.length).toBeGreaterThanOrEqual(2);
      for (const line of level) expect(Math.abs(line.lengthMm - length)).toBeLessThanOrEqual(0.2);
      for (const line of upright) expect(Math.abs(line.lengthMm - length * 0.6)).toBeLessThanOrEqual(0.2);
    }
  });

  test('dimensions say how far a lens is from two walls, and are drawn as long', async () => {
    const pages = await readPdf(await makeReport(jobOf(ROOM, { scale: 100 }), PLATFORM.fonts, QUIET));
    const sheet = pages.find(({ text }) => text.includes('Setting out, 1:100') && !text.includes('Contents'))!;
    expect(sheet.text).toContain('3.25');
    expect(sheet.text).toContain('2.50');
    const near = (length: number) => sheet.lines.some(({ lengthMm }) => Math.abs(lengthMm - length) < 0.05);
    expect([near(32.5), near(25)]).toEqual([true, true]);
  });

  test('lengths along one line name their lens', async () => {
    const type = 'T' as never;
    const detectors = [
      { id: 'D1' as never, name: 'D1', type, at: [2, 2.5] as const },
      { id: 'D2' as never, name: 'D2', type, at: [4.25, 2.5] as const },
      { id: 'D3' as never, name: 'D3', type, at: [8.5, 4] as const },
    ];
    const job = jobOf({ ...ROOM, detectors }, { scale: 100 });
    const pages = await readPdf(await makeReport(job, PLATFORM.fonts, QUIET));
    const sheet = squeeze(
      pages.find(({ text }) => text.includes('Setting out, 1:100') && !text.includes('Contents'))!.text,
    );
    for (const words of ['D1:2.00', 'D2:4.25', '2.50', '1.50']) expect(sheet).toContain(words);
    expect(sheet).not.toContain('D3:');
  });

  test('its words are those of the tables', async () => {
    const job = jobOf(readFloorFile(SMALL));
    const pages = await readPdf(await makeReport(job, PLATFORM.fonts, QUIET));
    const text = squeeze(pages.map((page) => page.text).join(' '));
    const tables: readonly Table[] = [
      writeSchedule(job),
      writeGroups(job),
      writeCables(job),
      writeBlindTable(job),
      writeWorkplaceTable(job),
      ...writeWalkTest(job).parts,
    ];
    let cells = 0;
    for (const { columns, rows, title } of tables) {
      for (const row of rows) {
        row.forEach((cell, k) => {
          const written = squeeze(writeCell(cell, columns[k]!));
          cells += written === '' ? 0 : 1;
          expect(text.includes(written), `${title}, ${columns[k]!.title}: ${written}`).toBe(true);
        });
      }
    }
    expect(cells).toBeGreaterThan(400);
    for (const finding of job.result.findings) expect(text.includes(squeeze(finding.text)), finding.text).toBe(true);
    for (const words of ['Disconnectcompletely', 'greenandyellow', 'EN50110-1', 'emergencylighting'])
      expect(text.replaceAll('-', '')).toContain(words.replaceAll('-', ''));
  });

  test('rows of the schedule stand together and in order', async () => {
    const job = jobOf(readFloorFile(SMALL));
    const pages = await readPdf(await makeReport(job, PLATFORM.fonts, QUIET));
    const text = squeeze(pages.map((page) => page.text).join(' '));
    let from = text.indexOf('Whereeachgoes');
    expect(from).toBeGreaterThan(0);
    const { columns, rows } = writeSchedule(job);
    const of = (title: string) => columns.findIndex((column) => column.title === title);
    for (const row of rows) {
      const start = ['No.', 'Type', 'Room', 'x m', 'y m'].map((title) =>
        writeCell(row[of(title)]!, columns[of(title)]!),
      );
      const at = text.indexOf(squeeze(start.join('')), from);
      expect(at, start.join(' ')).toBeGreaterThan(from);
      from = at;
    }
  });

  test('what is filled in on site says so, test points at one place share a mark, and counts are whole', async () => {
    const job = jobOf(readFloorFile(SMALL));
    const pages = await readPdf(await makeReport(job, PLATFORM.fonts, QUIET));
    const text = pages.map((page) => page.text).join(' ');
    expect(text.match(/on site/gu)?.length).toBeGreaterThan(10);
    expect(squeeze(text)).toContain(squeeze(`Groups ${job.floor.groups.length} Detectors in no group`));
    const { points } = writeWalkTest(job);
    const places = new Map<string, string[]>();
    for (const { no, at } of points) {
      const key = at.map((each) => Math.round(each * 100)).join(' ');
      places.set(key, [...(places.get(key) ?? []), no]);
    }
    const shared = [...places.values()].filter((each) => each.length > 1);
    expect(shared.length).toBeGreaterThan(0);
    const sheet = squeeze(pages.at(-1)!.text);
    for (const numbers of shared) expect(sheet).toContain(squeeze(numbers.join(', ')));
  });

  test('pages are numbered, and the table of contents names the page of each chapter', async () => {
    const job = jobOf(readFloorFile(SMALL));
    const pages = await readPdf(await makeReport(job, PLATFORM.fonts, QUIET));
    for (const [k, { text }] of pages.entries()) expect(text).toContain(`${k + 1} / ${pages.length}`);
    const contents = pages[0]!.text;
    for (const chapter of ['Verdict', 'Blind areas', 'Detector schedule', 'Cautions', 'Walk-test record']) {
      const page = pages.findIndex(({ text }, k) => k > 0 && text.includes(chapter) && text.indexOf(chapter) < 120) + 1;
      expect(page).toBeGreaterThan(1);
      expect(contents).toMatch(new RegExp(`${chapter}\\s*${page}(?!\\d)`));
    }
  });

  test('two runs give the same bytes', async () => {
    const make = () => makeReport(jobOf(readFloorFile('models/floors/desk-island.json')), PLATFORM.fonts, QUIET);
    const [first, second] = [await make(), await make()];
    expect(Buffer.compare(first, second)).toBe(0);
  });

  test('names with markup, formulas, other scripts and pictures stay text', async () => {
    const names = ['<b>&amp;</b>', '=1+1', '@cmd', 'שלום עולם', 'مرحبا', '🪑 chair', '\u0000\u202e\ud800', '漢字', ''];
    const file = readFloorFile(SMALL, (floor) => {
      floor.name = names.join(' ');
      for (const list of [floor.rooms, floor.detectors, floor.groups!, floor.workplaces!, floor.furniture!])
        list.forEach((each, k) => {
          each.name = names[k % names.length]!;
        });
    });
    const pages = await readPdf(await makeReport(jobOf(file), PLATFORM.fonts, QUIET));
    const text = squeeze(pages.map((page) => page.text).join(' '));
    for (const name of ['<b>&amp;</b>', '=1+1', '@cmd', '□chair']) expect(text).toContain(squeeze(name));
    // Read back in the order in which they are written, whatever the direction.
    expect(text).toMatch(/שלוםעולם|םלועםולש/u);
  });

  test('a floor without detectors, and one without anything, are still documents', async () => {
    for (const file of [
      { ...ROOM, detectors: [] },
      { format: 'lacuna/1', name: '', rooms: [], types: [], detectors: [] } as FloorFile,
    ]) {
      const pages = await readPdf(await makeReport(jobOf(file), PLATFORM.fonts, QUIET));
      expect(pages.map((page) => page.text).join(' ')).toContain('No detector is placed on this floor.');
    }
  });

  test('10,000 findings are cut in the report and said to be', async () => {
    const job = jobOf(ROOM);
    const findings = Array.from({ length: 10_000 }, (_, k) => ({
      level: 'warn' as const,
      code: 'spill',
      text: `Finding number ${k}.`,
      at: null,
      about: [],
    }));
    const bytes = await makeReport({ ...job, result: { ...job.result, findings } }, PLATFORM.fonts, QUIET);
    const text = (await readPdf(bytes)).map((page) => page.text).join(' ');
    expect(text).toContain('Finding number 0.');
    expect(text).toContain('And 9400 more rows');
  });

  test('1,000 m² with 120 detectors: time and size are printed, the size is held', async () => {
    const floor = generateFloor({ areaM2: 1_000, seed: 7, detectors: 120 });
    const start = performance.now();
    const before = process.cpuUsage();
    const bytes = await makeReport(jobOf(floor), PLATFORM.fonts, QUIET);
    const seconds = (performance.now() - start) / 1000;
    const { user, system } = process.cpuUsage(before);
    const busy = ((user + system) / 1e6).toFixed(1);
    const size = (bytes.length / 1e6).toFixed(2);
    console.log(`report of 1,000 m² with 120 detectors: ${seconds.toFixed(1)} s (${busy} s busy), ${size} MB`);
    expect(bytes.length).toBeLessThanOrEqual(5_000_000);
  });
});
