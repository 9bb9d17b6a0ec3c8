import type { BlockerId, Floor } from '../floor/index.ts';
import type { Bins } from '../geometry/bins.ts';
import { createBins, queryBins } from '../geometry/bins.ts';
import type { Box } from '../geometry/polygon.ts';
import { compileLenses, type Lens } from './lenses.ts';
import { compileOccluders, type Occluders } from './occluders.ts';
import { boxPrisms, listPrisms, type Prism } from './prisms.ts';
import { patchScene, patchWalls } from './scene-patch.ts';
import { wallsOf } from './wall-drafts.ts';
import type { Gap, WallEdge } from './walls.ts';

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
