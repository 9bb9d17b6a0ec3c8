/** Edits with parameters at random, one maker per recipe: what a hand, a hasty hand and a wrong hand would ask for. */
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { alignThings, distributeThings } from '../../../src/editor/edits/alignment.ts';
import { copyThings, cutThings, pasteThings, repeatThings } from '../../../src/editor/edits/clipboard.ts';
import { insertCorner, moveCorner, removeCorner } from '../../../src/editor/edits/corners.ts';
import { moveRoomEdge } from '../../../src/editor/edits/edge-moves.ts';
import { addFurnitureBlock } from '../../../src/editor/edits/furniture-blocks.ts';
import { addFurniture, resizePiece, setPieceHeights } from '../../../src/editor/edits/furniture-pieces.ts';
import { LIST_NAMES, listOf } from '../../../src/editor/edits/lists.ts';
import { mirrorThings, moveThings, placeThing, turnThings } from '../../../src/editor/edits/moving.ts';
import {
  addOpening,
  flipDoors,
  moveOpening,
  setOpeningHeights,
  setOpeningKind,
  setOpeningWidth,
  slideOpening,
} from '../../../src/editor/edits/openings.ts';
import {
  type PropertyName,
  type PropertyValue,
  renameThing,
  setLocked,
  setProperty,
} from '../../../src/editor/edits/properties.ts';
import { deleteThings } from '../../../src/editor/edits/removal.ts';
import { mergeRooms } from '../../../src/editor/edits/room-merge.ts';
import { splitRoom } from '../../../src/editor/edits/room-split.ts';
import {
  addHole,
  addRectangularRoom,
  addRoom,
  removeHole,
  setCeilings,
  setTiles,
} from '../../../src/editor/edits/rooms.ts';
import { parseWorkplaces } from '../../../src/editor/edits/workplace-table.ts';
import { addWorkplaces, setFacing, setPosture, setWorkplaceRadius } from '../../../src/editor/edits/workplaces.ts';
import { addLuminaire, addSource, addZone, setZoneGroups } from '../../../src/editor/edits/zones.ts';
import type { Random } from '../../models/random.ts';

import {
  box,
  cornerOf,
  idOf,
  line,
  near,
  place,
  type RandomEdit,
  someIds,
  someOf,
  someToDelete,
  tidy,
} from './random-choices.ts';

import { SWITCHING_EDITS } from './random-switching-edits.ts';

const DESK = { kind: 'desk', name: 'Desk 1.4 m', length: 1.4, width: 0.8, base: 0.7, top: 0.74 } as const;
const SCREEN = { kind: 'screen', name: 'Screen', length: 1.6, width: 0.04, base: 0.7, top: 1.4 } as const;

const OUTLINED = ['rooms', 'furniture', 'zones'] as const;

const ROOMS: Readonly<Record<string, RandomEdit>> = {
  addRoom: (file, random) => addRoom(file, box(file, random, 0.5, 3)),
  addRectangularRoom: (file, random) =>
    addRectangularRoom(file, place(file, random), place(file, random), { ceiling: 2.7 }),
  addHole: (file, random) => addHole(file, idOf(file, random, 'rooms'), box(file, random, 0.1, 0.6)),
  removeHole: (file) => removeHole(file, file.rooms.find(({ holes = [] }) => holes.length > 0)?.id ?? 'R1', 0),
  splitRoom: (file, random) => {
    const id = idOf(file, random, 'rooms');
    return splitRoom(file, id, ...line(file, random, id));
  },
  mergeRooms: (file, random) => {
    const first = idOf(file, random, 'rooms');
    const all = listOf(file, 'rooms').map(({ id }) => mergeRooms(file, first, id));
    return random.pick(random.chance(0.5) && all.some(({ ok }) => ok) ? all.filter(({ ok }) => ok) : all);
  },
  moveCorner: (file, random) => {
    const { id, ring, corner, at } = cornerOf(file, random, OUTLINED);
    return moveCorner(file, { id, ring }, corner, near(random, at, random.pick([0.05, 0.5, 3])), random.chance(0.8));
  },
  moveRoomEdge: (file, random) => {
    const { id, ring, corner } = cornerOf(file, random, ['rooms']);
    return moveRoomEdge(file, id, ring, corner, tidy(random.between(-1, 1)), random.chance(0.8));
  },
  insertCorner: (file, random) => {
    const { id, ring, corner, middle } = cornerOf(file, random, OUTLINED);
    return insertCorner(file, { id, ring }, corner, middle);
  },
  removeCorner: (file, random) => {
    const { id, ring, corner } = cornerOf(file, random, OUTLINED);
    return removeCorner(file, { id, ring }, corner, random.chance(0.8));
  },
  setCeilings: (file, random) =>
    setCeilings(file, someOf(file, random, 'rooms'), { height: tidy(random.between(-0.1, 4)), from: 'measured' }),
  setTiles: (file, random) =>
    setTiles(file, idOf(file, random, 'rooms'), random.chance(0.3) ? null : { origin: place(file, random), turn: 45 }),
};

const wallOf = (file: FloorFile, random: Random) => {
  const { id, ring, corner } = cornerOf(file, random, ['rooms']);
  return { roomId: id, ring, edge: corner };
};

const OPENINGS: Readonly<Record<string, RandomEdit>> = {
  addOpening: (file, random) =>
    addOpening(file, wallOf(file, random), {
      kind: random.pick(['door', 'window', 'passage']),
      along: random.between(-0.2, 4),
      width: random.between(0, 2),
      ...(random.chance(0.3) ? { state: 'open' as const } : {}),
      ...(random.chance(0.3) ? { head: tidy(random.between(0.5, 2.5)) } : {}),
    }),
  slideOpening: (file, random) => slideOpening(file, idOf(file, random, 'openings'), random.between(-1, 6)),
  moveOpening: (file, random) =>
    moveOpening(file, idOf(file, random, 'openings'), wallOf(file, random), random.between(-1, 6)),
  setOpeningWidth: (file, random) => setOpeningWidth(file, idOf(file, random, 'openings'), random.between(0, 3)),
  flipDoors: (file, random) => flipDoors(file, someOf(file, random, 'openings')),
  setOpeningKind: (file, random) =>
    setOpeningKind(file, idOf(file, random, 'openings'), random.pick(['door', 'window', 'passage'])),
  setOpeningHeights: (file, random) =>
    setOpeningHeights(file, idOf(file, random, 'openings'), {
      sill: tidy(random.between(0, 2)),
      head: random.chance(0.3) ? null : tidy(random.between(0, 2.5)),
    }),
};

const THINGS: Readonly<Record<string, RandomEdit>> = {
  moveThings: (file, random) => moveThings(file, someIds(file, random), near(random, [0, 0], random.pick([0.1, 1, 8]))),
  placeThing: (file, random) => placeThing(file, idOf(file, random, random.pick(LIST_NAMES)), place(file, random)),
  turnThings: (file, random) => turnThings(file, someIds(file, random), random.pick([15, 90, 180, -33.7])),
  mirrorThings: (file, random) => mirrorThings(file, someIds(file, random), random.pick([0, 90, 30])),
  alignThings: (file, random) =>
    alignThings(
      file,
      someIds(file, random),
      random.pick(['left', 'right', 'top', 'bottom', 'middle of x', 'middle of y'] as const),
    ),
  distributeThings: (file, random) =>
    distributeThings(file, someIds(file, random, 6), random.pick(['x', 'y'] as const)),
  deleteThings: (file, random) => deleteThings(file, someToDelete(file, random, 3)),
  repeatThings: (file, random) =>
    repeatThings(file, someIds(file, random, 3), near(random, [0, 0], 2), random.whole(1, 2)),
  pasteThings: (file, random) => {
    const copied = copyThings(file, someIds(file, random, 3));
    if (!copied.ok) return copied;
    return pasteThings(file, copied.text, random.chance(0.5) ? [0, 0] : near(random, [0, 0], 2));
  },
  cutThings: (file, random) => {
    const cut = cutThings(file, someToDelete(file, random, 2));
    return cut.ok ? cut.edit : cut;
  },
  renameThing: (file, random) =>
    renameThing(
      file,
      idOf(file, random, random.pick(LIST_NAMES)),
      random.pick(['Room 7', '', '=1+1', 'x'.repeat(999)]),
    ),
  setLocked: (file, random) => setLocked(file, someOf(file, random, 'detectors', 2), random.chance(0.3)),
  setProperty: (file, random) => {
    const [key, values] = random.pick<readonly [PropertyName, readonly (PropertyValue | null)[]]>([
      ['top', [0.5, 1.6, 2.2, -1, 60]],
      ['base', [0, 0.7, 2]],
      ['kind', ['desk', 'window', 'heater', 'column']],
      ['from', ['measured', 'assumed']],
      ['glass', [true, false]],
      ['raised', [0, 0.4]],
      ['turn', [0, 45, -90, 400]],
      ['reach', [0.5, 1, 3]],
      ['height', [null, 2.4, 9]],
      ['share', [0.5, null, 2]],
      ['heading', [null, 90]],
      ['type', ['T1', 'T2', 'gone']],
      ['group', ['G1', null]],
      ['status', ['existing', 'remove']],
      ['state', ['open', null]],
    ]);
    return setProperty(file, someIds(file, random), key, random.pick(values));
  },
};

const PLACES: Readonly<Record<string, RandomEdit>> = {
  addFurniture: (file, random) =>
    addFurniture(file, random.pick([DESK, SCREEN]), { at: place(file, random), turn: random.pick([0, 90, 27]) }),
  addFurnitureBlock: (file, random) =>
    addFurnitureBlock(
      file,
      DESK,
      { at: place(file, random), turn: random.pick([0, 90]) },
      {
        count: random.whole(0, 2),
        mirrored: random.chance(0.5),
        ...(random.chance(0.5) ? { screen: SCREEN } : {}),
      },
    ),
  resizePiece: (file, random) =>
    resizePiece(
      file,
      idOf(file, random, 'furniture'),
      { length: tidy(random.between(0, 3)) },
      random.pick(['middle', 0, 1, 2, 3] as const),
    ),
  setPieceHeights: (file, random) =>
    setPieceHeights(file, someOf(file, random, 'furniture'), {
      top: random.between(0, 2.5),
      ...(random.chance(0.5) ? { base: random.between(0, 1) } : {}),
    }),
  addWorkplaces: (file, random) => addWorkplaces(file, [{ at: place(file, random), facing: 720.5 }]),
  pasteWorkplaces: (file, random) =>
    addWorkplaces(file, parseWorkplaces(`Seat;${place(file, random).join(';')};90;standing\n;1,5;;`, 'metres').items),
  setWorkplaceRadius: (file, random) =>
    setWorkplaceRadius(file, someOf(file, random, 'workplaces'), random.between(-0.1, 2)),
  setFacing: (file, random) =>
    setFacing(file, someOf(file, random, 'workplaces'), random.chance(0.3) ? null : random.between(-400, 400)),
  setPosture: (file, random) => setPosture(file, someOf(file, random, 'workplaces'), 'standing'),
  addZone: (file, random) => addZone(file, box(file, random, 0, 3), random.pick(['seated', 'walking', 'nobody'])),
  setZoneGroups: (file, random) =>
    setZoneGroups(file, someOf(file, random, 'zones'), someOf(file, random, 'groups', 2)),
  addSource: (file, random) => addSource(file, random.pick(['heater', 'air outlet']), place(file, random)),
  addLuminaire: (file, random) => addLuminaire(file, place(file, random), [random.between(-0.1, 1), 0.6]),
};

export const RANDOM_EDITS: readonly (readonly [string, RandomEdit])[] = Object.entries({
  ...ROOMS,
  ...OPENINGS,
  ...THINGS,
  ...PLACES,
  ...SWITCHING_EDITS,
});
