/** New detectors into groups, one for each room, and everything that named a group that goes. */
import {
  type Detector,
  type DetectorId,
  type DetectorType,
  type Floor,
  type FloorFile,
  findRoomAt,
  type Group,
  type RoomId,
} from '../../floor/index.ts';
import { type CableEnd, layCable, legLength } from '../groups/cable.ts';

type FileGroup = NonNullable<FloorFile['groups']>[number];
type FileDetector = FloorFile['detectors'][number];

/** A detector that is to be hung, in the order of reading. */
export interface NewDetector {
  readonly file: FileDetector;
  readonly room: number;
  readonly type: DetectorType;
}

export interface Regrouped {
  readonly groups: FileGroup[];
  /** Of each group of the floor, the groups that take its place: itself, where it stays. */
  readonly heirs: ReadonlyMap<string, readonly string[]>;
}

/** Rooms in which the groups of a floor work: those they name, and those their detectors hang in. */
export function listRoomsOfGroups(floor: Floor): Map<string, readonly number[]> {
  const byId = new Map(floor.detectors.map((detector) => [detector.id, detector]));
  const numberOf = new Map<RoomId, number>(floor.rooms.map((room, index) => [room.id, index]));
  return new Map(floor.groups.map((group) => [group.id, roomsOf(floor, group, byId, numberOf)]));
}

function roomsOf(
  floor: Floor,
  { main, extensions, serves }: Group,
  byId: ReadonlyMap<string, Detector>,
  numberOf: ReadonlyMap<string, number>,
): number[] {
  const rooms = new Set<number>();
  for (const id of serves ?? []) {
    const room = numberOf.get(id);
    if (room !== undefined) rooms.add(room);
  }
  for (const id of [main, ...extensions]) {
    const detector = byId.get(id);
    const room = detector && findRoomAt(floor.rooms, detector.at);
    if (room) rooms.add(numberOf.get(room.id)!);
  }
  return [...rooms].sort((a, b) => a - b);
}

/**
 * Groups for an arrangement: one for each room, its first detector that measures light the main. Groups of detectors that
 * stay keep them; a group that loses all gives its name, settings and luminaires to the group of its room.
 * A main's limits, of extensions and of cable, part the detectors of a room into several groups.
 */
export function regroup(
  floor: Floor,
  file: FloorFile,
  staying: ReadonlySet<string>,
  added: readonly NewDetector[],
): Regrouped {
  const roomsOfGroup = listRoomsOfGroups(floor);
  const heirs = new Map<string, string[]>();
  const groups: FileGroup[] = [];
  const freed: FileGroup[] = [];
  const taken = new Set<string>(listIds(file));
  const types = new Map(floor.types.map((type) => [type.id, type]));
  const typeOf = new Map<string, DetectorType | undefined>(
    floor.detectors.map((detector) => [detector.id, types.get(detector.type)]),
  );
  for (const group of file.groups ?? []) {
    const members = [group.main, ...(group.extensions ?? [])].filter((id) => staying.has(id));
    const main = members.includes(group.main)
      ? group.main
      : (members.find((id) => typeOf.get(id)?.lightSensor) ?? members[0]);
    if (main === undefined) {
      freed.push(group);
      heirs.set(group.id, []);
      continue;
    }
    groups.push({ ...group, main, extensions: members.filter((id) => id !== main) });
    heirs.set(group.id, [group.id]);
  }
  const byRoom = new Map<number, NewDetector[]>();
  for (const detector of added) {
    const list = byRoom.get(detector.room);
    if (list) list.push(detector);
    else byRoom.set(detector.room, [detector]);
  }
  for (const [room, detectors] of [...byRoom].sort((a, b) => a[0] - b[0])) {
    let left = joinStaying(room, detectors);
    while (left.length > 0) {
      const main = left.find(({ type }) => type.lightSensor) ?? left[0]!;
      const others = left.filter((each) => each !== main);
      const extensions = takeExtensions(endOf(main.file), main.type, [], others);
      left = others.filter((each) => !extensions.includes(each));
      const old = freed.findIndex(({ id }) => roomsOfGroup.get(id)?.includes(room));
      const heir = old < 0 ? undefined : freed.splice(old, 1)[0];
      const { serves: _, ventilation, ...kept } = heir ?? { id: freshId(taken), name: groupName(floor, room) };
      groups.push({
        ...kept,
        main: main.file.id,
        extensions: extensions.map((each) => each.file.id),
        ...(ventilation === undefined ? {} : { ventilation }),
      });
      const { id } = kept;
      for (const [gone, list] of heirs)
        if (gone === id || (!staysIn(groups, gone) && roomsOfGroup.get(gone)?.includes(room))) list.push(id);
    }
  }
  /** A group that stays and works in this room alone takes on as many as its main carries; the rest is handed back. */
  function joinStaying(room: number, detectors: readonly NewDetector[]): readonly NewDetector[] {
    const at = groups.findIndex(({ id, serves }) => {
      const rooms = roomsOfGroup.get(id);
      return rooms?.length === 1 && rooms[0] === room && (serves === undefined || serves[0] === floor.rooms[room]!.id);
    });
    const group = groups[at];
    if (!group) return detectors;
    const has = group.extensions ?? [];
    const endsOf = (ids: readonly string[]) => floor.detectors.filter(({ id }) => ids.includes(id));
    const joining = takeExtensions(endsOf([group.main])[0]!, typeOf.get(group.main), endsOf(has), detectors);
    groups[at] = { ...group, extensions: [...has, ...joining.map((each) => each.file.id)] };
    return detectors.filter((each) => !joining.includes(each));
  }
  for (const [gone, list] of heirs) heirs.set(gone, [...new Set(list)]);
  return { groups, heirs };
}

function endOf({ id, at }: FileDetector): CableEnd {
  return { id: id as DetectorId, at: [at[0]!, at[1]!] };
}

/**
 * Of some new detectors those that a main carries beside the extensions it has, in the order given. The nearest to the
 * group is taken first, as the cable would reach it, while the limits of extensions and of cable are kept.
 */
function takeExtensions(
  main: CableEnd,
  type: DetectorType | undefined,
  has: readonly CableEnd[],
  offered: readonly NewDetector[],
): readonly NewDetector[] {
  const { extensionLimit = Infinity, cableLimit = Infinity } = type ?? {};
  if (has.length + offered.length <= extensionLimit && cableLimit === Infinity) return offered;
  const ends = [...has];
  const taken = new Set<NewDetector>();
  const waiting = offered.map((each) => {
    const end = endOf(each.file);
    return { each, end, off: Math.min(...[main, ...has].map(({ at }) => legLength(at, end.at))) };
  });
  while (waiting.length > 0 && ends.length < extensionLimit) {
    const nearest = waiting.reduce((best, { off }, k) => (off < waiting[best]!.off - 1e-9 ? k : best), 0);
    const [{ each, end }] = waiting.splice(nearest, 1) as [(typeof waiting)[0]];
    if (layCable(main, [...ends, end]).totalM > cableLimit + 1e-9) continue;
    ends.push(end);
    taken.add(each);
    for (const other of waiting) other.off = Math.min(other.off, legLength(end.at, other.end.at));
  }
  return offered.filter((each) => taken.has(each));
}

function staysIn(groups: readonly FileGroup[], id: string): boolean {
  return groups.some((group) => group.id === id);
}

function groupName(floor: Floor, room: number): string {
  const { name, id } = floor.rooms[room]!;
  return `Group of ${name || id}`.slice(0, 1_000);
}

function freshId(taken: Set<string>): string {
  let number = 1;
  while (taken.has(`G${number}`)) number += 1;
  taken.add(`G${number}`);
  return `G${number}`;
}

/** Every id of a floor. */
export function listIds(file: FloorFile): string[] {
  return [
    ...file.rooms,
    ...(file.openings ?? []),
    ...(file.furniture ?? []),
    ...(file.luminaires ?? []),
    ...(file.workplaces ?? []),
    ...(file.zones ?? []),
    ...(file.sources ?? []),
    ...file.types,
    ...file.detectors,
    ...(file.groups ?? []),
  ].map(({ id }) => id);
}
