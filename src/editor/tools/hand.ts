/**
 * Where the hand is: moved by the pointer and drawn to what is near, or by arrow keys in steps that stop at every edge on
 * the way, so that a keyboard reaches what a pointer reaches.
 */
import { findRoomAt, type Point, type Room } from '../../core/floor/index.ts';
import { computeRingDistance } from '../../core/geometry/polygon.ts';
import { add, along, distance, finePoint, scale } from '../edits/plane.ts';
import { boxAbout, meetEdge } from '../snapping/plan.ts';
import { snapByAnchors } from '../snapping/snap-anchors.ts';
import { getSnapIndex } from '../snapping/snap-index.ts';
import type { SnapKind, SnapRequest } from '../snapping/snap-kinds.ts';
import { snapPoint, snapToTile } from '../snapping.ts';
import type { ThingKind } from '../things.ts';
import type { Guide } from './guide.ts';
import type { PointerToolEvent, ToolContext, ToolEvent } from './tool.ts';

export interface Hand {
  readonly at: Point;
  /** What it rests on: "corner of Shelf 3". Empty in the open. */
  readonly words: string;
  readonly guides: readonly Guide[];
  readonly by: 'pointer' | 'keys';
}

/** What a tool asks of snapping beside the place. */
export interface Ask extends Omit<SnapRequest, 'at' | 'metresPerPixel' | 'tally'> {
  /** What is in hand rests by these too: offsets from the hand. */
  readonly anchors?: readonly Point[] | undefined;
}

/** What a detector asks: the ceiling grid, the middle of the room, what hangs beside it. No edge or corner is a place for it. */
export const HANGING: Ask = {
  tiles: [1, 1],
  kinds: new Set<SnapKind>(['tile', 'crossing', 'centre line', 'alignment', 'grid']),
  alignWith: new Set<ThingKind>(['detector', 'luminaire']),
};

/** A pointer that moves less than this between down and up has clicked, pixels. */
const STILL = 4;
/** A finger is wider than a pointer by this factor. */
const FINGER = 1.6;
/** Metres: a fine step of an arrow key, and a large one where there are no tiles. */
const FINE = 0.01;
const TILE = 0.6;
/** Nearer than this, metres, the hand stands on a thing. */
const ON = 0.001;
/** Metres within which Ctrl and an arrow look for the next mark; the next is tried when the one before holds none. */
const REACHES = [3, 12, 60, 300, 2_000] as const;

export const ARROWS: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

export function isPointer(event: ToolEvent): event is PointerToolEvent {
  return event.type.startsWith('pointer-');
}

/** A click by key. */
export function isEnter(event: ToolEvent): boolean {
  return event.type === 'key' && event.key === 'Enter';
}

/** The letter an event types, in lower case; null with Ctrl or Alt, and for other keys. */
export function letterOf(event: ToolEvent): string | null {
  if (event.type !== 'key' || event.modifiers.ctrl || event.modifiers.alt) return null;
  return /^\p{L}$/u.test(event.key) ? event.key.toLowerCase() : null;
}

/** A hand at the place the tool is taken up at; null when nobody knows where. */
export function takeHand({ pointer }: ToolContext): Hand | null {
  return pointer === null ? null : restHand(pointer, 'keys');
}

/** A hand put at a place. */
export function restHand(at: Point, by: Hand['by'], words = ''): Hand {
  return { at, words, guides: [{ kind: 'mark', mark: 'hand', at }], by };
}

/** Where the pointer comes to rest; with Ctrl held it is not drawn to anything. */
export function followPointer(event: PointerToolEvent, context: ToolContext, ask: Ask = {}): Hand {
  const at = finePoint(event.at);
  if (event.modifiers.ctrl)
    return restHand(finePoint([Math.round(at[0] * 1e3) / 1e3, Math.round(at[1] * 1e3) / 1e3]), 'pointer');
  const { snapping, floor } = context;
  const settings = event.pointerType === 'touch' ? { ...snapping, tolerance: snapping.tolerance * FINGER } : snapping;
  const snap = snapByAnchors(floor, settings, { ...ask, at, metresPerPixel: event.metresPerPixel }, ask.anchors ?? []);
  return { at: snap.at, words: snap.words, guides: snap.guides, by: 'pointer' };
}

/** Whether the pointer has gone so far from where it was pressed that it drags. */
export function hasMoved(from: Point, event: PointerToolEvent): boolean {
  return distance(from, event.at) > STILL * event.metresPerPixel;
}

/**
 * The hand after an arrow key; null for other events. A step ends on the grid of steps, or at the first edge on the way.
 * Alt: 0.01 m. Shift: a tile. Ctrl: the next corner or place in that direction. Under a ceiling grid: the next tile.
 */
export function stepHand(hand: Hand | null, event: ToolEvent, context: ToolContext, ask: Ask = {}): Hand | null {
  const direction = event.type === 'key' ? ARROWS[event.key] : undefined;
  if (direction === undefined || event.type !== 'key') return null;
  const from = hand?.at ?? findStart(context);
  const { alt, shift, ctrl } = event.modifiers;
  const tiles = ask.tiles === undefined ? undefined : findRoomAt(context.floor.rooms, from)?.tiles;
  if (ctrl) return describeHand(findNextMark(from, direction, context, ask) ?? from, context, ask);
  if (tiles !== undefined && !alt) return describeHand(stepTile(tiles, from, direction, ask.tiles), context, ask);
  const pitch = findRoomAt(context.floor.rooms, from)?.tiles?.pitch[direction[0] === 0 ? 1 : 0] ?? TILE;
  const step = alt ? FINE : shift ? pitch : context.step;
  return describeHand(stopAtEdge(from, stepTo(from, direction, step), context, ask), context, ask);
}

/** Where keys begin when nobody knows where the hand is: in the first room. */
export function findStart({ pointer, floor, step }: ToolContext): Point {
  const [room] = floor.rooms;
  return pointer ?? (room === undefined ? [0, 0] : findMiddle(room, step));
}

/** Where keys begin with what stands or hangs in a room: in the room in hand, for its corners were drawn last. */
export function findStartInRoom(context: ToolContext): Point {
  const { floor, selection, step } = context;
  const held = floor.rooms.find(({ id }) => id === selection.at(-1));
  return held === undefined ? findStart(context) : findMiddle(held, step);
}

/** Metres from a wall within which nothing hangs or stands that is placed by keys. */
const CLEAR_OF_WALLS = 0.05;

/** Whether a place is in a room and clear of its walls: a corner just drawn is not where something hangs. */
export function isWithinRoom([x, y]: Point, { floor }: ToolContext): boolean {
  const room = findRoomAt(floor.rooms, [x, y]);
  return (
    room !== undefined &&
    [room.outline, ...room.holes].every((ring) => computeRingDistance(ring, x, y) >= CLEAR_OF_WALLS)
  );
}

/** A place well within a room, on whole steps: the middle of the widest stretch at the height of its corners' mean. */
function findMiddle(room: Room, step: number): Point {
  const { outline, holes } = room;
  const mean = outline.reduce((sum, [, y]) => sum + y, 0) / outline.length;
  const crossings = [outline, ...holes]
    .flatMap((ring) =>
      ring.flatMap(([x, y], k) => {
        const [nx, ny] = ring[(k + 1) % ring.length] ?? [x, y];
        return y > mean === ny > mean ? [] : [x + ((mean - y) / (ny - y)) * (nx - x)];
      }),
    )
    .sort((a, b) => a - b);
  let [from, to] = [crossings[0] ?? 0, crossings[1] ?? 0];
  for (let k = 2; k + 1 < crossings.length; k += 2) {
    const [start, end] = [crossings[k] ?? 0, crossings[k + 1] ?? 0];
    if (end - start > to - from) [from, to] = [start, end];
  }
  const round = (value: number): number => Math.round(value / step) * step;
  const rounded = finePoint([round((from + to) / 2), round(mean)]);
  return findRoomAt([room], rounded) === undefined ? [(from + to) / 2, mean] : rounded;
}

/** The next multiple of a step in a direction; the other coordinate stays. */
function stepTo(from: Point, [dx, dy]: Point, step: number): Point {
  const next = (value: number, sign: number): number => {
    if (sign === 0) return value;
    const steps = value / step;
    return (sign > 0 ? Math.floor(steps + 1e-6) + 1 : Math.ceil(steps - 1e-6) - 1) * step;
  };
  return finePoint([next(from[0], dx), next(from[1], dy)]);
}

function stepTile(
  tiles: NonNullable<ToolContext['floor']['rooms'][number]['tiles']>,
  from: Point,
  direction: Point,
  span: Ask['tiles'],
): Point {
  // The joint direction nearest to the arrow.
  const quarter = Math.round(tiles.turn / 90) * 90;
  const [dx, dy] = direction;
  const axis = along(tiles.turn - quarter);
  const way: Point = [axis[0] * dx - axis[1] * dy, axis[1] * dx + axis[0] * dy];
  const isAlongFirst = Math.abs(way[0] * along(tiles.turn)[0] + way[1] * along(tiles.turn)[1]) > 0.5;
  return snapToTile(tiles, add(from, scale(way, tiles.pitch[isAlongFirst ? 0 : 1])), span);
}

/** The end of a step, or where it first meets an edge. */
function stopAtEdge(from: Point, to: Point, { floor, snapping }: ToolContext, { except }: Ask): Point {
  const length = distance(from, to);
  const [dx, dy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  let nearest = length;
  const meet = (far: number): void => {
    if (far > ON && far < nearest) nearest = far;
  };
  getSnapIndex(floor).visitEdges(
    boxAbout(to, Math.abs(dx) * length + ON, Math.abs(dy) * length + ON),
    (a, b, owner) => {
      if (except?.has(owner.id) || snapping.hidden.has(owner.kind)) return;
      const far = meetEdge(from, dx, dy, a, b);
      if (far !== null) meet(far);
      // Along an edge the hand stops at its ends.
      for (const end of [a, b]) {
        const [x, y] = [end[0] - from[0], end[1] - from[1]];
        if (Math.abs(x * dy - y * dx) <= 1e-6) meet(x * dx + y * dy);
      }
    },
  );
  return nearest === length ? to : finePoint([from[0] + dx * nearest, from[1] + dy * nearest]);
}

/** The nearest corner, middle or place within 45° of a direction. */
function findNextMark(from: Point, [dx, dy]: Point, { floor, snapping }: ToolContext, { except }: Ask): Point | null {
  const index = getSnapIndex(floor);
  for (const reach of REACHES) {
    let best: Point | null = null;
    let least: number = reach;
    index.visitMarks(boxAbout(from, reach, reach), (at, _kind, owner) => {
      if (except?.has(owner.id) || snapping.hidden.has(owner.kind)) return;
      const [x, y] = [at[0] - from[0], at[1] - from[1]];
      const ahead = x * dx + y * dy;
      const aside = Math.abs(x * dy - y * dx);
      const far = Math.hypot(x, y);
      if (ahead <= ON || aside > ahead || far >= least) return;
      least = far;
      best = at;
    });
    if (best !== null) return best;
  }
  return null;
}

const ON_KINDS: ReadonlySet<SnapKind> = new Set<SnapKind>(['first corner', 'tile', 'corner', 'midpoint', 'edge']);

/** A hand that keys have put somewhere, with what it stands on. */
export function describeHand(at: Point, { floor, snapping }: ToolContext, ask: Ask = {}): Hand {
  const settings = { ...snapping, tolerance: 1 };
  const kinds = new Set([...ON_KINDS].filter((kind) => ask.kinds?.has(kind) ?? true));
  const snap = snapPoint(floor, settings, { ...ask, at, metresPerPixel: ON, kinds });
  const stands = distance(snap.at, at) <= ON;
  // On something the hand takes its exact place, in the open it keeps its own.
  return stands && snap.kind !== null
    ? { at: snap.at, words: snap.words, guides: snap.guides, by: 'keys' }
    : restHand(at, 'keys');
}
