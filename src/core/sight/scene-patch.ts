/** A scene made from an earlier one: only what differs is compiled. */
import type { Floor } from '../floor/index.ts';
import { createBins, loosen } from '../geometry/bins.ts';
import { lensesOf } from './lenses.ts';
import { compileOccluders, type Occluders, writeBox } from './occluders.ts';
import { partsOf, prismOf, writePrismBox } from './prisms.ts';
import type { Scene } from './scene.ts';
import { type Draft, wallsOf } from './wall-drafts.ts';

/** Pieces that are patched one by one; with more of them a scene is compiled anew. */
const MOST_PATCHED = 32;

/** The scene of a floor that differs from another's in the shapes of some pieces; null where more differs. */
export function patchScene(floor: Floor, before: Scene): Scene | null {
  const was = before.floor;
  const same = (['rooms', 'openings', 'luminaires'] as const).every((list) => floor[list] === was[list]);
  if (!same || floor.furniture.length !== was.furniture.length) return null;
  const changed: number[] = [];
  let reshaped = 0;
  for (let index = 0; index < floor.furniture.length; index++) {
    const [now, then] = [floor.furniture[index]!, was.furniture[index]!];
    if (now === then) continue;
    if (now.outline !== then.outline) reshaped++;
    if (reshaped > MOST_PATCHED || now.id !== then.id) return null;
    changed.push(index);
  }
  const lenses = lensesOf(floor, was, before.lenses);
  if (changed.length === 0) return { ...before, floor, lenses };
  const { firstPart } = before;
  const { start } = before.occluders;
  const xy = reshaped > 0 ? before.occluders.xy.slice() : before.occluders.xy;
  const base = before.occluders.base.slice();
  const top = before.occluders.top.slice();
  const boxes = reshaped > 0 ? before.occluders.boxes.slice() : before.occluders.boxes;
  const prisms = [...before.prisms];
  const prismBoxes = before.prismBoxes.slice();
  const moved: number[] = [];
  for (const index of changed) {
    const prism = prismOf(floor, index);
    if (prism.outline === prisms[index]!.outline) {
      // Only its height is another: it stays in its bins.
      base.fill(prism.base, firstPart[index]!, firstPart[index + 1]!);
      top.fill(prism.top, firstPart[index]!, firstPart[index + 1]!);
      prisms[index] = prism;
      continue;
    }
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
  const bins = moved.length > 0 ? loosen(before.bins, moved, boxes) : before.bins;
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
export function patchWalls(floor: Floor, before: Scene): Scene | null {
  const was = before.floor;
  const same = floor.furniture === was.furniture && floor.luminaires === was.luminaires;
  if (!same || floor.rooms.length !== was.rooms.length) return null;
  if (floor.rooms.some(({ id }, index) => id !== was.rooms[index]!.id)) return null;
  const were = wallsOf(was).drafts;
  const { edges, gaps, drafts } = wallsOf(floor, was);
  const next = { ...before, floor, edges, gaps, lenses: lensesOf(floor, was, before.lenses) };
  return patchPanels(next, were, drafts) ?? joinWalls(next, drafts);
}

/** Where as many panels stand as before and few of them elsewhere, these are written over; null otherwise. */
function patchPanels(scene: Scene, were: readonly Draft[], drafts: readonly Draft[]): Scene | null {
  if (drafts.length !== were.length || drafts.length !== scene.firstPart[0]) return null;
  const moved: number[] = [];
  for (let k = 0; k < drafts.length; k++) {
    if (drafts[k] === were[k]) continue;
    if (moved.length === MOST_PATCHED) return null;
    moved.push(k);
  }
  const occluders = {
    ...scene.occluders,
    xy: scene.occluders.xy.slice(),
    base: scene.occluders.base.slice(),
    top: scene.occluders.top.slice(),
    blocker: scene.occluders.blocker.slice(),
    doors: scene.occluders.doors.slice(),
    boxes: scene.occluders.boxes.slice(),
  };
  for (const k of moved) {
    const { xy, base, top, blocker, doors } = drafts[k]!;
    // A panel of a wall has two corners, like the one before it.
    occluders.xy.set(xy, 2 * occluders.start[k]!);
    occluders.base[k] = base;
    occluders.top[k] = top;
    occluders.blocker[k] = blocker;
    occluders.doors[k] = doors;
    writeBox(occluders.boxes, 4 * k, xy);
  }
  return { ...scene, occluders, bins: loosen(scene.bins, moved, occluders.boxes) ?? createBins(occluders.boxes) };
}

/** All panels packed anew, before the pieces as they are. */
function joinWalls(scene: Scene, drafts: readonly Draft[]): Scene {
  const walls = compileOccluders(drafts, []);
  const { occluders, firstPart } = scene;
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
    ...scene,
    firstPart: firstPart.map((k) => k + walls.count - first),
    occluders: joined,
    bins: createBins(joined.boxes),
  };
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
