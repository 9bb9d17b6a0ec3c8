/** Comparing two states of a floor: only what changed, which way, and the same seen from the other side. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { check } from '../../../../src/core/coverage/index.ts';
import type { Floor } from '../../../../src/core/floor/index.ts';
import { compareFloors } from '../../../../src/core/planning/question/compare.ts';
import { readFloor, readScenario } from '../../sight/build-floor.ts';

const judge = (floor: Floor) => ({ floor, result: check(floor) });
const compare = (old: Floor, now: Floor) => compareFloors(judge(old), judge(now));
const screen = (top: number) =>
  readScenario('a', (file) => {
    file.furniture![0]!.top = top;
  });

test.each(['small-rooms', 'archive', 'open-plan-office'])('%s against itself: nothing', (name) => {
  const url = new URL(`../../../../models/floors/${name}.json`, import.meta.url);
  const floor = readFloor(JSON.parse(readFileSync(url, 'utf8')));
  expect(compare(floor, floor)).toMatchObject({ worse: false, changes: [] });
});

describe('a screen that grows from 1.2 to 1.6 m (scenario A)', () => {
  const { worse, changes, workplacesMet } = compare(screen(1.2), screen(1.6));

  test('is worse, and one workplace fewer is met', () => {
    expect(worse).toBe(true);
    expect(workplacesMet.old[0] - workplacesMet.new[0]).toBe(1);
  });

  test('W1 says from what to what, the screen says so too, the blind area grows by whole cells', () => {
    expect(changes.find(({ id }) => id === 'W1')).toMatchObject({
      turn: 'worse',
      subject: 'workplace',
      from: 'met, 100 % seen (body)',
      to: expect.stringMatching(/^not met, 21 % seen \(head\)$/),
    });
    expect(changes.find(({ id }) => id === 'S')).toMatchObject({
      turn: 'same',
      from: 'top 1.20 m',
      to: 'top 1.60 m',
      text: 'Screen Screen S (S): top 1.20 m, now 1.60 m.',
    });
    // 4554 cells are seen at 1.2 m and 3940 at 1.6 m: 6.1 m² more are blind, between the numbers as they stand.
    expect(changes.find(({ id }) => id === 'seated')?.text).toContain('6.1 m² more');
    expect(changes.some(({ text, turn }) => turn === 'worse' && text.startsWith('New, fail: W1 is 21 % seen'))).toBe(
      true,
    );
  });

  test('the other way round the same changes are better', () => {
    const back = compare(screen(1.6), screen(1.2));
    expect(back.worse).toBe(false);
    expect(back.changes.filter(({ turn }) => turn === 'better').map(({ id }) => id)).toEqual(
      changes.filter(({ turn }) => turn === 'worse').map(({ id }) => id),
    );
  });
});

test('things that come, go and move are told with place and numbers', () => {
  const old = readScenario('a');
  const now = readScenario('a', (file) => {
    file.detectors[0]!.at = [6.5, 2.04];
    file.detectors.push({ id: 'D2', name: 'D2', type: 'T', at: [6, 6], height: 2.8 });
    file.groups![0]!.extensions = ['D2'];
    file.furniture = [];
    file.rooms[0]!.ceiling = 3;
  });
  const text = compare(old, now).changes.map((change) => change.text);
  expect(text).toContain('Detector D1: at (6.00, 2.04), now (6.50, 2.04).');
  expect(
    text.some((each) => /^Detector D2 is new: at \(6\.00, 6\.00\), lens height 2\.80 m, type Type T/.test(each)),
  ).toBe(true);
  expect(
    text.some((each) => /^Screen Screen S \(S\) is gone: at \(6\.00, 4\.02\), size 8\.00 × 0\.04 m/.test(each)),
  ).toBe(true);
  expect(text).toContain('Room Main: ceiling 2.80 m, drawn, now 3.00 m, drawn.');
  expect(text.some((each) => each.startsWith('Group Group 1 (G1): extensions none, now D2'))).toBe(true);
});

test('a finding that only loses a seat is better, one that gains a seat is worse', () => {
  const finding = (about: string[]) => ({ level: 'fail', code: 'c', text: 't', at: null, about }) as const;
  const floor = readScenario('a');
  const result = check(floor);
  const judged = (about: string[]) => ({ floor, result: { ...result, findings: [finding(about)] } });
  const turn = (from: string[], to: string[]) =>
    compareFloors(judged(from), judged(to)).changes.map((each) => each.turn);
  expect(turn(['W1', 'W2', 'S'], ['W1', 'S'])).toEqual(['better']);
  expect(turn(['W1', 'S'], ['W1', 'W2', 'S'])).toEqual(['worse']);
  expect(turn(['W1', 'S'], ['W1', 'S'])).toEqual([]);
});
