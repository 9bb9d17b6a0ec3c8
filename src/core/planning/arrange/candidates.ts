/** Places at which a detector might hang: a grid under each ceiling, less what has to stay clear. */
import type { Detector, DetectorId, DetectorType, Floor, Point, Ring, Room } from '../../floor/index.ts';
import { createBoxIndex } from '../../geometry/box-index.ts';
import { type Box, computeBox, computeRingDistance, isInRing } from '../../geometry/polygon.ts';
import { luminaireOutline } from '../../sight/index.ts';
import { type ArrangeOptions, PITCH_WITHOUT_TILES } from './options.ts';

/** The least a lens keeps from walls and from what stands at its height: nearer, a floor file is refused. */
const LEAST_CLEARANCE = 0.005;
/** A place this near to a detector that stays is taken. */
const TAKEN = 0.1;
/** More places than this are not looked at. */
export const MOST_CANDIDATES = 20_000;

/** A type of detector at a place, turned one way. */
export interface Candidate {
  readonly at: Point;
  readonly type: DetectorType;
  /** Degrees. */
  readonly turn: number;
  /** Index of its room. */
  readonly room: number;
  /** Metres from the middle of its ceiling tile or grid step, and from the nearer axis of its room: tidier is less. */
  readonly untidiness: number;
}

export interface CandidateList {
  readonly candidates: readonly Candidate[];
  /** Grid places that keep-outs take away. */
  readonly kept: number;
  /** Grid places in rooms, before keep-outs. */
  readonly places: number;
}

/** Lists every candidate of a floor, room by room, in rows. */
export function listCandidates(floor: Floor, options: ArrangeOptions, staying: readonly Detector[]): CandidateList {
  const types = options.types.flatMap((id) => floor.types.find((type) => type.id === id) ?? []);
  const candidates: Candidate[] = [];
  const tests = new Map<number, PlaceTest>();
  let kept = 0;
  let places = 0;
  floor.rooms.forEach((room, index) => {
    const grid = layGrid(room, options);
    for (const spot of grid.spots) {
      if (!isOwn(floor, index, spot.at)) continue;
      places += 1;
      let isFree = false;
      for (const type of types) {
        const height = room.ceiling - type.drop;
        if (height <= 0) continue;
        let test = tests.get(height);
        if (!test) {
          test = createPlaceTest(floor, height, options, staying);
          tests.set(height, test);
        }
        if (!test(room, spot.at)) continue;
        isFree = true;
        for (const turn of turnsOf(type, grid.axis, options.turns)) {
          candidates.push({ at: spot.at, type, turn, room: index, untidiness: spot.untidiness });
        }
      }
      if (!isFree) kept += 1;
      if (candidates.length > MOST_CANDIDATES) return;
    }
  });
  return { candidates, kept, places };
}

/** Steps off the grid: as many to each side of a place, as fine as that. Metres. */
const FINE_STEPS = 3;
const FINE_PITCH = 0.15;

/** Candidates close to chosen ones, and the chosen ones themselves: places off the grid to which they might be moved. */
export function listCandidatesAround(
  floor: Floor,
  options: ArrangeOptions,
  staying: readonly Detector[],
  chosen: readonly Candidate[],
): Candidate[] {
  const candidates: Candidate[] = [];
  const tests = new Map<number, PlaceTest>();
  for (const each of chosen) {
    const room = floor.rooms[each.room]!;
    const height = room.ceiling - each.type.drop;
    let test = tests.get(height);
    if (!test) {
      test = createPlaceTest(floor, height, options, staying);
      tests.set(height, test);
    }
    for (let j = -FINE_STEPS; j <= FINE_STEPS; j++) {
      for (let i = -FINE_STEPS; i <= FINE_STEPS; i++) {
        const at: Point = [tidy(each.at[0] + i * FINE_PITCH), tidy(each.at[1] + j * FINE_PITCH)];
        const isSame = i === 0 && j === 0;
        if (!isSame && (!isOwn(floor, each.room, at) || !test(room, at))) continue;
        candidates.push({ ...each, at, untidiness: each.untidiness + Math.hypot(i, j) * FINE_PITCH });
      }
    }
  }
  return candidates;
}

/** Candidates as detectors of a floor that is never written: what sight and coverage read. */
export function toDetectors(candidates: readonly Candidate[]): Detector[] {
  return candidates.map(({ at, type, turn }, index) => ({
    id: `candidate ${index}` as DetectorId,
    name: '',
    type: type.id,
    at,
    turn,
    reach: 1,
    status: 'new',
    locked: false,
    masks: [],
  }));
}

interface Spot {
  readonly at: Point;
  readonly untidiness: number;
}

interface Grid {
  readonly axis: number;
  readonly spots: readonly Spot[];
}

/** Is this room the first of the file that holds the place? */
function isOwn(floor: Floor, room: number, [x, y]: Point): boolean {
  const holds = (index: number) => {
    const { outline, holes } = floor.rooms[index]!;
    return isInRing(outline, x, y) && !holes.some((hole) => isInRing(hole, x, y));
  };
  if (!holds(room)) return false;
  for (let earlier = 0; earlier < room; earlier++) if (holds(earlier)) return false;
  return true;
}

function layGrid(room: Room, { grid }: ArrangeOptions): Grid {
  const { tiles } = room;
  const axis = tiles ? tiles.turn : longestEdge(room.outline);
  const angle = (axis * Math.PI) / 180;
  const [c, s] = [snap(Math.cos(angle)), snap(Math.sin(angle))];
  const own = room.outline.map(([x, y]) => [c * x + s * y, c * y - s * x] as const);
  const box = computeBox(own);
  const onTiles = grid.kind === 'tiles' && tiles !== undefined;
  const pitch = grid.kind === 'pitch' ? grid.pitch : PITCH_WITHOUT_TILES;
  const [stepU, stepV] = onTiles ? tiles.pitch : [pitch, pitch];
  const [originU, originV] = onTiles
    ? [c * tiles.origin[0] + s * tiles.origin[1], c * tiles.origin[1] - s * tiles.origin[0]]
    : [box.minX, box.minY];
  const first = (least: number, origin: number, step: number) => Math.ceil((least - origin) / step - 0.5 - 1e-9);
  const spots: Spot[] = [];
  const middleU = (box.minX + box.maxX) / 2;
  const middleV = (box.minY + box.maxY) / 2;
  for (let j = first(box.minY, originV, stepV); originV + (j + 0.5) * stepV <= box.maxY + 1e-9; j++) {
    for (let i = first(box.minX, originU, stepU); originU + (i + 0.5) * stepU <= box.maxX + 1e-9; i++) {
      const u = originU + (i + 0.5) * stepU;
      const v = originV + (j + 0.5) * stepV;
      const at: Point = [tidy(c * u - s * v), tidy(s * u + c * v)];
      spots.push({ at, untidiness: Math.min(Math.abs(u - middleU), Math.abs(v - middleV)) });
    }
    if (spots.length > 50 * MOST_CANDIDATES) break;
  }
  return { axis, spots };
}

/** Degrees of the longest edge, 0 up to but not 90: the direction of most of a room's walls. */
function longestEdge(outline: Ring): number {
  let best = 0;
  let axis = 0;
  outline.forEach(([x, y], i) => {
    const [nx, ny] = outline[(i + 1) % outline.length]!;
    const length = Math.hypot(nx - x, ny - y);
    if (length <= best + 1e-9) return;
    best = length;
    axis = (Math.atan2(ny - y, nx - x) * 180) / Math.PI;
  });
  const turned = ((axis % 90) + 90) % 90;
  return turned > 90 - 1e-6 || turned < 1e-6 ? 0 : turned;
}

const snap = (value: number) => (Math.abs(value) < 1e-12 ? 0 : value);
const tidy = (value: number) => Math.round(value * 1e6) / 1e6;

/** One turn for round ranges, which look alike from every side. */
function turnsOf(type: DetectorType, axis: number, turns: readonly number[]): number[] {
  if (type.ranges.every((row) => 'diameter' in row)) return [0];
  const wanted = turns.length === 0 ? [0] : turns;
  const turned = wanted.map((turn) => tidy((((axis + turn) % 360) + 360) % 360));
  return [...new Set(turned.map((turn) => turn % 180))];
}

type PlaceTest = (room: Room, at: Point) => boolean;

interface Obstacle {
  readonly box: Box;
  /** Metres in plan, 0 inside. */
  measure(x: number, y: number): number;
  readonly clearance: number;
}

function createPlaceTest(
  floor: Floor,
  height: number,
  { keepOuts }: ArrangeOptions,
  staying: readonly Detector[],
): PlaceTest {
  const obstacles: Obstacle[] = [];
  const addRing = (ring: Ring, clearance: number) => {
    const measure = (x: number, y: number) => (isInRing(ring, x, y) ? 0 : computeRingDistance(ring, x, y));
    obstacles.push({ box: grow(computeBox(ring), clearance), measure, clearance });
  };
  const wall = Math.max(LEAST_CLEARANCE, keepOuts.wall);
  for (const { base, top, outline } of floor.furniture) if (base <= height && height <= top) addRing(outline, wall);
  for (const { at, size, turn, base, top } of floor.luminaires) {
    if (base < height - 1e-9) addRing(luminaireOutline(at, size, turn), Math.max(LEAST_CLEARANCE, keepOuts.lamp));
    else if (base <= height && height <= top) addRing(luminaireOutline(at, size, turn), LEAST_CLEARANCE);
  }
  for (const { kind, at, radius, base } of floor.sources) {
    const clearance = kind === 'air outlet' ? keepOuts.outlet : kind === 'lamp' && base < height ? keepOuts.lamp : 0;
    if (clearance > 0) addPoint(at, clearance, kind === 'lamp' ? radius : 0);
  }
  for (const { at } of staying) addPoint(at, TAKEN, 0);
  for (const area of keepOuts.areas) addRing(area, 1e-9);
  function addPoint([px, py]: Point, clearance: number, radius: number): void {
    const reach = clearance + radius;
    obstacles.push({
      box: { minX: px - reach, minY: py - reach, maxX: px + reach, maxY: py + reach },
      measure: (x, y) => Math.max(0, Math.hypot(x - px, y - py) - radius),
      clearance,
    });
  }
  const index = createBoxIndex(obstacles.map(({ box }) => box));
  return (room, [x, y]) => {
    for (const ring of [room.outline, ...room.holes]) if (computeRingDistance(ring, x, y) < wall - 1e-9) return false;
    return !index.query({ minX: x, minY: y, maxX: x, maxY: y }, (item) => {
      const obstacle = obstacles[item]!;
      return obstacle.measure(x, y) < obstacle.clearance - 1e-9;
    });
  };
}

function grow({ minX, minY, maxX, maxY }: Box, by: number): Box {
  return { minX: minX - by, minY: minY - by, maxX: maxX + by, maxY: maxY + by };
}
