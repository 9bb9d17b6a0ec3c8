/** Walls that stand inside a room and do not bound it: they become partitions, and low walls everywhere do. */
import { LIMITS, type Ring } from '../../core/floor/index.ts';
import { computeBox, isInRing } from '../../core/geometry/polygon.ts';
import type { DrawnPiece, DrawnWall } from '../storey.ts';
import { type Account, placeOf } from './account.ts';
import {
  type Area,
  areaOf,
  areaOfFace,
  common,
  type Face,
  grow,
  growLines,
  listFaces,
  measureFace,
  subtract,
} from './region.ts';
import { middleOf } from './rooms.ts';

type Footprint = Extract<DrawnWall, { readonly kind: 'footprint' }>;

/** A wall that ends this far below the ceiling, metres, is seen over; less is a false ceiling's doing. */
const LOW_BY = 0.3;
/** A wall that begins this far above the floor, metres, lets people through below it. */
const HIGH_BASE = 0.5;
/** Wall within so many metres of a room's own edge bounds the room, whatever the outline says. */
const AT_EDGE = 0.15;
/** Thickness of a wall drawn as one line, metres: own choice. */
const LINE_THICKNESS = 0.05;
const LEAST_PARTITION = 0.3;

export interface SortedWalls {
  readonly bounding: readonly DrawnWall[];
  /** Walls that are seen over or under, as partitions. */
  readonly low: readonly DrawnPiece[];
}

/** Tells walls that bound rooms from those that end below the ceiling or begin above the floor. */
export function sortWalls(walls: readonly DrawnWall[], ceiling: number, account: Account): SortedWalls {
  const bounding: DrawnWall[] = [];
  const low: DrawnPiece[] = [];
  for (const wall of walls) {
    if (wall.kind === 'line' || ((wall.top ?? ceiling) > ceiling - LOW_BY && wall.base < HIGH_BASE)) {
      bounding.push(wall);
      continue;
    }
    if (wall.top !== null && wall.top <= 0) {
      account.add('left out', 'walls', 'They lie below the floor.', placeOf(wall, null));
      continue;
    }
    account.add(
      'taken',
      'walls',
      'They do not reach from the floor to the ceiling and are partitions now.',
      placeOf(wall, middleOf(wall)),
    );
    low.push(toPiece(wall.key, 'Low wall', wall.outline, Math.max(0, wall.base), wall.top ?? LIMITS.height));
  }
  return { bounding, low };
}

/**
 * The parts of bounding walls that stand inside rooms.
 * @param rooms the area of all rooms
 * @param free walls found standing free in a room
 */
export function findInnerWalls(
  walls: readonly DrawnWall[],
  rooms: Area,
  free: readonly Face[],
  account: Account,
): readonly DrawnPiece[] {
  const footprints = walls.filter((wall) => wall.kind === 'footprint');
  const lines = walls.filter((wall) => wall.kind === 'line');
  const pieces: DrawnPiece[] = [];
  const add = (face: Face, reason: string): void => {
    const at = middleOf(face);
    const key = keyOf(face, footprints) ?? `wall ${at[0].toFixed(2)} ${at[1].toFixed(2)}`;
    for (const [part, outline] of openRings(face).entries()) {
      const { top = null, base = 0 } = footprints.find((wall) => wall.key === key) ?? {};
      pieces.push(
        toPiece(part === 0 ? key : `${key} part ${part + 1}`, 'Partition', outline, base, top ?? LIMITS.height),
      );
    }
    account.add('guessed', 'walls', reason, { key, name: '', at });
  };
  const deep = grow(rooms, -AT_EDGE);
  if (footprints.length > 0) {
    const all = areaOf(footprints.map(({ outline }) => outline));
    const inside = common(all, grow(rooms, -0.005));
    for (const face of listFaces(common(all, deep))) {
      if (measureFace(face) < 0.01) continue;
      const whole = listFaces(common(inside, grow(areaOfFace(face), AT_EDGE)))[0];
      if (whole !== undefined) add(whole, 'They stand inside a room without bounding it and are partitions now.');
    }
  }
  const told = areaOf(pieces.map(({ outline }) => outline));
  for (const face of free) {
    const isThere = common(areaOfFace(face), told).length > 0;
    if (!isThere && measureFace(face) >= 0.002) add(face, 'They stand free in a room and are partitions now.');
  }
  if (lines.length > 0) {
    const strips = growLines(
      lines.map(({ from, to }) => [from, to]),
      LINE_THICKNESS / 2,
    );
    const known = grow(areaOf(pieces.map(({ outline }) => outline)), LINE_THICKNESS);
    for (const face of listFaces(subtract(common(strips, deep), known))) {
      const { minX, minY, maxX, maxY } = computeBox(face.outline);
      if (Math.hypot(maxX - minX, maxY - minY) < LEAST_PARTITION) continue;
      add(face, `Lines of walls end inside a room. They are partitions ${LINE_THICKNESS} m thick now; check them.`);
    }
  }
  return pieces;
}

function toPiece(key: string, name: string, outline: Ring, base: number, top: number): DrawnPiece {
  return { key, kind: 'partition', name, outline, base, top, glass: false, standing: 'read' };
}

/** The wall a face was cut from, where one is known. */
function keyOf({ outline }: Face, walls: readonly Footprint[]): string | undefined {
  const [x, y] = middleOf({ outline });
  return walls.find((wall) => isInRing(wall.outline, x, y))?.key;
}

/** A face as outlines without holes: cut through each hole, as a piece of furniture has none. */
export function openRings(face: Face, depth = 0): readonly Ring[] {
  const hole = face.holes[0];
  if (hole === undefined || depth > 12) return [face.outline];
  const { minX, minY, maxX, maxY } = computeBox(face.outline);
  const inner = computeBox(hole);
  const x = (inner.minX + inner.maxX) / 2;
  const area = areaOfFace(face);
  const half = (from: number, to: number): Area =>
    common(
      area,
      areaOf([
        [
          [from, minY - 1],
          [to, minY - 1],
          [to, maxY + 1],
          [from, maxY + 1],
        ],
      ]),
    );
  return [half(minX - 1, x), half(x, maxX + 1)].flatMap((side) =>
    listFaces(side).flatMap((part) => openRings(part, depth + 1)),
  );
}
