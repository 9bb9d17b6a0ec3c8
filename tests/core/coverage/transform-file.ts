/** The same floor drawn elsewhere: moved, turned by quarters, mirrored, or written down another way. */
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { type Entry, rect, type XY } from '../sight/build-floor.ts';

export interface Placing {
  /** Quarter turns counter-clockwise about the origin. */
  readonly quarters?: 0 | 1 | 2 | 3;
  /** x becomes −x, before anything else. */
  readonly mirror?: boolean;
  /** Metres, after everything else. */
  readonly move?: XY;
}

export function placePoint([x, y]: XY, { quarters = 0, mirror = false, move = [0, 0] }: Placing): XY {
  let [px, py] = [mirror ? -x : x, y];
  for (let k = 0; k < quarters; k++) [px, py] = [-py, px];
  return [px + move[0], py + move[1]];
}

export function placeFile(file: FloorFile, placing: Placing): FloorFile {
  const { quarters = 0, mirror = false } = placing;
  const point = (at: XY) => placePoint(at, placing);
  const ring = (points: readonly XY[]) => points.map(point);
  const angle = (degrees: number) => (mirror ? 180 - degrees : degrees) + 90 * quarters;
  return {
    ...file,
    rooms: file.rooms.map(({ tiles: _, ...room }) => ({
      ...room,
      outline: ring(room.outline),
      holes: (room.holes ?? []).map(ring),
    })),
    openings: (file.openings ?? []).map((each) => ({ ...each, from: point(each.from), to: point(each.to) })),
    furniture: (file.furniture ?? []).map((each) => ({ ...each, outline: ring(each.outline) })),
    luminaires: (file.luminaires ?? []).map((each) => ({ ...each, at: point(each.at), turn: angle(each.turn ?? 0) })),
    workplaces: (file.workplaces ?? []).map((each) => ({ ...each, at: point(each.at) })),
    zones: (file.zones ?? []).map((zone) => ({
      ...zone,
      outline: ring(zone.outline),
      ...(zone.heading === undefined ? {} : { heading: angle(zone.heading) }),
    })),
    sources: (file.sources ?? []).map((each) => ({ ...each, at: point(each.at) })),
    detectors: file.detectors.map((detector) => ({
      ...detector,
      at: point(detector.at),
      turn: angle(detector.turn ?? 0),
      // A mask is measured from the detector's own turn: seen in a mirror it runs the other way.
      masks: (detector.masks ?? []).map((mask) => (mirror ? { ...mask, from: -mask.to, to: -mask.from } : mask)),
    })),
  };
}

/** Adds two small rooms so that the floor's box is a whole number of cells: turned, its cells land on cells. */
export function frameFile(file: FloorFile, cell: number): FloorFile {
  const xs = file.rooms.flatMap(({ outline }) => outline.map(([x]) => x));
  const ys = file.rooms.flatMap(({ outline }) => outline.map(([, y]) => y));
  const [x0, y0] = [Math.floor(Math.min(...xs)) - 1, Math.floor(Math.min(...ys)) - 1];
  const [x1, y1] = [Math.ceil(Math.max(...xs)) + 1, Math.ceil(Math.max(...ys)) + 1];
  const corner = (id: string, outline: XY[]): Entry<'rooms'> => ({ id, name: id, outline, ceiling: 2.5 });
  return {
    ...file,
    rooms: [
      ...file.rooms,
      corner('corner-low', rect(x0, y0, x0 + 0.5, y0 + 0.5)),
      corner('corner-high', rect(x1 - 0.5, y1 - 0.5, x1, y1)),
    ],
    analysis: { ...file.analysis, cell },
  };
}

/** Every ring begun at another corner and written the other way round. */
export function rewriteRings(file: FloorFile): FloorFile {
  const rewrite = (points: readonly XY[]): XY[] => [...points.slice(1), points[0]!].reverse();
  return {
    ...file,
    rooms: file.rooms.map((room) => ({
      ...room,
      outline: rewrite(room.outline),
      holes: (room.holes ?? []).map(rewrite),
    })),
    furniture: (file.furniture ?? []).map((each) => ({ ...each, outline: rewrite(each.outline) })),
    openings: (file.openings ?? []).map((each) => ({ ...each, from: each.to, to: each.from })),
  };
}

/** Every wall drawn in two pieces that share an end somewhere along it. */
export function splitWalls(file: FloorFile): FloorFile {
  const split = (points: readonly XY[]): XY[] =>
    points.flatMap(([x, y], k): XY[] => {
      const [nx, ny] = points[(k + 1) % points.length]!;
      const t = 0.3 + 0.1 * (k % 5);
      return [
        [x, y],
        [x + t * (nx - x), y + t * (ny - y)],
      ];
    });
  return { ...file, rooms: file.rooms.map((room) => ({ ...room, outline: split(room.outline) })) };
}

/** Every piece of four corners cut in two halves with a common face. */
export function splitPieces(file: FloorFile): FloorFile {
  const between = (a: XY, b: XY): XY => [a[0] + 0.37 * (b[0] - a[0]), a[1] + 0.37 * (b[1] - a[1])];
  return {
    ...file,
    furniture: (file.furniture ?? []).flatMap((piece): Entry<'furniture'>[] => {
      const [a, b, c, d] = piece.outline;
      if (piece.outline.length !== 4 || !a || !b || !c || !d || !isConvex([a, b, c, d])) return [piece];
      const [p, q] = [between(a, b), between(d, c)];
      return [
        { ...piece, outline: [a, p, q, d] },
        { ...piece, id: `${piece.id}-second`, outline: [p, b, c, q] },
      ];
    }),
  };
}

function isConvex(ring: readonly XY[]): boolean {
  const turns = ring.map(([x, y], k) => {
    const [nx, ny] = ring[(k + 1) % ring.length]!;
    const [mx, my] = ring[(k + 2) % ring.length]!;
    return (nx - x) * (my - ny) - (ny - y) * (mx - nx);
  });
  return turns.every((turn) => turn > 0) || turns.every((turn) => turn < 0);
}
