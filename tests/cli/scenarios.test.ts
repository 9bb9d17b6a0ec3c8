/** Two invented scenarios whose results were derived by hand must come out of the command line. */
import { describe, expect, test, vi } from 'vitest';
import type { CheckResult } from '../../src/core/coverage/index.ts';
import type { FloorFile } from '../../src/core/floor/index.ts';
import { type Changeable, createFolder, lacuna, readScenario } from './terminal.ts';

// Generous: a busy machine is no fault.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

const file = createFolder();

async function judge(
  floor: FloorFile,
  ...words: string[]
): Promise<{ readonly code: number; readonly result: CheckResult }> {
  const { code, out, err } = await lacuna('check', file('floor.json', floor), '--json', ...words);
  expect(err).toBe('');
  const result: CheckResult = JSON.parse(out);
  expect(result.format).toBe('lacuna-check/1');
  return { code, result };
}

const workplace = (result: CheckResult, id: string) => result.workplaces.find((each) => each.id === id)!;
const codes = (result: CheckResult) => result.findings.map((finding) => finding.code);

const withScreen = (top: number | null) =>
  readScenario('a', (floor) => {
    if (top === null) floor.furniture = [];
    else floor.furniture![0]!.top = top;
  });

describe('a desk island with a screen beside a glass room', () => {
  test.each([
    { top: null, share: 1, level: 'body', met: true, cells: 4946 },
    { top: 1.2, share: 1, level: 'body', met: true, cells: 4554 },
    { top: 1.4, share: 0.797, level: 'shoulders', met: true, cells: 4264 },
    { top: 1.6, share: 0.214, level: 'head', met: false, cells: 3940 },
    { top: 1.65, share: 0.069, level: 'none', met: false, cells: null },
  ])('screen at $top m: W1 is seen $share, level $level', async ({ top, share, level, met, cells }) => {
    const { code, result } = await judge(withScreen(top));
    const w1 = workplace(result, 'W1');
    expect(Math.abs(w1.share! - share)).toBeLessThanOrEqual(0.01);
    expect(w1.level).toBe(level);
    expect(w1.met).toBe(met);
    expect(w1.hiddenBy).toEqual(share === 1 ? [] : ['S']);
    if (cells !== null) expect(Math.abs(result.rooms[0]!.seated! * 9600 - cells)).toBeLessThanOrEqual(2);
    if (level === 'head' || level === 'none') expect(codes(result)).toContain('workplace-hidden');
    // W4 and W5 are never met, so the floor never is.
    expect([code, result.met]).toEqual([1, false]);
  });

  test('the other workplaces: in front of the screen, at the edge of the range, behind glass', async () => {
    const { result } = await judge(withScreen(1.6));
    expect(workplace(result, 'W2')).toMatchObject({ share: 1, met: true, seenBy: ['D1'] });
    expect(workplace(result, 'W3')).toMatchObject({ share: 1, met: true });
    expect(Math.abs(workplace(result, 'W4').share! - 0.488)).toBeLessThanOrEqual(0.01);
    expect(workplace(result, 'W4').met).toBe(false);
    expect(workplace(result, 'W5')).toMatchObject({ share: 0, level: 'none', met: false, seenBy: [], seenByOther: [] });
    expect(result.workplacesMet).toEqual([2, 5]);
    expect(codes(result)).toContain('range-margin');
    expect(codes(result)).toContain('workplace-out-of-range');
  });

  test.each([
    [0.9, 0.551],
    [0.8, 0.049],
  ])('at reach %f W3 is seen %f', async (reach, share) => {
    const { result } = await judge(
      readScenario('a', (floor) => {
        floor.detectors[0]!.reach = reach;
      }),
    );
    expect(Math.abs(workplace(result, 'W3').share! - share)).toBeLessThanOrEqual(0.01);
  });

  test('an air outlet too near to be harmless is found, though the detector cannot see it', async () => {
    const { result } = await judge(withScreen(1.6));
    expect(result.sources).toMatchObject([{ id: 'Q1', seenBy: [], near: true }]);
    expect(codes(result)).toContain('heat-near');
  });

  test('an open door instead of the window: seen by the wrong group, and spill into the glass room', async () => {
    const { result } = await judge(
      readScenario('a', (floor) => {
        floor.openings = [
          { id: 'V', kind: 'door', from: [5.5, 0], to: [6.5, 0], head: 2.1, state: 'open' } as Changeable<
            NonNullable<FloorFile['openings']>[number]
          >,
        ];
      }),
    );
    expect(workplace(result, 'W5')).toMatchObject({ met: false, seenBy: [], seenByOther: ['D1'] });
    expect(codes(result)).toEqual(expect.arrayContaining(['wrong-group', 'spill']));
    const spill = result.spill.find((each) => each.room === 'M');
    expect(spill?.group).toBe('G1');
    expect(Math.abs(spill!.areaM2 - 3.88)).toBeLessThanOrEqual(0.03);
  });

  test.each([
    [80, 100, 0, 0.001],
    [85, 95, 0.347, 0.01],
  ])('without the screen, a mask from %i° to %i° leaves W1 %f', async (from, to, share, tolerance) => {
    const { result } = await judge(
      readScenario('a', (floor) => {
        floor.furniture = [];
        floor.detectors[0]!.masks = [{ from, to }];
      }),
    );
    expect(Math.abs(workplace(result, 'W1').share! - share)).toBeLessThanOrEqual(tolerance);
    expect(workplace(result, 'W1').met).toBe(false);
  });

  const places: [number, number][] = [
    [6, 4.5],
    [6, 5.3],
    [6, 5.4],
    [6, 6.5],
    [6, 6.6],
    [6, -1],
  ];
  test.each([
    { top: 1.2, answers: ['hidden', 'seen', 'seen', 'seen', 'range', 'hidden'] },
    { top: 1.4, answers: ['hidden', 'seen', 'seen', 'seen', 'range', 'hidden'] },
    { top: 1.6, answers: ['hidden', 'hidden', 'seen', 'seen', 'range', 'hidden'] },
  ])('probes behind a screen at $top m', async ({ top, answers }) => {
    const points = file(
      'points.json',
      places.map((at) => ({ at, height: 0.8, motion: 'minor' })),
    );
    const { code, out, err } = await lacuna('probe', file('floor.json', withScreen(top)), '--points', points, '--json');
    expect([code, err]).toEqual([0, '']);
    const answer = JSON.parse(out);
    expect(Object.keys(answer)).toEqual(['points']);
    expect(
      answer.points.map((point: { at: unknown; height: number; motion: string }) => [
        point.at,
        point.height,
        point.motion,
      ]),
    ).toEqual(places.map((at) => [at, 0.8, 'minor']));
    const found = answer.points.map((point: { seenBy: string[]; missed: { why: string }[] }) =>
      point.seenBy.includes('D1') ? 'seen' : point.missed[0]!.why,
    );
    expect(found).toEqual(answers);
    expect(answer.points[0].missed).toEqual([{ detector: 'D1', why: 'hidden', by: 'S' }]);
    expect(answer.points[4].missed).toEqual([{ detector: 'D1', why: 'range', by: null }]);
    // The wall is named by its room; both rooms have an edge there.
    expect(['Main', 'M']).toContain(answer.points[5].missed[0].by);
  });
});

describe('an archive with shelving', () => {
  const withShelves = (top: number, detectors: number) =>
    readScenario('b', (floor) => {
      for (const shelf of floor.furniture!) shelf.top = top;
      if (detectors === 3) {
        const first = floor.detectors[0]!;
        floor.detectors = [0.6, 2.6, 4.6].map((x, k) => ({
          ...first,
          id: `D${k + 1}` as typeof first.id,
          name: `D${k + 1}`,
          at: [x, 5],
        }));
        floor.groups![0]!.extensions = floor.detectors.slice(1).map((each) => each.id);
      }
    });

  test.each([
    { name: 'B1', top: 2.2, detectors: 1, cells: 1116, every: 5.942 },
    { name: 'B2', top: 2.2, detectors: 3, cells: 3312, every: 17.826 },
    { name: 'B3', top: 1.6, detectors: 1, cells: 2442, every: null },
  ])('$name: $cells of 3480 cells are seen', async ({ top, detectors, cells, every }) => {
    const { result } = await judge(withShelves(top, detectors));
    expect(result.planes.walking.areaM2).toBeCloseTo(34.8, 6);
    expect(Math.abs(result.planes.walking.seenM2 * 100 - cells)).toBeLessThanOrEqual(3);
    expect(result.planes.walking.share).toBeCloseTo(result.planes.walking.seenM2 / result.planes.walking.areaM2, 9);
    if (every !== null) expect(Math.abs(result.planes.walking.everyHeadingM2 - every)).toBeLessThanOrEqual(0.12);
    // No row for small movements: nobody seated is seen.
    expect(result.planes.seated.seenM2).toBe(0);
  });

  test('the entrance is dark behind tall shelves, and lit at once with low ones or three detectors', async () => {
    const dark = await judge(withShelves(2.2, 1));
    expect(dark.result.entrances).toHaveLength(1);
    // The lines at 1/4, 1/2 and 3/4 of the door meet the wedge between 1.83 and 1.91 m from the wall.
    expect(dark.result.entrances[0]!.firstSeenM).toBeGreaterThan(1.6);
    expect(dark.result.entrances[0]!.firstSeenM).toBeLessThan(1.96);
    expect(codes(dark.result)).toContain('late-entrance');
    for (const floor of [withShelves(2.2, 3), withShelves(1.6, 1)]) {
      expect((await judge(floor)).result.entrances[0]!.firstSeenM).toBe(0);
    }
  });

  test('an aisle walked along its length is seen for two thirds, and the zone is not met', async () => {
    const { code, result } = await judge(
      readScenario('b', (floor) => {
        floor.zones = [
          {
            id: 'A2',
            name: 'Aisle 2',
            outline: [
              [2, 1.5],
              [3.2, 1.5],
              [3.2, 9],
              [2, 9],
            ],
            need: 'walking',
            heading: 90,
          } as Changeable<NonNullable<FloorFile['zones']>[number]>,
        ];
      }),
    );
    expect(Math.abs(result.zones[0]!.share! - 0.66)).toBeLessThanOrEqual(0.02);
    expect(result.zones[0]!.met).toBe(false);
    expect(code).toBe(1);
  });
});
