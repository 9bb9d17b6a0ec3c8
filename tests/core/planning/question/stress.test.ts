/** Stress: the cases are real floors, and each verdict is that of a floor drawn that way. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { createCoverage } from '../../../../src/core/coverage/index.ts';
import { validateFloor } from '../../../../src/core/floor/index.ts';
import { stressFloor } from '../../../../src/core/planning/question/stress.ts';
import { listStressCases } from '../../../../src/core/planning/question/stress-cases.ts';
import { readFloor, readScenario } from '../../sight/build-floor.ts';

const readModel = (name: string) =>
  readFloor(JSON.parse(readFileSync(new URL(`../../../../models/floors/${name}.json`, import.meta.url), 'utf8')));

describe('scenario A (facts, section 13)', () => {
  const screen = (top: number, raised: number) =>
    readScenario('a', (file) => {
      Object.assign(file.furniture![0]!, { top, raised });
    });

  test('a screen of 1.20 m raised by 0.45 m loses W1, which keeps 0.069', () => {
    const { cases, workplaces, holds } = stressFloor(screen(1.2, 0.45));
    expect(holds).toBe(false);
    const raised = cases.findIndex(({ kind }) => kind === 'raised');
    expect(cases[raised]?.lost.workplaces).toContain('W1');
    const w1 = workplaces.find(({ id }) => id === 'W1')!;
    expect(w1).toMatchObject({ met: true, level: 'body' });
    expect(w1.worst).toMatchObject({ met: false, level: 'none', case: raised });
    expect(Math.abs(w1.worst!.share! - 0.069)).toBeLessThan(0.01);
  });

  test('at reach 0.8 W3 keeps 0.049', () => {
    const { cases, workplaces } = stressFloor(screen(1.2, 0));
    const reach = cases.findIndex(({ kind }) => kind === 'reach');
    expect(cases[reach]?.lost.workplaces).toContain('W3');
    const w3 = workplaces.find(({ id }) => id === 'W3')!.worst!;
    expect(w3.share).not.toBeNull();
    expect(Math.min(0.049 + 0.01, w3.share!)).toBe(w3.share);
  });

  test('without doors, raised desks and assumed heights only reach and four places of the detector are tried', () => {
    expect(stressFloor(screen(1.2, 0)).cases.map(({ kind }) => kind)).toEqual([
      'reach',
      ...Array.from({ length: 4 }, () => 'detector'),
    ]);
  });
});

test.each(['small-rooms', 'archive'])('%s: every case is a floor the format accepts, judged as if drawn so', (name) => {
  const floor = readModel(name);
  const cases = listStressCases(floor);
  expect(cases.length).toBeGreaterThan(10);
  const { cases: results, workplaces } = stressFloor(floor);
  const drawn = createCoverage(floor).workplaces;
  cases.forEach((each, k) => {
    // A lens at a ceiling that turns out lower hangs lower: the format sees to that by itself.
    const judged = validateFloor(each.floor);
    expect(judged.ok ? [] : judged.faults, each.text).toEqual([]);
    const { workplaces: fresh } = createCoverage(each.floor);
    expect(results[k]?.workplacesMet).toEqual([fresh.filter(({ met }) => met).length, fresh.length]);
    const lost = fresh.filter((verdict, w) => !verdict.met && drawn[w]!.met).map(({ id }) => id as string);
    expect(results[k]?.lost.workplaces, each.text).toEqual(lost);
  });
  for (const [w, { worst, share }] of workplaces.entries()) {
    expect(share).toBe(drawn[w]!.share);
    if (worst) expect(results[worst.case]).toBeDefined();
  }
});
