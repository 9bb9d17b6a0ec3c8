/** What the select tool can have in hand: things being moved, a handle being dragged, a frame being drawn. */
import type { Floor, Point, Ring } from '../../core/floor/index.ts';
import { along, distance, finePoint, rectangleAbout, SAME, subtract } from '../edits/plane.ts';
import { findWallNear } from '../edits/walls.ts';
import { goFrom, measureDirection } from '../snapping/plan.ts';
import { findThing, placeOf, type Thing } from '../things.ts';
import { readTyped } from './entry.ts';
import { type Ask, HANGING } from './hand.ts';
import { askForHandle, directionOf, dragHandle, moveEdge, resizeTo, sizeOf, turnTo } from './handle-drags.ts';
import type { Intent } from './intent.ts';
import type { Handle } from './select-handles.ts';
import type { ToolContext } from './tool.ts';

export type Act =
  /** Things moved so that the place of the one in hand, the lead, goes from `from` to `to`. */
  | {
      readonly kind: 'move';
      readonly ids: readonly string[];
      readonly lead: string;
      readonly from: Point;
      readonly to: Point;
    }
  | {
      readonly kind: 'handle';
      readonly handle: Handle;
      readonly to: Point;
      readonly alone: boolean;
      readonly step: number;
    }
  | { readonly kind: 'frame'; readonly from: Point; readonly to: Point };

/** Degrees a turn is rounded to: freely, with Shift, with Ctrl. */
export const TURN_STEPS = { plain: 15, shift: 1, ctrl: 0.1 } as const;

/** A moved opening jumps to another wall nearer than this, metres. */
const WALL_REACH = 1;

/** Ids of what may be moved by hand: no group, nothing of a locked kind, no locked detector. */
export function listMovable({ floor, locked }: ToolContext, ids: readonly string[]): readonly string[] {
  return ids.filter((id) => {
    const thing = findThing(floor, id);
    if (thing === undefined || thing.kind === 'group' || locked.has(thing.kind)) return false;
    return thing.kind !== 'detector' || !thing.value.locked;
  });
}

/** Takes things in hand by one of them; null when that one may not be moved. */
export function startMove(context: ToolContext, ids: readonly string[], lead: string): Act | null {
  const movable = listMovable(context, ids);
  const thing = findThing(context.floor, lead);
  if (thing === undefined || !movable.includes(lead)) return null;
  const from = placeOf(context.floor, thing);
  return { kind: 'move', ids: movable, lead, from, to: from };
}

/** What snapping is asked while an act goes on. */
export function askForAct(act: Act | null, floor: Floor): Ask {
  if (act?.kind === 'handle') return askForHandle(floor, act.handle);
  if (act?.kind !== 'move') return { kinds: new Set() };
  const lead = findThing(floor, act.lead);
  const except = new Set(act.ids);
  // Walls of the own room draw a room's opening along; the rest of what moves draws nothing.
  if (lead === undefined || lead.kind === 'opening') return { except, kinds: new Set() };
  if (lead.kind === 'detector') return { ...HANGING, except };
  return { except, anchors: anchorsOf(lead).map((corner) => subtract(corner, act.from)) };
}

function anchorsOf(thing: Thing): Ring {
  switch (thing.kind) {
    case 'room':
    case 'furniture':
    case 'zone':
      return thing.value.outline;
    case 'luminaire':
      return rectangleAbout(thing.value.at, along(thing.value.turn), thing.value.size[0], thing.value.size[1]);
    default:
      return [];
  }
}

/** Along x or along y alone, whichever has gone farther. */
export function lockAxis(from: Point, to: Point): Point {
  const [dx, dy] = subtract(to, from);
  return Math.abs(dx) >= Math.abs(dy) ? [to[0], from[1]] : [from[0], to[1]];
}

/** What the act asks for as it stands; null: nothing is changed. */
export function intentOfAct(act: Act, context: ToolContext): Intent | null {
  const { floor } = context;
  switch (act.kind) {
    case 'frame':
      return null;
    case 'handle':
      return dragHandle(floor, act.handle, act.to, act.alone, act.step);
    case 'move': {
      if (distance(act.from, act.to) < SAME) return null;
      const only = act.ids.length === 1 ? findThing(floor, act.lead) : undefined;
      if (only?.kind !== 'opening') return { kind: 'move', ids: act.ids, by: finePoint(subtract(act.to, act.from)) };
      return slide(act.lead, act.to, context);
    }
  }
}

/** One opening by itself stays in a wall: the one it is nearest to. */
function slide(id: string, to: Point, { file, floor, snapping }: ToolContext): Intent | null {
  const opening = floor.openings.find((each) => each.id === id);
  const near = findWallNear(file, to, WALL_REACH);
  if (opening === undefined || near === undefined) return null;
  const width = distance(opening.from, opening.to);
  const most = near.wall.length - width;
  if (most < 0) return null;
  const start = Math.min(most, Math.max(0, near.along - width / 2));
  const round = (value: number): number => Math.round(value / snapping.grid) * snapping.grid;
  // Round from the nearer corner.
  const rounded = start <= most / 2 ? round(start) : most - round(most - start);
  const { roomId, ring, edge } = near.wall;
  return { kind: 'slide', id, wall: { roomId, ring, edge }, along: Math.min(most, Math.max(0, rounded)) };
}

/** What a typed text with an act in hand asks for, or what would be right. */
export function readAct(
  act: Act,
  text: string,
  { floor, units }: Pick<ToolContext, 'floor' | 'units'>,
): { readonly intent: Intent | null } | { readonly remedy: string } {
  const read = readTyped(text, units);
  if (!read.ok) return { remedy: read.remedy };
  const { numbers, angle } = read;
  const [a, b, more] = numbers;
  if (more !== undefined) return { remedy: 'Write one number or two.' };
  if (act.kind === 'move') {
    if (a !== undefined && b !== undefined && angle === null) return { intent: moveBy(act, [a, b]) };
    if (a === undefined || b !== undefined)
      return { remedy: 'Write how far, such as 1.2 or 1.2 @90, or along x and y, such as 1.2 0.4.' };
    const towards = angle ?? (distance(act.from, act.to) < SAME ? 0 : measureDirection(act.from, act.to));
    return { intent: moveBy(act, subtract(goFrom(act.from, towards, a), act.from)) };
  }
  return act.kind === 'handle' ? readHandle(act, a, b, angle, floor) : { remedy: 'Let go of the frame first.' };
}

function moveBy({ ids }: Extract<Act, { readonly kind: 'move' }>, by: Point): Intent | null {
  return Math.hypot(by[0], by[1]) < SAME ? null : { kind: 'move', ids, by: finePoint(by) };
}

function readHandle(
  { handle, to, alone, step }: Extract<Act, { readonly kind: 'handle' }>,
  a: number | undefined,
  b: number | undefined,
  angle: number | null,
  floor: Floor,
): { readonly intent: Intent | null } | { readonly remedy: string } {
  const single = b === undefined ? (a ?? null) : null;
  switch (handle.part) {
    case 'corner': {
      if (a !== undefined && b !== undefined && angle === null)
        return { intent: dragHandle(floor, handle, [a, b], alone, step) };
      if (single === null) return { remedy: 'Write its place, such as 3.2 4.5, or how far, such as 0.5 or 0.5 @90.' };
      const towards = angle ?? (distance(handle.at, to) < SAME ? 0 : measureDirection(handle.at, to));
      return { intent: dragHandle(floor, handle, goFrom(handle.at, towards, single), alone, step) };
    }
    case 'edge':
      if (single === null || angle !== null)
        return { remedy: 'Write how far out of the room, such as 0.5; −0.5 is into it.' };
      return { intent: moveEdge(floor, handle, single, alone) };
    case 'box':
    case 'side': {
      const { length, width } = sizeOf(floor, handle);
      const isAcross = handle.part === 'side' && handle.index % 2 === 0;
      if (
        a === undefined ||
        angle !== null ||
        (handle.part === 'side' && b !== undefined) ||
        !(a > 0) ||
        !((b ?? 1) > 0)
      )
        return {
          remedy:
            handle.part === 'side' ? 'Write the new size, such as 1.6.' : 'Write length and width, such as 1.6 0.8.',
        };
      return { intent: isAcross ? resizeTo(handle, length, a) : resizeTo(handle, a, b ?? width) };
    }
    case 'end': {
      const opening = floor.openings.find((each) => each.id === handle.id);
      if (opening === undefined || single === null || angle !== null || !(single > 0))
        return { remedy: 'Write the width, such as 0.9.' };
      const [fixed, moved] = handle.index === 0 ? [opening.to, opening.from] : [opening.from, opening.to];
      return { intent: dragHandle(floor, handle, goFrom(fixed, measureDirection(fixed, moved), single), alone, step) };
    }
    case 'turn': {
      const degrees = angle ?? single;
      if (degrees === null || (angle !== null && a !== undefined)) return { remedy: 'Write a direction, such as 90.' };
      return { intent: turnTo(floor, handle, degrees) };
    }
  }
}

/** A handle turned by keys, degrees. */
export function turnHandleBy(
  { handle }: Extract<Act, { readonly kind: 'handle' }>,
  floor: Floor,
  degrees: number,
): Intent | null {
  return turnTo(floor, handle, directionOf(floor, handle.id) + degrees);
}

/** Ids of what lies wholly in a frame, by its outline or its place. */
export function listInFrame(
  floor: Floor,
  a: Point,
  b: Point,
  hidden: ToolContext['snapping']['hidden'],
): readonly string[] {
  const [x0, x1] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
  const [y0, y1] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
  const holds = ([x, y]: Point): boolean => x >= x0 && x <= x1 && y >= y0 && y <= y1;
  const ids = <Item extends { readonly id: string }>(
    kind: Thing['kind'],
    items: readonly Item[],
    points: (item: Item) => readonly Point[],
  ): string[] => (hidden.has(kind) ? [] : items.filter((item) => points(item).every(holds)).map(({ id }) => id));
  const at = (item: { readonly at: Point }) => [item.at];
  return [
    ...ids('furniture', floor.furniture, ({ outline }) => outline),
    ...ids('luminaire', floor.luminaires, at),
    ...ids('zone', floor.zones, ({ outline }) => outline),
    ...ids('source', floor.sources, at),
    ...ids('opening', floor.openings, ({ from, to }) => [from, to]),
    ...ids('workplace', floor.workplaces, at),
    ...ids('detector', floor.detectors, at),
  ];
}
