/** The lines a hand can follow: edges, right angles to the last edge, extensions of edges, centre lines of rooms, alignments. */
import { type Floor, findRoomAt, type Point, type Room } from '../../core/floor/index.ts';
import { distance } from '../edits/plane.ts';
import { boxAbout, meetEdge } from './plan.ts';
import { getSnapIndex } from './snap-index.ts';
import {
  FAINT,
  SNAP_KINDS,
  SNAP_REACH,
  type SnapKind,
  type SnapRequest,
  type SnapSettings,
  type Wants,
} from './snap-kinds.ts';
import { visitUnderLines } from './under-lines.ts';

export interface SnapLine {
  readonly kind: SnapKind;
  readonly from: Point;
  /** Unit direction; exactly 0 where the line is parallel to an axis. */
  readonly dx: number;
  readonly dy: number;
  /** Metres of an edge; null: the line has no end. */
  readonly length: number | null;
  readonly words: string;
  readonly about: string | null;
  /** Metres from the hand to the line. */
  readonly far: number;
}

/** The lines within the tolerance of the hand, the one that counts most first: by kind, then the nearest. */
export function findLines(
  floor: Floor,
  settings: SnapSettings,
  request: SnapRequest,
  tolerance: number,
  wants: Wants,
): readonly SnapLine[] {
  const { at } = request;
  const lines: SnapLine[] = [];
  const offer = (line: Omit<SnapLine, 'far'>): void => {
    const far = Math.abs((at[0] - line.from[0]) * line.dy - (at[1] - line.from[1]) * line.dx);
    const isFaint = line.kind === 'extension' || line.kind === 'centre line' || line.kind === 'alignment';
    if (far <= (isFaint ? tolerance * FAINT : tolerance)) lines.push({ ...line, far });
  };
  addEdges(floor, settings, request, tolerance, wants, offer);
  if (wants('edge')) addUnder(settings, at, tolerance, offer);
  if (wants('right angle')) addRightAngles(request, offer);
  if (wants('centre line')) addCentreLines(floor, at, offer);
  if (wants('alignment')) addAlignments(floor, settings, request, tolerance * FAINT, offer);
  const rank = (line: SnapLine): number => SNAP_KINDS.indexOf(line.kind);
  return lines.sort((a, b) => rank(a) - rank(b) || a.far - b.far);
}

type Offer = (line: Omit<SnapLine, 'far'>) => void;

function addEdges(
  floor: Floor,
  { hidden }: SnapSettings,
  { at, except, tally }: SnapRequest,
  tolerance: number,
  wants: Wants,
  offer: Offer,
): void {
  if (!wants('edge') && !wants('extension')) return;
  const reach = wants('extension') ? SNAP_REACH.extension : tolerance;
  getSnapIndex(floor).visitEdges(boxAbout(at, reach, reach), (a, b, owner) => {
    if (tally !== undefined) tally.looked += 1;
    const length = distance(a, b);
    if (length === 0 || except?.has(owner.id) || hidden.has(owner.kind)) return;
    const dx = (b[0] - a[0]) / length;
    const dy = (b[1] - a[1]) / length;
    const along = (at[0] - a[0]) * dx + (at[1] - a[1]) * dy;
    const beyond = along < 0 ? -along : Math.max(0, along - length);
    if (beyond === 0) {
      if (wants('edge'))
        offer({ kind: 'edge', from: a, dx, dy, length, words: `edge of ${owner.name}`, about: owner.id });
    } else if (beyond <= SNAP_REACH.extension && wants('extension')) {
      const words = `in line with an edge of ${owner.name}`;
      offer({ kind: 'extension', from: along < 0 ? a : b, dx, dy, length: null, words, about: owner.id });
    }
  });
}

function addUnder({ under }: SnapSettings, at: Point, tolerance: number, offer: Offer): void {
  visitUnderLines(under, boxAbout(at, tolerance, tolerance), (a, b) => {
    const length = distance(a, b);
    if (length === 0) return;
    const [dx, dy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const along = (at[0] - a[0]) * dx + (at[1] - a[1]) * dy;
    if (along < 0 || along > length) return;
    offer({ kind: 'edge', from: a, dx, dy, length, words: 'line of the picture', about: null });
  });
}

/** Across and along the last edge; without one, along the axes. */
function addRightAngles({ origin, before, at }: SnapRequest, offer: Offer): void {
  if (origin === undefined || distance(origin, at) === 0) return;
  const last = before === undefined ? 0 : distance(before, origin);
  const add = (dx: number, dy: number, words: string): void => {
    offer({ kind: 'right angle', from: origin, dx: dx || 0, dy: dy || 0, length: null, words, about: null });
  };
  if (before === undefined || last === 0) {
    add(1, 0, 'level with the last corner');
    add(0, 1, 'level with the last corner');
    return;
  }
  const dx = (origin[0] - before[0]) / last;
  const dy = (origin[1] - before[1]) / last;
  add(-dy, dx, 'at a right angle to the last edge');
  add(dx, dy, 'in line with the last edge');
}

const roomAxes = new WeakMap<Room, Point>();

/** The direction of a room's longest edge, as a unit vector. */
function axisOf(room: Room): Point {
  let axis = roomAxes.get(room);
  if (axis === undefined) {
    axis = [1, 0];
    let longest = 0;
    room.outline.forEach((a, i) => {
      const b = room.outline[(i + 1) % room.outline.length] ?? a;
      const length = distance(a, b);
      if (length <= longest + 1e-9) return;
      longest = length;
      axis = [(b[0] - a[0]) / length || 0, (b[1] - a[1]) / length || 0];
    });
    roomAxes.set(room, axis);
  }
  return axis;
}

/** Halfway between the walls on either side of the hand, along and across the room. */
function addCentreLines(floor: Floor, at: Point, offer: Offer): void {
  const room = findRoomAt(floor.rooms, at);
  if (room === undefined) return;
  const [ux, uy] = axisOf(room);
  for (const [dx, dy] of [
    [ux, uy],
    [-uy || 0, ux],
  ] as const) {
    let ahead = Infinity;
    let behind = Infinity;
    for (const ring of [room.outline, ...room.holes]) {
      ring.forEach((a, i) => {
        const far = meetEdge(at, dx, dy, a, ring[(i + 1) % ring.length] ?? a);
        if (far === null) return;
        if (far >= 0) ahead = Math.min(ahead, far);
        else behind = Math.min(behind, -far);
      });
    }
    if (!Number.isFinite(ahead) || !Number.isFinite(behind)) continue;
    const by = (ahead - behind) / 2;
    const from: Point = [at[0] + by * dx, at[1] + by * dy];
    const words = `middle line of ${room.name === '' ? room.id : room.name}`;
    offer({ kind: 'centre line', from, dx: -dy || 0, dy: dx, length: null, words, about: room.id });
  }
}

/** Level with a corner, a middle or a place near by, along x and along y: of each the nearest in line, then the nearest at all. */
function addAlignments(
  floor: Floor,
  { hidden }: SnapSettings,
  { at, own, alignWith, except, tally }: SnapRequest,
  tolerance: number,
  offer: Offer,
): void {
  const index = getSnapIndex(floor);
  for (const axis of [0, 1] as const) {
    const across = axis === 0 ? 1 : 0;
    let best: { readonly at: Point; readonly words: string; readonly about: string | null } | null = null;
    let least = Infinity;
    const consider = (place: Point, words: string, about: string | null): void => {
      const off = Math.abs(place[across] - at[across]);
      const far = Math.abs(place[axis] - at[axis]);
      if (off > tolerance || far < tolerance) return;
      // A millimetre nearer in line counts as much as a metre nearer by.
      const cost = off * 1_000 + far;
      if (cost >= least) return;
      least = cost;
      best = { at: place, words, about };
    };
    for (const place of own ?? []) consider(place, 'level with a corner set', null);
    const { alignment } = SNAP_REACH;
    const box = axis === 0 ? boxAbout(at, alignment, tolerance) : boxAbout(at, tolerance, alignment);
    index.visitMarks(box, (place, _kind, owner) => {
      if (tally !== undefined) tally.looked += 1;
      if (except?.has(owner.id) || hidden.has(owner.kind) || alignWith?.has(owner.kind) === false) return;
      consider(place, `level with ${owner.name}`, owner.id);
    });
    // Assigned in a closure, which the compiler does not follow.
    const found = best as { readonly at: Point; readonly words: string; readonly about: string | null } | null;
    if (found === null) continue;
    const [dx, dy] = axis === 0 ? [1, 0] : [0, 1];
    offer({ kind: 'alignment', from: found.at, dx, dy, length: null, words: found.words, about: found.about });
  }
}
