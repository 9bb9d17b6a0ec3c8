/** Where lenses hang: in a room, below its ceiling, clear of walls and of what stands at their height. */
import { createBoxIndex } from '../geometry/box-index.ts';
import { type Box, computeBox, computeRingDistance, isInRing } from '../geometry/polygon.ts';
import { type FaultList, formatMetres, formatNumber } from './fault.ts';
import { findRoomAt } from './rooms.ts';
import type { Detector, DetectorType, Floor, Furniture, Luminaire, Point, Room } from './schema.ts';

const CLEARANCE = 0.005;
const SLACK = 1e-9;
/** Faults in which the way back to the nearest room is measured; it takes a look at every wall. */
const MEASURED = 100;

/** Something a lens keeps clear of: a room's walls, or a piece while its height is held. */
interface Neighbour {
  readonly name: string;
  readonly box: Box;
  /** Heights at which it counts. */
  readonly base: number;
  readonly top: number;
  /** Metres in plan from a point, below 0 inside. */
  measure(x: number, y: number): number;
}

/** Judges every detector, those to be removed too. The rooms must be sound, and the types exist. */
export function checkLenses(floor: Floor, faults: FaultList): void {
  const known = lastClear.get(floor.rooms);
  if (known === undefined || !staysClear(floor, known)) {
    const before = faults.count;
    checkAll(floor, faults);
    if (faults.count > before) return;
  }
  lastClear.set(floor.rooms, floor);
}

/** The floor whose lenses were last found without fault, by its rooms. */
const lastClear = new WeakMap<readonly Room[], Floor>();
/** More pieces than this that differ are judged with all others. */
const MOST_CHANGED = 100;

/**
 * Whether all lenses are clear, told from a floor in which they were: only what differs is looked at. False says no more
 * than that everything has to be judged.
 */
function staysClear(floor: Floor, known: Floor): boolean {
  if (floor.types !== known.types || floor.luminaires !== known.luminaires) return false;
  const lenses = listChanged(floor.detectors, known.detectors);
  const pieces = listChanged(floor.furniture, known.furniture);
  if (lenses.length > MOST_CHANGED || pieces.length > MOST_CHANGED) return false;
  if (lenses.length === 0 && pieces.length === 0) return true;
  const types = new Map(floor.types.map((type) => [type.id, type]));
  const isClear = ({ at: [x, y], ...detector }: Detector, among: readonly Furniture[]): boolean => {
    const near = among.filter(({ outline }) => comesNear(outline, x, y));
    if (near.length === 0 && among !== floor.furniture) return true;
    const room = findRoomAt(floor.rooms, [x, y]);
    if (room === undefined) return false;
    const height = detector.height ?? room.ceiling - (types.get(detector.type)?.drop ?? 0);
    if (height > room.ceiling + SLACK || height < 0) return false;
    const measures = near
      .filter(({ base, top }) => base <= height && height <= top)
      .map(({ outline }) => measureToPiece(outline, x, y));
    if (among === floor.furniture) {
      for (const each of floor.rooms) if (comesNear(each.outline, x, y)) measures.push(measureToWalls(each, x, y));
      for (const { base, top, ...each } of floor.luminaires) {
        if (base <= height && height <= top) measures.push(measureToLuminaire(each, x, y));
      }
    }
    return measures.every((distance) => distance >= CLEARANCE - SLACK);
  };
  return (
    lenses.every((detector) => isClear(detector, floor.furniture)) &&
    (pieces.length === 0 || floor.detectors.every((detector) => isClear(detector, pieces)))
  );
}

/** The members of a list that are not in another. */
function listChanged<T extends object>(now: readonly T[], before: readonly T[]): readonly T[] {
  if (now === before) return [];
  const were = now.length === before.length ? null : new Set(before);
  return now.filter((each, i) => (were === null ? each !== before[i] : !were.has(each)));
}

const knownBoxes = new WeakMap<readonly Point[], Box>();

/** Whether a point lies so near the box of a ring that the ring has to be measured. */
function comesNear(ring: readonly Point[], x: number, y: number): boolean {
  let box = knownBoxes.get(ring);
  if (box === undefined) {
    box = computeBox(ring);
    knownBoxes.set(ring, box);
  }
  const { minX, minY, maxX, maxY } = box;
  return x >= minX - CLEARANCE && x <= maxX + CLEARANCE && y >= minY - CLEARANCE && y <= maxY + CLEARANCE;
}

function checkAll(floor: Floor, faults: FaultList): void {
  const types = new Map(floor.types.map((type) => [type.id, type]));
  const heights = new Map<number, number>();
  let outside = 0;
  floor.detectors.forEach((detector, i) => {
    const room = findRoomAt(floor.rooms, detector.at);
    if (room === undefined) {
      // A floor without rooms has no way back, and of very many stray lenses only the first are measured.
      const isMeasured = outside++ < MEASURED && floor.rooms.length > 0;
      const far = isMeasured ? `${formatMetres(measureWayBack(floor, detector.at))} ` : '';
      const remedy = 'Move it in, or draw the room it belongs to.';
      faults.add(`detectors[${i}].at`, `is ${far}outside every room`, remedy);
      return;
    }
    const height = checkHeight(detector, types.get(detector.type), room.ceiling, `detectors[${i}]`, faults);
    if (height !== undefined) heights.set(i, height);
  });
  checkClearances(floor, heights, faults);
}

/** @returns the height of the lens, undefined when it is at fault */
function checkHeight(
  detector: Detector,
  type: DetectorType | undefined,
  ceiling: number,
  path: string,
  faults: FaultList,
): number | undefined {
  const { height } = detector;
  if (height !== undefined && height > ceiling + SLACK) {
    faults.add(
      `${path}.height`,
      `is ${formatNumber(height)} and the ceiling of its room is ${formatNumber(ceiling)}`,
      'A lens hangs at or below the ceiling.',
    );
    return undefined;
  }
  const drop = type?.drop ?? 0;
  if (height === undefined && drop > ceiling) {
    faults.add(
      `${path}.height`,
      `is left out, and the ceiling of ${formatMetres(ceiling)} less the drop of ${formatMetres(drop)} is below the floor`,
      'Give the height of the lens.',
    );
    return undefined;
  }
  return height ?? ceiling - drop;
}

/** @param heights of the lenses to judge, by the position of their detectors */
function checkClearances(floor: Floor, heights: ReadonlyMap<number, number>, faults: FaultList): void {
  const neighbours = listNeighbours(floor, Math.min(...heights.values()), Math.max(...heights.values()));
  const index = createBoxIndex(neighbours.map(({ box }) => box));
  for (const [i, height] of heights) {
    const [x, y] = (floor.detectors[i] as Detector).at;
    let nearest: Neighbour | undefined;
    let least = CLEARANCE - SLACK;
    const box = { minX: x - CLEARANCE, minY: y - CLEARANCE, maxX: x + CLEARANCE, maxY: y + CLEARANCE };
    index.query(box, (item) => {
      const neighbour = neighbours[item];
      if (neighbour === undefined || height < neighbour.base || height > neighbour.top) return false;
      const distance = neighbour.measure(x, y);
      if (distance < least) [nearest, least] = [neighbour, distance];
      return least < 0;
    });
    if (nearest === undefined) continue;
    const where = least < 0 ? 'is inside' : `is ${formatNumber(Math.round(least * 10_000) / 10)} mm from`;
    const at = nearest.top === Infinity ? '' : `, which holds the height of the lens, ${formatMetres(height)}`;
    const remedy = `A lens keeps ${CLEARANCE * 1_000} mm from walls and from what stands at its height. Move one of them.`;
    faults.add(`detectors[${i}].at`, `${where} ${nearest.name}${at}`, remedy);
  }
}

/** All rooms, and the pieces and luminaires that hold some height between two. */
function listNeighbours(floor: Floor, low: number, high: number): Neighbour[] {
  const neighbours: Neighbour[] = floor.rooms.map((room, i) => ({
    name: `a wall of rooms[${i}]`,
    box: computeBox(room.outline),
    base: 0,
    top: Infinity,
    measure: (x, y) => measureToWalls(room, x, y),
  }));
  floor.furniture.forEach(({ base, top, outline }, i) => {
    if (base > high || top < low) return;
    const measure = (x: number, y: number) => measureToPiece(outline, x, y);
    neighbours.push({ name: `furniture[${i}]`, box: computeBox(outline), base, top, measure });
  });
  floor.luminaires.forEach((luminaire, i) => {
    const { base, top } = luminaire;
    if (base > high || top < low) return;
    const measure = (x: number, y: number) => measureToLuminaire(luminaire, x, y);
    neighbours.push({ name: `luminaires[${i}]`, box: computeLuminaireBox(luminaire), base, top, measure });
  });
  return neighbours;
}

/** Metres in plan to the nearest edge of a room. */
function measureToWalls(room: Room, x: number, y: number): number {
  return [room.outline, ...room.holes].reduce(
    (least, ring) => Math.min(least, computeRingDistance(ring, x, y)),
    Infinity,
  );
}

/** Metres in plan to a piece, -1 inside it. */
function measureToPiece(outline: readonly Point[], x: number, y: number): number {
  return isInRing(outline, x, y) ? -1 : computeRingDistance(outline, x, y);
}

/** Metres in plan to a luminaire's rectangle, -1 inside it. */
function measureToLuminaire({ at, size, turn }: Pick<Luminaire, 'at' | 'size' | 'turn'>, x: number, y: number): number {
  const angle = (turn * Math.PI) / 180;
  const [dx, dy] = [x - at[0], y - at[1]];
  const u = Math.abs(dx * Math.cos(angle) + dy * Math.sin(angle)) - size[0] / 2;
  const v = Math.abs(dy * Math.cos(angle) - dx * Math.sin(angle)) - size[1] / 2;
  return u < 0 && v < 0 ? -1 : Math.hypot(Math.max(u, 0), Math.max(v, 0));
}

/** The box around a luminaire however it is turned. */
function computeLuminaireBox({ at, size }: Luminaire): Box {
  const radius = Math.hypot(size[0], size[1]) / 2;
  return { minX: at[0] - radius, minY: at[1] - radius, maxX: at[0] + radius, maxY: at[1] + radius };
}

function measureWayBack(floor: Floor, [x, y]: Point): number {
  return floor.rooms.reduce((least, room) => Math.min(least, measureToWalls(room, x, y)), Infinity);
}
