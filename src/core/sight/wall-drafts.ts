/** Walls as occluders: edges of rooms cut by their open openings. */
import type { Floor, Point } from '../floor/index.ts';
import { keepHeads } from '../floor/index.ts';
import { createBins, queryBins } from '../geometry/bins.ts';
import { type Box, computeBox, growBox, overlaps } from '../geometry/polygon.ts';
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

/** @param before a floor whose walls were asked for: where few openings differ from its own, edges far from these keep theirs */
export function wallsOf(floor: Floor, before: Floor | null = null): Walls {
  const known = knownWalls.get(floor.rooms);
  if (known && known.openings === floor.openings) return known;
  const were = before && wallsOf(before);
  if (before) keepHeads(before, floor);
  const edges = listWallEdges(floor);
  const gaps = listGaps(floor);
  const moved = were && listMoved(were.gaps, gaps);
  const walls = { openings: floor.openings, edges, gaps, drafts: draftWalls(edges, gaps, moved) };
  knownWalls.set(floor.rooms, walls);
  return walls;
}

interface KnownEdge {
  /** Its two ends as words, in either direction. */
  readonly forth: string;
  readonly back: string;
  readonly box: Box;
  /** The gaps it was last cut by, and the list they are of. */
  near: readonly Gap[];
  of: readonly Gap[] | null;
  drafts: readonly Draft[];
}

/** Gaps of one list that are not of the other, at most so many; null: more, or in another order. */
const MOST_MOVED = 8;

interface Moved {
  /** The list of which an edge must know its gaps. */
  readonly from: readonly Gap[];
  readonly boxes: readonly Box[];
}

/** Which gaps differ between two lists, by the boxes of both; null where too many do. */
function listMoved(from: readonly Gap[], to: readonly Gap[]): Moved | null {
  if (from.length !== to.length) return null;
  const boxes: Box[] = [];
  for (let index = 0; index < to.length; index++) {
    if (from[index] === to[index]) continue;
    if (boxes.length === 2 * MOST_MOVED) return null;
    boxes.push(boxGap(from[index]!), boxGap(to[index]!));
  }
  return { from, boxes };
}

/** What was made of an edge: rooms that stay as they are keep their edges, and most of these what cuts them. */
const knownEdges = new WeakMap<WallEdge, KnownEdge>();

/** Wall edges cut by their open openings, once per state of the doors; an edge two rooms share stands once. */
function draftWalls(edges: readonly WallEdge[], gaps: readonly Gap[], moved: Moved | null): Draft[] {
  const seen = new Set<string>();
  const drafts: Draft[] = [];
  let findNear: ReturnType<typeof createGapFinder> | null = null;
  for (const edge of edges) {
    const known = knownEdges.get(edge) ?? nameEnds(edge);
    if (seen.has(known.forth) || seen.has(known.back)) continue;
    seen.add(known.forth);
    if (moved === null || known.of !== moved.from || moved.boxes.some((box) => overlaps(box, known.box))) {
      findNear ??= createGapFinder(gaps);
      const near = findNear(edge);
      if (near.length !== known.near.length || near.some((gap, index) => gap !== known.near[index])) {
        known.near = near;
        known.drafts = [...draftEdge(edge, near)];
      }
    }
    known.of = gaps;
    for (const draft of known.drafts) drafts.push(draft);
  }
  return drafts;
}

function nameEnds(edge: WallEdge): KnownEdge {
  const [forth, back] = [`${edge.a.join()} ${edge.b.join()}`, `${edge.b.join()} ${edge.a.join()}`];
  const known: KnownEdge = {
    forth,
    back,
    box: computeBox([edge.a, edge.b]),
    near: [],
    of: null,
    drafts: [...draftEdge(edge, [])],
  };
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
  const boxes = new Float64Array(4 * gaps.length);
  gaps.forEach((gap, index) => {
    const { minX, minY, maxX, maxY } = boxGap(gap);
    boxes.set([minX, minY, maxX, maxY], 4 * index);
  });
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

function boxGap({ opening, halfDepth }: Gap): Box {
  return growBox(computeBox([opening.from, opening.to]), halfDepth);
}
