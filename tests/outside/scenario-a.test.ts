/**
 * Scenario A, a desk island with a screen beside a glass room, and two micro-tests: results derived by hand from the
 * rules (facts, section 13). Workplaces are sampled every 0.01 m here, where the rule says 0.05 m: at 0.05 m a disc of 0.5 m
 * strays from its exact share by more than the 0.01 that is asked for.
 */
import { describe, expect, test } from 'vitest';
import { check, createCoverage, probeAt } from '../../src/core/coverage/index.ts';
import type { FloorFile } from '../../src/core/floor/index.ts';
import { rangeAt } from '../../src/core/sight/index.ts';
import { buildFloor, type Changeable, readScenario, rect, row } from '../core/sight/build-floor.ts';
import { bisect } from './bisect.ts';

type File = Changeable<FloorFile>;
const withScreen =
  (top: number | null) =>
  (file: File): void => {
    if (top === null) file.furniture = [];
    else file.furniture![0]!.top = top;
  };
const readA = (...changes: ((file: File) => void)[]) =>
  readScenario('a', (file) => {
    for (const change of changes) change(file);
  });
const workplaceOf = (floor: ReturnType<typeof readA>, id: string) =>
  createCoverage(floor).workplaces.find((each) => each.id === id)!;
const shareOf = (floor: ReturnType<typeof readA>, id: string): number => workplaceOf(floor, id).share!;
const near = (value: number, expected: number, tolerance = 0.01) =>
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(tolerance);
const codes = (floor: ReturnType<typeof readA>) => check(floor).findings.map(({ code }) => code);

describe('the screen', () => {
  const cases = [
    { top: null, shares: [1, 1, 1], level: 'body', met: true, cells: 4946, exact: 49.519 },
    { top: 1.2, shares: [1, 1, 1], level: 'body', met: true, cells: 4554, exact: 45.302 },
    { top: 1.4, shares: [0.797, 1, 1], level: 'shoulders', met: true, cells: 4264, exact: 42.721 },
    { top: 1.6, shares: [0.214, 0.627, 0.906], level: 'head', met: false, cells: 3940, exact: 39.615 },
    { top: 1.65, shares: [0.069, 0.461, 0.783], level: 'none', met: false, cells: null, exact: null },
  ];

  test.each(cases)(
    'at $top m: W1 is seen $shares of body, shoulders and head: $level',
    ({ top, shares, level, met }) => {
      expect(workplaceOf(readA(withScreen(top)), 'W1')).toMatchObject({ level, met });
      [0.8, 1, 1.15].forEach((seatedPlane, k) => {
        const floor = readA(withScreen(top), (file) => {
          file.analysis = { seatedPlane };
        });
        near(shareOf(floor, 'W1'), shares[k]!);
      });
      // By share alone, without shoulders and head, only a body of 0.9 is met.
      expect(shares[0]! >= 0.9).toBe(level === 'body');
    },
  );

  test.each(cases.filter(({ cells }) => cells !== null))('at $top m: $cells cells of Main are seen', (row) => {
    const { rooms, planes } = check(readA(withScreen(row.top)));
    expect(Math.round(rooms[0]!.seated! * 9600)).toBe(row.cells);
    // All 9,600 cells of Main can be sat in, and as many half again in the room behind the glass.
    expect(Math.round(planes.seated.areaM2 * 100)).toBe(9600 + 4800);
    const fine = createCoverage(
      readA(withScreen(row.top), (file) => {
        file.analysis = { cell: 0.02 };
      }),
    );
    near(fine.areas.seated.seenM2, row.exact!, 0.005 * row.exact!);
  });

  test('W1 is at 0.9 when the screen is 1.349 m high, fully seen up to 1.2615 m; the finding names both', () => {
    const enough = (share: number) => (top: number) => shareOf(readA(withScreen(top)), 'W1') >= share;
    near(bisect(enough(0.9), 1.2, 1.6), 1.349, 0.002);
    near(bisect(enough(1), 1.2, 1.6), 1.2615, 0.005);
    const { findings } = check(readA(withScreen(1.6)));
    const finding = findings.find(({ code }) => code === 'workplace-hidden');
    expect(finding).toMatchObject({ level: 'fail', about: ['W1', 'S'] });
    expect(finding?.text).toMatch(/1\.3[45] m/);
    expect(finding?.text).toMatch(/1\.26 m/);
    const shoulders = check(readA(withScreen(1.4))).findings.find(({ code }) => code === 'workplace-hidden');
    expect(shoulders).toMatchObject({ level: 'note', about: ['W1', 'S'] });
  });

  test.each([
    { top: 1.2, answers: ['hidden', 'seen', 'seen', 'seen', 'range', 'hidden'] },
    { top: 1.4, answers: ['hidden', 'seen', 'seen', 'seen', 'range', 'hidden'] },
    { top: 1.6, answers: ['hidden', 'hidden', 'seen', 'seen', 'range', 'hidden'] },
  ])('at $top m: six probes behind it', ({ top, answers }) => {
    const coverage = createCoverage(readA(withScreen(top)));
    const sights = [
      [6, 4.5],
      [6, 5.3],
      [6, 5.4],
      [6, 6.5],
      [6, 6.6],
      [6, -1],
    ].map(([x, y]) => probeAt(coverage, { x: x!, y: y!, h: 0.8 }, 'minor', 'stated')[0]!.sight);
    expect(sights.map((sight) => (sight.seen ? 'seen' : sight.why))).toEqual(answers);
    expect(sights[0]).toMatchObject({ by: 'S' });
    // A wall is named by its room; both rooms have an edge there.
    expect(['Main', 'M']).toContain(sights[5]!.seen ? null : sights[5]!.by);
  });
});

describe('range and rooms', () => {
  test('W2 lies in front of the screen, W3 touches the edge of the range, W4 lies across it, W5 behind glass', () => {
    const { workplaces, findings } = check(readA());
    const of = (id: string) => workplaces.find((each) => each.id === id)!;
    expect(of('W2')).toMatchObject({ share: 1, met: true, seenBy: ['D1'], hiddenBy: [] });
    expect(of('W3')).toMatchObject({ share: 1, met: true, seenBy: ['D1'] });
    near(of('W4').share!, 0.488);
    expect(of('W4')).toMatchObject({ met: false, hiddenBy: [] });
    expect(of('W5')).toMatchObject({ share: 0, level: 'none', met: false, seenBy: [], seenByOther: [] });
    expect(findings.find(({ code }) => code === 'workplace-out-of-range')?.about).toContain('W4');
    expect(findings.find(({ code }) => code === 'range-margin')).toMatchObject({ level: 'warn', about: ['W3'] });
  });

  test.each([
    [0.9, 0.551],
    [0.8, 0.049],
  ])('with a reach of %d W3 is seen %d', (reach, share) => {
    near(
      shareOf(
        readA((file) => {
          file.detectors[0]!.reach = reach;
        }),
        'W3',
      ),
      share,
    );
  });

  test('an air outlet 1.0 m away is out of range, and still too near', () => {
    const floor = readA();
    const { sources, findings } = check(floor);
    expect(sources).toEqual([{ id: 'Q1', seenBy: [], near: true, masks: [] }]);
    expect(findings.find(({ code }) => code === 'heat-near')?.about).toEqual(['Q1', 'D1']);
    // The range at the outlet's foot, 0.05 m below the lens.
    expect(rangeAt(floor, floor.detectors[0]!, 'minor', 2.75)).toEqual({
      kind: 'round',
      radius: expect.closeTo(0.1125),
    });
  });
});

describe('an open door instead of the window', () => {
  const openDoor = (file: File): void => {
    file.openings = [{ id: 'V', kind: 'door', from: [5.5, 0], to: [6.5, 0], head: 2.1, state: 'open' }];
  };
  const mask = (from: number, to: number) => (file: File) => {
    file.detectors[0]!.masks = [{ from, to }];
  };

  test('by any detector W5 is seen whole; by the groups that serve it, it is not met', () => {
    expect(
      workplaceOf(
        readA(openDoor, (file) => {
          file.groups![0]!.serves = ['Main', 'M'];
        }),
        'W5',
      ),
    ).toMatchObject({ share: 1, level: 'body', met: true, seenBy: ['D1'] });
    const { workplaces, findings } = check(readA(openDoor));
    expect(workplaces.find(({ id }) => id === 'W5')).toMatchObject({ met: false, seenBy: [], seenByOther: ['D1'] });
    expect(findings.find(({ code }) => code === 'wrong-group')).toMatchObject({ level: 'fail', about: ['W5', 'G1'] });
  });

  test('the sight line to W5 crosses the wall at 1.458 m, under a head of 2.1 m and over one of 1.4 m', () => {
    const headAt = (head: number) =>
      readA(openDoor, (file) => {
        file.openings![0]!.head = head;
      });
    const sightOf = (head: number) =>
      probeAt(createCoverage(headAt(head)), { x: 6, y: -1, h: 0.8 }, 'minor', 'stated')[0]!.sight;
    expect(sightOf(2.1).seen).toBe(true);
    near(
      bisect((head) => sightOf(head).seen, 2.1, 1),
      1.458,
      0.0005,
    );
    const cut = sightOf(1.4);
    expect(cut.seen || cut.why !== 'hidden' ? null : cut.at[2]).toBeCloseTo(1.458, 3);
  });

  test('388 cells of the other room are seen, and a mask from 256.2° to 283.8° closes them', () => {
    const { spill, findings } = check(readA(openDoor));
    expect(spill).toEqual([{ group: 'G1', room: 'M', areaM2: expect.closeTo(3.88, 9) }]);
    expect(findings.find(({ code }) => code === 'spill')?.about).toEqual(['G1', 'M']);
    const closed = check(readA(openDoor, mask(256.2, 283.8)));
    expect(closed.spill).toEqual([]);
    expect(closed.findings.map(({ code }) => code)).not.toContain('spill');
    expect(check(readA(openDoor, mask(258, 283.8))).spill).not.toEqual([]);
    expect(check(readA(openDoor, mask(256.2, 282))).spill).not.toEqual([]);
  });
});

test.each([
  [80, 100, 0, 0],
  [85, 95, 0.347, 0.01],
])('without the screen a mask from %d° to %d° leaves W1 %d', (from, to, share, tolerance) => {
  const floor = readA(withScreen(null), (file) => {
    file.detectors[0]!.masks = [{ from, to }];
  });
  near(shareOf(floor, 'W1'), share, tolerance);
  const { findings } = check(floor);
  expect(findings.find(({ code }) => code === 'workplace-masked')?.about).toEqual(['W1', 'D1']);
});

describe('micro-tests', () => {
  const room = (outline: readonly (readonly [number, number])[], ceiling = 2.8, id = 'room') => ({
    id,
    name: id,
    outline,
    ceiling,
  });

  test('(a) a lens below a duct: no shadow at all', () => {
    const floor = (furniture: FloorFile['furniture'] = []) =>
      buildFloor({
        rooms: [room(rect(0, 0, 8, 6))],
        furniture,
        types: [{ id: 'T', name: 'T', ranges: [row('minor', 2.8, 0.8, 9)] }],
        detectors: [{ id: 'D', name: 'D', type: 'T', at: [4, 3], height: 2.4 }],
      });
    const duct = { id: 'F', kind: 'hanging', name: 'Duct', outline: rect(3, 0, 3.6, 6), base: 2.6, top: 2.8 } as const;
    const without = createCoverage(floor()).areas.seated;
    expect(createCoverage(floor([duct])).areas.seated).toEqual(without);
    expect(without.hiddenM2).toBe(0);
    expect(createCoverage(floor([{ ...duct, base: 1 }])).areas.seated.hiddenM2).toBeGreaterThan(1);
  });

  test('(c) a seat 0.3 m from a wall shared with another room is seen whole', () => {
    const floor = buildFloor({
      rooms: [room(rect(0, 0, 6, 4)), room(rect(6, 0, 12, 4), 2.8, 'other')],
      workplaces: [{ id: 'W', name: 'W', at: [5.7, 2] }],
      types: [{ id: 'T', name: 'T', ranges: [row('minor', 2.8, 0.8, 9)] }],
      detectors: [{ id: 'D', name: 'D', type: 'T', at: [3, 2] }],
    });
    expect(workplaceOf(floor, 'W')).toMatchObject({ share: 1, level: 'body', met: true });
    // Of the whole disc only 0.858 lies in the room: that is what is counted, no more.
    const samples = createCoverage(floor).samples[0]!;
    near((samples.count * 0.01 ** 2) / (Math.PI * 0.25), 0.858, 0.002);
  });

  test('(e) hung at 4.5 m with a table for 2.5 to 3.0 m: nobody seated is seen, and the finding says so', () => {
    const hungAt = (height: number) =>
      buildFloor({
        rooms: [room(rect(0, 0, 8, 6), 5)],
        types: [{ id: 'T', name: 'T', ranges: [row('minor', 2.5, 0.8, 6), row('minor', 3, 0.8, 7)] }],
        detectors: [{ id: 'D', name: 'D', type: 'T', at: [4, 3], height }],
      });
    expect(check(hungAt(4.5)).planes.seated.seenM2).toBe(0);
    expect(codes(hungAt(4.5))).toContain('outside-table');
    expect(check(hungAt(3)).planes.seated.seenM2).toBeGreaterThan(30);
    expect(codes(hungAt(3))).not.toContain('outside-table');
  });
});
