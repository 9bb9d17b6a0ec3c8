/** What lies under a place of the plan: signs first, then bodies, then openings and zones. */
import { type Floor, findRoomAt, type Point, type Room } from '../../core/floor/index.ts';
import { computeRingDistance, computeSegmentDistance, isInRing } from '../../core/geometry/polygon.ts';
import { along, distance, locate } from '../edits/plane.ts';
import type { ThingKind } from '../things.ts';

/** Pixels within which a sign is met. */
const SIGN = 14;
/** Pixels to either side of a line. */
const LINE = 6;

export interface PickOptions {
  readonly metresPerPixel: number;
  readonly hidden: ReadonlySet<ThingKind>;
}

/** The id of the detector nearest to a place, within the size of its sign; null where there is none. */
export function pickDetectorAt(floor: Floor, at: Point, { metresPerPixel, hidden }: PickOptions): string | null {
  return hidden.has('detector') ? null : nearest(floor.detectors, at, SIGN * metresPerPixel);
}

/** The id of the thing under a place, null on empty floor. A room is met at its walls. */
export function pickThingAt(floor: Floor, at: Point, options: PickOptions): string | null {
  const { metresPerPixel, hidden } = options;
  const [x, y] = at;
  const sign = SIGN * metresPerPixel;
  const line = LINE * metresPerPixel;
  const seen = <Item>(kind: ThingKind, items: readonly Item[]): readonly Item[] => (hidden.has(kind) ? [] : items);
  const detector = pickDetectorAt(floor, at, options);
  if (detector !== null) return detector;
  const source = nearest(seen('source', floor.sources), at, sign);
  if (source !== null) return source;
  const seat = nearest(seen('workplace', floor.workplaces), at, sign);
  if (seat !== null) return seat;
  const luminaire = seen('luminaire', floor.luminaires).find(({ at: middle, size, turn }) => {
    const [u, v] = locate(middle, along(turn), at);
    return Math.abs(u) <= size[0] / 2 && Math.abs(v) <= size[1] / 2;
  });
  // Of pieces above one another the highest is met; a thin one is met beside its lines too.
  let top = -Infinity;
  let piece: string | null = null;
  for (const each of seen('furniture', floor.furniture)) {
    if (each.top <= top) continue;
    if (!isInRing(each.outline, x, y) && computeRingDistance(each.outline, x, y) > line / 2) continue;
    top = each.top;
    piece = each.id;
  }
  if (luminaire !== undefined && luminaire.top > top) return luminaire.id;
  if (piece !== null) return piece;
  const opening = seen('opening', floor.openings).find(
    ({ from, to, depth }) => computeSegmentDistance(from, to, x, y) <= Math.min(0.2, depth / 2) + line,
  );
  if (opening !== undefined) return opening.id;
  const zone = seen('zone', floor.zones).find(({ outline }) => computeRingDistance(outline, x, y) <= line);
  return zone?.id ?? (hidden.has('room') ? null : pickWallAt(floor, at, line));
}

/** The room of a wall within metres of a place: the one that holds the place before one on the other side. */
function pickWallAt(floor: Floor, at: Point, within: number): string | null {
  const isNear = (room: Room): boolean =>
    [room.outline, ...room.holes].some((ring) => computeRingDistance(ring, at[0], at[1]) <= within);
  const own = findRoomAt(floor.rooms, at);
  return own !== undefined && isNear(own) ? own.id : (floor.rooms.find(isNear)?.id ?? null);
}

function nearest(
  items: readonly { readonly id: string; readonly at: Point }[],
  at: Point,
  within: number,
): string | null {
  let best: string | null = null;
  let least = within;
  for (const item of items) {
    const far = distance(item.at, at);
    if (far > least) continue;
    least = far;
    best = item.id;
  }
  return best;
}
