import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, test, vi } from 'vitest';
import { createFolder, lacuna, readScenario } from './terminal.ts';

vi.setConfig({ testTimeout: 240_000 });

const path = createFolder();

describe('handover', () => {
  test('gives a folder with every part, twice the same bytes, and 1 when a need is not met', async () => {
    const floor = path('a.json', readScenario('a'));
    const [one, two] = [path('one'), path('two')];
    const first = await lacuna('handover', floor, '--out', one);
    expect(first.code).toBe(1);
    expect(first.err).toBe('No detector wears a mask, so there is no template to make.\n');
    const names = readdirSync(one).sort();
    for (const name of [
      'report.pdf',
      'plan-seated.svg',
      'plan-walking.png',
      'schedule.csv',
      'schedule.xlsx',
      'labels.csv',
      'groups.csv',
      'cables.csv',
      'settings.csv',
      'walk-test.csv',
      'verdicts.json',
    ])
      expect(names).toContain(name);
    expect(first.out.trim().split('\n')).toHaveLength(names.length);
    await lacuna('handover', floor, '--out', two);
    for (const name of names)
      expect(Buffer.compare(readFileSync(`${one}/${name}`), readFileSync(`${two}/${name}`)), name).toBe(0);
    const verdicts = await lacuna('check', floor, '--json');
    expect(readFileSync(`${one}/verdicts.json`, 'utf8')).toBe(verdicts.out);
  });

  test('makes single parts, and ends with 0 when every need is met', async () => {
    const floor = path(
      'met.json',
      readScenario('a', (file) => {
        file.workplaces = [];
      }),
    );
    const { code, out } = await lacuna('handover', floor, '--out', path('some/where'), '--only', 'walk-test, verdicts');
    expect(code).toBe(0);
    expect(readdirSync(path('some/where')).sort()).toEqual(['verdicts.json', 'walk-test.csv']);
    expect(out.trim().split('\n')).toHaveLength(2);
  });

  test.each([
    [['--only', 'schedules'], /--only names schedules\. It must be of: report, plan/],
    [['--only', ','], /--only names no part/],
    [['--paper', 'a5'], /--paper is a5\. It must be a4 or a3/],
    [['--scale', '75'], /--scale is 75/],
  ])('says what is wrong with %j', async (words, message) => {
    const { code, err } = await lacuna('handover', path('a2.json', readScenario('a')), '--out', path('none'), ...words);
    expect(code).toBe(2);
    expect(err).toMatch(message);
    expect(existsSync(path('none'))).toBe(false);
  });

  test('a folder is asked for, and a floor', async () => {
    expect((await lacuna('handover')).err).toContain('no floor is named');
    expect((await lacuna('handover', path('a3.json', readScenario('a')))).err).toContain('Name one with --out DIR');
  });

  test('a mask template that cannot be made is refused with the reason', async () => {
    const floor = path(
      'mask.json',
      readScenario('a', (file) => {
        file.detectors[0]!.masks = [{ from: 0, to: 40 }];
      }),
    );
    const { code, err, out } = await lacuna('handover', floor, '--out', path('masks'), '--only', 'masks');
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('states no lensDiameter');
    expect(readdirSync(path('masks'))).toEqual([]);
  });

  test('a folder that is a file, or cannot be written, is a reason and leaves nothing behind', async () => {
    const floor = path('a4.json', readScenario('a'));
    writeFileSync(path('taken'), 'here');
    const taken = await lacuna('handover', floor, '--out', path('taken'), '--only', 'verdicts');
    expect(taken.code).toBe(2);
    expect(taken.err).toContain('the folder cannot be made');
    expect(readFileSync(path('taken'), 'utf8')).toBe('here');

    // A file that stands where a file should go cannot be replaced by it: a folder of that name.
    mkdirSync(path('half/verdicts.json'), { recursive: true });
    const half = await lacuna('handover', floor, '--out', path('half'), '--only', 'verdicts');
    expect(half.code).toBe(2);
    expect(half.err).toContain('is a folder');
    expect(readdirSync(path('half'))).toEqual(['verdicts.json']);
  });
});
