/** Where a detector is set out from: two walls with a tape, and the ceiling tile it sits in. Metres. */
import { type Detector, type Floor, findRoomAt, type Point, type Room } from '../core/floor/index.ts';
import { cutEdge, type Gap, listGaps, type WallEdge } from '../core/sight/index.ts';

export interface WallMeasure {
  /** Where the wall is met, square to it. */
  readonly foot: Point;
  readonly metres: number;
  /** On which side the wall stands: `north`, `south-east` … by the floor's own north. */
  readonly side: string;
  /** A door or passage cuts the wall just there: the tape goes to the line of the wall beside it. */
  readonly isAtOpening: boolean;
}

/** Walls shorter than this are measured from only where there is no longer one, metres. */
const SHORT = 0.5;
/** The second wall is turned from the first by at least 30°: a shallower crossing is no good place. */
const LEAST_CROSSING = 0.5;

const WINDS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'] as const;

interface Reach extends WallMeasure {
  readonly ux: number;
  readonly uy: number;
  readonly isShort: boolean;
}

/** Measures detectors of one floor; its openings are read once. */
export function createSetOut(floor: Floor): (detector: Detector) => readonly WallMeasure[] {
  const gaps = listGaps(floor).filter((gap) => gap.opening.kind !== 'window');
  return (detector) => measureFromWalls(floor, gaps, detector.at);
}

/**
 * The nearest wall of the room and the nearest that crosses it; fewer where there is none, or outside every room. A wall is
 * measured square to it, and not where another wall stands between; where a door or passage cuts it only when there is no other.
 */
function measureFromWalls(floor: Floor, gaps: readonly Gap[], at: Point): readonly WallMeasure[] {
  const room = findRoomAt(floor.rooms, at);
  if (room === undefined) return [];
  const edges = listEdges(floor, room);
  const reaches = edges
    .flatMap((edge) => reachWall(edge, at, floor.north, gaps))
    .sort((a, b) => a.metres - b.metres)
    .filter((reach) => !edges.some((edge) => crosses(edge, at, reach.foot)));
  const preferred = reaches.toSorted(
    (a, b) => Number(a.isAtOpening) - Number(b.isAtOpening) || Number(a.isShort) - Number(b.isShort),
  );
  const first = preferred[0];
  if (first === undefined) return [];
  const second = preferred.find(({ ux, uy }) => Math.abs(ux * first.uy - uy * first.ux) >= LEAST_CROSSING);
  return second === undefined ? [first] : [first, second];
}

function listEdges(floor: Floor, room: Room): WallEdge[] {
  const index = floor.rooms.indexOf(room);
  return [room.outline, ...room.holes].flatMap((ring) =>
    ring.map((a, k): WallEdge => ({ a, b: ring[(k + 1) % ring.length] ?? a, room: index })),
  );
}

function reachWall(edge: WallEdge, at: Point, north: number, gaps: readonly Gap[]): Reach[] {
  const { a, b } = edge;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const along = (at[0] - a[0]) * ux + (at[1] - a[1]) * uy;
  if (along < -1e-9 || along > length + 1e-9) return [];
  const part = along / length;
  const isCut = gaps.some((gap) => {
    const span = cutEdge(gap, edge);
    return span !== null && part > span[0] && part < span[1];
  });
  const foot: Point = [a[0] + ux * along, a[1] + uy * along];
  const metres = Math.hypot(foot[0] - at[0], foot[1] - at[1]);
  return [
    {
      foot,
      metres,
      side: windOf(foot[0] - at[0], foot[1] - at[1], north),
      isAtOpening: isCut,
      ux,
      uy,
      isShort: length < SHORT,
    },
  ];
}

/** The wind a direction of the plan points to. @param north degrees counter-clockwise from +x */
export function windOf(dx: number, dy: number, north: number): string {
  const bearing = north - (Math.atan2(dy, dx) * 180) / Math.PI;
  return WINDS[((Math.round(bearing / 45) % 8) + 8) % 8] ?? 'north';
}

/** Whether an edge cuts a line short of its end. */
function crosses({ a, b }: WallEdge, from: Point, to: Point): boolean {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
  const turn = dx * ey - dy * ex;
  if (Math.abs(turn) < 1e-12) return false;
  const t = ((a[0] - from[0]) * ey - (a[1] - from[1]) * ex) / turn;
  const s = ((a[0] - from[0]) * dy - (a[1] - from[1]) * dx) / turn;
  return t > 1e-9 && t < 1 - 1e-6 && s > 1e-9 && s < 1 - 1e-9;
}

export interface TilePlace {
  /** Counted from 1 along the tiles' own axes, from the room's first column and row. */
  readonly column: number;
  readonly row: number;
  /** From the tile's middle, along its axes. */
  readonly off: Point;
}

/** The tile over a place; null where the ceiling has none. */
export function findTile(room: Room, at: Point): TilePlace | null {
  const { tiles } = room;
  if (tiles === undefined) return null;
  const turn = (tiles.turn * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const toTiles = ([x, y]: Point): Point => {
    const [dx, dy] = [x - tiles.origin[0], y - tiles.origin[1]];
    return [(dx * c + dy * s) / tiles.pitch[0], (dy * c - dx * s) / tiles.pitch[1]];
  };
  const corners = room.outline.map(toTiles);
  const first = (axis: 0 | 1) =>
    Math.floor(corners.reduce((least, corner) => Math.min(least, corner[axis]), Infinity) + 1e-9);
  const [u, v] = toTiles(at);
  // What sits on the joint between two tiles counts to the first.
  const [i, j] = [Math.ceil(u - 1e-9) - 1, Math.ceil(v - 1e-9) - 1];
  return {
    column: i - first(0) + 1,
    row: j - first(1) + 1,
    off: [(u - i - 0.5) * tiles.pitch[0], (v - j - 0.5) * tiles.pitch[1]],
  };
}

/** `7/3` for the middle of a tile; `7/3 +0.12/−0.05` where it is off it by 5 mm or more. */
export function sayTile(tile: TilePlace | null): string | null {
  if (tile === null) return null;
  const [u, v] = tile.off;
  const place = `${tile.column}/${tile.row}`;
  if (Math.max(Math.abs(u), Math.abs(v)) < 0.005) return place;
  const signed = (value: number) => `${value < -0.004 ? '−' : '+'}${Math.abs(value).toFixed(2)}`;
  return `${place} ${signed(u)}/${signed(v)}`;
}

/** `1.85 south`: to 10 mm, as it is measured on site; `1.85 south, wall line at an opening` else. */
export function sayMeasure(measure: WallMeasure | undefined): string | null {
  if (measure === undefined) return null;
  return `${measure.metres.toFixed(2)} ${measure.side}${measure.isAtOpening ? ', wall line at an opening' : ''}`;
}
