/** Zones as needs and limits: which of their cells each candidate sees. */
import {
  type Coverage,
  castOpenLayers,
  computeHeadingShare,
  crosses,
  EVERY_HEADING_WITHIN,
  forCells,
  markZone,
  seesHeading,
} from '../../coverage/index.ts';
import { shareOf, type Zone } from '../../floor/index.ts';
import {
  castLayers,
  countCells,
  createRaster,
  type DetectorLayers,
  hasCell,
  type Lattice,
  type Lens,
  type Raster,
  type Scene,
  SLACK,
  type Surroundings,
  WHEN_OPEN,
} from '../../sight/index.ts';
import type { Candidate } from './candidates.ts';
import { buildLevel, type ColumnView, clearCommon, countCommon } from './classes.ts';
import { type AskedLevel, countFor, type Limit } from './problem.ts';

export interface ZoneNeed extends AskedLevel {
  readonly index: number;
  /** Occupiable cells. */
  readonly all: number;
}

interface Asked {
  readonly index: number;
  readonly zone: Zone;
  readonly all: number;
  /** Cells still to be seen (`nobody`: cells that are not seen yet). */
  readonly open: Raster;
  /** The open cells of each room: a candidate serves its own room. `nobody`: not parted. */
  readonly openOf: ReadonlyMap<number, Raster> | null;
  /** Cells that a detector that stays sees walking past, but not for headings enough. */
  readonly half: Raster | null;
  readonly views: ColumnView[];
  /** `nobody`: may a candidate of this room be seen there? Rooms whose groups are not named do not matter. */
  readonly watches: (room: number) => boolean;
}

export function createZoneGatherer(
  coverage: Coverage,
  scene: Scene,
  candidates: readonly Candidate[],
  isChosen: (id: string) => boolean,
  roomsOfGroup: ReadonlyMap<string, readonly number[]>,
) {
  const { floor, grid } = coverage;
  const { lattice } = grid;
  const { crossingAngle, headings } = floor.analysis;
  // One detector that is walked past sees so many of the headings; with fewer asked for, it does by itself.
  const oneIsEnough = computeHeadingShare([0], crossingAngle) >= headings - SLACK;
  const asked: Asked[] = floor.zones.flatMap((zone, index) =>
    isChosen(zone.id)
      ? [zone.need === 'nobody' ? openNobody(coverage, zone, index, roomsOfGroup) : openZone(coverage, zone, index)]
      : [],
  );
  const planes = { seated: coverage.seated.height, walking: coverage.walking.height };

  return {
    isAsked: asked.length > 0,
    concerns: (room: number) => asked.some(({ openOf, watches }) => (openOf ? openOf.has(room) : watches(room))),

    take(column: number, layers: DetectorLayers, surroundings: Surroundings): void {
      const { room } = candidates[column]!;
      const lens = scene.lenses[column]!;
      for (const { zone, open, openOf, views, watches } of asked) {
        if (zone.need === 'nobody') {
          if (!watches(room)) continue;
          const open_ = layers.doorInSight
            ? castLayers(scene, surroundings, lens, grid.inRoom, planes, WHEN_OPEN)
            : layers;
          const full = unite([open_.minor?.seen, open_.tangential?.seen, open_.radial?.seen], open);
          if (full) views.push({ column, full });
          continue;
        }
        const mine = openOf?.get(room);
        if (!mine) continue;
        if (zone.need === 'seated') {
          const full = unite([layers.minor?.seen], mine);
          if (full) views.push({ column, full });
          continue;
        }
        const near = layers.tangential ? keepNearFoot(layers.tangential.seen, lattice, lens) : null;
        const past = layers.tangential?.seen ?? null;
        const crossing =
          past && zone.heading !== undefined
            ? keepCrossing(past, mine, lattice, lens, zone.heading, crossingAngle)
            : null;
        const isWhole = zone.heading === undefined && oneIsEnough;
        const full = unite([layers.radial?.seen, near, crossing, isWhole ? past : null], mine);
        const part = zone.heading === undefined && !isWhole && past ? without(unite([past], mine), full) : null;
        if (full || part)
          views.push({ column, full: full ?? { ...mine, words: 0, rows: 0, bits: new Int32Array(0) }, part });
      }
    },

    /** What the zones where nobody may be seen forbid. */
    judgeLimits(): { forbidden: Uint8Array; limits: Limit[]; broken: number[] } {
      const forbidden = new Uint8Array(candidates.length);
      const limits: Limit[] = [];
      const broken: number[] = [];
      for (const { zone, index, all, open, views } of asked) {
        if (zone.need !== 'nobody') continue;
        const seen = all - countCells(open);
        const most = Math.floor((shareOf(zone) + SLACK) * all);
        if (seen > most) broken.push(index);
        const allowed = Math.max(0, most - seen);
        const kept = views.filter(({ column, full }) => {
          const count = full ? countCommon(full, open) : 0;
          if (count > allowed) forbidden[column] = 1;
          return count > 0 && count <= allowed;
        });
        if (kept.length < 2) continue;
        const { weights, columns, starts, classes } = buildLevel(open, allowed, kept);
        limits.push({ allowed, weights, columns, starts, classes });
      }
      return { forbidden, limits, broken };
    },

    /** Cells of a zone that no allowed candidate sees. */
    unreached(index: number, forbidden: Uint8Array): Raster | null {
      const zone = asked.find((each) => each.index === index);
      if (!zone) return null;
      const left: Raster = { ...zone.open, bits: zone.open.bits.slice() };
      for (const { column, full, part } of zone.views) {
        if (forbidden[column] === 1) continue;
        for (const raster of [full, part]) {
          if (raster) clearCommon(raster, left);
        }
      }
      return left;
    },

    listNeeds: (forbidden: Uint8Array): ZoneNeed[] =>
      asked.flatMap(({ zone, index, all, open, half, views }) => {
        if (zone.need === 'nobody') return [];
        const share = shareOf(zone);
        const required = all === 0 ? 0 : countFor(share, all) - (all - countCells(open));
        const allowed = views.filter(({ column }) => forbidden[column] === 0);
        // A zone without a cell to be in is met: its share is a share of nothing.
        return all === 0 ? [] : [{ index, all, share, level: buildLevel(open, required, allowed, half) }];
      }),
  };
}

function openZone(coverage: Coverage, zone: Zone, index: number): Asked {
  const { grid } = coverage;
  const field = zone.need === 'seated' ? coverage.seated : coverage.walking;
  const cells = common(markZone(coverage, zone), field.occupiable);
  const { lattice, room } = grid;
  const isSeen =
    zone.heading === undefined || zone.need === 'seated'
      ? (i: number, j: number) => hasCell(field.seen, i, j)
      : (i: number, j: number) =>
          seesHeading(
            coverage,
            i,
            j,
            lattice.x0 + (i + 0.5) * lattice.cell,
            lattice.y0 + (j + 0.5) * lattice.cell,
            zone.heading!,
          );
  const open = keep(cells, (i, j) => !isSeen(i, j));
  const openOf = new Map<number, Raster>();
  forCells(open, (i, j) => {
    const at = room[j * lattice.nx + i]!;
    let mine = openOf.get(at);
    if (!mine) {
      mine = { ...open, bits: new Int32Array(open.bits.length) };
      openOf.set(at, mine);
    }
    mine.bits[(j - open.j0) * open.words + (i >> 5) - open.w0]! |= 1 << (i & 31);
  });
  const isHalf = (i: number, j: number) =>
    coverage.served.some(({ tangential }) => tangential !== null && hasCell(tangential, i, j));
  const half =
    zone.need === 'walking' && zone.heading === undefined && coverage.served.length > 0 ? keep(open, isHalf) : null;
  return {
    index,
    zone,
    all: countCells(cells),
    open,
    openOf,
    half: half && countCells(half) > 0 ? half : null,
    views: [],
    watches: () => false,
  };
}

function openNobody(
  coverage: Coverage,
  zone: Zone,
  index: number,
  roomsOfGroup: ReadonlyMap<string, readonly number[]>,
): Asked {
  const { serving, walking } = coverage;
  const cells = common(markZone(coverage, zone), walking.occupiable);
  const watched = serving.groups.filter(
    (group) => !zone.groups || (group.group !== null && zone.groups.includes(group.group.id)),
  );
  const layers = castOpenLayers(coverage);
  const seen = watched.flatMap((group) =>
    group.detectors.flatMap((detector) => {
      const { minor, tangential, radial } = layers[detector]!;
      return [minor?.seen, tangential?.seen, radial?.seen].filter((raster) => raster !== undefined);
    }),
  );
  const rooms = new Set(zone.groups?.flatMap((id) => roomsOfGroup.get(id) ?? []));
  return {
    index,
    zone,
    all: countCells(cells),
    open: keep(cells, (i, j) => !seen.some((raster) => hasCell(raster, i, j))),
    openOf: null,
    half: null,
    views: [],
    watches: (room) => zone.groups === undefined || rooms.has(room),
  };
}

/** The cells of a raster that a test keeps. */
function keep(raster: Raster, test: (i: number, j: number) => boolean): Raster {
  const kept: Raster = { ...raster, bits: new Int32Array(raster.bits.length) };
  forCells(raster, (i, j) => {
    if (test(i, j)) kept.bits[(j - kept.j0) * kept.words + (i >> 5) - kept.w0]! |= 1 << (i & 31);
  });
  return kept;
}

/** The cells that two rasters share, in the window of the first. */
function common(raster: Raster, other: Raster): Raster {
  const { words, w0, j0 } = raster;
  const bits = raster.bits.map((word, k) => word & wordOf(other, w0 + (k % words), j0 + Math.floor(k / words)));
  return { ...raster, bits };
}

/** What any of some rasters holds of the cells that count, in a window of its own; null for nothing. */
function unite(rasters: readonly (Raster | null | undefined)[], cells: Raster): Raster | null {
  let [w0, w1, j0, j1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const raster of rasters) {
    if (!raster) continue;
    w0 = Math.min(w0, Math.max(raster.w0, cells.w0));
    w1 = Math.max(w1, Math.min(raster.w0 + raster.words, cells.w0 + cells.words));
    j0 = Math.min(j0, Math.max(raster.j0, cells.j0));
    j1 = Math.max(j1, Math.min(raster.j0 + raster.rows, cells.j0 + cells.rows));
  }
  if (w0 >= w1 || j0 >= j1) return null;
  const united = createRaster(cells.lattice, w0, j0, w1 - w0, j1 - j0);
  let any = 0;
  for (let j = j0; j < j1; j++) {
    for (let w = w0; w < w1; w++) {
      let word = 0;
      for (const raster of rasters) if (raster) word |= wordOf(raster, w, j);
      word &= wordOf(cells, w, j);
      united.bits[(j - j0) * united.words + w - w0] = word;
      any |= word;
    }
  }
  return any === 0 ? null : united;
}

function wordOf({ w0, j0, words, rows, bits }: Raster, w: number, j: number): number {
  return w < w0 || w >= w0 + words || j < j0 || j >= j0 + rows ? 0 : bits[(j - j0) * words + w - w0]!;
}

function without(raster: Raster | null, other: Raster | null): Raster | null {
  if (!raster || !other) return raster;
  const { words, w0, j0 } = raster;
  const bits = raster.bits.map((word, k) => word & ~wordOf(other, w0 + (k % words), j0 + Math.floor(k / words)));
  return bits.some((word) => word !== 0) ? { ...raster, bits } : null;
}

/** Cells so near to the lens's foot that every heading is seen there. */
function keepNearFoot(seen: Raster, { x0, y0, cell }: Lattice, lens: Lens): Raster | null {
  const reach = EVERY_HEADING_WITHIN + SLACK;
  const near: Raster = { ...seen, bits: new Int32Array(seen.bits.length) };
  const i0 = Math.floor((lens.x - reach - x0) / cell);
  const j0 = Math.floor((lens.y - reach - y0) / cell);
  const steps = Math.ceil((2 * reach) / cell) + 1;
  for (let j = j0; j <= j0 + steps; j++) {
    for (let i = i0; i <= i0 + steps; i++) {
      if (!hasCell(seen, i, j)) continue;
      if (Math.hypot(x0 + (i + 0.5) * cell - lens.x, y0 + (j + 0.5) * cell - lens.y) > reach) continue;
      near.bits[(j - near.j0) * near.words + (i >> 5) - near.w0]! |= 1 << (i & 31);
    }
  }
  return near;
}

/** Cells where somebody walking at a heading crosses the sight line steeply enough. */
function keepCrossing(
  seen: Raster,
  cells: Raster,
  { x0, y0, cell }: Lattice,
  lens: Lens,
  heading: number,
  crossingAngle: number,
): Raster | null {
  const mine = unite([seen], cells);
  return (
    mine &&
    keep(mine, (i, j) => {
      const dx = x0 + (i + 0.5) * cell - lens.x;
      const dy = y0 + (j + 0.5) * cell - lens.y;
      return crosses(heading, (Math.atan2(dy, dx) * 180) / Math.PI, crossingAngle);
    })
  );
}
