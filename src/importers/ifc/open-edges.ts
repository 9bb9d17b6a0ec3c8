/** Edges at which two rooms touch without a wall between them: parts of one open space, which the file divides on paper only. */
import { createBoxIndex } from '../../core/geometry/box-index.ts';
import { computeBox, type PlanPoint } from '../../core/geometry/polygon.ts';
import type { DrawnOpening } from '../storey.ts';
import { isInRegion } from './regions.ts';
import type { Solid } from './shapes.ts';
import type { RoomPlan, StoreyScope } from './storey-scope.ts';

/** Edges of two rooms this near (metres) to each other are one. */
const TOUCHING = 0.02;
/** Common edges shorter than this (metres) are corners. */
const LEAST = 0.3;
/** Walls on a common edge are looked for every so many metres. */
const STEP = 0.05;
/** How thick an opening in such an edge is drawn, metres: enough to cut both rooms' edges. */
const DEPTH = 0.1;
/** Two edges of one line differ in direction by less than this (sine). */
const PARALLEL = 0.02;

interface Edge {
  readonly room: number;
  readonly a: PlanPoint;
  readonly b: PlanPoint;
}

/** A passage along every common edge of two rooms that no wall stands on. */
export function findOpenEdges(scope: StoreyScope, rooms: readonly RoomPlan[], walls: readonly Solid[]): DrawnOpening[] {
  const edges = rooms.flatMap(({ region }, room): Edge[] =>
    [region.outer, ...region.holes].flatMap((ring) =>
      ring.map((a, i): Edge => ({ room, a, b: ring[(i + 1) % ring.length] as PlanPoint })),
    ),
  );
  const grown = (points: readonly PlanPoint[]) => {
    const { minX, minY, maxX, maxY } = computeBox(points);
    return { minX: minX - TOUCHING, minY: minY - TOUCHING, maxX: maxX + TOUCHING, maxY: maxY + TOUCHING };
  };
  const index = createBoxIndex(edges.map(({ a, b }) => grown([a, b])));
  const wallIndex = createBoxIndex(walls.map(({ regions }) => grown(regions.flatMap(({ outer }) => outer))));
  const isWalled = ([x, y]: PlanPoint): boolean =>
    wallIndex.query({ minX: x, minY: y, maxX: x, maxY: y }, (item) =>
      (walls[item]?.regions ?? []).some((region) => isInRegion(region, x, y)),
    );
  const openings: DrawnOpening[] = [];
  edges.forEach((edge, first) => {
    index.query(grown([edge.a, edge.b]), (second) => {
      const other = edges[second];
      if (second <= first || other === undefined || other.room === edge.room) return false;
      const common = findCommon(edge, other);
      const [one, two] = [rooms[edge.room]?.room, rooms[other.room]?.room];
      if (common === undefined || one === undefined || two === undefined) return false;
      for (const [from, to] of openStretches(common, isWalled)) {
        const key = `${one.key}|${two.key}|${openings.length + 1}`;
        const name = `${one.name} – ${two.name}`;
        const reason = 'Two rooms touch here without a wall between them: their common edge was taken as open.';
        scope.account.note('guessed', 'passages', reason, { key, name, at: scope.toPoint(between([from, to], 0.5)) });
        openings.push({
          key,
          kind: 'passage',
          name,
          from: scope.toPoint(from),
          to: scope.toPoint(to),
          depth: DEPTH,
          sill: 0,
          head: null,
          standing: 'guessed',
        });
      }
      return false;
    });
  });
  return openings;
}

const between = ([[x, y], [a, b]]: readonly [PlanPoint, PlanPoint], share: number): PlanPoint => [
  x + (a - x) * share,
  y + (b - y) * share,
];

/** The stretches of a common edge, sampled, on which no wall stands. */
function openStretches(
  common: readonly [PlanPoint, PlanPoint],
  isWalled: (point: PlanPoint) => boolean,
): (readonly [PlanPoint, PlanPoint])[] {
  const length = Math.hypot(common[1][0] - common[0][0], common[1][1] - common[0][1]);
  const steps = Math.min(2_000, Math.max(4, Math.ceil(length / STEP)));
  const stretches: (readonly [PlanPoint, PlanPoint])[] = [];
  let from = -1;
  for (let i = 0; i <= steps; i++) {
    const isOpen = i < steps && !isWalled(between(common, (i + 0.5) / steps));
    if (isOpen && from < 0) from = i;
    if (isOpen || from < 0) continue;
    if (((i - from) / steps) * length >= LEAST)
      stretches.push([between(common, from / steps), between(common, i / steps)]);
    from = -1;
  }
  return stretches;
}

/** The stretch that two edges have in common, undefined when they are not one line or hardly meet. */
function findCommon(edge: Edge, other: Edge): readonly [PlanPoint, PlanPoint] | undefined {
  const [x, y] = edge.a;
  const length = Math.hypot(edge.b[0] - x, edge.b[1] - y);
  if (length < LEAST) return undefined;
  const [u, v] = [(edge.b[0] - x) / length, (edge.b[1] - y) / length];
  const along = ([a, b]: PlanPoint): number => (a - x) * u + (b - y) * v;
  const across = ([a, b]: PlanPoint): number => (b - y) * u - (a - x) * v;
  const [n0, n1] = [across(other.a), across(other.b)];
  const span = Math.hypot(other.b[0] - other.a[0], other.b[1] - other.a[1]);
  if (Math.abs(n0 - n1) > PARALLEL * span) return undefined;
  const [t0, t1] = [along(other.a), along(other.b)];
  const [from, to] = [Math.max(0, Math.min(t0, t1)), Math.min(length, Math.max(t0, t1))];
  if (to - from < LEAST) return undefined;
  const middle = n0 + ((n1 - n0) * ((from + to) / 2 - t0)) / (t1 - t0);
  if (!(Math.abs(middle) <= TOUCHING)) return undefined;
  const at = (t: number): PlanPoint => [x + u * t - v * (middle / 2), y + v * t + u * (middle / 2)];
  return [at(from), at(to)];
}
