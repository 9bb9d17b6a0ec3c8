/** Rooms found from walls: what their footprints and lines enclose, gaps closed, openings shut. */
import type { Point, Ring } from '../../core/floor/index.ts';
import type { DrawnOpening, DrawnWall } from '../storey.ts';
import {
  type Area,
  areaOf,
  areaOfFace,
  type Face,
  grow,
  growLines,
  listFaces,
  measureFace,
  type NestedFace,
  nestFaces,
  unite,
} from './region.ts';

/** Square metres: a smaller enclosed place is a shaft or a slip of the pen. */
export const LEAST_ROOM = 0.5;
/** Metres: what is nowhere this wide is the inside of a wall. */
export const LEAST_WIDTH = 0.5;

export interface WallFaces {
  /** Enclosed places large enough to be rooms. What stands free in them and encloses a room is a hole. */
  readonly rooms: readonly Face[];
  /** Enclosed places too small or narrow to be rooms. */
  readonly small: readonly Face[];
  /** Wall that stands free in a room and encloses none. */
  readonly free: readonly Face[];
}

/**
 * What walls enclose. Everything is grown by half the gap, so that ends which nearly meet do meet; what is enclosed is grown
 * back, which restores straight walls exactly. The outer face is no room.
 * @param gap metres; ends closer than this count as joined
 */
export function findWallFaces(walls: readonly DrawnWall[], openings: readonly DrawnOpening[], gap: number): WallFaces {
  const half = Math.max(gap, 0.002) / 2;
  const lines = walls.filter((wall) => wall.kind === 'line').map(({ from, to }): [Point, Point] => [from, to]);
  const solid = areaOf([
    ...walls.filter((wall) => wall.kind === 'footprint').map(({ outline }) => outline),
    ...openings.map(shutOpening).filter((ring) => ring !== undefined),
  ]);
  return sortFaces(unite(grow(solid, half), growLines(lines, half)), half);
}

/** The rectangle that shuts an opening: as thick as its wall, a thin strip where that is not known. */
function shutOpening({ from, to, depth }: DrawnOpening): Ring | undefined {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const width = Math.hypot(dx, dy);
  if (!(width > 0)) return undefined;
  const half = Math.max(depth ?? 0, 0.02) / 2 / width;
  const [nx, ny] = [-dy * half, dx * half];
  return [
    [from[0] - nx, from[1] - ny],
    [to[0] - nx, to[1] - ny],
    [to[0] + nx, to[1] + ny],
    [from[0] + nx, from[1] + ny],
  ];
}

function sortFaces(grown: Area, half: number): WallFaces {
  const rooms: Face[] = [];
  const small: Face[] = [];
  const free: Face[] = [];
  const restore = (ring: Ring, by: number): readonly Face[] => listFaces(grow(areaOf([ring]), by));

  /** @returns whether something in the piece is a room */
  const visit = (piece: NestedFace): boolean => {
    let enclosesRoom = false;
    for (const { ring, islands } of piece.holes) {
      const outline = restore(ring, half)[0]?.outline;
      if (outline === undefined) continue;
      const holes: Ring[] = [];
      const standing: Face[] = [];
      for (const island of islands) {
        const isCore = visit(island);
        const own = restore(island.outline, -half);
        if (isCore) holes.push(...own.map((face) => face.outline));
        else standing.push(...own);
      }
      const face = { outline, holes };
      if (isRoom(face)) {
        enclosesRoom = true;
        rooms.push(face);
        free.push(...standing);
      } else small.push(face);
    }
    return enclosesRoom;
  };
  for (const piece of nestFaces(grown)) visit(piece);
  return { rooms, small, free };
}

function isRoom(face: Face): boolean {
  return measureFace(face) >= LEAST_ROOM && grow(areaOfFace(face), -LEAST_WIDTH / 2).length > 0;
}
