/** The things on a floor by their ids, where each one is, and the order in which they are walked through. */

import {
  type Detector,
  type Floor,
  type Furniture,
  findRoomAt,
  type Group,
  type Luminaire,
  type Opening,
  type Point,
  type Ring,
  type Room,
  type Source,
  type Workplace,
  type Zone,
} from '../core/floor/index.ts';

export type Thing =
  | { readonly kind: 'room'; readonly value: Room }
  | { readonly kind: 'opening'; readonly value: Opening }
  | { readonly kind: 'furniture'; readonly value: Furniture }
  | { readonly kind: 'luminaire'; readonly value: Luminaire }
  | { readonly kind: 'workplace'; readonly value: Workplace }
  | { readonly kind: 'zone'; readonly value: Zone }
  | { readonly kind: 'source'; readonly value: Source }
  | { readonly kind: 'detector'; readonly value: Detector }
  | { readonly kind: 'group'; readonly value: Group };

export type ThingKind = Thing['kind'];

/** Things of a kind, as a sentence begins with them. */
export const KIND_WORDS: Readonly<Record<ThingKind, string>> = {
  room: 'Rooms',
  opening: 'Openings',
  furniture: 'Pieces of furniture',
  luminaire: 'Luminaires',
  workplace: 'Workplaces',
  zone: 'Zones',
  source: 'Sources',
  detector: 'Detectors',
  group: 'Groups',
};

interface Listed {
  readonly id: string;
}
const indices = new WeakMap<readonly Listed[], ReadonlyMap<string, number>>();

/** The place of an id in a list, -1 when it is not there. A list that has not changed is indexed once. */
export function indexOfId(list: readonly Listed[], id: string): number {
  let index = indices.get(list);
  if (index === undefined) {
    index = new Map(list.map((each, i) => [each.id, i]));
    indices.set(list, index);
  }
  return index.get(id) ?? -1;
}

/** The thing with this id; undefined when the floor has none. */
export function findThing(floor: Floor, id: string): Thing | undefined {
  const pick = <Item extends Listed>(list: readonly Item[]): Item | undefined => list[indexOfId(list, id)];
  const detector = pick(floor.detectors);
  if (detector) return { kind: 'detector', value: detector };
  const furniture = pick(floor.furniture);
  if (furniture) return { kind: 'furniture', value: furniture };
  const workplace = pick(floor.workplaces);
  if (workplace) return { kind: 'workplace', value: workplace };
  const room = pick(floor.rooms);
  if (room) return { kind: 'room', value: room };
  const opening = pick(floor.openings);
  if (opening) return { kind: 'opening', value: opening };
  const zone = pick(floor.zones);
  if (zone) return { kind: 'zone', value: zone };
  const source = pick(floor.sources);
  if (source) return { kind: 'source', value: source };
  const luminaire = pick(floor.luminaires);
  if (luminaire) return { kind: 'luminaire', value: luminaire };
  const group = pick(floor.groups);
  if (group) return { kind: 'group', value: group };
  return undefined;
}

/** Where a thing is: its own place, the middle of its outline's box, or of a group its main detector. */
export function placeOf(floor: Floor, thing: Thing): Point {
  switch (thing.kind) {
    case 'room':
    case 'furniture':
    case 'zone':
      return middleOf(thing.value.outline);
    case 'opening': {
      const { from, to } = thing.value;
      return [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
    }
    case 'group':
      return floor.detectors[indexOfId(floor.detectors, thing.value.main)]?.at ?? [0, 0];
    default:
      return thing.value.at;
  }
}

/** The middle of an outline's box. */
export function middleOf(outline: Ring): Point {
  const xs = outline.map((corner) => corner[0]);
  const ys = outline.map((corner) => corner[1]);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

interface Placed {
  readonly thing: Thing;
  readonly at: Point;
  /** Index of its room, the number of rooms for none. */
  readonly room: number;
}

/** By the list of rooms, then by the thing itself: most edits leave the rooms and nearly all things alone. */
const placed = new WeakMap<Floor['rooms'], WeakMap<object, Placed>>();

/** Everything that can be pointed at, room by room in the order of the file, in each from the top left to the bottom right. */
export function listThings(floor: Floor): readonly Thing[] {
  const { rooms } = floor;
  let known = placed.get(rooms);
  if (known === undefined) {
    known = new WeakMap();
    placed.set(rooms, known);
  }
  const places = known;
  const inRoom: Placed[][] = Array.from({ length: rooms.length + 1 }, () => []);
  const indices = new Map(rooms.map((room, index) => [room, index]));
  const put = (kind: ThingKind, list: readonly object[]): void => {
    for (const value of list) {
      let place = places.get(value);
      if (place === undefined) {
        // The kind goes with the list.
        const thing = { kind, value } as Thing;
        const at = placeOf(floor, thing);
        const room = findRoomAt(rooms, at);
        place = { thing, at, room: (room && indices.get(room)) ?? rooms.length };
        places.set(value, place);
      }
      inRoom[place.room]?.push(place);
    }
  };
  put('detector', floor.detectors);
  put('workplace', floor.workplaces);
  put('furniture', floor.furniture);
  put('opening', floor.openings);
  put('source', floor.sources);
  put('zone', floor.zones);
  put('luminaire', floor.luminaires);
  return inRoom.flatMap((list, index) => {
    const room = rooms[index];
    const things = list
      .sort((a, b) => Math.round(b.at[1]) - Math.round(a.at[1]) || a.at[0] - b.at[0])
      .map(({ thing }) => thing);
    return room === undefined ? things : [{ kind: 'room', value: room }, ...things];
  });
}
