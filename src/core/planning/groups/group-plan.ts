/** What a group is in figures: its cable, what it serves, how it stands to daylight, and its limits. */
import type { Coverage } from '../../coverage/index.ts';
import { tidy } from '../../coverage/measure.ts';
import { type ServingGroup, servesPlace } from '../../coverage/serving.ts';
import type {
  DetectorId,
  DetectorType,
  Floor,
  Group,
  GroupId,
  Point,
  RoomId,
  WorkplaceId,
  ZoneId,
} from '../../floor/index.ts';
import { findRoomAt, nameOf } from '../../floor/index.ts';
import { countCells, hasCell } from '../../sight/index.ts';
import { type Daylight, findDaylight, isDaylit } from '../light/daylight.ts';
import { findLightSpot, type LightSpot } from '../light/light-spot.ts';
import { findUse } from '../settings/uses.ts';
import type { Sourced } from '../sourced.ts';
import { type CablePlan, layCable } from './cable.ts';

/** A group larger than this loses the energy credit, meeting rooms excepted. */
export const ENERGY_AREA: Sourced<number> = { value: 30, source: 'EN 15193', standing: 'memory' };
/** Largest zone of general lighting in an open plan: 600 ft². */
export const OPEN_PLAN_AREA: Sourced<number> = { value: 55.741824, source: 'IECC C405.2.1.3', standing: 'found' };

export interface GroupLimit {
  readonly kind: 'extensions' | 'cable' | 'energy area' | 'open-plan area';
  readonly value: number;
  /** Null: the type states none, so nothing is judged. */
  readonly limit: number | null;
  readonly met: boolean | null;
  readonly source: string;
}

/** Where the places that a group lights lie: all in daylit strips, none, some, or there are none. */
export type DaylightClass = 'daylit' | 'inner' | 'mixed' | 'no places';

export interface GroupPlan {
  readonly id: GroupId;
  readonly main: DetectorId;
  /** In the order in which the cable reaches them. */
  readonly extensions: readonly DetectorId[];
  readonly cable: CablePlan;
  readonly rooms: readonly RoomId[];
  readonly zones: readonly ZoneId[];
  /** Does the file say what it serves? */
  readonly stated: boolean;
  /** Of what it serves, whole cells. */
  readonly areaM2: number;
  /** The part of it that lies nearer to its detectors than to those of another group serving it too. */
  readonly ownM2: number;
  readonly workplaces: readonly WorkplaceId[];
  readonly daylight: DaylightClass;
  /**
   * The workplaces and seated zones it lights in daylit strips, and those outside. A place that several groups serve
   * counts for the one that hangs nearest: the file does not say which luminaire is whose.
   */
  readonly daylitPlaces: readonly (WorkplaceId | ZoneId)[];
  readonly innerPlaces: readonly (WorkplaceId | ZoneId)[];
  readonly limits: readonly GroupLimit[];
  /** Null: the main has no light sensor, or is to be removed. */
  readonly spot: LightSpot | null;
  /** What a planner should know and no limit says, in plain words. */
  readonly remarks: readonly string[];
}

/** The plan of every group of the file, in its order. Nothing is changed by asking. */
export function planGroups(coverage: Coverage, daylight: Daylight = findDaylight(coverage.floor)): GroupPlan[] {
  return coverage.serving.groups.flatMap((serving) =>
    serving.group === null ? [] : [planGroup(coverage, serving, serving.group, daylight)],
  );
}

/** The plan of one group; undefined when the floor has none of that id. */
export function planGroupOf(coverage: Coverage, id: string): GroupPlan | undefined {
  const serving = coverage.serving.groups.find((each) => each.group?.id === id);
  return serving?.group ? planGroup(coverage, serving, serving.group, findDaylight(coverage.floor)) : undefined;
}

/** The spot that a group's main measures; null when it has no light sensor or is to be removed, or there is no such group. */
export function findSpotOfGroup({ floor, scene }: Coverage, id: string): LightSpot | null {
  const group = floor.groups.find((each) => each.id === id);
  return group === undefined ? null : spotOf(floor, scene, group.main, findDaylight(floor));
}

function spotOf(floor: Floor, scene: Coverage['scene'], main: DetectorId, daylight: Daylight): LightSpot | null {
  const index = floor.detectors.findIndex((each) => each.id === main);
  const lens = scene.lenses[index];
  const type = floor.types.find((each) => each.id === floor.detectors[index]?.type);
  return lens !== undefined && type?.lightSensor === true && !lens.removed
    ? findLightSpot(floor, daylight, lens, index)
    : null;
}

function planGroup(coverage: Coverage, serving: ServingGroup, group: Group, daylight: Daylight): GroupPlan {
  const { floor, scene, grid } = coverage;
  const { detectors } = floor;
  const mainIndex = detectors.findIndex((each) => each.id === group.main);
  const main = detectors[mainIndex]!;
  const type = floor.types.find((each) => each.id === main.type)!;
  const staying = serving.detectors.filter((index) => index !== mainIndex).map((index) => detectors[index]!);
  const cable = layCable(main, staying, (at) => findRoomAt(floor.rooms, at) !== undefined);
  const areaM2 = tidy(countCells(serving.area) * grid.lattice.cell ** 2);
  const ownM2 = tidy(areaM2 * (ownShares(coverage)[coverage.serving.groups.indexOf(serving)] ?? 1));
  const workplaces = floor.workplaces.filter((workplace, index) =>
    servesPlace(serving, floor, coverage.samples[index]!.room, ...workplace.at),
  );
  const places = listPlaces(floor, serving, workplaces).filter(({ at }) => isNearest(coverage, serving, at));
  const isLit = ({ at }: { readonly at: Point }) => {
    const room = findRoomAt(floor.rooms, at);
    return room !== undefined && isDaylit(daylight, room, at);
  };
  const daylitPlaces = places.filter(isLit).map(({ id }) => id);
  const innerPlaces = places.filter((place) => !isLit(place)).map(({ id }) => id);
  return {
    id: group.id,
    main: main.id,
    extensions: cable.legs.map((leg) => leg.to),
    cable,
    rooms: serving.rooms.map((index) => floor.rooms[index]!.id),
    zones: serving.zones.map((index) => floor.zones[index]!.id),
    stated: serving.stated,
    areaM2,
    ownM2,
    workplaces: workplaces.map(({ id }) => id),
    daylight:
      places.length === 0
        ? 'no places'
        : innerPlaces.length === 0
          ? 'daylit'
          : daylitPlaces.length === 0
            ? 'inner'
            : 'mixed',
    daylitPlaces,
    innerPlaces,
    limits: listLimits(floor, serving, type, group.extensions.length, cable, ownM2),
    spot: spotOf(floor, scene, main.id, daylight),
    remarks: listRemarks(coverage, serving, group, type),
  };
}

/** Of every so many cells in x and y one is asked whose it is; of a large floor fewer, so that as many are asked in all. */
const SAMPLED = 5;
const MOST_SAMPLES = 20_000;

/** By floor, which is never changed in place: the share of what each group serves that lies nearest to its detectors. */
const knownShares = new WeakMap<Floor, readonly number[]>();

function ownShares(coverage: Coverage): readonly number[] {
  const known = knownShares.get(coverage.floor);
  if (known !== undefined) return known;
  const { groups } = coverage.serving;
  const { lattice, room } = coverage.grid;
  const { nx, ny, x0, y0, cell } = lattice;
  // Two groups serving one cell share its room or a zone, so that none beside these can be the nearer one.
  const shared = [...groups.keys()].filter((k) =>
    groups.some((other) => other !== groups[k] && sharesArea(other, groups[k]!)),
  );
  const all = groups.map(() => 0);
  const own = groups.map(() => 0);
  const places = shared.map((k) => groups[k]!.detectors.map((index) => coverage.floor.detectors[index]!.at));
  const step = shared.length > 0 ? Math.max(SAMPLED, Math.ceil(Math.sqrt((nx * ny) / MOST_SAMPLES))) : Infinity;
  for (let j = Math.min(ny, step) >> 1; j < ny; j += step) {
    for (let i = Math.min(nx, step) >> 1; i < nx; i += step) {
      if (room[j * nx + i]! < 0) continue;
      const x = x0 + (i + 0.5) * cell;
      const y = y0 + (j + 0.5) * cell;
      let nearest = -1;
      let least = Infinity;
      for (let s = 0; s < shared.length; s++) {
        const k = shared[s]!;
        if (!hasCell(groups[k]!.area, i, j)) continue;
        all[k] = all[k]! + 1;
        for (const [px, py] of places[s]!) {
          const distance = (px - x) ** 2 + (py - y) ** 2;
          if (distance >= least) continue;
          least = distance;
          nearest = k;
        }
      }
      if (nearest >= 0) own[nearest] = own[nearest]! + 1;
    }
  }
  const shares = groups.map((_, k) => (all[k]! > 0 ? own[k]! / all[k]! : 1));
  knownShares.set(coverage.floor, shares);
  return shares;
}

/** Of some groups, by their place in the list, the one with the detector nearest to a place; of equals the first. */
function findNearest(coverage: Coverage, groups: readonly number[], at: Point): number | undefined {
  let nearest: number | undefined;
  let least = Infinity;
  for (const k of groups) {
    for (const index of coverage.serving.groups[k]!.detectors) {
      const [x, y] = coverage.floor.detectors[index]!.at;
      const distance = (x - at[0]) ** 2 + (y - at[1]) ** 2;
      if (distance < least) {
        least = distance;
        nearest = k;
      }
    }
  }
  return nearest;
}

function sharesArea(a: ServingGroup, b: ServingGroup): boolean {
  return a.rooms.some((room) => b.rooms.includes(room)) || a.zones.length > 0 || b.zones.length > 0;
}

/** Is no detector of another group that serves a place nearer to it than this group's? */
function isNearest(coverage: Coverage, serving: ServingGroup, at: Point): boolean {
  const { groups } = coverage.serving;
  const [i, j] = cellOf(coverage.grid.lattice, at);
  const others = groups.flatMap((group, k) =>
    group === serving || (sharesArea(group, serving) && hasCell(group.area, i, j)) ? [k] : [],
  );
  const nearest = findNearest(coverage, others, at);
  return nearest === undefined || groups[nearest] === serving;
}

function cellOf({ x0, y0, cell }: Coverage['grid']['lattice'], [x, y]: Point): readonly [number, number] {
  return [Math.floor((x - x0) / cell), Math.floor((y - y0) / cell)];
}

interface Place {
  readonly id: WorkplaceId | ZoneId;
  readonly at: Point;
}

/** Where light is measured for: served workplaces, and zones of seated people by the middle of their box. */
function listPlaces(floor: Floor, serving: ServingGroup, workplaces: Floor['workplaces']): readonly Place[] {
  const zones = floor.zones.flatMap((zone, index): Place[] => {
    if (zone.need !== 'seated') return [];
    const at = middleOf(zone.outline);
    const room = findRoomAt(floor.rooms, at);
    const serves =
      serving.zones.includes(index) || (room !== undefined && serving.rooms.includes(floor.rooms.indexOf(room)));
    return serves && room !== undefined ? [{ id: zone.id, at }] : [];
  });
  return [...workplaces, ...zones];
}

function middleOf(outline: readonly Point[]): Point {
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

function listLimits(
  floor: Floor,
  serving: ServingGroup,
  type: DetectorType,
  extensions: number,
  cable: CablePlan,
  ownM2: number,
): readonly GroupLimit[] {
  const hold = (kind: GroupLimit['kind'], value: number, limit: number | undefined, source: string): GroupLimit => ({
    kind,
    value,
    limit: limit ?? null,
    met: limit === undefined ? null : value <= limit + 1e-9,
    source,
  });
  const uses = usesOf(floor, serving);
  const isMeeting = uses.length > 0 && uses.every((use) => use?.use.isMeeting === true);
  const isOpenPlan = uses.some((use) => use?.use.isOpenPlan === true);
  return [
    hold('extensions', extensions, type.extensionLimit, `type ${type.name}`),
    hold('cable', cable.totalM, type.cableLimit, `type ${type.name}`),
    ...(isMeeting ? [] : [hold('energy area', ownM2, ENERGY_AREA.value, `${ENERGY_AREA.source}, from memory`)]),
    ...(isOpenPlan ? [hold('open-plan area', ownM2, OPEN_PLAN_AREA.value, OPEN_PLAN_AREA.source)] : []),
  ];
}

/** The uses of the rooms a group serves, or in which the zones it serves lie; undefined for one that is not known. */
export function usesOf(floor: Floor, serving: ServingGroup): ReturnType<typeof findUse>[] {
  return servedRooms(floor, serving).map((room) => findUse(room.use ?? ''));
}

/** The rooms a group serves whole, and those in which the zones it serves have their middle. */
export function servedRooms(floor: Floor, serving: ServingGroup): Floor['rooms'] {
  const zoned = serving.zones.map((index) => findRoomAt(floor.rooms, middleOf(floor.zones[index]!.outline)));
  const rooms = [...serving.rooms.map((index) => floor.rooms[index]), ...zoned];
  return [...new Set(rooms)].filter((room) => room !== undefined);
}

function listRemarks(coverage: Coverage, serving: ServingGroup, group: Group, type: DetectorType): readonly string[] {
  const { floor, scene } = coverage;
  const remarks: string[] = [];
  const main = floor.detectors.findIndex((each) => each.id === group.main);
  if (scene.lenses[main]!.removed)
    remarks.push(`The main, ${nameOf(floor.detectors[main]!)}, is to be removed. Choose another.`);
  if (!type.lightSensor)
    remarks.push(
      `${nameOf(type)} has no light sensor, so nothing measures the light of this group. Choose another main.`,
    );
  if (type.extensionLimit === undefined && group.extensions.length > 0)
    remarks.push(`${nameOf(type)} states no limit of extensions; none is held against it.`);
  if (type.cableLimit === undefined && group.extensions.length > 0)
    remarks.push(`${nameOf(type)} states no limit of cable; none is held against it.`);
  const home = scene.lenses[main]!.room;
  for (const index of serving.detectors) {
    const room = scene.lenses[index]!.room;
    if (room === home || room < 0 || home < 0) continue;
    remarks.push(
      `${nameOf(floor.detectors[index]!)} hangs in ${nameOf(floor.rooms[room]!)}, the main in ${nameOf(floor.rooms[home]!)}: the cable passes a wall.`,
    );
  }
  return remarks;
}
