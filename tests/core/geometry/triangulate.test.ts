import { expect, test } from 'vitest';
import { computeSignedArea, type PlanRing } from '../../../src/core/geometry/polygon.ts';
import { type Triangles, triangulate } from '../../../src/core/geometry/triangulate.ts';
import { createRandom, type Random } from '../../models/random.ts';

/** A star-shaped outline round a point: simple whatever the numbers. */
function star(random: Random, x: number, y: number, least: number, most: number, fewest = 3): PlanRing {
  const corners = random.whole(fewest, 40);
  const ring = Array.from({ length: corners }, (_, i) => {
    const angle = ((i + random.between(0.1, 0.9)) / corners) * 2 * Math.PI;
    const radius = random.between(least, most);
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)] as const;
  });
  return random.chance(0.5) ? ring : [...ring].reverse();
}

function areaOf({ xy, index }: Triangles): number {
  let twice = 0;
  for (let t = 0; t < index.length; t += 3) {
    const [a, b, c] = [2 * index[t]!, 2 * index[t + 1]!, 2 * index[t + 2]!];
    const turn = (xy[b]! - xy[a]!) * (xy[c + 1]! - xy[a + 1]!) - (xy[b + 1]! - xy[a + 1]!) * (xy[c]! - xy[a]!);
    expect(turn, 'a triangle is turned over').toBeGreaterThanOrEqual(0);
    twice += turn;
  }
  return twice / 2;
}

test('triangles add up to the polygon, whatever its winding', () => {
  let total = 0;
  for (let seed = 0; seed < 300; seed++) {
    const random = createRandom(seed);
    const far = random.pick([0, 9_000]);
    const ring = star(random, far, -far, 1, 8);
    const area = Math.abs(computeSignedArea(ring));
    expect(areaOf(triangulate(ring)), `seed ${seed}`).toBeCloseTo(area, 6);
    total += area;
  }
  expect(total).toBeGreaterThan(5_000);
});

test('holes are left out', () => {
  for (let seed = 0; seed < 200; seed++) {
    const random = createRandom(1_000 + seed);
    const outline = star(random, 0, 0, 12, 20, 12);
    const holes = [star(random, -4, 0, 0.5, 1.5), star(random, 4, 1, 0.5, 1.5)];
    const area = holes.reduce(
      (sum, hole) => sum - Math.abs(computeSignedArea(hole)),
      Math.abs(computeSignedArea(outline)),
    );
    const triangles = triangulate(outline, holes);
    expect(areaOf(triangles), `seed ${seed}`).toBeCloseTo(area, 6);
    expect(triangles.xy).toHaveLength(2 * (outline.length + holes.reduce((sum, hole) => sum + hole.length, 0)));
  }
});

test('an outline without area gives no triangles', () => {
  const line: PlanRing = [
    [0, 0],
    [1, 0],
    [2, 0],
  ];
  expect(triangulate(line).index).toEqual([]);
});
