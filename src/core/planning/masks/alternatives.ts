/** What else than a mask would keep a detector from seeing something: another place, a turn, another type. */
import type { Coverage } from '../../coverage/index.ts';
import type { Detector, DetectorTypeId, Floor, Point } from '../../floor/index.ts';
import { findRoomAt } from '../../floor/index.ts';
import { computeRingDistance } from '../../geometry/polygon.ts';
import { hangsFree } from '../question/hangs-free.ts';
import { keepsNeeds, type PeopleCost, type Trial } from './trial.ts';

export type Alternative =
  | { readonly kind: 'move'; readonly at: Point; readonly by: number; readonly cost: PeopleCost }
  | { readonly kind: 'turn'; readonly turn: number; readonly cost: PeopleCost }
  | { readonly kind: 'type'; readonly type: DetectorTypeId; readonly cost: PeopleCost };

/** Places tried around a detector, metres: as far, and in steps of half a tile. */
const WITHIN = 2.4;
const STEP = 0.3;
/** A lens is not put nearer to a wall, metres (own choice). */
const WALL_CLEARANCE = 0.3;
/** Degrees between turns that are tried. */
const TURN_STEP = 15;
/** Most places whose cost is measured: the nearest come first. */
const MOST_MEASURED = 30;

/**
 * The nearest place, the least turn and the first other type of the file that keep every need and no longer see it.
 * @param isCured would the thing no longer be seen? Asked of the coverage with the change made
 */
export function findAlternatives(
  trial: Trial,
  index: number,
  isCured: (coverage: Coverage, changed: Detector) => boolean,
): Alternative[] {
  const { floor } = trial;
  const detector = floor.detectors[index]!;
  if (detector.locked) return [];
  const attempt = (changed: Detector): PeopleCost | null => {
    const change = new Map([[index, changed]]);
    if (!isCured(trial.show(change), changed)) return null;
    const cost = trial.measure(change);
    return keepsNeeds(cost) ? cost : null;
  };
  return [
    ...first(listPlaces(floor, detector), (at) => {
      const cost = attempt({ ...detector, at });
      return cost && { kind: 'move', at, by: distance(at, detector.at), cost };
    }),
    ...first(listTurns(floor, detector), (turn) => {
      const cost = attempt({ ...detector, turn });
      return cost && { kind: 'turn', turn, cost };
    }),
    ...first(
      floor.types.filter((type) => type.id !== detector.type),
      ({ id }) => {
        const cost = attempt({ ...detector, type: id });
        return cost && { kind: 'type', type: id, cost };
      },
    ),
  ];
}

function first<Each>(list: readonly Each[], read: (each: Each) => Alternative | null): Alternative[] {
  for (const each of list) {
    const found = read(each);
    if (found !== null) return [found];
  }
  return [];
}

function listPlaces(floor: Floor, detector: Detector): readonly Point[] {
  const room = findRoomAt(floor.rooms, detector.at);
  if (room === undefined) return [];
  const [pu, pv] = room.tiles?.pitch ?? [STEP, STEP];
  const angle = ((room.tiles?.turn ?? 0) * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const places: Point[] = [];
  for (let i = -Math.ceil(WITHIN / pu); i <= Math.ceil(WITHIN / pu); i++) {
    for (let j = -Math.ceil(WITHIN / pv); j <= Math.ceil(WITHIN / pv); j++) {
      const [u, v] = [i * pu, j * pv];
      const at: Point = [toMillimetres(detector.at[0] + c * u - s * v), toMillimetres(detector.at[1] + s * u + c * v)];
      if ((i !== 0 || j !== 0) && distance(at, detector.at) <= WITHIN + 1e-9) places.push(at);
    }
  }
  const rings = [room.outline, ...room.holes];
  return places
    .filter((at) => findRoomAt(floor.rooms, at) === room)
    .filter((at) => rings.every((ring) => computeRingDistance(ring, ...at) >= WALL_CLEARANCE))
    .filter((at) => hangsFree(floor, detector, at))
    .sort((a, b) => distance(a, detector.at) - distance(b, detector.at) || a[1] - b[1] || a[0] - b[0])
    .slice(0, MOST_MEASURED);
}

/** Turning changes what a rectangle sees, and where masks lie. */
function listTurns(floor: Floor, detector: Detector): readonly number[] {
  const type = floor.types.find((each) => each.id === detector.type);
  if (!type?.ranges.some((range) => 'length' in range)) return [];
  const steps = Array.from({ length: 180 / TURN_STEP - 1 }, (_, k) => (k + 1) * TURN_STEP);
  return steps
    .flatMap((by) => [by, -by])
    .sort((a, b) => Math.abs(a) - Math.abs(b))
    .map((by) => (((detector.turn + by) % 360) + 360) % 360);
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function toMillimetres(metres: number): number {
  return Math.round(metres * 1000) / 1000;
}
