/**
 * Groups proposed for detectors that are already placed: one for each room, or for each set of rooms and zones that a
 * group states it serves, apart by daylight, and divided until every limit of the main's type is kept.
 */
import type { Coverage } from '../../coverage/index.ts';
import { servesPlace } from '../../coverage/serving.ts';
import type { DetectorId, DetectorType, Floor, GroupId, Point, RoomId, ZoneId } from '../../floor/index.ts';
import { findRoomAt, nameOf } from '../../floor/index.ts';
import { computeBox, isInRing } from '../../geometry/polygon.ts';
import { type Daylight, findDaylight, isDaylit } from '../light/daylight.ts';
import { findLightSpot } from '../light/light-spot.ts';
import { type CablePlan, layCable, legLength } from './cable.ts';

export interface ProposeGroupsOptions {
  /** Keeps detectors in daylit strips apart from those farther in. */
  readonly apartByDaylight: boolean;
  /** Most square metres that one group lights; null: no limit. A place counts for the detector nearest to it. */
  readonly mostM2: number | null;
}

const PROPOSE_DEFAULTS: ProposeGroupsOptions = { apartByDaylight: true, mostM2: null };

export interface ProposedGroup {
  /** The group of the file whose id, name and settings it takes over: the one it shares most detectors with. */
  readonly keeps: GroupId | null;
  readonly name: string;
  readonly main: DetectorId;
  /** In the order of the cable. */
  readonly extensions: readonly DetectorId[];
  readonly serves: readonly (RoomId | ZoneId)[];
  readonly cable: CablePlan;
  /** Of the main's type; null: not stated. */
  readonly extensionLimit: number | null;
  readonly cableLimit: number | null;
  /** Why this main, why these detectors, and what is left to do; plain words. */
  readonly reasons: readonly string[];
}

export interface GroupsProposal {
  readonly groups: readonly ProposedGroup[];
  /** Groups of the file that would be no more, and where their luminaires go. */
  readonly gone: readonly { readonly id: GroupId; readonly to: number | null }[];
  /** Detectors that are put in no group, and why. */
  readonly left: readonly { readonly detector: DetectorId; readonly why: string }[];
  /** Is it what the file has already? */
  readonly isSame: boolean;
}

interface Site {
  readonly serves: readonly (RoomId | ZoneId)[];
  readonly name: string;
  readonly members: number[];
}

/** Proposes groups. The floor is not changed; apply the answer as an edit. */
export function proposeGroups(coverage: Coverage, options: Partial<ProposeGroupsOptions> = {}): GroupsProposal {
  const { apartByDaylight, mostM2 } = { ...PROPOSE_DEFAULTS, ...options };
  const { floor } = coverage;
  const daylight = findDaylight(floor);
  const { sites, left } = findSites(coverage);
  const clusters = sites.flatMap((site) => {
    const areas = mostM2 === null ? null : measureAreas(floor, site);
    const isKept = (members: readonly number[]) =>
      areas === null || mostM2 === null || sumOf(areas, members) <= mostM2 + 1e-9;
    const parts = apartByDaylight ? partByDaylight(coverage, daylight, site) : [{ word: '', members: site.members }];
    return parts.flatMap(({ word, members }) => {
      const kept = divide(coverage, daylight, members, isKept);
      return kept.map((cluster, index) => ({
        site,
        members: cluster,
        name: [site.name, word, kept.length > 1 ? String(index + 1) : ''].filter((part) => part !== '').join(', '),
        isDivided: kept.length > 1,
        lights: areas === null ? null : sumOf(areas, cluster),
      }));
    });
  });
  const keeps = inheritGroups(
    floor,
    clusters.map(({ members }) => members),
  );
  const groups = clusters.map(({ site, members, name, isDivided, lights }, index): ProposedGroup => {
    const { main, cable, reasons } = layGroup(coverage, daylight, members);
    const type = typeOf(floor, main);
    const kept = floor.groups.find((group) => group.id === keeps[index]);
    if (isDivided) reasons.push('Divided so that its limits are kept.');
    if (lights !== null && mostM2 !== null && lights > mostM2 + 1e-9)
      reasons.push(
        `It lights about ${lights.toFixed(0)} m² alone, more than ${mostM2} m²: hang more detectors for smaller groups.`,
      );
    return {
      keeps: kept?.id ?? null,
      name: kept?.name ?? name,
      main: floor.detectors[main]!.id,
      extensions: cable.legs.map((leg) => leg.to),
      serves: site.serves,
      cable,
      extensionLimit: type.extensionLimit ?? null,
      cableLimit: type.cableLimit ?? null,
      reasons,
    };
  });
  const gone = floor.groups
    .filter((group) => !keeps.includes(group.id))
    .map(({ id, main, extensions }) => {
      const members = [main, ...extensions];
      const overlap = groups.map(
        (group) => [group.main, ...group.extensions].filter((each) => members.includes(each)).length,
      );
      const most = Math.max(0, ...overlap);
      return { id, to: most === 0 ? null : overlap.indexOf(most) };
    });
  return { groups, gone, left, isSame: gone.length === 0 && left.length === 0 && isSame(floor, groups) };
}

/** What each detector serves: what its group states, where it hangs there; else the room it hangs in. */
function findSites(coverage: Coverage): { readonly sites: Site[]; readonly left: GroupsProposal['left'] } {
  const { floor, scene, serving } = coverage;
  const sites = new Map<string, Site>();
  const left: { detector: DetectorId; why: string }[] = [];
  floor.detectors.forEach((detector, index) => {
    const lens = scene.lenses[index]!;
    if (lens.removed) return;
    const room = floor.rooms[lens.room];
    if (room === undefined) {
      left.push({ detector: detector.id, why: 'It hangs in no room.' });
      return;
    }
    const group = serving.groups[serving.groupOf[index]!];
    const states = group?.stated === true && servesPlace(group, floor, lens.room, lens.x, lens.y);
    const serves = states ? [...(group.group?.serves ?? [])] : [room.id];
    const key = [...serves].sort().join('\u0000');
    const known = sites.get(key);
    if (known !== undefined) known.members.push(index);
    else sites.set(key, { serves, name: nameSite(floor, serves), members: [index] });
  });
  return { sites: [...sites.values()], left };
}

function nameSite(floor: Floor, serves: readonly string[]): string {
  const names = serves.map((id) => {
    const thing = floor.rooms.find((each) => each.id === id) ?? floor.zones.find((each) => each.id === id);
    return thing?.name.trim() || id;
  });
  return names.length > 2 ? `${names[0]} and ${names.length - 1} more` : names.join(' and ');
}

/** Detectors at the windows and farther in, where there are places to light on both sides of the daylight line. */
function partByDaylight(coverage: Coverage, daylight: Daylight, { serves, members }: Site) {
  const { floor } = coverage;
  const isLit = (at: Point) => {
    const room = findRoomAt(floor.rooms, at);
    return room !== undefined && isDaylit(daylight, room, at);
  };
  const whole = [{ word: '', members }];
  const classes = new Set(listPlacesIn(floor, serves).map((at) => isLit(at)));
  if (classes.size < 2) return whole;
  const parts = [
    { word: 'at the windows', members: members.filter((index) => isLit(floor.detectors[index]!.at)) },
    { word: 'farther in', members: members.filter((index) => !isLit(floor.detectors[index]!.at)) },
  ];
  // A group whose light nobody measures is worse than one of mixed daylight.
  return parts.every((part) => hasLeader(floor, part.members)) ? parts : whole;
}

/** Metres between places that are asked which detector they are nearest to. */
const ASKED_EVERY = 0.5;

/** Square metres of what a site serves that lie nearest to each of its detectors. */
function measureAreas(floor: Floor, { serves, members }: Site): ReadonlyMap<number, number> {
  const areas = new Map(members.map((index) => [index, 0]));
  const outlines = [...floor.rooms, ...floor.zones].filter(({ id }) => (serves as readonly string[]).includes(id));
  const counted = new Set<string>();
  for (const { outline } of outlines) {
    const { minX, minY, maxX, maxY } = computeBox(outline);
    for (let i = Math.floor(minX / ASKED_EVERY); i * ASKED_EVERY < maxX; i++) {
      for (let j = Math.floor(minY / ASKED_EVERY); j * ASKED_EVERY < maxY; j++) {
        const at: Point = [(i + 0.5) * ASKED_EVERY, (j + 0.5) * ASKED_EVERY];
        const key = `${i} ${j}`;
        if (counted.has(key) || !isInRing(outline, ...at) || findRoomAt(floor.rooms, at) === undefined) continue;
        counted.add(key);
        const nearest = nearestOf(floor, members, at);
        areas.set(nearest, (areas.get(nearest) ?? 0) + ASKED_EVERY ** 2);
      }
    }
  }
  return areas;
}

function nearestOf(floor: Floor, members: readonly number[], at: Point): number {
  const off = (index: number) => {
    const [x, y] = floor.detectors[index]!.at;
    return (x - at[0]) ** 2 + (y - at[1]) ** 2;
  };
  return members.reduce((a, b) => (off(b) < off(a) ? b : a));
}

function sumOf(areas: ReadonlyMap<number, number>, members: readonly number[]): number {
  return members.reduce((sum, index) => sum + (areas.get(index) ?? 0), 0);
}

/** Workplaces and middles of seated zones in what is served. */
function listPlacesIn(floor: Floor, serves: readonly string[]): readonly Point[] {
  const zones = floor.zones.filter((zone) => zone.need === 'seated').map((zone) => middleOf(zone.outline));
  return [...floor.workplaces.map(({ at }) => at), ...zones].filter((at) => {
    const room = findRoomAt(floor.rooms, at);
    if (room === undefined) return false;
    return (
      serves.includes(room.id) || floor.zones.some((zone) => serves.includes(zone.id) && isInRing(zone.outline, ...at))
    );
  });
}

function hasLeader(floor: Floor, members: readonly number[]): boolean {
  return members.some((index) => typeOf(floor, index).lightSensor);
}

/** Cuts the tree of a group where that parts it most evenly, until every part keeps the limits of its main. */
function divide(
  coverage: Coverage,
  daylight: Daylight,
  members: readonly number[],
  keepsArea: (members: readonly number[]) => boolean,
): readonly (readonly number[])[] {
  const { floor } = coverage;
  if (members.length === 1) return [members];
  const { main, cable } = layGroup(coverage, daylight, members);
  const { extensionLimit, cableLimit } = typeOf(floor, main);
  const isKept =
    keepsArea(members) &&
    (extensionLimit === undefined || members.length - 1 <= extensionLimit) &&
    (cableLimit === undefined || cable.totalM <= cableLimit + 1e-9);
  if (isKept) return [members];
  let best: readonly [number[], number[]] | null = null;
  let bestScore = -Infinity;
  for (const leg of cable.legs) {
    const far = new Set<DetectorId>([leg.to]);
    // Legs stand in the order in which they are reached, so what hangs on a far one comes after it.
    for (const other of cable.legs) if (far.has(other.from)) far.add(other.to);
    const there = members.filter((index) => far.has(floor.detectors[index]!.id));
    const here = members.filter((index) => !far.has(floor.detectors[index]!.id));
    const led = hasLeader(floor, there) && hasLeader(floor, here) ? members.length : 0;
    const score = led + Math.min(there.length, here.length) + leg.planM / 1e4;
    if (score > bestScore) {
      best = [here, there];
      bestScore = score;
    }
  }
  return best === null ? [members] : best.flatMap((part) => divide(coverage, daylight, part, keepsArea));
}

interface LaidGroup {
  readonly main: number;
  readonly cable: CablePlan;
  readonly reasons: string[];
}

/**
 * The main of some detectors and their cable. Led by one whose type measures light and can lead so many, whose spot is
 * clear, and that hangs nearest to the middle of them; of equals one that leads already,
 * then the first of the file.
 */
function layGroup(coverage: Coverage, daylight: Daylight, members: readonly number[]): LaidGroup {
  const { floor, scene } = coverage;
  const middle = middleOf(members.map((index) => floor.detectors[index]!.at));
  const ranked = members
    .map((index) => {
      const type = typeOf(floor, index);
      const { faults } = findLightSpot(floor, daylight, scene.lenses[index]!, index);
      const hasWindow = faults.some(({ kind }) => kind === 'window');
      const canLead = type.extensionLimit === undefined || type.extensionLimit >= members.length - 1;
      const rank = [
        type.lightSensor ? 0 : 1,
        type.extensionLimit === undefined && members.length > 1 ? 1 : 0,
        canLead ? 0 : 1,
        hasWindow ? 1 : 0,
        faults.length === 0 ? 0 : 1,
        Math.round(legLength(floor.detectors[index]!.at, middle) * 1000),
        floor.groups.some((group) => group.main === floor.detectors[index]!.id) ? 0 : 1,
        index,
      ];
      return { index, type, faults, rank };
    })
    .sort((a, b) => compareRanks(a.rank, b.rank));
  const { index: main, type, faults } = ranked[0]!;
  const others = members.filter((index) => index !== main).map((index) => floor.detectors[index]!);
  const cable = layCable(floor.detectors[main]!, others, (at) => findRoomAt(floor.rooms, at) !== undefined);
  const reasons: string[] = [];
  const name = nameOf(floor.detectors[main]!);
  if (!type.lightSensor)
    reasons.push(`No type here has a light sensor: ${name} leads, and nothing measures the light.`);
  else if (faults.length > 0) reasons.push(`${name} leads, though its light spot is not clear: no other is.`);
  else reasons.push(`${name} leads: it measures light, its spot is clear, and it hangs nearest to the middle.`);
  if (type.extensionLimit === undefined && others.length > 0)
    reasons.push(`Its type states no limit of extensions; none is held.`);
  if (type.cableLimit === undefined && others.length > 0)
    reasons.push(`Its type states no limit of cable; none is held.`);
  return { main, cable, reasons };
}

function compareRanks(a: readonly number[], b: readonly number[]): number {
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return a[k]! - b[k]!;
  return 0;
}

function typeOf(floor: Floor, detector: number): DetectorType {
  return floor.types.find((type) => type.id === floor.detectors[detector]!.type)!;
}

function middleOf(places: readonly Point[]): Point {
  const mean = (axis: 0 | 1) => places.reduce((sum, at) => sum + at[axis], 0) / places.length;
  return [mean(0), mean(1)];
}

/** For each cluster the group of the file that it takes over: the largest overlaps first, each group once. */
function inheritGroups(floor: Floor, clusters: readonly (readonly number[])[]): (GroupId | null)[] {
  const overlaps = floor.groups.flatMap((group, g) => {
    const members = new Set([group.main, ...group.extensions]);
    return clusters.map((cluster, c) => ({
      g,
      c,
      shared: cluster.filter((index) => members.has(floor.detectors[index]!.id)).length,
    }));
  });
  const keeps: (GroupId | null)[] = clusters.map(() => null);
  const taken = new Set<number>();
  for (const { g, c, shared } of overlaps.toSorted((a, b) => b.shared - a.shared || a.c - b.c || a.g - b.g)) {
    if (shared === 0 || taken.has(g) || keeps[c] !== null) continue;
    keeps[c] = floor.groups[g]!.id;
    taken.add(g);
  }
  return keeps;
}

function isSame(floor: Floor, groups: readonly ProposedGroup[]): boolean {
  return groups.every((group) => {
    const now = floor.groups.find((each) => each.id === group.keeps);
    return (
      now !== undefined &&
      now.main === group.main &&
      now.extensions.length === group.extensions.length &&
      now.extensions.every((id) => group.extensions.includes(id)) &&
      (now.serves === undefined ? group.serves.length === 1 : group.serves.join() === now.serves.join())
    );
  });
}
