/** Polygons with their visibility polygons in exact rationals, and the plane geometry to read them. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** A folder of files by others that the project is run against. It is not part of the project: `LACUNA_DATA` names it. */
export function findOutsideFolder(...path: string[]): string {
  const folder = resolve(ROOT, process.env.LACUNA_DATA ?? '../shared/data', ...path);
  if (!existsSync(folder)) {
    throw new Error(`There is no ${folder}. Set LACUNA_DATA to the folder that holds ${path.join('/')}/.`);
  }
  return folder;
}

/** A fraction in whole numbers, over a positive denominator. */
export interface Rational {
  readonly over: bigint;
  readonly under: bigint;
}

const toRational = (text: string): Rational => {
  const [over, under = '1'] = text.split('/');
  return { over: BigInt(over!), under: BigInt(under) };
};
export const toNumber = ({ over, under }: Rational): number => Number(over) / Number(under);

export type RationalPoint = readonly [Rational, Rational];
export type Edge = readonly [RationalPoint, RationalPoint];

export interface VisibilityCase {
  readonly name: string;
  readonly eye: RationalPoint;
  readonly edges: readonly Edge[];
  /** Edges of what is seen, antennas among them. */
  readonly seen: readonly Edge[];
}

/**
 * Reads every file of the folder that states a result: query point, a second point, number of isolated vertices, number of
 * edges, edges; a blank line; the same two counts and edges for the result. Others are named in `skipped`.
 */
export function readVisibilityCases(): { readonly cases: VisibilityCase[]; readonly skipped: string[] } {
  const folder = findOutsideFolder('geometry', 'cgal-visibility');
  const cases: VisibilityCase[] = [];
  const skipped: string[] = [];
  for (const name of readdirSync(folder).sort()) {
    const lines = readFileSync(join(folder, name), 'utf8').split('\n');
    const words = lines.filter((line) => !line.startsWith('#')).flatMap((line) => line.split(/\s+/).filter(Boolean));
    // A list of vertices and of edges by their numbers, without a result.
    if (!name.endsWith('.dat')) {
      skipped.push(name);
      continue;
    }
    let at = 0;
    const next = () => words[at++] ?? '';
    const point = (): RationalPoint => [toRational(next()), toRational(next())];
    const edges = (): Edge[] => {
      const isolated = Number(next());
      for (let k = 0; k < isolated; k++) point();
      return Array.from({ length: Number(next()) }, () => [point(), point()] as const);
    };
    const eye = point();
    point();
    cases.push({ name, eye, edges: edges(), seen: edges() });
    if (at !== words.length) throw new Error(`${name}: ${words.length - at} words are left over`);
  }
  return { cases, skipped };
}

const keyOf = ([x, y]: RationalPoint): string => `${x.over}/${x.under},${y.over}/${y.under}`;

/**
 * Drops edges that end in nothing, until none is left. What is seen only along a line (an antenna) has no area: no cell can
 * stand for it, so it is left out of the comparison.
 */
export function dropAntennas(edges: readonly Edge[]): Edge[] {
  let kept = [...edges];
  for (;;) {
    const degree = new Map<string, number>();
    for (const end of kept.flat()) degree.set(keyOf(end), (degree.get(keyOf(end)) ?? 0) + 1);
    const next = kept.filter((edge) => edge.every((end) => degree.get(keyOf(end))! > 1));
    if (next.length === kept.length) return kept;
    kept = next;
  }
}

/** Cross product of b − a and c − a as an exact fraction's numerator; its sign tells on which side c lies. */
function side(a: RationalPoint, b: RationalPoint, c: RationalPoint): bigint {
  // All six numbers over one denominator keep their sign.
  const under = [...a, ...b, ...c].reduce((product, each) => product * each.under, 1n);
  const [ax, ay, bx, by, cx, cy] = [...a, ...b, ...c].map((each) => (each.over * under) / each.under) as [
    bigint,
    bigint,
    bigint,
    bigint,
    bigint,
    bigint,
  ];
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}

const isBetween = (a: RationalPoint, b: RationalPoint, c: RationalPoint): boolean => {
  if (side(a, b, c) !== 0n || keyOf(a) === keyOf(c) || keyOf(b) === keyOf(c)) return false;
  const within = (k: 0 | 1) => {
    const [p, q, r] = [toNumber(a[k]), toNumber(b[k]), toNumber(c[k])];
    return r >= Math.min(p, q) && r <= Math.max(p, q);
  };
  return within(0) && within(1);
};

/** Cuts edges where another edge ends on them. */
function cutAtVertices(edges: readonly Edge[]): Edge[] {
  const vertices = [...new Map(edges.flat().map((point) => [keyOf(point), point])).values()];
  return edges.flatMap(([a, b]) => {
    const stops = vertices.filter((point) => isBetween(a, b, point));
    const distance = (p: RationalPoint) => Math.hypot(toNumber(p[0]) - toNumber(a[0]), toNumber(p[1]) - toNumber(a[1]));
    const chain = [a, ...stops.sort((p, q) => distance(p) - distance(q)), b];
    return chain.slice(1).map((end, k): Edge => [chain[k]!, end]);
  });
}

/** Twice the signed area of a ring, exactly; above 0 counter-clockwise. */
export function doubleArea(ring: readonly RationalPoint[]): Rational {
  let sum: Rational = { over: 0n, under: 1n };
  ring.forEach(([x, y], k) => {
    const [nx, ny] = ring[(k + 1) % ring.length]!;
    const under = x.under * ny.under * nx.under * y.under;
    const over = x.over * ny.over * nx.under * y.under - nx.over * y.over * x.under * ny.under;
    sum = { over: sum.over * under + over * sum.under, under: sum.under * under };
  });
  return sum;
}

/** The face of a connected set of edges that holds a point, as a counter-clockwise ring. */
export function findFace(edges: readonly Edge[], eye: RationalPoint): RationalPoint[] {
  const next = new Map<string, RationalPoint[]>();
  for (const [a, b] of cutAtVertices(edges)) {
    for (const [from, to] of [
      [a, b],
      [b, a],
    ] as const) {
      next.set(keyOf(from), [...(next.get(keyOf(from)) ?? []), to]);
    }
  }
  const angle = (from: RationalPoint, to: RationalPoint) =>
    Math.atan2(toNumber(to[1]) - toNumber(from[1]), toNumber(to[0]) - toNumber(from[0]));
  const used = new Set<string>();
  const faces: RationalPoint[][] = [];
  const points = new Map(edges.flat().map((point) => [keyOf(point), point]));
  for (const [key, ends] of next) {
    for (const end of ends) {
      const ring: RationalPoint[] = [];
      let [from, to] = [points.get(key)!, end];
      while (!used.has(`${keyOf(from)} ${keyOf(to)}`)) {
        used.add(`${keyOf(from)} ${keyOf(to)}`);
        ring.push(from);
        // The sharpest turn to the left keeps the face on the left hand.
        const back = angle(to, from);
        const turnTo = (p: RationalPoint) => (back - angle(to, p) + 4 * Math.PI) % (2 * Math.PI) || 2 * Math.PI;
        const choice = [...next.get(keyOf(to))!].sort((p, q) => turnTo(p) - turnTo(q))[0]!;
        [from, to] = [to, choice];
      }
      if (ring.length > 2 && doubleArea(ring).over > 0n) faces.push(ring);
    }
  }
  const holding = faces.filter((ring) => holds(ring, eye));
  if (holding.length !== 1) throw new Error(`${holding.length} faces hold the point`);
  return holding[0]!;
}

/** Is the point inside the ring? Exact; a point on an edge may go either way. */
function holds(ring: readonly RationalPoint[], at: RationalPoint): boolean {
  const isAbove = (p: RationalPoint) => p[1].over * at[1].under > at[1].over * p[1].under;
  let inside = false;
  ring.forEach((a, k) => {
    const b = ring[(k + 1) % ring.length]!;
    if (isAbove(a) !== isAbove(b) && side(a, b, at) > 0n === isAbove(b)) inside = !inside;
  });
  return inside;
}
