import { describe, expect, test } from 'vitest';
import { findMaskFacts } from '../../src/handover/masks/mask-facts.ts';
import { makeMasks } from '../../src/handover/masks/masks-part.ts';
import { drawTemplate } from '../../src/handover/masks/template.ts';
import { jobOf, PLATFORM, readFloorFile } from './paper-platform.ts';
import { readPdf } from './pdf-reading.ts';

const SCENARIO = 'tests/models/scenario-a.json';

interface MaskAngles {
  readonly from: number;
  readonly to: number;
  readonly inner?: number;
  readonly outer?: number;
}

function maskedJob(masks: MaskAngles[], turn: number, lensDiameter: number | null = 0.05) {
  return jobOf(
    readFloorFile(SCENARIO, (floor) => {
      floor.furniture = [];
      floor.detectors[0]!.masks = masks;
      floor.detectors[0]!.turn = turn;
      if (lensDiameter !== null) floor.types[0]!.lensDiameter = lensDiameter;
    }),
  );
}

const turned = (degrees: number): number => ((degrees % 360) + 360) % 360;

describe('a template', () => {
  test.each([
    [{ from: 30, to: 80 }, 0],
    [{ from: 350, to: 12.3 }, 17.4],
    [{ from: 10, to: 300, inner: 20, outer: 60 }, 0],
    [{ from: 123.4, to: 124.9, inner: 0, outer: 90 }, 270],
  ])('shows the sector %j turned by %d within 0.1°, looking up', (mask, turn) => {
    const job = maskedJob([mask], turn, 0.03);
    const { svg, widthMm } = drawTemplate({
      name: 'M-D1',
      number: 'D1',
      detector: job.floor.detectors[0]!,
      lensDiameter: 0.03,
      toward: [0, 1],
      towardWords: 'the north wall',
    });
    const [cx, cy] = /<circle cx="([\d.]+)" cy="([\d.]+)"/.exec(svg)!.slice(1).map(Number);
    const centre = { x: cx!, y: cy! };
    expect(centre.x).toBeCloseTo(widthMm / 2, 3);
    const d = /data-sector="1" d="([^"]*)"/.exec(svg)![1]!;
    const corners = [...d.matchAll(/[ML]([-\d.]+) ([-\d.]+)|A[\d.]+ [\d.]+ 0 0 [01] ([-\d.]+) ([-\d.]+)/g)].map(
      (match) => ({
        x: Number(match[1] ?? match[3]) - centre.x,
        y: Number(match[2] ?? match[4]) - centre.y,
      }),
    );
    const outer = 15 * Math.sin((((mask as MaskAngles).outer ?? 90) * Math.PI) / 180);
    const rim = corners.filter(({ x, y }) => Math.abs(Math.hypot(x, y) - outer) < 0.01);
    // Looking up, east and west change sides.
    const azimuths = rim.map(({ x, y }) => turned((Math.atan2(-y, -x) * 180) / Math.PI - turn));
    const off = (a: number, b: number) => Math.min(turned(a - b), turned(b - a));
    expect(rim.length).toBeGreaterThanOrEqual(2);
    expect(off(azimuths[0]!, mask.from)).toBeLessThan(0.1);
    expect(off(azimuths.at(-1)!, mask.to)).toBeLessThan(0.1);
    const inner = 15 * Math.sin((((mask as MaskAngles).inner ?? 0) * Math.PI) / 180);
    const least = Math.min(...corners.map(({ x, y }) => Math.hypot(x, y)));
    expect(Math.abs(least - inner)).toBeLessThan(0.01);
  });

  test('is printed at 1:1: its bar is 50 mm and its sector as long as the lens is wide', async () => {
    const { files, refusals } = await makeMasks(maskedJob([{ from: 0, to: 90 }], 0, 0.064), PLATFORM.fonts);
    expect(refusals).toEqual([]);
    expect(files.map((file) => file.name)).toEqual(['masks.pdf', 'masks/M-D1.svg']);
    const [page] = await readPdf(files[0]!.content as Uint8Array);
    const near = (length: number) => page!.lines.filter(({ lengthMm }) => Math.abs(lengthMm - length) <= 0.1).length;
    expect(near(50)).toBeGreaterThanOrEqual(1);
    expect(near(32)).toBeGreaterThanOrEqual(2);
    expect(page!.text).toContain('This edge towards the south wall, 2.04 m away');
    expect(page!.text).toContain('Sector 1: 0° to 90°');
  });

  test('lists what its sector hides, and the seats it costs', () => {
    const job = maskedJob(
      [
        { from: 80, to: 100 },
        { from: 200, to: 210 },
      ],
      0,
    );
    const [first, second] = findMaskFacts(job, job.floor.detectors[0]!);
    expect(first!.seats.map(({ seat, met }) => [seat.id, met])).toEqual([
      ['W1', false],
      ['W2', false],
    ]);
    expect(second!.seats).toEqual([]);
  });

  test('is refused without the diameter of the lens, and that is said', async () => {
    const { files, refusals } = await makeMasks(maskedJob([{ from: 0, to: 90 }], 0, null), PLATFORM.fonts);
    expect(files.map((file) => file.name)).toEqual([]);
    expect(refusals).toEqual([
      'There is no mask template for D1: its type Type T (T) states no lensDiameter. Add it to the type, in metres.',
    ]);
  });
});
