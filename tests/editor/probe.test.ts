import { expect, test } from 'vitest';
import { createCoverage } from '../../src/core/coverage/index.ts';
import { resolveFloor } from '../../src/core/floor/index.ts';
import { crossOutline, explainPlace } from '../../src/editor/probe.ts';
import { SMALL_FLOOR } from './open-floor.ts';

const coverage = createCoverage(resolveFloor(SMALL_FLOOR));

test('a place behind the shelf is told which top would clear the line, and by how much it is too tall', () => {
  // The lens hangs at 3 m over x = 3, the place is 0.8 m high at x = 6.2: over the shelf's far edge at x = 5.4 the line is at 1.35 m.
  const probe = explainPlace(coverage, [6.2, 3], 'seated');
  expect(probe.lines.map((line) => line.sight)).toEqual([
    { seen: false, why: 'hidden', by: 'shelf', at: expect.any(Array) },
  ]);
  expect(probe.section?.clears?.top).toBe(1.35);
  expect(probe.section?.clears?.byM).toBeCloseTo(0.85, 9);
  expect(probe.section?.pieces).toEqual([
    { id: 'shelf', name: 'Shelf', from: 2, to: expect.closeTo(2.4, 9), base: 0, top: 2.2 },
  ]);
});

test('the height it names is true: with it the place is seen, with a centimetre more it is not', () => {
  const withTop = (top: number) => {
    const piece = SMALL_FLOOR.furniture?.[0];
    if (piece === undefined) throw new Error('The trial floor has no shelf.');
    return createCoverage(resolveFloor({ ...SMALL_FLOOR, furniture: [{ ...piece, top }] }));
  };
  const at = [6.37, 3.21] as const;
  const top = explainPlace(coverage, at, 'seated').section?.clears?.top;
  expect(top).toBeGreaterThan(1);
  expect(explainPlace(withTop(top ?? 0), at, 'seated').lines[0]?.sight.seen).toBe(true);
  expect(explainPlace(withTop((top ?? 0) + 0.01), at, 'seated').lines[0]?.sight.seen).toBe(false);
});

test('a seen place has no section; a masked one is told so; one out of range is told the metres', () => {
  expect(explainPlace(coverage, [2, 3.1], 'seated')).toMatchObject({
    lines: [{ sight: { seen: true } }],
    section: null,
  });
  expect(explainPlace(coverage, [2.6, 5.4], 'seated').lines[0]?.sight).toMatchObject({ seen: false, why: 'masked' });
  const far = explainPlace(
    createCoverage(
      resolveFloor({
        ...SMALL_FLOOR,
        furniture: [],
        detectors: [{ id: 'D1', name: 'D1', type: 'round', at: [0.5, 3] }],
      }),
    ),
    [7, 3],
    'seated',
  );
  expect(far.lines[0]?.sight).toMatchObject({ why: 'range', shortM: expect.closeTo(0.5, 9) });
  expect(far.section?.clears).toBeNull();
});

test('a segment crosses an outline in stretches, also one that is not convex', () => {
  const comb = [
    [0, 0],
    [5, 0],
    [5, 2],
    [4, 2],
    [4, 1],
    [3, 1],
    [3, 2],
    [0, 2],
  ] as const;
  expect(crossOutline(comb, [-1, 1.5], [9, 1.5])).toEqual([
    [0.1, 0.4],
    [0.5, 0.6],
  ]);
  expect(crossOutline(comb, [1, 1.5], [2, 1.5])).toEqual([[0, 1]]);
  expect(crossOutline(comb, [-1, 3], [9, 3])).toEqual([]);
});

test('someone walking is looked for walking at it and walking past; seen only past is said', () => {
  const types = [
    {
      id: 'round',
      name: 'Round',
      ranges: [
        { motion: 'tangential', mounting: 3, plane: 1.2, diameter: 12 },
        { motion: 'radial', mounting: 3, plane: 1.2, diameter: 4 },
      ],
    },
  ] as const;
  const walking = createCoverage(resolveFloor({ ...SMALL_FLOOR, types: [...types], furniture: [], workplaces: [] }));
  expect(explainPlace(walking, [4, 3], 'walking').lines[0]).toMatchObject({ sight: { seen: true }, pastOnly: false });
  expect(explainPlace(walking, [6, 3], 'walking').lines[0]).toMatchObject({ sight: { seen: true }, pastOnly: true });
});

test('a place where a piece stands is told so, and one under it is not', () => {
  expect(explainPlace(coverage, [5.2, 3], 'seated')).toMatchObject({ taken: { id: 'shelf' }, section: null });
  expect(explainPlace(coverage, [6.2, 3], 'seated').taken).toBeNull();
});
