/** Every finding code: a small floor that brings it about, and the same floor cured. */
import { describe, expect, test } from 'vitest';
import type { Finding } from '../../../src/core/coverage/index.ts';
import { check } from '../../../src/core/coverage/index.ts';
import { readFloor, row } from '../sight/build-floor.ts';
import { addPiece, CASES, type Change, ranges, reach, SCREEN, soundFile } from './finding-cases.ts';

const findingsOf = (...changes: readonly Change[]): readonly Finding[] => {
  const file = soundFile();
  for (const change of changes) change(file);
  return check(readFloor(file)).findings;
};

test('a sound floor has no findings and is met', () => {
  const result = check(readFloor(soundFile()));
  expect(result.findings).toEqual([]);
  expect(result).toMatchObject({ met: true, workplacesMet: [1, 1], groups: [{ id: 'G', met: true }] });
});

describe.each(CASES)('$code, $level, about $about', ({ code, level, about, fault, cure, times = 1 }) => {
  test('is found, in plain words', () => {
    const found = findingsOf(fault).filter((finding) => finding.code === code);
    expect(found).toHaveLength(times);
    expect(found[0]).toMatchObject({ level, about });
    expect(found[0]!.text).toMatch(/^\S.*\.$/);
    expect(found[0]!.at).not.toBeNull();
  });

  test('is not found when it is cured', () => {
    expect(findingsOf(cure).filter((finding) => finding.code === code && finding.about.includes(about[0]!))).toEqual(
      [],
    );
  });
});

test('what a finding of level fail leaves is not met', () => {
  for (const { level, fault } of CASES) {
    const file = soundFile();
    fault(file);
    const result = check(readFloor(file));
    if (level === 'fail') expect(result.met).toBe(false);
    expect(result.met).toBe(result.findings.every((finding) => finding.level !== 'fail'));
  }
});

test('the height that a hidden workplace names is the highest that cures it', () => {
  const text = findingsOf(addPiece({ outline: SCREEN, top: 2.2 })).find(
    ({ code }) => code === 'workplace-hidden',
  )!.text;
  const [, met, full] = /With Screen at (\d\.\d\d) m or lower it is met and fully seen at (\d\.\d\d) m/.exec(text)!;
  const workplaceUnder = (top: number) => {
    const file = soundFile();
    addPiece({ outline: SCREEN, top })(file);
    return check(readFloor(file)).workplaces[0]!;
  };
  expect(workplaceUnder(Number(met)).share).toBeGreaterThanOrEqual(0.9);
  expect(workplaceUnder(Number(met) + 0.011).share).toBeLessThan(0.9);
  expect(workplaceUnder(Number(full)).share).toBe(1);
  expect(workplaceUnder(Number(full) + 0.011).share).toBeLessThan(1);
});

test('seats with one culprit are one finding, worst findings first', () => {
  const findings = findingsOf(addPiece({ outline: SCREEN, top: 2.2 }), (file) => {
    file.workplaces!.push({ id: 'W2', name: 'Desk 2', at: [5, 1.2] }, { id: 'W3', name: 'Desk 3', at: [3, 1.2] });
  });
  const hidden = findings.filter(({ code }) => code === 'workplace-hidden');
  expect(hidden.map(({ about }) => about)).toEqual([['W', 'W2', 'W3', 'F']]);
  const levels = findings.map(({ level }) => ['fail', 'warn', 'note'].indexOf(level));
  expect(levels).toEqual([...levels].sort((a, b) => a - b));
});

test('a name is text, whatever it holds', () => {
  const findings = findingsOf(reach(0.3), (file) => {
    file.workplaces![0]!.name = '<b>=1+1</b>';
  });
  expect(findings.find(({ code }) => code === 'workplace-out-of-range')!.text).toContain('<b>=1+1</b>');
});

test('a lens hung within 0.101 m above its table still sees, a millimetre higher nobody', () => {
  const seatedAt = (mounting: number) => {
    const file = soundFile();
    ranges(row('minor', mounting, 0.8, 12), row('radial', 2.8, 1.2, 14))(file);
    return check(readFloor(file)).planes.seated.share;
  };
  expect(seatedAt(2.8 - 0.101)).toBe(1);
  expect(seatedAt(2.8 - 0.102)).toBe(0);
});
