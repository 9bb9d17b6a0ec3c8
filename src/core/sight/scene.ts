import type { BlockerId, Floor, Mask, Point } from '../floor/index.ts';
import { findRoomAt, lensHeightOf } from '../floor/index.ts';
import type { Bins } from '../geometry/bins.ts';
import { createBins, loosen, queryBins } from '../geometry/bins.ts';
import { cutIntoConvexParts } from '../geometry/convex-parts.ts';
import type { Box } from '../geometry/polygon.ts';
import { computeBox } from '../geometry/polygon.ts';
import type { HungRange } from './range.ts';
import { hangRange } from './range.ts';
import type { Draft } from './wall-drafts.ts';
import { WHEN_OPEN, WHEN_STATED, wallsOf } from './wall-drafts.ts';
import type { Gap, WallEdge } from './walls.ts';

/**
 * Everything that can stand in the way, as flat arrays: wall panels (two corners) and convex prism parts (three or more
 * corners, counter-clockwise). Metres.
 */
export interface Occluders {
  readonly count: number;
  /** Corners of occluder k: `xy[2 * start[k]] … xy[2 * start[k + 1]]`. */
  readonly start: Int32Array;
  readonly xy: Float64Array;
  readonly base: Float64Array;
  /** Infinity for walls. */
  readonly top: Float64Array;
  /** Index into `blockers`. */
  readonly blocker: Int32Array;
  readonly doors: Uint8Array;
  /** min x, min y, max x, max y each. */
  readonly boxes: Float64Array;
}

/** One detector's lens, ready to cast. */
export interface Lens {
  readonly x: number;
  readonly y: number;
  readonly h: number;
  readonly turn: number;
  readonly masks: readonly Mask[];
  /** To be removed: sees nothing. */
  readonly removed: boolean;
  /** Index of the room it hangs in, -1 for none. */
  readonly room: number;
  readonly ranges: {
    readonly minor: HungRange | null;
    readonly tangential: HungRange | null;
    readonly radial: HungRange | null;
  };
}

/** A solid piece with its whole outline, as the reference sight line reads it. */
export interface Prism {
  readonly outline: readonly Point[];
  readonly base: number;
  readonly top: number;
  readonly blocker: number;
}

/** A floor compiled for casting. Plain data: it can be handed to a worker. */
export interface Scene {
  readonly floor: Floor;
  readonly edges: readonly WallEdge[];
  readonly gaps: readonly Gap[];
  /** Furniture in the order of the file, then luminaires. */
  readonly prisms: readonly Prism[];
  /** min x, min y, max x, max y of each prism. */
  readonly prismBoxes: Float64Array;
  /** Per prism the first of its occluders, which lie together; one more at the end. */
  readonly firstPart: Int32Array;
  readonly blockers: readonly BlockerId[];
  readonly occluders: Occluders;
  readonly bins: Bins;
  readonly lenses: readonly Lens[];
}

/** @param before an earlier scene: where only some pieces or only walls differ from it, no more than those are compiled */
export function compileScene(floor: Floor, before: Scene | null = null): Scene {
  return (before && (patchScene(floor, before) ?? patchWalls(floor, before))) ?? compileWhole(floor);
}

function compileWhole(floor: Floor): Scene {
  const { edges, gaps, drafts } = wallsOf(floor);
  const blockers: BlockerId[] = [
    ...floor.rooms.map((room) => room.id),
    ...floor.furniture.map((piece) => piece.id),
    ...floor.luminaires.map((each) => each.id),
  ];
  const prisms = listPrisms(floor);
  const occluders = compileOccluders(drafts, prisms);
  return {
    floor,
    edges,
    gaps,
    prisms,
    prismBoxes: boxPrisms(prisms),
    firstPart: findFirstParts(occluders, floor.rooms.length, prisms.length),
    blockers,
    occluders,
    bins: createBins(occluders.boxes),
    lenses: compileLenses(floor),
  };
}

/** Pieces that are patched one by one; with more of them a scene is compiled anew. */
const MOST_PATCHED = 32;

/** The scene of a floor that differs from another's in the shapes of some pieces; null where more differs. */
function patchScene(floor: Floor, before: Scene): Scene | null {
  const was = before.floor;
  const same = (['rooms', 'openings', 'luminaires'] as const).every((list) => floor[list] === was[list]);
  if (!same || floor.furniture.length !== was.furniture.length) return null;
  const changed: number[] = [];
  for (let index = 0; index < floor.furniture.length; index++) {
    if (floor.furniture[index] === was.furniture[index]) continue;
    if (changed.length === MOST_PATCHED || floor.furniture[index]!.id !== was.furniture[index]!.id) return null;
    changed.push(index);
  }
  const lenses = lensesOf(floor, before);
  if (changed.length === 0) return { ...before, floor, lenses };
  const { firstPart } = before;
  const { start } = before.occluders;
  const xy = before.occluders.xy.slice();
  const base = before.occluders.base.slice();
  const top = before.occluders.top.slice();
  const boxes = before.occluders.boxes.slice();
  const prisms = [...before.prisms];
  const prismBoxes = before.prismBoxes.slice();
  const moved: number[] = [];
  for (const index of changed) {
    const prism = prismOf(floor, index);
    const parts = partsOf(prism.outline);
    if (parts.length !== firstPart[index + 1]! - firstPart[index]!) return null;
    for (let part = 0; part < parts.length; part++) {
      const k = firstPart[index]! + part;
      if (parts[part]!.length !== 2 * (start[k + 1]! - start[k]!)) return null;
      xy.set(parts[part]!, 2 * start[k]!);
      base[k] = prism.base;
      top[k] = prism.top;
      writeBox(boxes, 4 * k, parts[part]!);
      moved.push(k);
    }
    prisms[index] = prism;
    writePrismBox(prismBoxes, index, prism);
  }
  const bins = loosen(before.bins, moved, boxes);
  return {
    ...before,
    floor,
    lenses,
    prisms,
    prismBoxes,
    occluders: { ...before.occluders, xy, base, top, boxes },
    bins: bins ?? createBins(boxes),
  };
}

/** The scene of a floor that differs from another's in walls and openings; null where more differs. */
function patchWalls(floor: Floor, before: Scene): Scene | null {
  const was = before.floor;
  const same = floor.furniture === was.furniture && floor.luminaires === was.luminaires;
  if (!same || floor.rooms.length !== was.rooms.length) return null;
  if (floor.rooms.some(({ id }, index) => id !== was.rooms[index]!.id)) return null;
  const { edges, gaps, drafts } = wallsOf(floor);
  const walls = compileOccluders(drafts, []);
  const { occluders, firstPart } = before;
  const first = firstPart[0]!;
  const firstCorner = occluders.start[first]!;
  const joined: Occluders = {
    count: walls.count + occluders.count - first,
    start: joinInts(walls.start.subarray(0, walls.count), occluders.start.subarray(first)),
    xy: joinNumbers(walls.xy, occluders.xy.subarray(2 * firstCorner)),
    base: joinNumbers(walls.base, occluders.base.subarray(first)),
    top: joinNumbers(walls.top, occluders.top.subarray(first)),
    blocker: joinInts(walls.blocker, occluders.blocker.subarray(first)),
    doors: joinBytes(walls.doors, occluders.doors.subarray(first)),
    boxes: joinNumbers(walls.boxes, occluders.boxes.subarray(4 * first)),
  };
  const shift = walls.start[walls.count]! - firstCorner;
  for (let k = walls.count; k <= joined.count; k++) joined.start[k] = joined.start[k]! + shift;
  return {
    ...before,
    floor,
    edges,
    gaps,
    firstPart: firstPart.map((k) => k + walls.count - first),
    occluders: joined,
    bins: createBins(joined.boxes),
    lenses: lensesOf(floor, before),
  };
}

function lensesOf(floor: Floor, { floor: was, lenses }: Scene): readonly Lens[] {
  const same = floor.rooms === was.rooms && floor.detectors === was.detectors && floor.types === was.types;
  return same ? lenses : compileLenses(floor);
}

function joinNumbers(a: Float64Array, b: Float64Array): Float64Array {
  const joined = new Float64Array(a.length + b.length);
  joined.set(a);
  joined.set(b, a.length);
  return joined;
}

function joinBytes(a: Uint8Array, b: Uint8Array): Uint8Array {
  const joined = new Uint8Array(a.length + b.length);
  joined.set(a);
  joined.set(b, a.length);
  return joined;
}

function joinInts(a: Int32Array, b: Int32Array): Int32Array {
  const joined = new Int32Array(a.length + b.length);
  joined.set(a);
  joined.set(b, a.length);
  return joined;
}

function findFirstParts({ blocker, count }: Occluders, first: number, prisms: number): Int32Array {
  const firstPart = new Int32Array(prisms + 1).fill(count);
  // Panels of walls come first, and name rooms.
  for (let k = count - 1; k >= 0 && blocker[k]! >= first; k--) firstPart[blocker[k]! - first] = k;
  return firstPart;
}

/** Room for the answer of one query, kept from call to call. */
let foundNear = new Int32Array(0);

/** Indices of furniture whose bounding box touches a box, in the order of the file. */
export function listFurnitureNear(scene: Scene, box: Box): number[] {
  const { occluders, bins, floor, prismBoxes } = scene;
  if (foundNear.length < occluders.count) foundNear = new Int32Array(2 * occluders.count);
  const found = foundNear;
  const count = queryBins(bins, box.minX, box.minY, box.maxX, box.maxY, found);
  const near = new Set<number>();
  for (let f = 0; f < count; f++) {
    const piece = occluders.blocker[found[f]!]! - floor.rooms.length;
    if (piece < 0 || piece >= floor.furniture.length) continue;
    const at = 4 * piece;
    if (prismBoxes[at]! > box.maxX || prismBoxes[at + 1]! > box.maxY) continue;
    if (prismBoxes[at + 2]! < box.minX || prismBoxes[at + 3]! < box.minY) continue;
    near.add(piece);
  }
  return [...near].sort((a, b) => a - b);
}

/** The same scene with other detectors: what stands in the way is kept. */
export function withDetectorsOf(scene: Scene, floor: Floor): Scene {
  return { ...scene, floor, lenses: compileLenses(floor) };
}

export function compileLenses(floor: Floor): Lens[] {
  const types = new Map(floor.types.map((type) => [type.id, type]));
  return floor.detectors.map((detector) => {
    const h = lensHeightOf(detector, floor);
    const type = types.get(detector.type);
    const room = findRoomAt(floor.rooms, detector.at);
    const hang = (motion: 'minor' | 'tangential' | 'radial') =>
      type ? hangRange(type, motion, h, detector.reach) : null;
    return {
      x: detector.at[0],
      y: detector.at[1],
      h,
      turn: detector.turn,
      masks: detector.masks,
      removed: detector.status === 'remove',
      room: room ? floor.rooms.indexOf(room) : -1,
      ranges: { minor: hang('minor'), tangential: hang('tangential'), radial: hang('radial') },
    };
  });
}

/** Corners of a luminaire's plan rectangle, counter-clockwise. */
export function luminaireOutline(at: Point, size: Point, turn: number): Point[] {
  const c = Math.cos((turn * Math.PI) / 180) / 2;
  const s = Math.sin((turn * Math.PI) / 180) / 2;
  const corner = (u: number, v: number): Point => [
    at[0] + u * size[0] * c - v * size[1] * s,
    at[1] + u * size[0] * s + v * size[1] * c,
  ];
  return [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)];
}

function listPrisms(floor: Floor): Prism[] {
  const first = floor.rooms.length;
  const pieces = floor.furniture.map((_, index) => prismOf(floor, index));
  const luminaires = floor.luminaires.map((each, index) => ({
    outline: luminaireOutline(each.at, each.size, each.turn),
    base: each.base,
    top: each.top,
    blocker: first + floor.furniture.length + index,
  }));
  return [...pieces, ...luminaires];
}

function prismOf({ rooms, furniture }: Floor, index: number): Prism {
  const { outline, base, top } = furniture[index]!;
  return { outline: counterClockwise(outline), base, top, blocker: rooms.length + index };
}

const knownTurned = new WeakMap<readonly Point[], readonly Point[]>();

/** The ring counter-clockwise; of one outline always the same object. */
function counterClockwise(ring: readonly Point[]): readonly Point[] {
  const known = knownTurned.get(ring);
  if (known) return known;
  const turned = turnCounterClockwise(ring);
  knownTurned.set(ring, turned);
  return turned;
}

function turnCounterClockwise(ring: readonly Point[]): readonly Point[] {
  let doubled = 0;
  ring.forEach(([x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length]!;
    doubled += x * ny - nx * y;
  });
  return doubled < 0 ? [...ring].reverse() : ring;
}

function compileOccluders(walls: readonly Draft[], prisms: readonly Prism[]): Occluders {
  const drafts = [...walls];
  for (const prism of prisms) {
    for (const xy of partsOf(prism.outline)) {
      drafts.push({ xy, base: prism.base, top: prism.top, blocker: prism.blocker, doors: WHEN_STATED | WHEN_OPEN });
    }
  }
  const count = drafts.length;
  const start = new Int32Array(count + 1);
  drafts.forEach((draft, k) => {
    start[k + 1] = start[k]! + draft.xy.length / 2;
  });
  const xy = new Float64Array(2 * start[count]!);
  const boxes = new Float64Array(4 * count);
  // Copied number by number: a call for every few of them would cost more than the copying.
  let end = 0;
  for (let k = 0; k < count; k++) {
    const part = drafts[k]!.xy;
    for (let v = 0; v < part.length; v++) xy[end + v] = part[v]!;
    end += part.length;
    writeBox(boxes, 4 * k, part);
  }
  return {
    count,
    start,
    xy,
    base: Float64Array.from(drafts, (draft) => draft.base),
    top: Float64Array.from(drafts, (draft) => draft.top),
    blocker: Int32Array.from(drafts, (draft) => draft.blocker),
    doors: Uint8Array.from(drafts, (draft) => draft.doors),
    boxes,
  };
}

function boxPrisms(prisms: readonly Prism[]): Float64Array {
  const boxes = new Float64Array(4 * prisms.length);
  prisms.forEach((prism, index) => {
    writePrismBox(boxes, index, prism);
  });
  return boxes;
}

function writePrismBox(boxes: Float64Array, index: number, { outline }: Prism): void {
  const { minX, minY, maxX, maxY } = computeBox(outline);
  boxes[4 * index] = minX;
  boxes[4 * index + 1] = minY;
  boxes[4 * index + 2] = maxX;
  boxes[4 * index + 3] = maxY;
}

function writeBox(boxes: Float64Array, at: number, xy: readonly number[]): void {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (let v = 0; v < xy.length; v += 2) {
    const [x, y] = [xy[v]!, xy[v + 1]!];
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  boxes[at] = minX;
  boxes[at + 1] = minY;
  boxes[at + 2] = maxX;
  boxes[at + 3] = maxY;
}

/** Parts by outline object: outlines are never changed in place, and most pieces stay while one is moved. */
const knownParts = new WeakMap<readonly Point[], number[][]>();

function partsOf(outline: readonly Point[]): number[][] {
  const known = knownParts.get(outline);
  if (known) return known;
  const parts = cutIntoConvexParts(outline.flat());
  knownParts.set(outline, parts);
  return parts;
}
