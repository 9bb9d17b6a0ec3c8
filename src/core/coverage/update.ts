/** A coverage kept in step with a floor that changes: only what differs is worked out anew. */
import type { Floor } from '../floor/index.ts';
import type { Box } from '../geometry/polygon.ts';
import { computeBox, growBox, overlaps } from '../geometry/polygon.ts';
import type { Lens, Raster, Scene } from '../sight/index.ts';
import { compileLenses, compileScene, createArounds, createSurroundings, outerRadius, SLACK } from '../sight/index.ts';
import { boxMovedWalls, findDifferences, listChanged, listTaking, orWalkedOtherwise, windowOf } from './changed.ts';
import type { Change, Coverage } from './coverage.ts';
import { castDetectors, createCoverage, refresh } from './coverage.ts';
import { restateRooms } from './field.ts';
import type { Grid } from './grid.ts';
import { remarkOccupiable, remarkRooms, sameLattice } from './grid.ts';
import { refreshOne } from './one-moved.ts';
import { boxOpening, comesBetween, sampleWorkplace, seesSamples } from './samples.ts';
import type { ServedLayers } from './served.ts';
import type { Serving } from './serving.ts';
import { areaKeyOf, createServing } from './serving.ts';
import type { Window } from './sums.ts';
import { orInto } from './sums.ts';
import { WIDEST } from './walking.ts';
import { judgeWorkplace } from './workplaces.ts';

/**
 * Brings the coverage to another state of the floor, recomputing what differs: objects are compared by identity.
 * @returns the cells whose values may have changed, null for none
 */
export function updateCoverage(coverage: Coverage, next: Floor): Change | null {
  if (coverage.floor === next) return null;
  switch (sortChange(coverage, next)) {
    case 'detectors':
      return moveDetectors(coverage, next);
    case 'things': {
      const scene = compileScene(next, coverage.scene);
      if (keepsLenses(coverage.scene, scene)) return moveThings(coverage, scene);
      break;
    }
    case 'all':
  }
  Object.assign(coverage, createCoverage(next));
  return wholeChange(coverage.grid);
}

/** Whether `updateCoverage` would work everything out anew, which takes as long as `createCoverage`. */
export function isMadeAnew(coverage: Coverage, next: Floor): boolean {
  return coverage.floor !== next && sortChange(coverage, next) === 'all';
}

/** What of the floor is another: its detectors alone, its pieces, openings and walls within the same cells, or more. */
function sortChange(coverage: Coverage, next: Floor): 'detectors' | 'things' | 'all' {
  const before = coverage.floor;
  // Moving a zone changes the fields only where a group serves it.
  const aside: readonly (keyof Floor)[] = servesZones(next)
    ? ['name', 'notes', 'revision', 'records', 'sources', 'workplaces']
    : ['name', 'notes', 'revision', 'records', 'sources', 'workplaces', 'zones'];
  const sameDetectors = before.detectors.length === next.detectors.length;
  if (sameDetectors && sameBesides(before, next, [...aside, 'detectors'])) return 'detectors';
  const isThings =
    sameBesides(before, next, [...aside, 'furniture', 'openings', 'rooms']) && keepsPlaces(coverage, next);
  return isThings ? 'things' : 'all';
}

function servesZones({ groups, zones }: Floor): boolean {
  return groups.some((group) => group.serves?.some((id) => zones.some((zone) => zone.id === id)));
}

function sameBesides(a: Floor, b: Floor, besides: readonly (keyof Floor)[]): boolean {
  return (Object.keys(a) as (keyof Floor)[])
    .concat(Object.keys(b) as (keyof Floor)[])
    .every((key) => besides.includes(key) || a[key] === b[key]);
}

function moveDetectors(coverage: Coverage, next: Floor): Change | null {
  const before = coverage.floor;
  const moved = [...next.detectors.keys()].filter((index) => next.detectors[index] !== before.detectors[index]);
  coverage.floor = next;
  const lenses = moved.length > 0 ? recompileLenses(coverage, next, moved) : coverage.scene.lenses;
  // A detector carried into another room, or taken out of use, changes what its group serves; groups know theirs by
  // place in the list, and one in no group lends its own its id and name.
  const regroups = moved.some(
    (index) =>
      next.detectors[index]!.id !== before.detectors[index]!.id ||
      next.detectors[index]!.name !== before.detectors[index]!.name ||
      lenses[index]!.room !== coverage.scene.lenses[index]!.room ||
      lenses[index]!.removed !== coverage.scene.lenses[index]!.removed,
  );
  const touched = new Set(moved);
  coverage.scene = { ...coverage.scene, floor: next, lenses };
  if (regroups) for (const index of regroup(coverage, [])) touched.add(index);
  const indices = [...touched];
  const servedBefore = indices.map((index) => coverage.served[index]!);
  castDetectors(coverage, indices);
  const served = [...servedBefore, ...indices.map((index) => coverage.served[index]!)];
  const windows = served.flatMap(windowsOf);
  const one = indices.length === 1 && windows.length > 0 && next.analysis.crossingAngle <= WIDEST;
  const change = one
    ? refreshOne(coverage, indices[0]!, servedBefore[0]!, joinAll(windows))
    : refreshAll(coverage, windows, (words, window) => {
        for (const { tangential, radial } of served) {
          orInto(words, window, tangential);
          orInto(words, window, radial);
        }
      });
  refreshWorkplaces(coverage, before, next, moved, [], regroups);
  return change;
}

/** Do rooms have the places in the list, the ceilings and the cells they had? */
function keepsPlaces({ floor, grid }: Coverage, next: Floor): boolean {
  if (next.rooms === floor.rooms) return true;
  return (
    next.rooms.length === floor.rooms.length &&
    next.rooms.every(({ id, ceiling }, index) => {
      const was = floor.rooms[index]!;
      return id === was.id && ceiling === was.ceiling;
    }) &&
    sameLattice(grid, next)
  );
}

/** Does every lens hang where it hung, in the room it hung in? */
function keepsLenses(before: Scene, now: Scene): boolean {
  return now.lenses.every((lens, index) => {
    const was = before.lenses[index]!;
    return lens === was || (lens.h === was.h && lens.room === was.room);
  });
}

/** Pieces, openings and rooms: casts anew what sees where they stood or stand. */
function moveThings(coverage: Coverage, scene: Scene): Change | null {
  const before = coverage.floor;
  const next = scene.floor;
  const pieces = listChanged(before.furniture, next.furniture).map((piece) => computeBox(piece.outline));
  const openings = listChanged(before.openings, next.openings).map(boxOpening);
  // An opening in a wall that has moved cuts it elsewhere.
  const deepest = next.openings.reduce((most, { depth }) => Math.max(most, depth), 0);
  const rooms = boxMovedWalls(before.rooms, next.rooms).map((box) => growBox(box, deepest));
  const boxes = [...pieces, ...openings, ...rooms];
  const taking = listTaking(before.furniture, next.furniture, next.analysis.seatedPlane);
  // A closed door makes its whole wall another when doors are open.
  const walls = [coverage.scene, scene].flatMap(({ edges }) => boxWallsOf(edges, openings));
  const { lattice, inRoom } = coverage.grid;
  coverage.floor = next;
  coverage.scene = scene;
  const windows: Window[] = [];
  for (const box of rooms) {
    const window = windowOver(lattice, box);
    windows.push(window);
    remarkRooms(next, coverage.grid, window);
  }
  const remarked = [...taking.map(({ outline }) => computeBox(outline)), ...rooms];
  for (const box of remarked) {
    const window = windowOver(lattice, box);
    windows.push(window);
    remarkOccupiable(scene, inRoom, coverage.grid, window);
  }
  for (const box of rooms) {
    for (const field of [coverage.seated, coverage.walking]) restateRooms(field, inRoom, windowOver(lattice, box));
  }
  const touched = new Set(
    [...next.detectors.keys()].filter((index) => {
      const lens = scene.lenses[index]!;
      const reach = reachOf(lens);
      return [...boxes, ...walls].some((box) => distanceToBox(box, lens.x, lens.y) <= reach);
    }),
  );
  if (rooms.length > 0) for (const index of regroup(coverage, rooms)) touched.add(index);
  const indices = [...touched];
  const servedBefore = indices.map((index) => coverage.served[index]!);
  castDetectors(coverage, indices);
  indices.forEach((index, k) => {
    windows.push(...findDifferences(servedBefore[k]!, coverage.served[index]!));
  });
  const change = refreshAll(coverage, windows, (touched, window) => {
    for (const box of remarked) setWindow(touched, window, windowOver(lattice, box));
    for (const [k, index] of indices.entries())
      orWalkedOtherwise(touched, window, servedBefore[k]!, coverage.served[index]!);
  });
  // Groups serve the rooms they served, so that only what is seen can have changed.
  refreshWorkplaces(coverage, before, next, indices, boxes, false);
  return change;
}

/**
 * Works out anew which groups serve what; answers the detectors whose group serves other cells than before.
 * @param boxes where rooms have another outline
 */
function regroup(coverage: Coverage, boxes: readonly Box[]): number[] {
  const was = coverage.serving;
  const { lattice } = coverage.grid;
  const windows = boxes.map((box) => windowOver(lattice, box));
  const stand = was.groups.filter(({ area }) => !windows.some((window) => meets(windowOf(area), window)));
  const known = new Map(stand.map((group) => [areaKeyOf(group), group.area]));
  coverage.serving = createServing(coverage.floor, coverage.scene.lenses, coverage.grid, (key) => known.get(key));
  return [...coverage.floor.detectors.keys()].filter((index) => {
    const areaOf = (serving: Serving) => serving.groups[serving.groupOf[index]!]?.area;
    return !sameRaster(areaOf(was), areaOf(coverage.serving));
  });
}

function meets(a: Window, b: Window): boolean {
  return a.w0 < b.w1 && a.w1 > b.w0 && a.j0 < b.j1 && a.j1 > b.j0;
}

/** The boxes of the walls that openings stand in. */
function boxWallsOf(edges: Scene['edges'], openings: readonly Box[]): Box[] {
  if (openings.length === 0) return [];
  return edges.map(({ a, b }) => computeBox([a, b])).filter((wall) => openings.some((box) => overlaps(wall, box)));
}

function distanceToBox(box: Box, x: number, y: number): number {
  return Math.hypot(Math.max(box.minX - x, 0, x - box.maxX), Math.max(box.minY - y, 0, y - box.maxY));
}

/** The smallest box that holds all of some; it holds nothing where there are none. */
function uniteBoxes(boxes: readonly Box[]): Box {
  return computeBox(
    boxes.flatMap(({ minX, minY, maxX, maxY }) => [
      [minX, minY],
      [maxX, maxY],
    ]),
  );
}

/** Metres within which something can stand in a lens's way. */
function reachOf({ ranges }: Lens): number {
  return Math.max(outerRadius(ranges.minor), outerRadius(ranges.tangential), outerRadius(ranges.radial)) + SLACK;
}

function recompileLenses(coverage: Coverage, next: Floor, moved: readonly number[]): Scene['lenses'] {
  const lenses = [...coverage.scene.lenses];
  const only = compileLenses({ ...next, detectors: moved.map((index) => next.detectors[index]!) });
  moved.forEach((index, k) => {
    lenses[index] = only[k]!;
  });
  return lenses;
}

function windowsOf(served: ServedLayers): Window[] {
  return [served.seated, served.walking].flatMap((layer) => (layer ? [windowOf(layer.seen)] : []));
}

function windowOver(lattice: Grid['lattice'], box: Box): Window {
  const clamp = (value: number, most: number) => Math.min(most, Math.max(0, value));
  const column = (x: number) => clamp(Math.floor((x - lattice.x0) / lattice.cell), lattice.nx - 1);
  const row = (y: number) => clamp(Math.floor((y - lattice.y0) / lattice.cell), lattice.ny - 1);
  return { w0: column(box.minX) >> 5, w1: (column(box.maxX) >> 5) + 1, j0: row(box.minY), j1: row(box.maxY) + 1 };
}

function wholeChange(grid: Grid): Change {
  return { i0: 0, j0: 0, i1: grid.lattice.nx, j1: grid.lattice.ny };
}

function sameRaster(a: Raster | undefined, b: Raster | undefined): boolean {
  if (!a || !b || a === b) return a === b;
  return (
    a.w0 === b.w0 &&
    a.j0 === b.j0 &&
    a.words === b.words &&
    a.rows === b.rows &&
    a.bits.every((word, k) => word === b.bits[k])
  );
}

/** The smallest window that holds all of some, at least one. */
function joinAll(windows: readonly Window[]): Window {
  return windows.reduce((a, b) => ({
    w0: Math.min(a.w0, b.w0),
    w1: Math.max(a.w1, b.w1),
    j0: Math.min(a.j0, b.j0),
    j1: Math.max(a.j1, b.j1),
  }));
}

/** @param mark sets in the words of a window the cells where walking may be seen otherwise than before */
function refreshAll(
  coverage: Coverage,
  windows: readonly Window[],
  mark: (words: Int32Array, window: Window) => void,
): Change | null {
  if (windows.length === 0) return null;
  const window = joinAll(windows);
  const touched = new Int32Array((window.w1 - window.w0) * (window.j1 - window.j0));
  mark(touched, window);
  refresh(coverage, window, touched);
  return { i0: 32 * window.w0, i1: Math.min(32 * window.w1, coverage.grid.lattice.nx), j0: window.j0, j1: window.j1 };
}

/** Sets all cells of a window that lies within another. */
function setWindow(words: Int32Array, { w0, w1, j0 }: Window, within: Window): void {
  for (let j = within.j0; j < within.j1; j++) {
    words.fill(-1, (j - j0) * (w1 - w0) + within.w0 - w0, (j - j0) * (w1 - w0) + within.w1 - w0);
  }
}

function refreshWorkplaces(
  coverage: Coverage,
  before: Floor,
  next: Floor,
  moved: readonly number[],
  boxes: readonly Box[],
  regrouped: boolean,
): void {
  const { scene, grid } = coverage;
  const surroundings = createSurroundings(scene);
  const arounds = createArounds(scene);
  const sameWorkplaces = before.workplaces === next.workplaces;
  const around = uniteBoxes(boxes);
  const isMoved = new Uint8Array(next.detectors.length);
  for (const detector of moved) isMoved[detector] = 1;
  const judgements = next.workplaces.map((workplace, index) => {
    const [x, y] = workplace.at;
    const touches = (box: Box): boolean => distanceToBox(box, x, y) <= workplace.radius + 0.1;
    const isOther = !sameWorkplaces && workplace !== before.workplaces[index];
    if (isOther || (boxes.length > 0 && touches(around) && boxes.some(touches))) {
      coverage.samples[index] = sampleWorkplace(scene, surroundings, grid, workplace);
      for (const detector of next.detectors.keys())
        seesSamples(scene, surroundings, coverage.samples[index]!, detector, arounds);
      return true;
    }
    const samples = coverage.samples[index]!;
    let touched = regrouped;
    // Where pieces moved the lenses stayed: they matter to the places in their range between which and them one can stand.
    for (const detector of boxes.length > 0 ? samples.seen.keys() : moved) {
      if (boxes.length > 0) {
        const lens = scene.lenses[detector]!;
        if (isMoved[detector] === 0 || !comesBetween(around, workplace, lens)) continue;
        if (!boxes.some((box) => comesBetween(box, workplace, lens))) continue;
      }
      touched = seesSamples(scene, surroundings, samples, detector, arounds) || touched;
    }
    return touched;
  });
  coverage.samples.length = next.workplaces.length;
  coverage.workplaces = next.workplaces.map((_, index) =>
    judgements[index] || !coverage.workplaces[index]
      ? judgeWorkplace(coverage, index, surroundings, arounds)
      : coverage.workplaces[index]!,
  );
}
