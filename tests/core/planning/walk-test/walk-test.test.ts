/** The walk test: points numbered in walking order, findings kept in the floor file and held against what was predicted. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { formatFault, parseFloor, serialiseFloor, validateFloor } from '../../../../src/core/floor/index.ts';
import { judgeFloor } from '../../../../src/core/planning/judge.ts';
import { listTestPoints } from '../../../../src/core/planning/walk-test/test-points.ts';
import {
  isPassed,
  readRecords,
  sayDisagreement,
  WALK_TEST,
  writeRecord,
} from '../../../../src/core/planning/walk-test/test-records.ts';
import { createJob } from '../../../../src/handover/job.ts';
import { writeWalkTest } from '../../../../src/handover/tables/walk-test.ts';

const text = readFileSync(new URL('../../../../models/floors/open-plan-office.json', import.meta.url), 'utf8');
const parsed = parseFloor(text);
if (!parsed.ok) throw new Error('The office floor is faulty.');
const { floor, file } = parsed;
const result = judgeFloor(floor);
const points = listTestPoints(floor, result);

describe('the points', () => {
  test('every entrance, every seat, every place that must not switch, each once and numbered in its part', () => {
    const numbers = points.map(({ no }) => no);
    expect(new Set(numbers).size).toBe(points.length);
    expect(points.filter(({ part }) => part === 'entrance')).toHaveLength(result.entrances.length);
    expect(points.filter(({ part }) => part === 'seat')).toHaveLength(floor.workplaces.length);
    expect(numbers.filter((no) => no.startsWith('N')).length).toBeGreaterThanOrEqual(result.spill.length);
  });

  test('seats that are not met come before those that are', () => {
    const met = points.flatMap(({ predicted }) => (predicted.kind === 'seat' ? [predicted.met] : []));
    expect(met.indexOf(true)).toBe(met.filter((each) => !each).length);
    expect(met.indexOf(true)).toBeGreaterThan(0);
  });
});

describe('what is found', () => {
  const entrance = points.find(({ predicted }) => predicted.kind === 'entrance' && predicted.firstSeenM !== null)!;
  const seat = points.find(({ predicted }) => predicted.kind === 'seat' && predicted.met)!;
  const quiet = points.find(({ predicted }) => predicted.kind === 'spill')!;
  const predictedM = entrance.predicted.kind === 'entrance' ? entrance.predicted.firstSeenM! : 0;

  test('passes where the light comes in time, stays on at a seat, and is not switched from next door', () => {
    expect(isPassed(entrance, { seen: true, metres: 1 })).toBe(true);
    expect(isPassed(entrance, { seen: true, metres: 1.01 })).toBe(false);
    expect(isPassed(entrance, { seen: false })).toBe(false);
    expect([isPassed(seat, { seen: true }), isPassed(seat, { seen: false })]).toEqual([true, false]);
    expect([isPassed(quiet, { seen: true }), isPassed(quiet, { seen: false })]).toEqual([false, true]);
  });

  const records = [
    writeRecord(seat, { seen: true }, '2031-05-01', 'A. Walker', ''),
    writeRecord(seat, { seen: false }, '2031-05-02', 'A. Walker', 'lamp went out\n=1+1 <b>'),
    writeRecord(entrance, { seen: true, metres: predictedM + 0.8 }, '2031-05-02', 'A. Walker', ''),
    writeRecord(quiet, { seen: false }, '2031-05-02', '', ''),
  ];

  test('is kept in the floor file: read back it is the same, and the newest of a point counts', () => {
    const walked = validateFloor({ ...file, records: [...(file.records ?? []), ...records] });
    if (!walked.ok) throw new Error(walked.faults.map(formatFault).join(' '));
    const again = parseFloor(serialiseFloor(walked.file));
    if (!again.ok) throw new Error('The walked floor cannot be read.');
    const read = readRecords(again.floor, points);
    expect([...read.keys()].sort()).toEqual([entrance.no, quiet.no, seat.no].sort());
    expect(read.get(seat.no)).toMatchObject({ date: '2031-05-02', found: { seen: false }, pass: false });
  });

  test('is held against what was predicted, with the metres between', () => {
    const walked = { ...floor, records };
    const read = readRecords(walked, points);
    expect(sayDisagreement(entrance, read.get(entrance.no)!)).toContain('0.80 m later');
    expect(sayDisagreement(seat, read.get(seat.no)!)).toBe('predicted seen, found not seen');
    expect(sayDisagreement(quiet, read.get(quiet.no)!)).toBe('predicted that it may switch, found that it does not');
    expect(
      sayDisagreement(entrance, { ...read.get(entrance.no)!, found: { seen: true, metres: predictedM + 0.3 } }),
    ).toBe(null);
  });

  test('stands in the documents: a table of what is not as predicted, and the columns filled in', () => {
    const { parts, route } = writeWalkTest(createJob({ ...floor, records }));
    expect(parts[0]?.title).toBe(`Found on site: 3 of ${points.length} points walked, 3 not as predicted`);
    const found = route.columns.findIndex(({ title }) => title === 'Found');
    const row = route.rows.find(([no]) => no === seat.no)!;
    expect(row.slice(found, found + 3)).toEqual(['not seen', 'no', '2031-05-02 A. Walker']);
    expect(writeWalkTest(createJob(floor)).parts[0]?.title).toBe('Part 1: entrances');
  });

  test('records of another kind or shape are left aside', () => {
    const odd = {
      date: '',
      by: '',
      kind: WALK_TEST,
      about: seat.about,
      expected: null,
      found: 'yes',
      pass: true,
      text: '',
    };
    expect(
      readRecords({ ...floor, records: [odd, { ...odd, kind: 'complaint', found: { seen: true } }] }, points).size,
    ).toBe(0);
  });
});
