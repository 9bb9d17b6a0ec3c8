import { readFileSync } from 'node:fs';
import { PNG } from 'pngjs';
import { describe, expect, test, vi } from 'vitest';
import { rasterise } from '../../src/cli/raster.ts';
import { createCoverage, judgeCoverage } from '../../src/core/coverage/index.ts';
import { type DetectorId, type FloorFile, formatFault, validateFloor } from '../../src/core/floor/index.ts';
import { drawPlan, type Plan, type PlanOptions } from '../../src/handover/plan/plan.ts';

// Generous: a busy machine is no fault.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

const SEATED: PlanOptions = { plane: 'seated', show: 'blind', ranges: [] };

type Open<Value> = Value extends object ? { -readonly [Key in keyof Value]: Open<Value[Key]> } : Value;

function readScenario(name: string, change: (floor: Open<FloorFile>) => void = () => {}): FloorFile {
  const floor = JSON.parse(readFileSync(new URL(`../models/${name}.json`, import.meta.url), 'utf8'));
  change(floor);
  return floor;
}

function draw(file: FloorFile, options: PlanOptions = SEATED): Plan {
  const parsed = validateFloor(file);
  if (!parsed.ok) throw new Error(parsed.faults.map(formatFault).join('\n'));
  const coverage = createCoverage(parsed.floor);
  return drawPlan(coverage, judgeCoverage(coverage), options);
}

/** Corners of the rooms on the sheet, mm: the white paths with a fill rule, outlines first. */
function readRooms(svg: string): { readonly x: number; readonly y: number }[][] {
  const paths = [...svg.matchAll(/<path d="([^"]*)" fill="#FFFFFF" fill-rule="evenodd"/g)].map(
    (match) => match[1] ?? '',
  );
  return paths.map((path) =>
    [...path.matchAll(/[ML]([-\d.]+) ([-\d.]+)/g)].map((match) => ({ x: Number(match[1]), y: Number(match[2]) })),
  );
}

describe('drawPlan', () => {
  test.each([50, 100, 200])('at 1:%i a room of 12 m × 8 m has its size in millimetres', (scale) => {
    const plan = draw(readScenario('scenario-a'), { ...SEATED, scale });
    const [main = []] = readRooms(plan.svg);
    expect(main).toHaveLength(4);
    const [xs, ys] = [main.map(({ x }) => x), main.map(({ y }) => y)];
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(12_000 / scale, 2);
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(8_000 / scale, 2);
    expect(plan.svg).toContain(`width="${plan.widthMm}mm"`);
    expect(plan.svg).toContain(`1:${scale}<`);
  });

  test('north is up: what lies further along y is further up', () => {
    const [main = [], glass = []] = readRooms(draw(readScenario('scenario-a')).svg);
    expect(Math.max(...main.map(({ y }) => y))).toBeLessThanOrEqual(Math.min(...glass.map(({ y }) => y)) + 0.01);
  });

  test('the same floor gives the same bytes, and nothing is looked up elsewhere', () => {
    const options: PlanOptions = { plane: 'walking', show: 'headings', ranges: 'all' };
    const { svg } = draw(readScenario('scenario-b'), options);
    expect(draw(readScenario('scenario-b'), options).svg).toBe(svg);
    expect(svg).not.toMatch(/href|<image|<script|<style|@import|url\((?!#)/);
    expect(svg.match(/https?:[^"]*/g)).toEqual(['http://www.w3.org/2000/svg']);
    expect(svg).not.toMatch(/NaN|Infinity|undefined|null/);
  });

  test('it says the verdict, the areas and what is assumed', () => {
    const { svg } = draw(readScenario('scenario-a'));
    expect(svg).toContain('>2 of 5 workplaces are met.');
    expect(svg).toContain('>hidden<');
    expect(svg).toContain('>out of range<');
    expect(svg).toContain('>39.4 m²<');
    expect(svg).toContain('A coverage estimate, not an approval.');
    expect(svg).toContain('>W1 21.7 %<');
  });

  test('a floor without anything on it is still a sheet', () => {
    const empty: FloorFile = { format: 'lacuna/1', name: '', rooms: [], types: [], detectors: [] };
    for (const show of ['blind', 'count'] as const)
      expect(draw(empty, { ...SEATED, show }).svg).not.toMatch(/NaN|Infinity/);
  });

  test('names are text, whatever is in them', async () => {
    const name = '</text><script>alert(1)</script>&amp;"\'\u0000\u001b[31m\u202e]]>\ud800';
    const plan = draw(
      readScenario('scenario-a', (floor) => {
        Object.assign(floor, { name });
        for (const list of [
          floor.rooms,
          floor.furniture!,
          floor.workplaces!,
          floor.sources!,
          floor.detectors,
          floor.groups!,
        ]) {
          for (const each of list) each.name = name;
        }
        floor.zones = [
          {
            id: 'Z',
            name,
            outline: [
              [1, 1],
              [3, 1],
              [3, 3],
              [1, 3],
            ],
            need: 'seated',
          } as Open<NonNullable<FloorFile['zones']>[number]>,
        ];
      }),
    );
    expect(plan.svg).not.toContain('<script');
    expect([...plan.svg].filter((letter) => /[\p{Cc}\p{Cs}\u202e]/u.test(letter) && letter !== '\n')).toEqual([]);
    // A strict reader of XML takes it.
    expect((await rasterise(plan, 300)).length).toBeGreaterThan(1000);
  });
});

describe('the picture', () => {
  /** Share of reddish pixels in a square of half a metre about a place of the floor. */
  async function measureRed(plan: Plan, places: readonly (readonly [number, number])[]): Promise<number[]> {
    const picture = PNG.sync.read(Buffer.from(await rasterise(plan, 2000)));
    const [main = []] = readRooms(plan.svg);
    const perMm = 2000 / plan.widthMm;
    const perMetre = (1000 / plan.scale) * perMm;
    const left = Math.min(...main.map(({ x }) => x)) * perMm;
    const bottom = Math.max(...main.map(({ y }) => y)) * perMm;
    return places.map(([x, y]) => {
      let red = 0;
      let all = 0;
      const half = 0.25 * perMetre;
      for (let row = Math.round(bottom - y * perMetre - half); row < bottom - y * perMetre + half; row++) {
        for (let column = Math.round(left + x * perMetre - half); column < left + x * perMetre + half; column++) {
          const at = (row * picture.width + column) * 4;
          const [r = 0, , b = 0] = picture.data.subarray(at, at + 3);
          all++;
          if (r - b > 60) red++;
        }
      }
      return red / all;
    });
  }

  test('blind places are hatched, seen ones are paper', async () => {
    const plan = draw(
      readScenario('scenario-a', (floor) => {
        floor.workplaces = [];
      }),
      { ...SEATED, scale: 50 },
    );
    const [hidden, outOfRange, otherRoom, seen, behindTheShadow] = await measureRed(plan, [
      [6, 4.6],
      [1, 7],
      [2, -2],
      [4, 2],
      [6, 6],
    ]);
    for (const share of [hidden, outOfRange, otherRoom]) {
      expect(share).toBeGreaterThan(0.05);
      expect(share).toBeLessThan(0.6);
    }
    expect(seen).toBe(0);
    expect(behindTheShadow).toBe(0);
  });

  test('a mask is hatched across the sight line: its lines keep their distance from the lens', () => {
    const { svg } = draw(
      readScenario('scenario-a', (floor) => {
        floor.furniture = [];
        floor.detectors[0]!.masks = [{ from: 30, to: 80 }];
      }),
      { ...SEATED, scale: 50 },
    );
    const hatch = /<g clip-path="url\(#blind\)"><path d="([^"]*)"/.exec(svg)?.[1] ?? '';
    const radii = [...hatch.matchAll(/A([\d.]+) /g)].map((match) => Number(match[1]));
    expect(radii.length).toBeGreaterThan(10);
    for (const radius of radii) expect(Math.abs(radius / 1.6 - Math.round(radius / 1.6))).toBeLessThan(0.01);
  });

  test('lines behind a screen point at the lens', () => {
    const { svg } = draw(readScenario('scenario-a'), { ...SEATED, scale: 50 });
    const [main = []] = readRooms(svg);
    const lens = {
      x: Math.min(...main.map(({ x }) => x)) + 6 * 20,
      y: Math.max(...main.map(({ y }) => y)) - 2.04 * 20,
    };
    const hatch = /<g clip-path="url\(#blind\)"><path d="([^"]*)"/.exec(svg)?.[1] ?? '';
    const lines = [...hatch.matchAll(/M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)/g)].map((match) =>
      match.slice(1).map(Number),
    );
    expect(lines.length).toBeGreaterThan(30);
    for (const [x0 = 0, y0 = 0, x1 = 0, y1 = 0] of lines) {
      const length = Math.hypot(x1 - x0, y1 - y0);
      const off = Math.abs((x1 - x0) * (lens.y - y0) - (y1 - y0) * (lens.x - x0)) / length;
      // The ends are written to 0.01 mm: the shorter the line, the less its direction says.
      expect(off).toBeLessThan(0.05 + 1.5 / length);
    }
  });

  test.each([
    ['count', 'seated', 'scenario-a', '#A9B8CF'],
    ['headings', 'walking', 'scenario-b', '#FEF9CD'],
  ] as const)('%s is shown in steps of one map', (show, plane, name, fill) => {
    const { svg } = draw(readScenario(name), { plane, show, ranges: [] });
    expect(svg).toMatch(new RegExp(`<path d="M[^"]+" fill="${fill}"/>`));
  });

  test('ranges of one detector are drawn at their size with the size written', () => {
    const file = readScenario('scenario-a');
    const { svg } = draw(file, { ...SEATED, scale: 50, ranges: [file.detectors[0]!.id as DetectorId] });
    expect(svg).toContain('>⌀ 9.0<');
    expect(svg).toMatch(/<circle cx="[\d.]+" cy="[\d.]+" r="90" fill="none"/);
  });
});
