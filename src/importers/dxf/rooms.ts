/** Rooms drawn as outlines, what stands in them as holes, and their names. Metres. */
import type { Point, Ring } from '../../core/floor/index.ts';
import { type Box, computeBox, computeSignedArea, isInRing } from '../../core/geometry/polygon.ts';
import type { DrawnLabel, DrawnRoom, DrawnWall } from '../storey.ts';
import { closeLoops } from './loops.ts';
import type { Remarks } from './remarks.ts';
import type { Label, Sorted } from './sorted.ts';
import { toRing } from './walls.ts';

/** Outlines on a layer of rooms smaller than this are marks or symbols, m². */
const SMALLEST = 0.5;
/** More outlines than this are not compared with each other. */
const MOST_ROOMS = 5000;

interface Outline {
  readonly key: string;
  readonly ring: Ring;
  readonly box: Box;
  readonly area: number;
  readonly holes: Ring[];
  standing: 'read' | 'guessed';
}

export interface Rooms {
  readonly rooms: readonly DrawnRoom[];
  readonly labels: readonly DrawnLabel[];
  /** Obstacles in no room: solid all the same. */
  readonly walls: readonly DrawnWall[];
}

export function findRooms(
  sorted: Sorted,
  gap: number,
  ceiling: number | null,
  isAnswered: (layer: string) => boolean,
  remarks: Remarks,
): Rooms {
  const outlines = listOutlines(sorted, gap, isAnswered, remarks);
  const kept = nest(outlines, remarks);
  const walls: DrawnWall[] = [];
  for (const { key, points } of closeLoops(sorted.items.get('obstacle') ?? [], gap).loops) {
    const ring = toRing(points);
    if (ring === null) continue;
    const room = kept.find((outline) => isWithin(ring, outline));
    if (room === undefined) walls.push({ kind: 'footprint', key, outline: ring, base: 0, top: null });
    else if (!room.holes.some((hole) => isSameRing(hole, ring))) room.holes.push(ring);
  }
  const names = new Map<Outline, Label[]>();
  const labels: DrawnLabel[] = [];
  for (const label of [...sorted.labels].sort((a, b) => rank(b) - rank(a))) {
    if (!isName(label.text)) continue;
    const room = kept.find((outline) => holds(outline, label.at));
    if (room === undefined) {
      labels.push({ key: label.key, text: label.text, at: label.at });
      continue;
    }
    const list = names.get(room);
    if (list === undefined) names.set(room, [label]);
    else list.push(label);
  }
  const rooms = kept.map(
    (outline): DrawnRoom => ({
      key: outline.key,
      name: nameOf(names.get(outline) ?? []),
      outline: outline.ring,
      holes: outline.holes,
      ceiling,
      standing: outline.standing,
    }),
  );
  return { rooms, labels, walls };
}

function listOutlines(
  sorted: Sorted,
  gap: number,
  isAnswered: (layer: string) => boolean,
  remarks: Remarks,
): Outline[] {
  const { loops, rest } = closeLoops(sorted.items.get('room') ?? [], gap);
  const outlines: Outline[] = [];
  for (const { key, points, items } of loops) {
    if (
      items.every(({ entity }) => entity === 'HATCH') &&
      loops.some((loop) => loop.items.some(({ entity }) => entity !== 'HATCH'))
    )
      continue;
    const ring = toRing(points);
    const area = ring === null ? 0 : Math.abs(computeSignedArea(ring));
    if (ring === null || area < SMALLEST) {
      remarks.add('left out', 'outlines on layers of rooms', `they hold less than ${SMALLEST} m²`, {
        key,
        name: '',
        at: pointOf(points),
      });
      continue;
    }
    const box = computeBox(ring);
    if (outlines.some((other) => isSameBox(other.box, box) && Math.abs(other.area - area) < 0.01 * area)) continue;
    const standing = items.every(({ layer }) => isAnswered(layer)) ? 'read' : 'guessed';
    outlines.push({ key, ring, box, area, holes: [], standing });
    if (outlines.length >= MOST_ROOMS) break;
  }
  for (const item of rest)
    remarks.add('left out', 'open lines on layers of rooms', 'a room is a closed outline', {
      key: item.key,
      name: item.entity,
      at: pointOf(item.points),
    });
  return outlines;
}

/** Outlines in outlines: one drawn round most of what it holds is no room; a room that stands in another is its hole too. */
function nest(outlines: readonly Outline[], remarks: Remarks): readonly Outline[] {
  // Smallest first, so that a word lies in the innermost.
  const byArea = [...outlines].sort((a, b) => a.area - b.area);
  const kept: Outline[] = [];
  for (const [i, outline] of byArea.entries()) {
    const inside = byArea.slice(0, i).filter((other) => isWithin(other.ring, outline));
    const direct = inside.filter(
      (other) =>
        !inside.some((between) => between !== other && between.area > other.area && isWithin(other.ring, between)),
    );
    const covered = direct.reduce((sum, other) => sum + other.area, 0);
    if (covered > 0.5 * outline.area) {
      remarks.add('left out', 'outlines round other rooms', 'most of what they hold are rooms of their own', {
        key: outline.key,
        name: '',
        at: outline.ring[0] ?? null,
      });
      continue;
    }
    outline.holes.push(...direct.filter((other) => kept.includes(other)).map(({ ring }) => ring));
    kept.push(outline);
  }
  return kept;
}

function isWithin(ring: Ring, outline: Outline): boolean {
  const box = computeBox(ring);
  if (
    box.minX < outline.box.minX ||
    box.maxX > outline.box.maxX ||
    box.minY < outline.box.minY ||
    box.maxY > outline.box.maxY
  )
    return false;
  return ring.every(([x, y]) => isInRing(outline.ring, x, y)) && !isSameRing(ring, outline.ring);
}

function isSameRing(a: Ring, b: Ring): boolean {
  return (
    isSameBox(computeBox(a), computeBox(b)) &&
    Math.abs(Math.abs(computeSignedArea(a)) - Math.abs(computeSignedArea(b))) < 0.001
  );
}

function isSameBox(a: Box, b: Box): boolean {
  return (
    Math.abs(a.minX - b.minX) + Math.abs(a.minY - b.minY) + Math.abs(a.maxX - b.maxX) + Math.abs(a.maxY - b.maxY) <
    0.004
  );
}

function holds(outline: Outline, [x, y]: Point): boolean {
  const { box } = outline;
  if (x < box.minX || x > box.maxX || y < box.minY || y > box.maxY) return false;
  return isInRing(outline.ring, x, y) && !outline.holes.some((hole) => isInRing(hole, x, y));
}

function pointOf(points: readonly number[]): Point {
  return [points[0] ?? 0, points[1] ?? 0];
}

/** The likelier a room's name the higher: lies on a layer for names, has letters, is written large. */
function rank({ meant, text, size }: Label): number {
  return (meant ? 200 : 0) + (/\p{L}{2}/u.test(text) ? 100 : 0) + Math.min(size, 50);
}

/** Areas, lengths and single signs are no names of rooms. */
function isName(text: string): boolean {
  const line = text.trim();
  if (line === '' || line.length > 80 || /^[{[]|=/.test(line)) return false;
  if (!/[\p{L}\d]/u.test(line)) return false;
  return line.split('\n').some((part) => !isMeasure(part));
}

function isMeasure(text: string): boolean {
  return (
    /^[^\p{L}]*[\d.,]+\s*(m|mm|cm|qm|sqm|m2|m²|㎡|sf|sq\.? ?ft|ft|"|')[²2.]*$/iu.test(text.trim()) ||
    (/^[\d\s.,'"’”/×x*+±-]+$/iu.test(text.trim()) && /[.,'"×x]/i.test(text.trim()))
  );
}

/** A room's name out of the words in it: those on layers for names before others, the largest first, areas left away. */
function nameOf(labels: readonly Label[]): string {
  const meant = labels.filter(({ meant: isMeant }) => isMeant);
  const list = meant.length > 0 ? meant : labels;
  const size = Math.max(...list.map((label) => label.size), 0);
  const lines = list
    .filter((label) => label.size >= 0.75 * size)
    .sort((a, b) => b.at[1] - a.at[1] || a.at[0] - b.at[0])
    .flatMap(({ text }) => text.split('\n').map((line) => line.trim()))
    .filter((line) => line !== '' && !isMeasure(line));
  return [...new Set(lines)].slice(0, 4).join(' ').slice(0, 120);
}
