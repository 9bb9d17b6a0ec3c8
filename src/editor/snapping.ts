/**
 * Where a hand comes to rest: of everything near the place it points at, the one thing it most likely means.
 *
 * The order is fixed (`SNAP_KINDS`). Points come first, then lines; two lines that cross nearby give their crossing, one
 * line alone is followed in steps of the grid, and where nothing is near the grid itself counts. A query asks trees of
 * boxes and looks at what lies near, whatever the size of the floor.
 */
import { type Floor, findRoomAt, type Point, type Room } from '../core/floor/index.ts';
import { along, distance, finePoint } from './edits/plane.ts';
import { boxAbout, roundToGrid } from './snapping/plan.ts';
import { getSnapIndex } from './snapping/snap-index.ts';
import type { Snap, SnapKind, SnapRequest, SnapSettings, Wants } from './snapping/snap-kinds.ts';
import { findLines, type SnapLine } from './snapping/snap-lines.ts';
import { visitUnderLines } from './snapping/under-lines.ts';
import type { Guide, GuideMark } from './tools/guide.ts';

/** Two lines that meet at less than this sine of an angle have no useful crossing. */
const LEAST_CROSSING = 0.17;

/** Finds where the hand comes to rest. The same request on the same floor gives the same answer. */
export function snapPoint(floor: Floor, settings: SnapSettings, request: SnapRequest): Snap {
  const wants: Wants = (kind) => settings.to.has(kind) && (request.kinds?.has(kind) ?? true);
  const tolerance = settings.tolerance * request.metresPerPixel;
  const { at, first } = request;
  if (first !== undefined && wants('first corner') && distance(first, at) <= tolerance)
    return rest(first, 'first corner', 'the first corner', null, 'corner');
  if (request.tiles !== undefined && wants('tile')) {
    const room = findRoomAt(floor.rooms, at);
    if (room?.tiles !== undefined) {
      const place = snapToTile(room.tiles, at, request.tiles);
      return rest(place, 'tile', 'tile', room.id, 'tile', [{ kind: 'tiles', room: room.id, at: place }]);
    }
  }
  const found =
    findPoint(floor, settings, request, tolerance, wants) ?? findOnLines(floor, settings, request, tolerance, wants);
  if (found !== null) return found;
  return wants('grid')
    ? rest(roundToGrid(at, settings.grid), 'grid', '', null, 'hand')
    : rest(finePoint(at), null, '', null, 'hand');
}

function findPoint(
  floor: Floor,
  { hidden, under }: SnapSettings,
  { at, except, tally }: SnapRequest,
  tolerance: number,
  wants: Wants,
): Snap | null {
  const index = getSnapIndex(floor);
  const box = boxAbout(at, tolerance, tolerance);
  const found: Snap[] = [];
  let least = tolerance;
  const offer = (place: Point, kind: SnapKind, words: string, about: string | null, mark: GuideMark): void => {
    const far = distance(place, at);
    // Of equals the first met stays.
    if (far > tolerance || (found.length > 0 && far >= least - 1e-9)) return;
    least = far;
    found[0] = rest(place, kind, words, about, mark);
  };
  if (wants('corner')) {
    index.visitMarks(box, (place, kind, owner) => {
      if (tally !== undefined) tally.looked += 1;
      if (except?.has(owner.id) || hidden.has(owner.kind)) return;
      const words = kind === 'place' ? owner.name : `${kind === 'corner' ? 'corner' : 'middle'} of ${owner.name}`;
      offer(place, 'corner', words, owner.id, kind === 'corner' ? 'corner' : 'centre');
    });
  }
  if (found.length === 0 && wants('corner'))
    visitUnderLines(under, box, (a, b) => {
      for (const end of [a, b]) offer(finePoint(end), 'corner', 'end of a line of the picture', null, 'corner');
    });
  if (found.length === 0 && wants('midpoint')) {
    index.visitEdges(box, (a, b, owner) => {
      if (tally !== undefined) tally.looked += 1;
      if (except?.has(owner.id) || hidden.has(owner.kind)) return;
      const middle = finePoint([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]);
      offer(middle, 'midpoint', `middle of an edge of ${owner.name}`, owner.id, 'midpoint');
    });
  }
  return found[0] ?? null;
}

function findOnLines(
  floor: Floor,
  settings: SnapSettings,
  request: SnapRequest,
  tolerance: number,
  wants: Wants,
): Snap | null {
  const lines = findLines(floor, settings, request, tolerance, wants);
  const [best] = lines;
  if (best === undefined) return null;
  if (wants('crossing')) {
    for (const other of lines) {
      const crossing = crossLines(best, other);
      if (crossing === null || distance(crossing, request.at) > tolerance * 1.5) continue;
      const place = finePoint(crossing);
      return rest(place, 'crossing', `${best.words}, ${other.words}`, best.about ?? other.about, 'crossing', [
        ...helpLine(best, place),
        ...helpLine(other, place),
      ]);
    }
  }
  const place = finePoint(followLine(best, request, wants('grid') ? settings.grid : null));
  const mark = best.kind === 'edge' ? 'edge' : best.kind === 'centre line' ? 'centre' : 'hand';
  return rest(place, best.kind, best.words, best.about, mark, helpLine(best, place));
}

function helpLine(line: SnapLine, to: Point): Guide[] {
  return line.kind === 'edge' ? [] : [{ kind: 'line', style: 'help', from: line.from, to }];
}

/** Where two lines cross, null where they hardly do or where one of them has ended. */
function crossLines(a: SnapLine, b: SnapLine): Point | null {
  const sine = a.dx * b.dy - a.dy * b.dx;
  if (Math.abs(sine) < LEAST_CROSSING) return null;
  const [x, y] = [b.from[0] - a.from[0], b.from[1] - a.from[1]];
  const onA = (x * b.dy - y * b.dx) / sine;
  const onB = (x * a.dy - y * a.dx) / sine;
  if (!isOn(a, onA) || !isOn(b, onB)) return null;
  const place: [number, number] = [a.from[0] + onA * a.dx, a.from[1] + onA * a.dy];
  // A line parallel to an axis keeps its own coordinate to the last digit.
  for (const line of [b, a]) {
    if (line.dx === 0) place[0] = line.from[0];
    if (line.dy === 0) place[1] = line.from[1];
  }
  return place;
}

function isOn({ length }: SnapLine, metres: number): boolean {
  return length === null || (metres >= -1e-9 && metres <= length + 1e-9);
}

/** The place on a line nearest to the hand, in steps of the grid where there is one. */
function followLine({ kind, from, dx, dy, length }: SnapLine, { at, origin }: SnapRequest, grid: number | null): Point {
  const clip = (metres: number): number => (length === null ? metres : Math.min(length, Math.max(0, metres)));
  const put = (metres: number): Point => [from[0] + clip(metres) * dx, from[1] + clip(metres) * dy];
  const foot = (at[0] - from[0]) * dx + (at[1] - from[1]) * dy;
  if (grid === null) return put(foot);
  const round = (value: number): number => Math.round(value / grid) * grid;
  // From a corner lengths are round, elsewhere coordinates are.
  if (kind === 'right angle' && origin !== undefined) return put(round(foot));
  if (dy === 0) return put((round(at[0]) - from[0]) * dx);
  if (dx === 0) return put((round(at[1]) - from[1]) * dy);
  return put(round(foot));
}

function rest(
  at: Point,
  kind: SnapKind | null,
  words: string,
  about: string | null,
  mark: GuideMark,
  guides: readonly Guide[] = [],
): Snap {
  const said = words === '' || kind === 'tile' ? {} : { words };
  return { at, kind, words, about, guides: [...guides, { kind: 'mark', mark, at, ...said }] };
}

/**
 * The place of a ceiling grid nearest to `at` for something that is so many tiles long and wide: the middle of a tile
 * for an odd number, a joint for an even one.
 */
export function snapToTile(
  tiles: NonNullable<Room['tiles']>,
  at: Point,
  span: readonly [number, number] = [1, 1],
): Point {
  const [c, s] = along(tiles.turn);
  const [dx, dy] = [at[0] - tiles.origin[0], at[1] - tiles.origin[1]];
  const nearest = (value: number, pitch: number, long: number): number =>
    long % 2 === 0 ? Math.round(value / pitch) * pitch : (Math.floor(value / pitch) + 0.5) * pitch;
  const u = nearest(c * dx + s * dy, tiles.pitch[0], span[0]);
  const v = nearest(c * dy - s * dx, tiles.pitch[1], span[1]);
  return finePoint([tiles.origin[0] + c * u - s * v, tiles.origin[1] + s * u + c * v]);
}
