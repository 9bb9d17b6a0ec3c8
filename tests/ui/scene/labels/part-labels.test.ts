import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { LabelPlace } from '../../../../src/ui/scene/labels/label-batch.ts';
import { partLabels, type Sign, type SizedLabel } from '../../../../src/ui/scene/labels/part-labels.ts';

function labelAt(x: number, y: number, rest: Partial<LabelPlace> = {}, width = 60, height = 20): SizedLabel {
  const place = { x, y, z: 0, dx: 0, dy: 0, anchorX: 0.5, anchorY: 0.5, turn: 0, from: 10, flat: true, ...rest };
  return { place, width, height };
}

/** The box of a label on screen at a scale, less the casing; null where it is not written. */
function boxAt({ width, height }: SizedLabel, place: LabelPlace, scale: number) {
  if (scale < place.from) return null;
  const x = place.x * scale + place.dx - place.anchorX * width;
  const y = place.y * scale + place.dy - place.anchorY * height;
  return { x0: x + 3, x1: x + width - 3, y0: y + 3, y1: y + height - 3 };
}

test('of two names in one place the second comes when one is near enough for both, and then stays', () => {
  const labels = [labelAt(0, 0), labelAt(1, 0.1)];
  const [first, second] = partLabels(labels, []);
  expect(first?.from).toBe(10);
  // 54 px apart from middle to middle.
  expect(second?.from).toBeCloseTo(54, 9);
});

test('names that never meet are left as they are', () => {
  const labels = [labelAt(0, 0), labelAt(9, 0), labelAt(0, 5)];
  expect(partLabels(labels, []).map(({ from }) => from)).toEqual([10, 10, 10]);
});

test('a name beside its sign goes to the other side before it is left away', () => {
  const labels = [labelAt(1, 0), labelAt(0, 0, { dx: 8, anchorX: 0 })];
  const [, second] = partLabels(labels, [{ x: 0, y: 0, radius: 6 }]);
  expect(second).toMatchObject({ dx: -8, anchorX: 1, from: 10 });
});

test('two names about one place are not both written', () => {
  const [, second] = partLabels([labelAt(0, 0), labelAt(0, 0)], []);
  expect(second?.from).toBe(Number.MAX_VALUE);
});

test('no two names that are written lie on one another at any scale, and none on a sign', () => {
  let compared = 0;
  const spot = fc.double({ min: 0, max: 12, noNaN: true });
  const label = fc.tuple(
    spot,
    spot,
    fc.integer({ min: 20, max: 140 }),
    fc.constantFrom(0, 8),
    fc.constantFrom(9, 22, 45),
  );
  fc.assert(
    fc.property(fc.array(label, { maxLength: 40 }), fc.array(fc.tuple(spot, spot), { maxLength: 8 }), (items, at) => {
      const labels = items.map(([x, y, width, dx, from]) =>
        labelAt(x, y, { dx, dy: dx, anchorX: dx === 0 ? 0.5 : 0, from }, width),
      );
      const signs: Sign[] = at.map(([x, y]) => ({ x, y, radius: 8 }));
      const places = partLabels(labels, signs);
      for (let scale = 9; scale < 400; scale *= 1.13) {
        const boxes = [
          ...signs.map(({ x, y, radius }) => ({
            x0: x * scale - radius,
            x1: x * scale + radius,
            y0: y * scale - radius,
            y1: y * scale + radius,
            isSign: true,
          })),
          ...labels.flatMap((each, i) => {
            const box = boxAt(each, places[i] as LabelPlace, scale);
            return box === null ? [] : [{ ...box, isSign: false }];
          }),
        ];
        for (const [i, a] of boxes.entries())
          for (const b of boxes.slice(i + 1)) {
            if (a.isSign && b.isSign) continue;
            compared += 1;
            const wide = Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0);
            const high = Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0);
            if (wide > 1e-6 && high > 1e-6) throw new Error(`Two lie on one another at ${scale}.`);
          }
      }
    }),
    { numRuns: 150, seed: 5 },
  );
  expect(compared).toBeGreaterThan(10_000);
});
