import { readSheet } from 'read-excel-file/node';
import { describe, expect, test } from 'vitest';
import { judgeFloor } from '../../src/core/planning/judge.ts';
import { walkRoute } from '../../src/core/planning/walk-test/walk-route.ts';
import { PARTS } from '../../src/handover/parts.ts';
import { writeCsv } from '../../src/handover/tables/csv.ts';
import { sayRanges, writeCables, writeGroups } from '../../src/handover/tables/groups.ts';
import { writeLabels, writeSchedule } from '../../src/handover/tables/schedule.ts';
import { writeSettings, writeSettingsSheet } from '../../src/handover/tables/settings.ts';
import { type Cell, type Table, writeCell } from '../../src/handover/tables/table.ts';
import { writeWalkTest } from '../../src/handover/tables/walk-test.ts';
import { writeXlsx } from '../../src/handover/tables/xlsx.ts';
import { jobOf, PLATFORM, readFloorFile } from './paper-platform.ts';

const OFFICE = 'models/floors/open-plan-office.json';
const SMALL = 'models/floors/small-rooms.json';

/** A strict reader of its own: quotes doubled inside quotes, `;` between cells, CRLF after every row, nothing else. */
function readCsv(text: string): string[][] {
  expect(text.startsWith('\ufeff')).toBe(true);
  const rows: string[][] = [[]];
  let k = 1;
  while (k < text.length) {
    let cell = '';
    if (text[k] === '"') {
      for (k++; ; k++) {
        if (k >= text.length) throw new Error('A quoted cell does not end.');
        if (text[k] !== '"') cell += text[k];
        else if (text[k + 1] === '"') cell += text[++k];
        else break;
      }
      k++;
    } else {
      for (; k < text.length && text[k] !== ';' && text[k] !== '\r'; k++) {
        if (text[k] === '"' || text[k] === '\n') throw new Error(`A bare ${JSON.stringify(text[k])} at ${k}.`);
        cell += text[k];
      }
    }
    rows.at(-1)!.push(cell);
    if (text[k] === ';') k++;
    else if (text.startsWith('\r\n', k)) {
      k += 2;
      if (k < text.length) rows.push([]);
    } else throw new Error(`Neither ; nor CRLF at ${k}.`);
  }
  return rows;
}

function written(table: Table): string[][] {
  return [
    table.columns.map((column) => column.title),
    ...table.rows.map((row) => row.map((cell, k) => writeCell(cell, table.columns[k]!))),
  ];
}

const at = (table: Table, title: string): number => {
  const index = table.columns.findIndex((column) => column.title === title);
  if (index === -1) throw new Error(`No column ${title}.`);
  return index;
};

describe('tables as text', () => {
  test('read back by a strict reader they are the tables', () => {
    const job = jobOf(readFloorFile(OFFICE));
    for (const table of [
      writeSchedule(job),
      writeLabels(job),
      writeGroups(job),
      writeCables(job),
      writeWalkTest(job).route,
    ]) {
      expect(table.rows.length).toBeGreaterThan(5);
      expect(readCsv(writeCsv(table))).toEqual(written(table));
    }
  });

  test.each([
    '=1+1',
    '+1',
    '-1',
    '@SUM(A1)',
    '\t=1',
    ' =1',
    '＝1+1',
    '\u00a0@x',
    '\u2068=שלום\u2069',
    '\u200b+1',
    "=cmd|' /C calc'!A0",
  ])('what looks like a formula is a text: %j', (text) => {
    const table: Table = {
      title: 'T',
      columns: [
        { title: 'Name', width: 1 },
        { title: 'n', width: 1, decimals: 1 },
      ],
      rows: [[text, -2.5]],
    };
    const [, row] = readCsv(writeCsv(table));
    expect(row![0]!.startsWith("'")).toBe(true);
    expect(row![1]).toBe('-2.5');
  });

  test('names of a file reach no cell as a formula, and break no row', () => {
    const names = [
      '=HYPERLINK("http://x")',
      '+1',
      '@a',
      'a;b',
      'a"b',
      'line\r\nbreak',
      '-2',
      '\ud800',
      '\u202ex',
      '=שלום',
      '🪑',
    ];
    const file = readFloorFile(SMALL, (floor) => {
      for (const list of [floor.rooms, floor.detectors, floor.groups!, floor.workplaces!])
        list.forEach((each, k) => {
          each.name = names[k % names.length]!;
        });
    });
    const job = jobOf(file);
    for (const table of [
      writeSchedule(job),
      writeLabels(job),
      writeGroups(job),
      writeSettings(job),
      writeWalkTest(job).route,
    ]) {
      const rows = readCsv(writeCsv(table));
      expect(rows).toHaveLength(table.rows.length + 1);
      rows.slice(1).forEach((row) => {
        expect(row).toHaveLength(table.columns.length);
        row.forEach((cell, k) => {
          if (table.columns[k]!.decimals === undefined) expect(cell).not.toMatch(/^[\s\p{Cf}]*[=+\-@]/u);
          expect(cell).not.toMatch(/[\u202e\r\n\ud800]/u);
        });
      });
    }
  });
});

describe('the workbook', () => {
  test('another library reads the same texts and numbers', async () => {
    const file = readFloorFile(SMALL, (floor) => {
      floor.detectors[0]!.name = '=1+1';
      floor.groups![0]!.name = '@cmd';
    });
    const job = jobOf(file);
    const tables = [
      writeSchedule(job),
      writeLabels(job),
      writeGroups(job),
      writeSettings(job),
      ...writeWalkTest(job).parts,
    ];
    const bytes = Buffer.from(await writeXlsx(tables));
    for (const table of tables) {
      const sheet = (await readSheet(bytes, table.title.replace(':', ''))) as (string | number | null)[][];
      expect(sheet[0]).toEqual(table.columns.map((column) => column.title));
      const filled = (row: readonly unknown[]) => row.some((cell) => cell !== null && cell !== '');
      for (const [r, row] of table.rows.filter(filled).entries()) {
        for (const [k, cell] of row.entries())
          expect(sheet[r + 1]?.[k] ?? null, `${table.title} ${r} ${k}`).toEqual(toRead(cell, table, k));
      }
    }
  });

  test('the same tables give the same bytes', async () => {
    const make = async () => writeXlsx([writeSchedule(jobOf(readFloorFile(SMALL)))]);
    expect(Buffer.compare(await make(), await make())).toBe(0);
  });
});

function toRead(cell: Cell, table: Table, k: number): string | number | null {
  if (cell === null || cell === '') return null;
  return typeof cell === 'string' ? cell : Number(cell.toFixed(table.columns[k]!.decimals ?? 0));
}

describe('what the tables say', () => {
  test('the schedule has the numbers of check', () => {
    const job = jobOf(readFloorFile(OFFICE));
    const verdicts = judgeFloor(job.floor);
    const table = writeSchedule(job);
    expect(table.rows).toHaveLength(verdicts.detectors.length);
    verdicts.detectors.forEach((verdict, k) => {
      const row = table.rows[k]!;
      const detector = job.floor.detectors[k]!;
      expect([row[at(table, 'x m')], row[at(table, 'y m')]]).toEqual([...detector.at]);
      expect(row[at(table, 'Seated m²')]).toBe(verdict.seatedM2);
      expect(row[at(table, 'Walking m²')]).toBe(verdict.walkingM2);
      expect(row[at(table, 'Alone m²')]).toBe(verdict.aloneM2);
    });
    const alone = table.rows
      .flatMap((row) => String(row[at(table, 'Seats only it sees')]).split(', '))
      .filter((seat) => seat !== '');
    expect(alone).toHaveLength(verdicts.workplaces.filter((each) => each.seenBy.length === 1).length);
  });

  test('the schedule says what notes say of mounting, hole and circuit: the detector first, then its type', () => {
    const job = jobOf(
      readFloorFile(SMALL, (floor) => {
        const [first, second] = floor.detectors ?? [];
        if (first === undefined || second === undefined) throw new Error('Two detectors are needed.');
        floor.types = floor.types?.map((type) => ({ ...type, notes: { mounting: 'flush', hole: 68, circuit: [1] } }));
        first.notes = { mounting: '=surface', circuit: ' 3L2 ' };
        second.notes = 'circuit 4';
      }),
    );
    const { columns, rows } = writeSchedule(job);
    const cellsOf = (row: number) =>
      ['Mounting kind', 'Hole mm', 'Circuit'].map(
        (title) => rows[row]?.[columns.findIndex((column) => column.title === title)],
      );
    expect(cellsOf(0)).toEqual(['=surface', '68', '3L2']);
    expect(cellsOf(1)).toEqual(['flush', '68', null]);
    expect(
      writeLabels(job)
        .rows.slice(0, 2)
        .map((row) => row[2]),
    ).toEqual(['3L2', null]);
  });

  test('every column of the trade stands in its sheet', () => {
    const job = jobOf(readFloorFile(OFFICE));
    const titles = (table: Table) => table.columns.map((column) => column.title).join(' | ');
    for (const word of [
      'No.',
      'Type',
      'Room',
      'x m',
      'y m',
      'wall 1',
      'wall 2',
      'Tile',
      'Ceiling',
      'Lens',
      'Mounting kind',
      'Hole mm',
      'Turn',
      'Tilt',
      'Reach',
      'Mask',
      'Template',
      'Group',
      'Role',
      'Circuit',
      'Status',
      'Places it serves',
      'Seats only it sees',
      'Remarks',
      'Installed, initials',
    ])
      expect(titles(writeSchedule(job))).toContain(word);
    for (const word of [
      'Serves',
      'Area limits',
      'Daylight',
      'Main',
      'Extensions in order',
      'Legs',
      'Plan m',
      'Drop m',
      'With reserve',
      'Cable/limit',
      'Count/limit',
      'Supply circuit',
      'Switched circuit',
      'Luminaires',
      'Load W',
      'Inrush',
      'Load/limit',
      'Wall button',
      'Ventilation contact',
      'Second supply',
      'Emergency luminaires',
      'Cautions',
    ])
      expect(titles(writeGroups(job))).toContain(word);
    const settings = titles(writeSettingsSheet(job));
    for (const word of [
      'Group',
      'Mode',
      'Level',
      'Delay',
      'Background',
      'Background time',
      'Ventilation delay',
      'Reach',
      'Button',
      'Locked',
      'Light spot',
      'Desk by day',
      'Desk, blinds shut',
      'Date, initials',
    ])
      expect(settings).toContain(word);
    expect(
      writeSettingsSheet(job)
        .rows.slice(0, 3)
        .map((row) => row[1]),
    ).toEqual(['planned', 'found', 'set']);
    expect(writeWalkTest(job).parts.map((part) => part.title.slice(0, 6))).toEqual([
      'Part 1',
      'Part 2',
      'Part 3',
      'Part 4',
      'Part 5',
      'Part 6',
    ]);
  });

  test('cable legs add up to the total of their group, and stay in their order', () => {
    const job = jobOf(readFloorFile(OFFICE));
    const cables = writeCables(job);
    for (const { name, plan } of job.groups) {
      if (plan === null) continue;
      const legs = cables.rows.filter((row) => row[0] === name);
      const total = legs.reduce((sum, row) => sum + Number(row[at(cables, 'With reserve m')]), 0);
      expect(Math.abs(total - plan.cable.totalM)).toBeLessThan(1e-3);
      expect(legs.map((row) => row[1])).toEqual(legs.map((_, k) => k + 1));
    }
    expect(cables.rows.length).toBeGreaterThan(10);
  });

  test('the walk test numbers every point once, risky seats first, each part as one way', () => {
    const job = jobOf(readFloorFile(OFFICE));
    const { route, points, parts } = writeWalkTest(job);
    expect(new Set(points.map((point) => point.no)).size).toBe(points.length);
    expect(route.rows).toHaveLength(parts.slice(0, 3).reduce((sum, part) => sum + part.rows.length, 0));
    const level = at(parts[1]!, 'Level');
    const unmet = parts[1]!.rows.map((row) => String(row[level]).endsWith('not met'));
    const count = job.result.workplaces.filter((each) => !each.met).length;
    expect(unmet.slice(0, count).every((each) => each)).toBe(true);
    expect(unmet.slice(count).some((each) => each)).toBe(false);
  });

  test('a route goes to the nearest that is left, and large ones in strips', () => {
    const line = [3, 1, 2, 5, 4].map((x) => ({ at: [x, 0] as const, rank: 0 }));
    expect(walkRoute(line, [0, 0]).map((stop) => stop.at[0])).toEqual([1, 2, 3, 4, 5]);
    const ranked = walkRoute(
      [
        { at: [0, 0] as const, rank: 1 },
        { at: [9, 9] as const, rank: 0 },
      ],
      [0, 0],
    );
    expect(ranked.map((stop) => stop.rank)).toEqual([0, 1]);
    const many = Array.from({ length: 3_000 }, (_, k) => ({ at: [(k * 7) % 50, (k * 13) % 40] as const, rank: 0 }));
    expect(new Set(walkRoute(many, [0, 0]))).toEqual(new Set(many));
  });

  test('who is seen where they come in is seen at once, in every table', () => {
    const job = jobOf(readFloorFile(OFFICE));
    const { route, parts } = writeWalkTest(job);
    const atOnce = job.result.entrances.filter((each) => each.firstSeenM === 0).length;
    expect(atOnce).toBeGreaterThan(10);
    const predicted = at(parts[0]!, 'Predicted m');
    expect(parts[0]!.rows.filter((row) => row[predicted] === 'at once')).toHaveLength(atOnce);
    const expected = at(route, 'Expected');
    expect(route.rows.filter((row) => row[expected] === 'light at once')).toHaveLength(atOnce);
    for (const table of [route, ...parts])
      for (const row of table.rows) expect(row.join(' | ')).not.toMatch(/after 0\.00|\| 0\.00 \|/u);
  });

  test('seats of one floor are told alike: by their names where all are short, else by their ids', () => {
    const named = (names: readonly string[]) =>
      jobOf(
        readFloorFile(SMALL, (floor) => {
          floor.workplaces!.forEach((each, k) => {
            each.name = names[k] ?? `Seat ${k}`;
          });
        }),
      );
    const short = named([]);
    expect(short.floor.workplaces.map((each) => short.names.numberOf(each.id))).toEqual(
      short.floor.workplaces.map((each) => each.name),
    );
    const mixed = named(['A seat with a long name']);
    expect(mixed.floor.workplaces.map((each) => mixed.names.numberOf(each.id))).toEqual(
      mixed.floor.workplaces.map((each) => each.id),
    );
  });

  test('a group without a button or ventilation says so, and each extension stands in the proofs of its group', () => {
    const job = jobOf(readFloorFile(OFFICE));
    const groups = writeGroups(job);
    job.groups.forEach(({ group }, k) => {
      const row = groups.rows[k]!;
      expect(row[at(groups, 'Wall button')]).toBe(group?.settings.button ?? 'none stated');
      if (group?.ventilation === undefined) expect(row[at(groups, 'Ventilation contact to')]).toBe('none stated');
    });
    const proofs = writeWalkTest(job).parts[3]!;
    const text = proofs.rows.map((row) => row[1]).join(', ');
    for (const { extensions } of job.groups)
      for (const each of extensions.filter(({ status }) => status !== 'remove'))
        expect(`${text}, `).toContain(` ${job.names.numberOf(each.id)}, `);
  });

  test('ids that count on are written as a range', () => {
    expect(sayRanges(['L1', 'L2', 'L3', 'L7', 'x', 'A01', 'A02'])).toBe('L1–L3, L7, x, A01, A02');
    expect(sayRanges([])).toBe('');
  });
});

test('verdicts are those of check, and every part has a name of its own', async () => {
  const job = jobOf(readFloorFile(SMALL));
  const part = PARTS.find((each) => each.name === 'verdicts')!;
  const { files } = await part.produce(job, PLATFORM, () => {});
  expect(JSON.parse(String(files[0]!.content))).toEqual(JSON.parse(JSON.stringify(judgeFloor(job.floor))));
  expect(new Set(PARTS.map((each) => each.name)).size).toBe(PARTS.length);
});
