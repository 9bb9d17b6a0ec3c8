/** Storeys of nonsense and near-sense, from a seed: what a reader might hand over from the worst of drawings. */
import type { Point, Ring } from '../../../src/core/floor/index.ts';
import type { DrawnPiece, DrawnStorey, DrawnWall } from '../../../src/importers/storey.ts';
import { createRandom, type Random } from '../../models/random.ts';
import { rectangle, storey } from './drawn.ts';

const KINDS: readonly DrawnPiece['kind'][] = [
  'partition',
  'screen',
  'shelving',
  'cabinet',
  'desk',
  'column',
  'hanging',
  'other',
];

export function randomStorey(seed: number): DrawnStorey {
  const random = createRandom(seed);
  const span = random.pick([3, 12, 40, 40, 300, 30_000]);
  const at = (): Point => [random.between(0, span), random.between(0, span)];
  const many = <Item>(most: number, make: (i: number) => Item): Item[] =>
    Array.from({ length: random.whole(0, most) }, (_, i) => make(i));
  const height = (): number | null =>
    random.pick([null, null, 0, random.between(-1, 6), random.between(0, 3), 2.8, 3, Number.NaN, 400]);
  const walls = many(14, (i): DrawnWall => {
    if (random.chance(0.4))
      return { kind: 'line', key: `line ${i}`, from: at(), to: random.chance(0.1) ? at() : snap(at(), random) };
    return {
      kind: 'footprint',
      key: `wall ${i}`,
      outline: randomRing(random, at(), span),
      base: random.pick([0, 0, 0, 0.9, -1]),
      top: height(),
    };
  });
  return storey({
    name: random.pick(['', 'Level 1', 'x'.repeat(3000), '\u202e<b>']),
    north: random.pick([null, 90, -725.5, Number.NaN]),
    rooms: many(8, (i) => ({
      key: `room ${random.whole(0, 5)}`,
      name: random.pick(['', `Room ${i}`, 'y'.repeat(2000)]),
      outline: randomRing(random, at(), span),
      holes: many(2, () => randomRing(random, at(), span)),
      ceiling: height(),
      standing: 'read' as const,
    })),
    walls: random.chance(0.5) ? [...walls, ...grid(random)] : walls,
    openings: many(8, (i) => {
      const from = at();
      return {
        key: `opening ${i}`,
        kind: random.pick(['door', 'window', 'passage'] as const),
        name: '',
        from,
        to: random.chance(0.2) ? from : [from[0] + random.between(-2, 2), from[1] + random.pick([0, 0, 1])],
        depth: random.pick([null, 0, 0.1, 0.3, 5]),
        sill: height(),
        head: height(),
        standing: 'read' as const,
      };
    }),
    pieces: many(12, (i) => ({
      key: `piece ${i}`,
      kind: random.pick(KINDS),
      name: '',
      outline: randomRing(random, at(), 2),
      base: height(),
      top: height(),
      glass: random.chance(0.3),
      standing: random.pick(['read', 'guessed'] as const),
    })),
    luminaires: many(4, (i) => ({
      key: `light ${i}`,
      name: '',
      at: at(),
      size: [random.pick([1.2, 0, -1, 500]), 0.3] as const,
      turn: random.pick([0, 4000, Number.NaN]),
      base: height(),
      top: height(),
    })),
    workplaces: many(5, (i) => ({
      key: `chair ${i}`,
      name: '',
      at: at(),
      facing: random.pick([null, 0, 1e6]),
      standing: 'guessed' as const,
    })),
    sources: many(4, (i) => ({
      key: `source ${i}`,
      name: '',
      kind: random.pick(['heater', 'fan', 'air outlet', 'lamp', 'machine', 'other'] as const),
      at: at(),
      radius: random.pick([0, 0.2, 900, Number.NaN]),
      base: height(),
      top: height(),
    })),
  });
}

/** Rooms in rows behind walls, so that most storeys have something that holds. */
function grid(random: Random): DrawnWall[] {
  const walls: DrawnWall[] = [];
  const count = random.whole(1, 4);
  for (let i = 0; i <= count; i++) {
    const jitter = random.pick([0, 0, 0.0003, 0.01, 0.04]);
    walls.push({
      kind: 'footprint',
      key: `v${i}`,
      outline: rectangle(i * 4, -0.2, i * 4 + 0.2, 4.2 - jitter),
      base: 0,
      top: null,
    });
  }
  walls.push({ kind: 'footprint', key: 's', outline: rectangle(0, -0.2, count * 4 + 0.2, 0), base: 0, top: 2.7 });
  walls.push({ kind: 'footprint', key: 'n', outline: rectangle(0, 4, count * 4 + 0.2, 4.2), base: 0, top: 2.7 });
  return walls;
}

function randomRing(random: Random, [x, y]: Point, span: number): Ring {
  const kind = random.whole(0, 6);
  const size = random.between(0.0005, Math.min(span, 12));
  if (kind === 0)
    return Array.from(
      { length: random.whole(0, 9) },
      (): Point => [x + random.between(0, size), y + random.between(0, size)],
    );
  if (kind === 1) return [...rectangle(x, y, x + size, y + 0.0004), [x, y]];
  const box = rectangle(x, y, x + size, y + random.between(0.0005, size));
  if (kind === 2) return box.flatMap((corner) => [corner, [corner[0] + 0.0002, corner[1]] as Point, corner]);
  if (kind === 3) return [...box, [Number.NaN, y], [x, Number.POSITIVE_INFINITY]];
  if (kind === 4) return [box[0], box[2], box[1], box[3]] as Ring;
  return random.chance(0.5) ? box.toReversed() : box;
}

function snap([x, y]: Point, random: Random): Point {
  return random.chance(0.6) ? [Math.round(x), Math.round(y)] : [x, y];
}
