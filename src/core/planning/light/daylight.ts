/** Daylit strips: what lies behind a window of an outer wall, as deep as daylight is counted. Metres. */
import type { Floor, Opening, Point, Room } from '../../floor/index.ts';
import { findRoomAt } from '../../floor/index.ts';

/**
 * How deep a strip is counted. 6 m from a window wall with at least 20 % glazing is "daylit" in the UK compliance guide,
 * section 12 (from the text); the share of glazing is not asked here.
 */
const DAYLIT_DEPTH_M = 6;

interface DaylightWindow {
  readonly opening: Opening;
  readonly room: Room;
  /** One end, the direction along the window, and inwards; unit vectors. */
  readonly at: Point;
  readonly along: Point;
  readonly inward: Point;
  readonly width: number;
}

export interface Daylight {
  readonly depth: number;
  readonly windows: readonly DaylightWindow[];
}

/** The windows that light a floor by day: those with a room on one side only. */
export function findDaylight(floor: Floor, depth = DAYLIT_DEPTH_M): Daylight {
  const known = knownWindows.get(floor.rooms);
  if (known?.openings === floor.openings) return { depth, windows: known.windows };
  const windows = listWindows(floor);
  knownWindows.set(floor.rooms, { openings: floor.openings, windows });
  return { depth, windows };
}

/** By the lists they follow from, which most edits leave alone. */
const knownWindows = new WeakMap<
  Floor['rooms'],
  { readonly openings: Floor['openings']; readonly windows: readonly DaylightWindow[] }
>();

function listWindows(floor: Floor): readonly DaylightWindow[] {
  return floor.openings.flatMap((opening): DaylightWindow[] => {
    if (opening.kind !== 'window') return [];
    const [x0, y0] = opening.from;
    const width = Math.hypot(opening.to[0] - x0, opening.to[1] - y0);
    const along: Point = [(opening.to[0] - x0) / width, (opening.to[1] - y0) / width];
    const left: Point = [-along[1], along[0]];
    const right: Point = [along[1], -along[0]];
    const [roomLeft, roomRight] = [left, right].map((side) => findRoomBeside(floor, opening, width, along, side));
    if ((roomLeft === undefined) === (roomRight === undefined)) return [];
    const room = roomLeft ?? roomRight;
    return room === undefined
      ? []
      : [{ opening, room, at: opening.from, along, inward: roomLeft ? left : right, width }];
  });
}

/** The room that a window's middle meets on one side, no farther than its depth and a centimetre. */
function findRoomBeside(floor: Floor, opening: Opening, width: number, along: Point, side: Point): Room | undefined {
  const reach = opening.depth / 2 + 0.01;
  for (const part of [0.5, 0.25, 0.75]) {
    for (const off of [reach / 4, reach / 2, reach]) {
      const x = opening.from[0] + part * width * along[0] + off * side[0];
      const y = opening.from[1] + part * width * along[1] + off * side[1];
      const room = findRoomAt(floor.rooms, [x, y]);
      if (room !== undefined) return room;
    }
  }
  return undefined;
}

/**
 * Whether a place lies in a daylit strip: in the room of the window, no deeper than the strip, at most a quarter of the
 * depth beside the window (own choice), with no wall between. What furniture takes away is not counted.
 */
export function isDaylit({ depth, windows }: Daylight, room: Room, [x, y]: Point): boolean {
  return windows.some((window) => {
    if (window.room !== room) return false;
    const dx = x - window.at[0];
    const dy = y - window.at[1];
    const deep = dx * window.inward[0] + dy * window.inward[1];
    const beside = dx * window.along[0] + dy * window.along[1];
    if (deep < -window.opening.depth / 2 || deep > depth + 1e-9) return false;
    if (beside < -depth / 4 - 1e-9 || beside > window.width + depth / 4 + 1e-9) return false;
    const start = window.opening.depth / 2 + 0.05;
    if (deep <= start) return true;
    const foot = Math.min(window.width - 0.01, Math.max(0.01, beside));
    const from: Point = [
      window.at[0] + foot * window.along[0] + start * window.inward[0],
      window.at[1] + foot * window.along[1] + start * window.inward[1],
    ];
    return ![room.outline, ...room.holes].some((ring) => crossesRing(ring, from, [x, y]));
  });
}

function crossesRing(ring: readonly Point[], a: Point, b: Point): boolean {
  const side = (p: Point, q: Point, r: Point) => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return ring.some((c, k) => {
    const d = ring[(k + 1) % ring.length]!;
    return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
  });
}
