/** Outlines that enclose something and do not cross themselves, holes inside them, rooms that do not overlap. */
import { createBoxIndex } from '../geometry/box-index.ts';
import { createRegion, findCommonPlace, findPlaceOutside, type Region } from '../geometry/overlap.ts';
import { computeSignedArea } from '../geometry/polygon.ts';
import { findCrossing, findNearCorners } from '../geometry/simple-ring.ts';
import { type FaultList, formatMetres, formatNumber } from './fault.ts';
import type { Floor, Point, Ring, Room } from './schema.ts';

const LEAST_GAP = 0.001;
const LEAST_AREA = 0.001;
/** What pushes in less deep than this is a shared edge. */
const OVERLAP_DEPTH = 0.001;
const SLACK = 1e-9;
/** Overlaps that are looked for: with so many the plan itself is wrong. */
const OVERLAPS = 100;

/** @returns whether every room's outline can be worked with */
export function checkOutlines(floor: Floor, faults: FaultList): boolean {
  let roomsAreSound = true;
  floor.rooms.forEach((room, i) => {
    if (!checkRoom(room, `rooms[${i}]`, faults)) roomsAreSound = false;
  });
  for (const list of ['furniture', 'zones'] as const) {
    floor[list].forEach(({ outline }, i) => {
      const fault = findRingFault(outline);
      if (fault !== undefined) faults.add(`${list}[${i}].outline`, fault.what, fault.remedy);
    });
  }
  return roomsAreSound && checkRoomOverlaps(floor.rooms, faults);
}

/** Rings, rooms and lists of rooms that were found without fault; none is ever changed in place. */
const soundRings = new WeakSet<Ring>();
const soundRooms = new WeakSet<Room>();
const roomsApart = new WeakSet<readonly Room[]>();
const knownRegions = new WeakMap<Room, Region>();

function findRingFault(ring: Ring): { readonly what: string; readonly remedy: string } | undefined {
  if (soundRings.has(ring)) return undefined;
  const fault = judgeRing(ring);
  if (fault === undefined) soundRings.add(ring);
  return fault;
}

/** What keeps a ring from being a simple polygon of some size, or undefined. Corners are counted from 1. */
function judgeRing(ring: Ring): { readonly what: string; readonly remedy: string } | undefined {
  const near = findNearCorners(ring, LEAST_GAP - SLACK);
  if (near !== undefined) {
    const [i, j] = near;
    const isClosed = i === 0 && j === ring.length - 1;
    return {
      what: `has corners ${i + 1} and ${j + 1} less than 1 mm apart, at ${formatPoint(ring[i] as Point)}`,
      remedy: isClosed
        ? 'An outline does not repeat its first corner. Leave the last one out.'
        : 'Leave one of them out.',
    };
  }
  const crossing = findCrossing(ring);
  if (crossing !== undefined) {
    const [i, j] = crossing;
    return { what: `crosses or touches itself between corners ${i + 1} and ${j + 1}`, remedy: 'Move one of them.' };
  }
  const area = Math.abs(computeSignedArea(ring));
  if (area < LEAST_AREA - SLACK) {
    const what = `encloses ${formatNumber(Number(area.toPrecision(3)))} m²`;
    return { what, remedy: `An outline encloses at least ${LEAST_AREA} m².` };
  }
  return undefined;
}

/** @returns whether the room's outline and holes can be worked with */
function checkRoom(room: Room, path: string, faults: FaultList): boolean {
  if (soundRooms.has(room)) return true;
  const isSound = judgeRoom(room, path, faults);
  if (isSound) soundRooms.add(room);
  return isSound;
}

function judgeRoom(room: Room, path: string, faults: FaultList): boolean {
  const before = faults.count;
  const addRing = (ring: Ring, ringPath: string): void => {
    const fault = findRingFault(ring);
    if (fault !== undefined) faults.add(ringPath, fault.what, fault.remedy);
  };
  addRing(room.outline, `${path}.outline`);
  room.holes.forEach((hole, k) => {
    addRing(hole, `${path}.holes[${k}]`);
  });
  if (room.holes.length === 0 || faults.count > before) return faults.count === before;

  const outline = createRegion([room.outline]);
  const holes = room.holes.map((hole) => createRegion([hole]));
  holes.forEach((hole, k) => {
    const outside = findPlaceOutside(hole, outline, OVERLAP_DEPTH + SLACK);
    if (outside === undefined) return;
    const what = `leaves the outline of its room, at ${formatPoint(outside)}`;
    faults.add(`${path}.holes[${k}]`, what, 'A hole lies inside the outline.');
  });
  forEachOverlap(holes, (first, second, place) => {
    const what = `overlaps holes[${first}], at ${formatPoint(place)}`;
    faults.add(`${path}.holes[${second}]`, what, 'Make one hole of them, or move one.');
  });
  return faults.count === before;
}

function checkRoomOverlaps(rooms: readonly Room[], faults: FaultList): boolean {
  if (roomsApart.has(rooms)) return true;
  const regions = rooms.map((room) => {
    const region = knownRegions.get(room) ?? createRegion([room.outline, ...room.holes]);
    knownRegions.set(room, region);
    return region;
  });
  const areApart = forEachOverlap(regions, (first, second, place) => {
    faults.add(
      `rooms[${second}].outline`,
      `overlaps rooms[${first}] by more than ${formatMetres(OVERLAP_DEPTH)}, at ${formatPoint(place)}`,
      'Move one of them so that they share an edge at most.',
    );
  });
  if (areApart) roomsApart.add(rooms);
  return areApart;
}

/**
 * Calls `report` for pairs of regions that overlap, up to a number at which the plan itself is wrong.
 * @returns whether there are none
 */
function forEachOverlap(
  regions: readonly Region[],
  report: (first: number, second: number, place: Point) => void,
): boolean {
  const index = createBoxIndex(regions.map(({ box }) => box));
  let found = 0;
  regions.forEach((region, second) => {
    // Boxes that only touch, as those of rooms with a common wall do, are not even asked.
    const { minX, minY, maxX, maxY } = region.box;
    const inner = {
      minX: minX + OVERLAP_DEPTH,
      minY: minY + OVERLAP_DEPTH,
      maxX: maxX - OVERLAP_DEPTH,
      maxY: maxY - OVERLAP_DEPTH,
    };
    if (found >= OVERLAPS) return;
    index.query(inner, (first) => {
      if (first >= second) return false;
      const place = findCommonPlace(regions[first] as Region, region, OVERLAP_DEPTH + SLACK);
      if (place !== undefined) {
        found++;
        report(first, second, place);
      }
      return found >= OVERLAPS;
    });
  });
  return found === 0;
}

function formatPoint([x, y]: Point): string {
  return `[${formatNumber(Math.round(x * 1_000) / 1_000)}, ${formatNumber(Math.round(y * 1_000) / 1_000)}]`;
}
