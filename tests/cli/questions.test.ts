/** `compare` and the further questions of `check`, as they are asked in a terminal. */
import { describe, expect, test, vi } from 'vitest';
import { createFolder, lacuna, readScenario } from './terminal.ts';

vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

const file = createFolder();
const screen = (top: number) =>
  file(
    `screen-${top}.json`,
    readScenario('a', (each) => {
      Object.assign(each.furniture![0]!, { top });
    }),
  );

describe('compare', () => {
  test('the same floor twice: nothing changed, 0', async () => {
    const { code, out } = await lacuna('compare', screen(1.2), screen(1.2));
    expect([code, out.includes('Nothing changed.')]).toEqual([0, true]);
  });

  test('a taller screen is worse: 1, with who lost what; the other way it is better: 0', async () => {
    const worse = await lacuna('compare', screen(1.2), screen(1.6));
    expect(worse.code).toBe(1);
    expect(worse.out).toContain('Workplace W1: met, 100 % seen (body); now not met, 21 % seen (head).');
    expect(worse.out).toContain('Screen Screen S (S): top 1.20 m, now 1.60 m.');
    const better = await lacuna('compare', screen(1.6), screen(1.2));
    expect([better.code, better.out.includes('\nWorse\n')]).toEqual([0, false]);
  });

  test('--json prints one document and nothing else', async () => {
    const { code, out, err } = await lacuna('compare', screen(1.2), screen(1.6), '--json');
    expect([code, err]).toEqual([1, '']);
    expect(JSON.parse(out)).toMatchObject({ format: 'lacuna-compare/1', worse: true });
  });

  test.each([
    [['compare'], 'two floors are needed and 0 are named'],
    [['compare', 'a.json'], 'two floors are needed and 1 are named'],
    [['compare', 'a', 'b', 'c'], 'two floors are needed and 3 are named'],
    [['compare', '-', '-'], 'both floors are to come from standard input'],
    [['compare', 'none.json', 'none.json'], 'none.json'],
  ])('%j ends with 2 and says why', async (words, reason) => {
    const { code, out, err } = await lacuna(...words);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(reason);
  });
});

describe('check asks further', () => {
  test('each question is a key of the document, and the verdicts stay as they are', async () => {
    const path = screen(1.2);
    const plain = JSON.parse((await lacuna('check', path, '--json')).out);
    const { out, code } = await lacuna(
      ...['check', path, '--json', '--stress', '--move-room', '--bodies', '--sweep', 'screen'],
    );
    const { stress, moveRoom, bodies, sweep, ...verdicts } = JSON.parse(out);
    expect(verdicts).toEqual(plain);
    expect(code).toBe(plain.met ? 0 : 1);
    expect(stress).toMatchObject({ format: 'lacuna-stress/1' });
    expect(moveRoom).toMatchObject({ format: 'lacuna-move-room/1' });
    expect(sweep).toMatchObject({ format: 'lacuna-sweep/1', pieces: ['S'] });
    expect(bodies.map((each: { posture: string }) => each.posture)).toEqual(['seated', 'standing']);
  });

  test('for a reader each is a table with a sentence above', async () => {
    const { out } = await lacuna('check', screen(1.2), '--stress', '--move-room', '--bodies', '--sweep', 'S');
    for (const title of ['\nStress\n', '\nMove-room\n', '\nBodies\n', '\nHeights\n']) expect(out).toContain(title);
    expect(out).toContain('Every detector reaches 0.8 of its declared range');
  });

  test('a piece that is not there ends with 2', async () => {
    const { code, err } = await lacuna('check', screen(1.2), '--sweep', 'S,\u001b[2J');
    expect(code).toBe(2);
    expect(err).toContain('--sweep names \\u{1b}[2J, which is no piece and no kind of furniture');
  });
});
