/** Walls as occluders: edges of rooms cut by their open openings. */
import type { Floor, Point } from '../floor/index.ts';
import { createBins, queryBins } from '../geometry/bins.ts';
import type { Gap, WallEdge } from './walls.ts';
import { cutEdge, cutPanels, listGaps, listWallEdges } from './walls.ts';

/** Bits of `Occluders.doors`: in which state of the doors an occluder stands. */
export const WHEN_STATED = 1;
export const WHEN_OPEN = 2;

/** An occluder before it is packed with the others. */
export interface Draft {
  readonly xy: readonly number[];
  readonly base: number;
  readonly top: number;
  readonly blocker: number;
  readonly doors: number;
}

interface Walls {
  readonly openings: Floor['openings'];
  readonly edges: readonly WallEdge[];
  readonly gaps: readonly Gap[];
  readonly drafts: readonly Draft[];
}

/** Walls by the floor's list of rooms: most edits leave rooms and openings alone. */
const knownWalls = new WeakMap<Floor['rooms'], Walls>();

export function wallsOf(floor: Floor): Walls {
  const known = knownWalls.get(floor.rooms);
  if (known && known.openings === floor.openings) return known;
  const edges = listWallEdges(floor);
  const gaps = listGaps(floor);
  const walls = { openings: floor.openings, edges, gaps, drafts: draftWalls(edges, gaps) };
  knownWalls.set(floor.rooms, walls);
  return walls;
}

interface KnownEdge {
  /** Its two ends as words, in either direction. */
  readonly forth: string;
  readonly back: string;
  near: readonly Gap[];
  drafts: readonly Draft[];
}

/** What was made of an edge: rooms that stay as they are keep their edges, and most of these what cuts them. */
const knownEdges = new WeakMap<WallEdge, KnownEdge>();

/** Wall edges cut by their open openings, once per state of the doors; an edge two rooms share stands once. */
function draftWalls(edges: readonly WallEdge[], gaps: readonly Gap[]): Draft[] {
  const seen = new Set<string>();
  const findNear = createGapFinder(gaps);
  return edges.flatMap((edge) => {
    const known = knownEdges.get(edge) ?? nameEnds(edge);
    if (seen.has(known.forth) || seen.has(known.back)) return [];
    seen.add(known.forth);
    const near = findNear(edge);
    if (near.length !== known.near.length || near.some((gap, index) => gap !== known.near[index])) {
      known.near = near;
      known.drafts = [...draftEdge(edge, near)];
    }
    return known.drafts;
  });
}

function nameEnds(edge: WallEdge): KnownEdge {
  const [forth, back] = [`${edge.a.join()} ${edge.b.join()}`, `${edge.b.join()} ${edge.a.join()}`];
  const known: KnownEdge = { forth, back, near: [], drafts: [...draftEdge(edge, [])] };
  knownEdges.set(edge, known);
  return known;
}

function* draftEdge(edge: WallEdge, near: readonly Gap[]): Generator<Draft> {
  const cuts = near.flatMap((gap) => {
    const span = cutEdge(gap, edge);
    return span ? [{ gap, span }] : [];
  });
  const stated = cutPanels(cuts.filter((cut) => cut.gap.open.stated));
  const same = cuts.every((cut) => cut.gap.open.stated === cut.gap.open.open);
  yield* draftPanels(edge, stated, same ? WHEN_STATED | WHEN_OPEN : WHEN_STATED);
  if (!same) yield* draftPanels(edge, cutPanels(cuts.filter((cut) => cut.gap.open.open)), WHEN_OPEN);
}

function* draftPanels(edge: WallEdge, panels: ReturnType<typeof cutPanels>, doors: number): Generator<Draft> {
  // Neighbouring panels compute a shared end from the same parameter, so no sight line slips between them.
  const at = (t: number): Point =>
    t === 0
      ? edge.a
      : t === 1
        ? edge.b
        : [edge.a[0] + t * (edge.b[0] - edge.a[0]), edge.a[1] + t * (edge.b[1] - edge.a[1])];
  for (const panel of panels) {
    yield { xy: [...at(panel.from), ...at(panel.to)], base: panel.base, top: panel.top, blocker: edge.room, doors };
  }
}

function createGapFinder(gaps: readonly Gap[]): (edge: WallEdge) => readonly Gap[] {
  const boxes = Float64Array.from(
    gaps.flatMap(({ opening, halfDepth }) => [
      Math.min(opening.from[0], opening.to[0]) - halfDepth,
      Math.min(opening.from[1], opening.to[1]) - halfDepth,
      Math.max(opening.from[0], opening.to[0]) + halfDepth,
      Math.max(opening.from[1], opening.to[1]) + halfDepth,
    ]),
  );
  const bins = createBins(boxes);
  const found = new Int32Array(gaps.length);
  return ({ a, b }) => {
    const count = queryBins(
      bins,
      Math.min(a[0], b[0]),
      Math.min(a[1], b[1]),
      Math.max(a[0], b[0]),
      Math.max(a[1], b[1]),
      found,
    );
    return Array.from(found.subarray(0, count), (index) => gaps[index]!);
  };
}
