import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync, truncateSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { PNG } from 'pngjs';
import { describe, expect, test, vi } from 'vitest';
import { LIMITS } from '../../src/core/floor/index.ts';
import { createFolder, lacuna, readScenario } from './terminal.ts';

// Generous: a busy machine is no fault.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

const file = createFolder();
const floor = () => file('floor.json', readScenario('a'));
/** A floor on which every need is met. */
const good = () =>
  file(
    'good.json',
    readScenario('a', (each) => {
      each.furniture = [];
      each.sources = [];
      each.workplaces = each.workplaces!.slice(1, 2);
    }),
  );

describe('words', () => {
  test('help is an answer: on standard output, with 0', async () => {
    const { code, out, err } = await lacuna('--help');
    expect([code, err]).toEqual([0, '']);
    for (const verb of ['check', 'probe', 'draw']) expect(out).toContain(`lacuna ${verb} FLOOR`);
  });

  test.each(['check', 'probe', 'draw'])('%s --help shows its options and examples', async (verb) => {
    const { code, out } = await lacuna(verb, '--help');
    expect(code).toBe(0);
    expect(out).toContain(`Usage: lacuna ${verb} `);
    expect(out).toMatch(/Examples\n {2}.*lacuna/);
  });

  test.each([
    [[], 'No verb is given'],
    [['chekc'], 'There is no verb chekc'],
    [['\u001b[2Jcheck'], 'There is no verb \\u{1b}[2Jcheck'],
    [['check'], 'no floor is named'],
    [['check', 'x.json', '--jsno'], "Unknown option '--jsno'"],
    [['check', 'x.json', '--cell'], 'argument missing'],
    [['check', 'x.json', '--cell', 'small'], '--cell is small. It must be a number from 0.02 to 1 metres'],
    [['check', 'x.json', '--cell', '5'], '--cell is 5'],
    [['check', 'x.json', '--cell', '0.1', '--cell', '0.2'], '--cell is given twice'],
    [['probe'], 'no floor is named'],
    [['probe', 'x.json'], 'no places are given'],
    [['probe', 'x.json', 'y.json', '--points', '-'], 'more than one floor'],
    [['probe', '-', '--points', '-'], 'cannot both come from standard input'],
    [['probe', 'x.json', '--points', 'p', '--doors', 'shut'], '--doors is shut. It must be open or stated'],
    [['draw', 'x.json'], 'no file to draw to'],
    [['draw', 'x.json', '--out', 'plan.pdf'], 'must end in .svg or .png'],
    [['draw', 'x.json', '--out', 'p.svg', '--show', 'all'], 'It must be blind, count or headings'],
    [['draw', 'x.json', '--out', 'p.svg', '--show', 'headings', '--plane', 'seated'], 'about walking people'],
    [['draw', 'x.json', '--out', 'p.svg', '--scale', '75'], 'It must be 50, 100 or 200'],
    [['draw', 'x.json', '--out', 'p.svg', '--width', '800'], '--width is for .png'],
  ])('%j ends with 2 and says why', async (words, reason) => {
    const { code, out, err } = await lacuna(...words);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(reason);
    expect(err).toContain(reason === 'cannot both come from standard input' ? '' : 'See: lacuna');
  });
});

describe('floors that cannot be read', () => {
  const large = file('large.json', '');
  truncateSync(large, LIMITS.fileCharacters * 4 + 1);
  test.each([
    ['that does not exist', () => file('none.json'), 'does not exist'],
    ['below a file', () => join(good(), 'x.json'), 'does not exist'],
    ['that is a folder', () => dirname(file('x')), 'is a folder'],
    ['that is a device', () => '/dev/null', 'is no file'],
    ['that is no UTF-8', () => file('latin.json', Uint8Array.of(0x7b, 0xe4, 0x7d)), 'is not UTF-8'],
    ['larger than any floor', () => large, `is larger than ${(LIMITS.fileCharacters * 4) / 1e6} MB`],
    ['that is no JSON', () => file('broken.json', '{ "format": '), 'JSON'],
    ['of another format', () => file('other.json', { format: 'other/1' }), 'format'],
    ['with a name that forges output', () => file('evil\n\u001b[32mok.json'), 'evil\\u{a}\\u{1b}[32mok.json'],
  ])('one %s', async (_what, path, reason) => {
    const { code, out, err } = await lacuna('check', path());
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(reason);
    expect(
      err
        .trimEnd()
        .split('\n')
        .every((line) => line.includes(': ')),
    ).toBe(true);
  });

  test('every fault is a line with file, path, what is wrong and what would be right', async () => {
    const path = file(
      'faults.json',
      readScenario('a', (each) => {
        each.furniture![0]!.top = -1;
        each.detectors[0]!.type = 'none' as (typeof each.detectors)[0]['type'];
        Object.assign(each, { chairs: [] });
      }),
    );
    const { code, out, err } = await lacuna('check', path, '--json');
    expect([code, out]).toEqual([2, '']);
    const lines = err.trimEnd().split('\n');
    expect(lines.length).toBeGreaterThanOrEqual(2);
    for (const line of lines) expect(line.startsWith(`${path}: `)).toBe(true);
    expect(err).toContain('furniture[0].top');
    expect(err).toContain('chairs');
  });

  test('a cell too small for the size of the floor is refused like the file’s own', async () => {
    const path = file(
      'wide.json',
      readScenario('a', (each) => {
        each.rooms[0]!.outline = [
          [0, 0],
          [3000, 0],
          [3000, 3000],
          [0, 3000],
        ];
        each.rooms = each.rooms.slice(0, 1);
      }),
    );
    const { code, err } = await lacuna('check', path, '--cell', '0.05');
    expect(code).toBe(2);
    expect(err).toContain('cell');
  });
});

describe('check', () => {
  test('0 when every need is met, 1 when one is not', async () => {
    expect((await lacuna('check', good())).code).toBe(0);
    expect((await lacuna('check', floor())).code).toBe(1);
    expect((await lacuna('check', good(), floor())).code).toBe(1);
  });

  test('the report opens with the verdict, then what fails, and ends with what it assumes', async () => {
    const { out } = await lacuna('check', floor());
    const lines = out.split('\n');
    expect(lines[1]).toMatch(/^2 of 5 workplaces are met\./);
    expect(lines[3]).toMatch(/^fail {2}/);
    expect(out).toMatch(/Workplaces not met: 3 of 5\n {2}workplace +seen +level/);
    expect(out.trimEnd().replaceAll('\n', ' ').endsWith('A coverage estimate, not an approval.')).toBe(true);
    expect(out).not.toContain('\u001b');
  });

  test('names cannot forge the report', async () => {
    const name = 'Screen\nAll workplaces are met.\u001b[8m\u202e';
    const path = file(
      'forged.json',
      readScenario('a', (each) => {
        Object.assign(each, { name });
        each.furniture![0]!.name = name;
        each.detectors[0]!.name = name;
      }),
    );
    const report = await lacuna('check', path);
    expect(report.out).not.toMatch(/^All workplaces are met/m);
    expect([...report.out].filter((letter) => /[\p{Cc}\u202e]/u.test(letter) && letter !== '\n')).toEqual([]);
    const json = await lacuna('check', path, '--json');
    expect(JSON.parse(json.out).floor).toBe(name);
    expect([...json.out].filter((letter) => /[\p{Cc}\u202e]/u.test(letter) && letter !== '\n')).toEqual([]);
  });

  test('one floor gives a document, several an array in their order', async () => {
    expect(JSON.parse((await lacuna('check', floor(), '--json')).out).format).toBe('lacuna-check/1');
    const { out } = await lacuna('check', good(), floor(), '--json');
    expect(JSON.parse(out).map((each: { met: boolean }) => each.met)).toEqual([true, false]);
  });

  test('one bad floor among several: 2, its reason on stderr, the others judged', async () => {
    const { code, out, err } = await lacuna('check', good(), file('gone.json'), floor(), '--json');
    expect(code).toBe(2);
    expect(JSON.parse(out)).toHaveLength(2);
    expect(err).toMatch(/gone\.json: does not exist/);
  });

  test('--cell changes the size of the cells', async () => {
    const [fine, coarse] = await Promise.all(
      ['0.1', '0.5'].map((cell) => lacuna('check', floor(), '--json', '--cell', cell)),
    );
    expect(JSON.parse(fine!.out).cell).toBe(0.1);
    expect(JSON.parse(coarse!.out).cell).toBe(0.5);
  });

  test('the same floor gives the same bytes', async () => {
    const [first, second] = [await lacuna('check', floor(), '--json'), await lacuna('check', floor(), '--json')];
    expect(second.out).toBe(first.out);
  });
});

describe('probe', () => {
  const points = (value: unknown) => file('points.json', value);
  test('a table names who sees a place and why the others do not', async () => {
    const { code, out } = await lacuna(
      'probe',
      floor(),
      '--points',
      points([{ at: [6, 5.3], height: 0.8, motion: 'minor', note: 'left alone' }]),
    );
    expect(code).toBe(0);
    expect(out.split('\n').slice(0, 2)).toEqual([
      '   x m   y m  height m  motion  seen by  missed by',
      '  6.00  5.30      0.80  minor   nobody   D1 hidden by S',
    ]);
  });

  test('no places give no answers', async () => {
    expect(JSON.parse((await lacuna('probe', floor(), '--points', points([]), '--json')).out)).toEqual({ points: [] });
  });

  test('a closed door hides, an open one does not', async () => {
    const path = file(
      'door.json',
      readScenario('a', (each) => {
        Object.assign(each, { openings: [{ id: 'V', kind: 'door', from: [5.5, 0], to: [6.5, 0] }] });
      }),
    );
    const ask = async (...words: string[]) => {
      const { out } = await lacuna(
        'probe',
        path,
        '--points',
        points([{ at: [6, -1], height: 0.8, motion: 'minor' }]),
        '--json',
        ...words,
      );
      return JSON.parse(out).points[0];
    };
    expect((await ask()).missed[0].why).toBe('hidden');
    expect((await ask('--doors', 'stated')).missed[0].why).toBe('hidden');
    expect((await ask('--doors', 'open')).seenBy).toEqual(['D1']);
  });

  test.each([
    ['not JSON', '[{', 'is no JSON'],
    ['no list', { at: [1, 2] }, 'is no list'],
    ['no object', [7], 'points[0]: is 7. It must be an object'],
    ['no place', [{ at: [1], height: 1, motion: 'minor' }], 'points[0].at: is [1]. It must be [x, y]'],
    [
      'a place that is no number',
      '[{ "at": [1e999, 0], "height": 1, "motion": "minor" }]',
      'points[0].at: is [null,0]',
    ],
    ['no height', [{ at: [1, 2], motion: 'minor' }], 'points[0].height: is missing. It must be a number'],
    [
      'no such motion',
      [{ at: [1, 2], height: 1, motion: 'fast' }],
      'points[0].motion: is "fast". It must be minor, tangential or radial',
    ],
  ])('points with %s are refused', async (_what, value, reason) => {
    const path = points(value);
    const { code, out, err } = await lacuna('probe', floor(), '--points', path, '--json');
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(`${path}: ${reason}`);
  });
});

describe('draw', () => {
  test('an SVG in millimetres, the same bytes each time', async () => {
    const [first, second] = [file('first.svg'), file('second.svg')];
    expect(await lacuna('draw', floor(), '--out', first)).toEqual({ code: 0, out: '', err: '' });
    await lacuna('draw', floor(), '--out', second);
    const svg = readFileSync(first, 'utf8');
    expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" width="[\d.]+mm"/);
    expect(readFileSync(second, 'utf8')).toBe(svg);
  });

  test('a PNG as wide as asked', async () => {
    const path = file('plan.png');
    expect((await lacuna('draw', floor(), '--out', path, '--width', '900', '--show', 'count')).code).toBe(0);
    const picture = PNG.sync.read(readFileSync(path));
    expect(picture.width).toBe(900);
    const colours = new Set<number>();
    for (let k = 0; k < picture.data.length; k += 4) colours.add(picture.data.readUInt32BE(k));
    expect(colours.size).toBeGreaterThan(50);
  });

  test.each([
    ['in a folder that is not there', () => file('none/plan.svg'), 'is no folder. Make it first.'],
    [
      'over a folder',
      () => {
        const path = file('folder.svg');
        mkdirSync(path, { recursive: true });
        return path;
      },
      'is a folder',
    ],
    ['below a file', () => join(floor(), 'plan.svg'), 'is no folder'],
  ])('%s nothing is written and the reason is given', async (_where, path, reason) => {
    const out = path();
    const { code, err } = await lacuna('draw', floor(), '--out', out);
    expect(code).toBe(2);
    expect(err).toContain(reason);
    expect(existsSync(join(dirname(out), '.part'))).toBe(false);
    expect(readdirSync(dirname(file('x'))).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  test('a link keeps pointing where it points', async () => {
    const target = file('target.svg', 'old');
    const link = file('link.svg');
    symlinkSync(target, link);
    await lacuna('draw', floor(), '--out', link);
    expect(readFileSync(target, 'utf8')).toMatch(/^<svg/);
  });
});
