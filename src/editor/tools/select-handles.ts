/** The handles of the one selected thing: where they are, and what dragging one asks for. */
import type { Floor, Point, Ring } from '../../core/floor/index.ts';
import { computeSegmentDistance } from '../../core/geometry/polygon.ts';
import { measurePiece } from '../edits/furniture-pieces.ts';
import { between, cornerOf, distance, dot, finePoint, place, SAME, subtract } from '../edits/plane.ts';
import { goFrom, measureDirection } from '../snapping/plan.ts';
import { findThing, placeOf, type Thing } from '../things.ts';

/**
 * `corner` and `edge` are of an outline, `box` and `side` resize a rectangle about the opposite corner or side, `end` is
 * of an opening, `turn` turns.
 */
export type HandlePart = 'corner' | 'edge' | 'box' | 'side' | 'end' | 'turn';

export interface Handle {
  readonly id: string;
  readonly part: HandlePart;
  /** 0 for the outline, 1 for the first hole. */
  readonly ring: number;
  readonly index: number;
  readonly at: Point;
}

/** Pixels: how near a handle is taken, how near a wall is, and how far from its thing a turn handle stands. */
const HIT = 14;
const WALL_HIT = 6;
const TURN_AWAY = 26;

/** The handles of a thing, those that are met first coming first. Empty for more things than one, and for what has none. */
export function listHandles(floor: Floor, selection: readonly string[], metresPerPixel: number): readonly Handle[] {
  const [id, ...others] = selection;
  const thing = id === undefined || others.length > 0 ? undefined : findThing(floor, id);
  if (thing === undefined) return [];
  switch (thing.kind) {
    case 'room':
      return [thing.value.outline, ...thing.value.holes].flatMap((ring, i) => [
        ...corners(thing.value.id, ring, i),
        ...edges(thing.value.id, ring, i),
      ]);
    case 'zone':
      return corners(thing.value.id, thing.value.outline, 0);
    case 'furniture':
      return handlesOfPiece(thing.value.id, thing.value.outline, metresPerPixel);
    case 'opening':
      return [thing.value.from, thing.value.to].map((at, index) => handle(thing.value.id, 'end', index, at));
    default:
      return turnHandle(thing, metresPerPixel);
  }
}

function handle(id: string, part: HandlePart, index: number, at: Point, ring = 0): Handle {
  return { id, part, ring, index, at: finePoint(at) };
}

function corners(id: string, ring: Ring, number: number): Handle[] {
  return ring.map((at, index) => handle(id, 'corner', index, at, number));
}

function edges(id: string, ring: Ring, number: number): Handle[] {
  return ring.map((at, index) => handle(id, 'edge', index, between(at, cornerOf(ring, index + 1), 0.5), number));
}

function handlesOfPiece(id: string, outline: Ring, metresPerPixel: number): readonly Handle[] {
  const { axis, origin, length, width } = measurePiece(outline);
  const away = width / 2 + TURN_AWAY * metresPerPixel;
  const turn = handle(id, 'turn', 0, place(origin, axis, [length / 2, width / 2 + away]));
  if (!isRectangle(outline)) return [...corners(id, outline, 0), turn];
  const box: readonly Point[] = [
    [0, 0],
    [length, 0],
    [length, width],
    [0, width],
  ];
  return [
    ...box.map((corner, index) => handle(id, 'box', index, place(origin, axis, corner))),
    ...box.map((corner, index) =>
      handle(id, 'side', index, place(origin, axis, between(corner, cornerOf(box, index + 1), 0.5))),
    ),
    turn,
  ];
}

/** Four corners, each edge square to the next. */
function isRectangle(ring: Ring): boolean {
  if (ring.length !== 4) return false;
  return ring.every((corner, i) => {
    const before = subtract(corner, cornerOf(ring, i - 1));
    const after = subtract(cornerOf(ring, i + 1), corner);
    return Math.abs(dot(before, after)) <= SAME * (Math.hypot(...before) + Math.hypot(...after));
  });
}

function turnHandle(thing: Thing, metresPerPixel: number): readonly Handle[] {
  const about = turnOf(thing);
  if (about === null) return [];
  return [
    handle(thing.value.id, 'turn', 0, goFrom(about.centre, about.direction, about.reach + TURN_AWAY * metresPerPixel)),
  ];
}

/** What a thing turns about, the way it looks, and how far from its middle it reaches; null for what has no direction. */
export function turnOf(
  thing: Thing,
): { readonly centre: Point; readonly direction: number; readonly reach: number } | null {
  switch (thing.kind) {
    case 'furniture': {
      const { axis, origin, length, width } = measurePiece(thing.value.outline);
      const direction = measureDirection([0, 0], axis);
      return {
        centre: finePoint(place(origin, axis, [length / 2, width / 2])),
        direction: direction + 90,
        reach: width / 2,
      };
    }
    case 'luminaire':
      return { centre: thing.value.at, direction: thing.value.turn + 90, reach: thing.value.size[1] / 2 };
    case 'detector':
      return { centre: thing.value.at, direction: thing.value.turn, reach: 0 };
    case 'workplace':
      return thing.value.facing === undefined
        ? null
        : { centre: thing.value.at, direction: thing.value.facing, reach: thing.value.radius };
    default:
      return null;
  }
}

/** The handle a hand would take at a place; a wall is taken anywhere along it. */
export function pickHandle(floor: Floor, handles: readonly Handle[], at: Point, metresPerPixel: number): Handle | null {
  let best: Handle | null = null;
  let least = HIT * metresPerPixel;
  for (const each of handles) {
    const far = distance(each.at, at);
    if (far > least) continue;
    // A small piece is all handles: nearer to its middle than to any of them it is the piece that is meant.
    if (each.part === 'side' || each.part === 'box') {
      const thing = findThing(floor, each.id);
      if (thing !== undefined && distance(placeOf(floor, thing), at) < far) continue;
    }
    least = far;
    best = each;
  }
  if (best !== null) return best;
  for (const each of handles) {
    if (each.part !== 'edge') continue;
    const ring = ringOf(floor, each);
    const [a, b] = [cornerOf(ring, each.index), cornerOf(ring, each.index + 1)];
    if (computeSegmentDistance(a, b, at[0], at[1]) <= WALL_HIT * metresPerPixel) return { ...each, at: finePoint(at) };
  }
  return null;
}

/** The ring a handle is on; empty when it is on none. */
export function ringOf(floor: Floor, { id, ring }: Handle): Ring {
  const thing = findThing(floor, id);
  if (thing === undefined || !('outline' in thing.value)) return [];
  return ring === 0 || thing.kind !== 'room' ? thing.value.outline : (thing.value.holes[ring - 1] ?? []);
}

/** Where a handle is, in words: `corner 2 of Office`. */
export function sayHandle(floor: Floor, held: Handle, name: string): string {
  switch (held.part) {
    case 'corner':
      return `Corner ${held.index + 1}${held.ring > 0 ? ` of hole ${held.ring}` : ''} of ${name}`;
    case 'edge': {
      const ring = ringOf(floor, held);
      return `Wall ${held.index + 1} of ${name}, ${distance(cornerOf(ring, held.index), cornerOf(ring, held.index + 1)).toFixed(2)} m long`;
    }
    case 'box':
      return `Corner ${held.index + 1} of ${name}`;
    case 'side':
      return `Side ${held.index + 1} of ${name}`;
    case 'end':
      return `${held.index === 0 ? 'First' : 'Second'} side of ${name}`;
    case 'turn':
      return `Turn of ${name}`;
  }
}
