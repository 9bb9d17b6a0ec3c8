/** Which detectors count where: light follows a group, so a place is covered only by groups that serve it. */
import type { Floor, Group } from '../floor/index.ts';
import { isInRing } from '../geometry/polygon.ts';
import type { Lens, Raster } from '../sight/index.ts';
import { createRasterOver } from '../sight/index.ts';
import type { Grid } from './grid.ts';
import { scanRings } from './grid.ts';
import type { GroupKey } from './result.ts';

export interface ServingGroup {
  readonly key: GroupKey;
  readonly name: string;
  /** Null for a detector that is in no group and so a group of its own. */
  readonly group: Group | null;
  /** Indices of its detectors, main first; those to be removed are left out. */
  readonly detectors: readonly number[];
  /** Indices of rooms served whole. */
  readonly rooms: readonly number[];
  /** Indices of zones served. */
  readonly zones: readonly number[];
  /** Does the file say what is served, or is it taken from where the detectors hang? */
  readonly stated: boolean;
  /** The cells served, in a window of its own. */
  readonly area: Raster;
}

export interface Serving {
  readonly groups: readonly ServingGroup[];
  /** Index of each detector's group; -1 for one to be removed. */
  readonly groupOf: readonly number[];
}

/** @param known an area that still holds for these rooms and zones, if there is one */
export function createServing(
  floor: Floor,
  lenses: readonly Lens[],
  grid: Grid,
  known: (areaKey: string) => Raster | undefined = () => undefined,
): Serving {
  const detectorIndex = new Map(floor.detectors.map((detector, index) => [detector.id, index]));
  const roomIndex = new Map<string, number>(floor.rooms.map((room, index) => [room.id, index]));
  const zoneIndex = new Map<string, number>(floor.zones.map((zone, index) => [zone.id, index]));
  const groupOf = floor.detectors.map(() => -1);
  const groups: ServingGroup[] = [];
  const areas = new Map<string, Raster>();

  const add = (key: GroupKey, name: string, group: Group | null, members: readonly number[]) => {
    const detectors = members.filter((index) => !lenses[index]!.removed);
    const stated = group?.serves;
    const rooms = stated
      ? stated.flatMap((id) => roomIndex.get(id) ?? [])
      : [...new Set(detectors.map((index) => lenses[index]!.room))].filter((index) => index >= 0).sort((a, b) => a - b);
    const zones = stated ? stated.flatMap((id) => zoneIndex.get(id) ?? []) : [];
    const areaKey = areaKeyOf({ rooms, zones });
    const area = areas.get(areaKey) ?? known(areaKey) ?? markServed(floor, grid, rooms, zones);
    areas.set(areaKey, area);
    for (const index of detectors) groupOf[index] = groups.length;
    groups.push({ key, name, group, detectors, rooms, zones, stated: stated !== undefined, area });
  };

  const grouped = new Set<number>();
  for (const group of floor.groups) {
    const members = [group.main, ...group.extensions].flatMap((id) => detectorIndex.get(id) ?? []);
    for (const index of members) grouped.add(index);
    add(group.id, group.name, group, members);
  }
  floor.detectors.forEach((detector, index) => {
    if (!grouped.has(index) && detector.status !== 'remove') add(detector.id, detector.name, null, [index]);
  });
  return { groups, groupOf };
}

/** Tells the areas of groups apart. */
export function areaKeyOf({ rooms, zones }: Pick<ServingGroup, 'rooms' | 'zones'>): string {
  return `${rooms.join()};${zones.join()}`;
}

/** Does the group serve this place of a room (its index, -1 for none): the whole room, or a zone that holds the place? */
export function servesPlace(group: ServingGroup, floor: Floor, room: number, x: number, y: number): boolean {
  if (room < 0) return false;
  return group.rooms.includes(room) || group.zones.some((zone) => isInRing(floor.zones[zone]!.outline, x, y));
}

function markServed(floor: Floor, grid: Grid, rooms: readonly number[], zones: readonly number[]): Raster {
  const { lattice, room } = grid;
  const outlines = [
    ...rooms.map((index) => floor.rooms[index]!.outline),
    ...zones.map((index) => floor.zones[index]!.outline),
  ];
  const xs = outlines.flatMap((outline) => outline.map(([x]) => x));
  const ys = outlines.flatMap((outline) => outline.map(([, y]) => y));
  if (outlines.length === 0) return createRasterOver(lattice, lattice.x0, lattice.y0, lattice.x0, lattice.y0);
  const area = createRasterOver(lattice, least(xs), least(ys), most(xs), most(ys));
  const set = (i: number, j: number) => {
    area.bits[(j - area.j0) * area.words + (i >> 5) - area.w0]! |= 1 << (i & 31);
  };
  for (const index of rooms) {
    const { outline, holes } = floor.rooms[index]!;
    scanRings(lattice, [outline, ...holes], (j, i0, i1) => {
      for (let i = i0; i <= i1; i++) if (room[j * lattice.nx + i] === index) set(i, j);
    });
  }
  for (const index of zones) {
    scanRings(lattice, [floor.zones[index]!.outline], (j, i0, i1) => {
      for (let i = i0; i <= i1; i++) if (room[j * lattice.nx + i]! >= 0) set(i, j);
    });
  }
  return area;
}

function least(values: readonly number[]): number {
  return values.reduce((a, b) => Math.min(a, b), Infinity);
}

function most(values: readonly number[]): number {
  return values.reduce((a, b) => Math.max(a, b), -Infinity);
}
