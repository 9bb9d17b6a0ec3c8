/** Scenario B, an archive with shelving, and two micro-tests: results derived by hand from the rules (facts, section 13). */
import { describe, expect, test } from 'vitest';
import type { Coverage } from '../../src/core/coverage/index.ts';
import { check, createCoverage, SEEN } from '../../src/core/coverage/index.ts';
import type { Floor, FloorFile } from '../../src/core/floor/index.ts';
import { compileScene, traceSight } from '../../src/core/sight/index.ts';
import {
  buildFloor,
  type Changeable,
  type Entry,
  FAR_TYPE,
  readScenario,
  rect,
  row,
} from '../core/sight/build-floor.ts';
import { bisect } from './bisect.ts';

type File = Changeable<FloorFile>;
const near = (value: number, expected: number, tolerance: number) =>
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(tolerance);

/** Shelves of a height under one detector in the middle aisle, or under one in each. */
const archive = (top: number, detectors: 1 | 3, change: (file: File) => void = () => {}): Floor =>
  readScenario('b', (file) => {
    for (const shelf of file.furniture!) shelf.top = top;
    if (detectors === 3) {
      file.detectors = [0.6, 2.6, 4.6].map((x, k) => ({ id: `D${k + 1}`, name: `D${k + 1}`, type: 'U', at: [x, 5] }));
      file.groups![0] = { id: 'G1', name: 'Group 1', main: 'D2', extensions: ['D1', 'D3'] };
    }
    change(file);
  });
const fine = (file: File): void => {
  file.analysis = { ...file.analysis, cell: 0.02 };
};

const PARTS = {
  aisle1: [0, 1.5, 1.2, 9],
  aisle2: [2, 1.5, 3.2, 9],
  aisle3: [4, 1.5, 5.2, 9],
  cross: [0, 0, 5.2, 1.5],
} as const;

/** Square metres of a part of the archive that count as seen walking. */
function seenIn({ grid, walking }: Coverage, part: keyof typeof PARTS): number {
  const [x0, y0, x1, y1] = PARTS[part];
  const { lattice } = grid;
  let cells = 0;
  walking.state.forEach((state, k) => {
    const x = lattice.x0 + ((k % lattice.nx) + 0.5) * lattice.cell;
    const y = lattice.y0 + (Math.floor(k / lattice.nx) + 0.5) * lattice.cell;
    if (state === SEEN && x > x0 && x < x1 && y > y0 && y < y1) cells++;
  });
  return cells * lattice.cell ** 2;
}

const CASES = [
  { name: 'B1', top: 2.2, detectors: 1, aisles: [0, 9, 0], cross: 2.186, share: 0.3214, cells: 1116, every: 5.942 },
  { name: 'B2', top: 2.2, detectors: 3, aisles: [9, 9, 9], cross: 6.171, share: 0.9532, cells: 3312, every: 17.826 },
  { name: 'B3', top: 1.6, detectors: 1, aisles: [5.5, 9, 5.5], cross: 5.078, share: 0.7206, cells: 2442, every: null },
] as const;

describe.each(CASES)(
  '$name: $detectors detector(s), shelves of $top m',
  ({ top, detectors, aisles, cross, share, cells, every }) => {
    test('areas of the aisles and the cross-aisle, at a fine cell', () => {
      const coverage = createCoverage(archive(top, detectors, fine));
      near(coverage.areas.walking.areaM2, 34.8, 1e-6);
      near(seenIn(coverage, 'aisle1'), aisles[0], 0.02 * aisles[0]);
      near(seenIn(coverage, 'aisle2'), aisles[1], 1e-6);
      near(seenIn(coverage, 'aisle3'), aisles[2], 0.02 * aisles[2]);
      near(seenIn(coverage, 'cross'), cross, 0.02 * cross);
      near(coverage.areas.walking.seenM2 / coverage.areas.walking.areaM2, share, 0.005);
      if (every !== null) near(coverage.areas.walking.everyHeadingM2, every, 0.01 * every);
    });

    test('cells of 0.1 m, counted', () => {
      const { planes, rooms } = check(archive(top, detectors));
      expect(Math.round(planes.walking.areaM2 * 100)).toBe(3480);
      expect(Math.round(planes.walking.seenM2 * 100)).toBe(cells);
      near(planes.walking.share!, cells / 3480, 1e-9);
      expect(rooms[0]!.walking).toBe(planes.walking.share);
      if (every === null) expect(Math.round(planes.walking.everyHeadingM2 * 100)).toBe(868);
      // There is no row for small movements: nobody seated is seen.
      expect(planes.seated).toMatchObject({ seenM2: 0, share: 0 });
    });
  },
);

test('a taller shelf, 2.2 m for 1.6 m, costs 13.9 m²', () => {
  const seen = (top: number) => createCoverage(archive(top, 1, fine)).areas.walking.seenM2;
  near(seen(1.6) - seen(2.2), 13.9, 0.15);
});

describe('the entrance', () => {
  test('B1: along the middle line the wedge between the shelves begins 1.871 m from the wall', () => {
    const scene = compileScene(archive(2.2, 1));
    const seen = (x: number) => traceSight(scene, 0, { x, y: 0.75, h: 1.2 }, 'tangential', 'open').seen;
    near(
      bisect((x) => !seen(x), 0.01, 2.6),
      1.871,
      0.0005,
    );
  });

  test('B1: by the rule it is 1.75 m, B2 and B3 0 m', () => {
    // The rule starts where a line leaves the opening's rectangle (0.2 m in), walks in steps of 0.05 m and takes the worst
    // of three lines: the one at y = 0.975, which meets the wedge 1.91 m from the wall.
    const entrance = (floor: Floor) => check(floor).entrances;
    expect(entrance(archive(2.2, 1))).toEqual([{ id: 'V', room: 'Archive', firstSeenM: expect.closeTo(1.75, 9) }]);
    expect(entrance(archive(2.2, 3))).toEqual([{ id: 'V', room: 'Archive', firstSeenM: 0 }]);
    expect(entrance(archive(1.6, 1))).toEqual([{ id: 'V', room: 'Archive', firstSeenM: 0 }]);
    const late = check(archive(2.2, 1)).findings.find(({ code }) => code === 'late-entrance');
    expect(late).toMatchObject({ level: 'warn', about: ['V', 'Archive'] });
    expect(check(archive(2.2, 3)).findings.map(({ code }) => code)).not.toContain('late-entrance');
  });
});

test('B2 leaves two blind patches of 0.814 m², noted because they are crossed in under 1 m', () => {
  const { blind, findings } = check(archive(2.2, 3));
  const walking = blind.filter(({ plane }) => plane === 'walking');
  expect(walking).toHaveLength(2);
  for (const patch of walking) {
    near(patch.areaM2, 0.814, 0.04);
    expect(patch).toMatchObject({ cause: 'hidden' });
  }
  expect(walking.map(({ by }) => by).sort()).toEqual(['S1', 'S2']);
  const walkingFindings = findings.filter(({ code, text }) => code === 'blind-area' && text.includes('walking'));
  expect(walkingFindings.map(({ level }) => level)).toEqual(['note', 'note']);
});

describe('walking along the middle aisle', () => {
  const aisle = (rest: Partial<Entry<'zones'>>, change: (file: File) => void = () => {}) =>
    archive(2.2, 1, (file) => {
      const outline = rect(2, 1.5, 3.2, 9) as [number, number][];
      file.zones = [{ id: 'Z', name: 'Aisle 2', outline, need: 'walking', ...rest } as Changeable<Entry<'zones'>>];
      change(file);
    });

  test('along its length 0.660 is seen; the longest stretch unseen is 1.5 m', () => {
    const { zones, findings } = check(aisle({ heading: 90 }));
    near(zones[0]!.share!, 0.66, 0.005);
    expect(zones[0]!.met).toBe(false);
    expect(findings.find(({ code }) => code === 'zone-blind')?.level).toBe('fail');
    const endOn = findings.find(({ code }) => code === 'end-on');
    expect(endOn).toMatchObject({ level: 'note', about: ['Z'] });
    expect(endOn?.text).toContain('1.50 m');
  });

  test('for any heading all of it is seen at 0.5 of the headings, and only the part near the detector at 0.75', () => {
    expect(check(aisle({})).zones[0]).toMatchObject({ share: 1, met: true });
    const strict = check(
      aisle({}, (file) => {
        file.analysis = { headings: 0.75 };
      }),
    );
    near(strict.zones[0]!.share!, 0.66, 0.005);
    expect(strict.zones[0]!.met).toBe(false);
    expect(strict.planes.walking.seenM2).toBe(strict.planes.walking.everyHeadingM2);
    expect(strict.blind.some(({ cause }) => cause === 'headings')).toBe(true);
  });

  test('a radial range of 8 m sees 0.998 of it, and it is met', () => {
    const { zones, findings } = check(
      aisle({ heading: 90 }, (file) => {
        fine(file);
        file.types[0]!.ranges = [row('tangential', 2.8, 1.2, 14), row('radial', 2.8, 1.2, 8)];
      }),
    );
    near(zones[0]!.share!, 0.998, 0.001);
    expect(zones[0]!.met).toBe(true);
    expect(findings.map(({ code }) => code)).not.toContain('end-on');
  });
});

describe('micro-tests', () => {
  test('(b) one sight line gives half the headings, two 45° apart three quarters, 90° apart all', () => {
    const past: Entry<'types'> = { id: 'T', name: 'T', ranges: [row('tangential', 2.8, 1.2, 20)] };
    // Seen from the cell's centre at (5.05, 5.05), lenses 3 m away in the given directions.
    const shareFrom = (directions: readonly number[]) => {
      const coverage = createCoverage(
        buildFloor({
          rooms: [{ id: 'R', name: 'R', outline: rect(0, 0, 10, 10), ceiling: 2.8 }],
          types: [past],
          detectors: directions.map((direction, k) => {
            const a = (direction * Math.PI) / 180;
            return { id: `D${k}`, name: '', type: 'T', at: [5.05 + 3 * Math.cos(a), 5.05 + 3 * Math.sin(a)] as const };
          }),
          groups: [{ id: 'G', name: 'G', main: 'D0', extensions: directions.slice(1).map((_, k) => `D${k + 1}`) }],
        }),
      );
      const k = 50 * coverage.grid.lattice.nx + 50;
      return [coverage.walking.heading![k]!, coverage.walking.state[k]] as const;
    };
    const [one, oneState] = shareFrom([10]);
    expect(one).toBe(0.5);
    expect(oneState).not.toBe(SEEN);
    expect(shareFrom([10, 55])).toEqual([expect.closeTo(0.75, 6), SEEN]);
    expect(shareFrom([10, 100])).toEqual([1, SEEN]);
    expect(shareFrom([10, 280])).toEqual([1, SEEN]);
    expect(shareFrom([10, 190])[0]).toBe(0.5);
  });

  test('(d) two shelves that meet at y = 0.05, a lens at y = 0.05: no bright thread behind them', () => {
    const shelf = (id: string, y0: number, y1: number): Entry<'furniture'> => ({
      id,
      kind: 'shelving',
      name: id,
      outline: rect(3, y0, 3.4, y1),
      top: 2.5,
    });
    const floor = buildFloor({
      rooms: [{ id: 'R', name: 'R', outline: rect(0, -3, 8, 3), ceiling: 2.8 }],
      furniture: [shelf('S1', -3, 0.05), shelf('S2', 0.05, 3)],
      types: [FAR_TYPE],
      detectors: [{ id: 'D', name: 'D', type: 'far', at: [1, 0.05] }],
    });
    const coverage = createCoverage(floor);
    const scene = compileScene(floor);
    const { lattice } = coverage.grid;
    const row = Math.floor((0.05 + 3) / lattice.cell);
    let asked = 0;
    // At 1.2 m their shadow ends 2.4 m · 1.6 / 0.3 from the lens, beyond the far wall.
    for (let i = 0; i < lattice.nx; i++) {
      const x = lattice.x0 + (i + 0.5) * lattice.cell;
      if (x < 3.4) continue;
      asked++;
      expect(coverage.walking.count[row * lattice.nx + i]).toBe(0);
      const sight = traceSight(scene, 0, { x, y: 0.05, h: 1.2 }, 'tangential', 'stated');
      expect(sight).toMatchObject({ seen: false, why: 'hidden' });
    }
    expect(asked).toBe(46);
  });
});
