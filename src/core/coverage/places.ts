/** Verdicts on rooms, zones, detectors, groups, and on what is seen where it should not be. */
import type { Zone } from '../floor/index.ts';
import { shareOf } from '../floor/index.ts';
import type { DetectorLayers, Raster } from '../sight/index.ts';
import { countBits, countCells, createFullRaster, createRasterOver, hasCell, SLACK } from '../sight/index.ts';
import type { Coverage } from './coverage.ts';
import { BLIND, SEEN } from './field.ts';
import { scanRings } from './grid.ts';
import { crosses, EVERY_HEADING_WITHIN } from './headings.ts';
import { areaOfCells } from './measure.ts';
import type { DetectorResult, GroupResult, RoomResult, SpillResult, WorkplaceResult, ZoneResult } from './result.ts';
import { servedSamples } from './samples.ts';
import type { Window } from './sums.ts';
import { orInto, wordAt } from './sums.ts';

/** Shares of every room's occupiable cells that are seen. */
export function judgeRooms(coverage: Coverage): RoomResult[] {
  const { floor, grid, seated, walking } = coverage;
  const shares = [seated, walking].map((field) => {
    const all = new Int32Array(floor.rooms.length);
    const seen = new Int32Array(floor.rooms.length);
    for (let k = 0; k < grid.room.length; k++) {
      const state = field.state[k]!;
      if (state < BLIND) continue;
      const room = grid.room[k]!;
      all[room] = all[room]! + 1;
      if (state === SEEN) seen[room] = seen[room]! + 1;
    }
    return (room: number) => (all[room] === 0 ? null : seen[room]! / all[room]!);
  });
  return floor.rooms.map((room, index) => ({ id: room.id, seated: shares[0]!(index), walking: shares[1]!(index) }));
}

export function judgeZones(coverage: Coverage, openLayers: readonly DetectorLayers[]): ZoneResult[] {
  return coverage.floor.zones.map((zone) => {
    const share = zone.need === 'nobody' ? shareOfNobody(coverage, zone, openLayers) : shareOfPresence(coverage, zone);
    const bound = shareOf(zone);
    const met = share === null || (zone.need === 'nobody' ? share <= bound + SLACK : share >= bound - SLACK);
    return { id: zone.id, need: zone.need, share, met };
  });
}

/** The cells of a zone that lie in rooms, as a window of bits. */
export function markZone(coverage: Coverage, zone: Zone): Raster {
  const { lattice, inRoom } = coverage.grid;
  const xs = zone.outline.map(([x]) => x);
  const ys = zone.outline.map(([, y]) => y);
  const raster = createRasterOver(lattice, Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys));
  scanRings(lattice, [zone.outline], (j, i0, i1) => {
    for (let i = i0; i <= i1; i++) {
      if (hasCell(inRoom, i, j)) raster.bits[(j - raster.j0) * raster.words + (i >> 5) - raster.w0]! |= 1 << (i & 31);
    }
  });
  return raster;
}

/** Calls `each` for every set cell, row by row. */
export function forCells(raster: Raster, each: (i: number, j: number) => void): void {
  for (let k = 0; k < raster.bits.length; k++) {
    let bits: number = raster.bits[k]!;
    const r = Math.floor(k / raster.words);
    while (bits !== 0) {
      const b: number = 31 - Math.clz32(bits & -bits);
      bits &= bits - 1;
      each(32 * (raster.w0 + k - r * raster.words) + b, raster.j0 + r);
    }
  }
}

function shareOfPresence(coverage: Coverage, zone: Zone): number | null {
  const field = zone.need === 'seated' ? coverage.seated : coverage.walking;
  const cells = markZone(coverage, zone);
  const heading = zone.need === 'walking' ? zone.heading : undefined;
  const all = countWithin(cells, field.occupiable);
  if (all === 0) return null;
  if (heading === undefined) return countWithin(cells, field.seen) / all;
  const { lattice } = coverage.grid;
  let seen = 0;
  forCells(cells, (i, j) => {
    if (!hasCell(field.occupiable, i, j)) return;
    const x = lattice.x0 + (i + 0.5) * lattice.cell;
    const y = lattice.y0 + (j + 0.5) * lattice.cell;
    seen += seesHeading(coverage, i, j, x, y, heading) ? 1 : 0;
  });
  return seen / all;
}

/** Is one heading (degrees) of a walking person in cell (i, j) seen by a serving detector? */
export function seesHeading(coverage: Coverage, i: number, j: number, x: number, y: number, heading: number): boolean {
  const { served, scene, floor } = coverage;
  return served.some((layers, detector) => {
    if (layers.radial && hasCell(layers.radial, i, j)) return true;
    if (!layers.tangential || !hasCell(layers.tangential, i, j)) return false;
    const dx = x - scene.lenses[detector]!.x;
    const dy = y - scene.lenses[detector]!.y;
    if (Math.hypot(dx, dy) <= EVERY_HEADING_WITHIN + SLACK) return true;
    return crosses(heading, (Math.atan2(dy, dx) * 180) / Math.PI, floor.analysis.crossingAngle);
  });
}

function shareOfNobody(coverage: Coverage, zone: Zone, openLayers: readonly DetectorLayers[]): number | null {
  const { serving, walking } = coverage;
  const watched = serving.groups
    .filter((group) => !zone.groups || (group.group !== null && zone.groups.includes(group.group.id)))
    .flatMap((group) => group.detectors);
  const cells = markZone(coverage, zone);
  const window: Window = { w0: cells.w0, w1: cells.w0 + cells.words, j0: cells.j0, j1: cells.j0 + cells.rows };
  const union = new Int32Array(cells.bits.length);
  for (const detector of watched) {
    const { minor, tangential, radial } = openLayers[detector]!;
    for (const layer of [minor, tangential, radial]) orInto(union, window, layer?.seen);
  }
  const all = countWithin(cells, walking.occupiable);
  const seen = countWithin({ ...cells, bits: cells.bits.map((word, k) => word & union[k]!) }, walking.occupiable);
  return all === 0 ? null : seen / all;
}

/** With every door open, what each group sees of rooms that it does not serve. */
export function measureSpill(coverage: Coverage, openLayers: readonly DetectorLayers[]): SpillResult[] {
  const { floor, grid, serving, seated, walking } = coverage;
  const spill: SpillResult[] = [];
  for (const group of serving.groups) {
    const servedRooms = new Set(group.rooms);
    if (group.zones.length > 0) forCells(group.area, (i, j) => servedRooms.add(grid.room[j * grid.lattice.nx + i]!));
    const union = createFullRaster(grid.lattice);
    for (const detector of group.detectors) {
      const { minor, tangential, radial } = openLayers[detector]!;
      for (const [layer, occupiable] of [
        [minor, seated.occupiable],
        [tangential, walking.occupiable],
        [radial, walking.occupiable],
      ] as const) {
        if (layer) orOccupied(union.bits, layer.seen, occupiable);
      }
    }
    const cells = new Int32Array(floor.rooms.length);
    clearArea(union, group.area);
    forCells(union, (i, j) => {
      const room = grid.room[j * grid.lattice.nx + i]!;
      if (!servedRooms.has(room)) cells[room]!++;
    });
    cells.forEach((count, room) => {
      if (count > 0)
        spill.push({ group: group.key, room: floor.rooms[room]!.id, areaM2: areaOfCells(count, grid.lattice) });
    });
  }
  return spill;
}

/** Ors a layer's occupiable cells into the words of the whole lattice. */
function orOccupied(words: Int32Array, layer: Raster, occupiable: Raster): void {
  for (let r = 0; r < layer.rows; r++) {
    const to = (layer.j0 + r) * occupiable.words + layer.w0;
    const from = r * layer.words;
    for (let w = 0; w < layer.words; w++) {
      words[to + w] = words[to + w]! | (layer.bits[from + w]! & occupiable.bits[to + w]!);
    }
  }
}

/** Takes an area's cells out of a raster of the whole lattice. */
function clearArea(raster: Raster, area: Raster): void {
  for (let r = 0; r < area.rows; r++) {
    const to = (area.j0 + r) * raster.words + area.w0;
    const from = r * area.words;
    for (let w = 0; w < area.words; w++) raster.bits[to + w] = raster.bits[to + w]! & ~area.bits[from + w]!;
  }
}

export function measureDetectors(coverage: Coverage): DetectorResult[] {
  const { floor, grid, served, seated, walking } = coverage;
  const { lattice } = grid;
  const [ones, twos, fours, more] = seated.slices;
  return floor.detectors.map((detector, index) => {
    const { seated: minor, walking: wide } = served[index]!;
    let seatedCells = 0;
    let alone = 0;
    if (minor) {
      for (let k = 0; k < minor.seen.bits.length; k++) {
        const r = Math.floor(k / minor.seen.words);
        const w = minor.seen.w0 + k - r * minor.seen.words;
        const j = minor.seen.j0 + r;
        const full = j * ones.words + w;
        const bits = minor.seen.bits[k]! & seated.occupiable.bits[full]!;
        seatedCells += countBits(bits);
        alone += countBits(bits & ones.bits[full]! & ~twos.bits[full]! & ~fours.bits[full]! & ~more.bits[full]!);
      }
    }
    return {
      id: detector.id,
      seatedM2: areaOfCells(seatedCells, lattice),
      walkingM2: areaOfCells(wide ? countWithin(wide.seen, walking.occupiable) : 0, lattice),
      aloneM2: areaOfCells(alone, lattice),
    };
  });
}

/** Cells that two rasters share; the second covers the whole lattice or a window of it. */
function countWithin(raster: Raster, within: Raster): number {
  let cells = 0;
  for (let k = 0; k < raster.bits.length; k++) {
    if (raster.bits[k] === 0) continue;
    const r = Math.floor(k / raster.words);
    cells += countBits(raster.bits[k]! & wordAt(within, raster.w0 + k - r * raster.words, raster.j0 + r));
  }
  return cells;
}

/** A group is met when every workplace and every zone that it serves is met. */
export function judgeGroups(
  coverage: Coverage,
  workplaces: readonly WorkplaceResult[],
  zones: readonly ZoneResult[],
): GroupResult[] {
  const { floor, serving, samples } = coverage;
  const zoneCells = floor.zones.map((zone) => (zone.need === 'nobody' ? null : markZone(coverage, zone)));
  return serving.groups.map((group) => {
    const seats = workplaces.every(
      (workplace, index) => workplace.met || !servedSamples(coverage, samples[index]!, group),
    );
    const places = zones.every((zone, index) => {
      const cells = zoneCells[index];
      return zone.met || !cells || !touches(cells, group.area);
    });
    return { id: group.key, met: seats && places };
  });
}

function touches(a: Raster, b: Raster): boolean {
  return countWithin(a, b) > 0;
}

export function measurePlane(field: Coverage['seated'], lattice: { readonly cell: number }) {
  const all = countCells(field.occupiable);
  const seen = countCells(field.seen);
  return {
    height: field.height,
    areaM2: areaOfCells(all, lattice),
    seenM2: areaOfCells(seen, lattice),
    share: all === 0 ? null : seen / all,
  };
}
