import type { FloorFile } from '../../src/core/floor/schema.ts';
import { pickDetectorTypes } from './detector-types.ts';
import {
  add,
  addCubicles,
  addIsland,
  addOpening,
  addPanels,
  addPiece,
  addRoom,
  box,
  createDraft,
  type Entry,
  type FloorDraft,
  finishDraft,
  type XY,
} from './floor-draft.ts';

function addRoomsAndOpenings(draft: FloorDraft): void {
  addRoom(draft, 'corridor', 'Corridor', 'corridor', box(0, 4.9, 16.8, 6.5), 2.5, { ceilingFrom: 'measured' });
  addRoom(draft, 'office-1', 'Office 1', 'office', box(0, 0, 3.9, 4.8), 2.7);
  addRoom(draft, 'office-2', 'Office 2', 'office', box(4, 0, 7.9, 4.8), 2.7, { ceilingFrom: 'assumed' });
  addRoom(draft, 'office-3', 'Office 3', 'office', box(8, 0, 12.7, 4.8), 2.7);
  addRoom(draft, 'care', 'First aid', 'medical attention', box(12.8, 0, 16.8, 4.8), 2.7);
  addRoom(draft, 'wc-1', 'WC 1', 'toilet', box(0, 6.6, 3, 11), 2.5);
  addRoom(draft, 'wc-2', 'WC 2', 'toilet', box(3.1, 6.6, 6.1, 11), 2.5);
  addRoom(draft, 'kitchen', 'Kitchenette', 'pantry', box(6.2, 6.6, 9.6, 11), 2.7);
  addRoom(draft, 'store', 'Store', 'store', box(9.7, 6.6, 12, 11), 2.7);
  addRoom(draft, 'meeting', 'Meeting', 'meeting', box(12.1, 6.6, 16.8, 11), 2.7);

  const depth = 0.2;
  addOpening(draft, 'door', [0, 5.2], [0, 6.2], { depth });
  const south = 4.85;
  addOpening(draft, 'door', [2.7, south], [3.6, south], { depth, state: 'open' });
  addOpening(draft, 'door', [6.7, south], [7.6, south], { depth });
  addOpening(draft, 'door', [8.3, south], [9.3, south], { depth });
  addOpening(draft, 'door', [13.1, south], [14.1, south], { depth });
  const north = 6.55;
  addOpening(draft, 'door', [0.3, north], [1.2, north], { depth });
  addOpening(draft, 'door', [3.4, north], [4.3, north], { depth });
  addOpening(draft, 'passage', [7.2, north], [8.6, north], { depth, head: 2.2 });
  addOpening(draft, 'door', [9.9, north], [10.8, north], { depth });
  addOpening(draft, 'door', [12.4, north], [13.3, north], { depth, state: 'open' });
  addOpening(draft, 'window', [13.8, north], [16.4, north], { depth, sill: 0.1, head: 2.5 });
  addOpening(draft, 'window', [16.8, 5.2], [16.8, 6.2], { sill: 0.5, head: 2.3 });
  for (const x of [0.9, 4.9, 9.3, 13.7]) addOpening(draft, 'window', [x, 0], [x + 2.2, 0], { sill: 0.9, head: 2.4 });
  for (const x of [1, 4.1, 7, 13.2]) addOpening(draft, 'window', [x, 11], [x + 1.6, 11], { sill: 1.2, head: 2.4 });
  // Drawn 0.6 m beside its wall, as it happens when a plan is traced.
  addOpening(draft, 'window', [10, 10.4], [11.6, 10.4], { depth, sill: 1.2, head: 2.4 });
}

function addFurniture(draft: FloorDraft): void {
  const desk = (x0: number, y0: number, x1: number, y1: number): void => {
    addPiece(draft, 'desk', 'Desk', box(x0, y0, x1, y1), 0.74, { base: 0.7 });
  };
  const seat = (name: string, at: XY, facing: number, posture?: 'standing'): void => {
    add(draft, 'workplaces', { name, at, facing, ...(posture === undefined ? {} : { posture }) });
  };
  // Office 1: two desks face to face.
  addIsland(draft, { x: 1.95, y: 1.9, turn: 90, perSide: 1, screenTop: 1.2, name: 'Office 1' });
  addPiece(draft, 'cabinet', 'Tall cabinet', box(0.03, 3.6, 0.48, 4.7), 1.95);
  // Office 2: the second desk stands behind a shelf.
  desk(4.1, 0.6, 4.9, 2.2);
  seat('Office 2, window', [5.25, 1.4], 180);
  addPiece(draft, 'shelving', 'Shelf', box(6.1, 1.75, 7.88, 2.15), 2.2);
  desk(6.3, 0.1, 7.7, 0.8);
  seat('Office 2, behind the shelf', [7, 1.12], 270);
  // Office 3.
  addIsland(draft, { x: 10.5, y: 2.1, turn: 90, perSide: 2, screenTop: 1.4, name: 'Office 3' });
  addPiece(draft, 'cabinet', 'Cabinet', box(12.23, 1, 12.68, 3), 1.1);
  // First aid.
  desk(15.2, 0.5, 16.7, 1.3);
  seat('First aid, desk', [15.9, 1.65], 270);
  addPiece(draft, 'other', 'Couch', box(12.9, 0.6, 13.6, 2.6), 0.6);
  addPiece(draft, 'hanging', 'Curtain', box(13.75, 0.5, 13.8, 2.8), 2.1, { base: 0.3, movable: true });
  // Toilets: wash basins by the door, cubicles beyond.
  for (const x of [0, 3.1]) {
    addPiece(draft, 'other', 'Wash basins', box(x + 2.5, 6.9, x + 3, 8.3), 0.85, { base: 0.7 });
    addCubicles(draft, { along: 'x', start: x, width: 1, count: 3, front: 9.47, back: 11 });
  }
  // Kitchenette, store, meeting.
  addPiece(draft, 'cabinet', 'Kitchen units', box(6.25, 8, 6.85, 10.9), 0.92);
  addPiece(draft, 'hanging', 'Wall cupboard', box(6.25, 8, 6.6, 10.9), 2.15, { base: 1.45 });
  desk(8, 8.6, 9.2, 9.6);
  seat('Kitchenette table', [8.6, 10], 270);
  for (const x of [9.72, 11.58]) addPiece(draft, 'shelving', 'Store shelf', box(x, 7.8, x + 0.4, 10.95), 2.2);
  addPiece(draft, 'shelving', 'Store shelf', box(10.5, 8.6, 10.9, 10), 2.2);
  addPiece(draft, 'desk', 'Meeting table', box(13.3, 8.3, 15.9, 9.5), 0.74, { base: 0.7 });
}

function addDetectors(draft: FloorDraft): void {
  type Rest = Omit<Entry<'detectors'>, 'id' | 'name' | 'type' | 'at'>;
  const hang = (type: string, x: number, y: number, rest: Rest = {}): string =>
    add(draft, 'detectors', { name: `D${draft.detectors.length + 1}`, type, at: [x, y], ...rest });
  const group = (
    name: string,
    main: string,
    extensions: string[],
    rest: Omit<Entry<'groups'>, 'id' | 'name' | 'main'>,
  ): string => add(draft, 'groups', { name, main, ...(extensions.length > 0 ? { extensions } : {}), ...rest });
  const office = { switchOn: 'manual', level: 500, delay: 15 } as const;
  const wet = { switchOn: 'automatic', level: 200, delay: 10, ventilationDelay: 15 } as const;

  group('Corridor', hang('long-corridor', 9.3, 5.8), [], { settings: { switchOn: 'automatic', level: 100, delay: 5 } });
  // The lens of office 2 was looped onto the group of office 1, which lights office 1 only.
  group('Office 1', hang('round-6', 2.1, 2.7, { masks: [{ from: 54, to: 75 }] }), [hang('round-6', 5.5, 3.3)], {
    serves: ['office-1'],
    settings: office,
  });
  group('Office 3', hang('round-6', 9.5, 2.1), [hang('round-6', 11.9, 2.1)], { settings: office });
  group('First aid', hang('round-6', 14.9, 2.7), [], { settings: office });
  for (const [index, x] of [0, 3.1].entries()) {
    group(
      `WC ${index + 1}`,
      hang('flush-5', x + 1.5, 8.1),
      [hang('cubicle-3', x + 1, 10.2), ...(index === 0 ? [hang('cubicle-3', x + 2.5, 10.2)] : [])],
      { settings: wet },
    );
  }
  group('Kitchenette', hang('flush-5', 8.3, 9.3), [], { settings: { switchOn: 'automatic', level: 200, delay: 10 } });
  group('Store', hang('flush-5', 11.2, 9.3), [], { settings: { switchOn: 'automatic', level: 100, delay: 5 } });
  group('Meeting', hang('rectangle-8', 14.8, 8.7), [], { settings: { switchOn: 'manual', level: 500, delay: 10 } });
}

/** A suite of small rooms on a corridor: open doors, heaters, a fan, toilet cubicles, a mask. */
export function composeSmallRooms(): FloorFile {
  const draft = createDraft();
  addRoomsAndOpenings(draft);
  addFurniture(draft);
  const source = (
    name: string,
    kind: Entry<'sources'>['kind'],
    at: XY,
    radius: number,
    base: number,
    top: number,
  ): void => {
    add(draft, 'sources', { name, kind, at, radius, base, top });
  };
  source('Radiator', 'heater', [2, 0.3], 0.3, 0.1, 0.6);
  source('Desk fan', 'fan', [4.4, 1.9], 0.15, 0.74, 1.1);
  source('Radiator', 'heater', [14.8, 0.3], 0.3, 0.1, 0.6);
  source('Oven', 'heater', [6.55, 9.6], 0.3, 0.1, 0.9);
  source('Coffee machine', 'machine', [6.55, 8.4], 0.2, 0.92, 1.35);
  source('Air outlet', 'air outlet', [8.6, 8.1], 0.2, 2.68, 2.7);
  source('Hand dryer', 'heater', [2.9, 8.7], 0.15, 1, 1.3);
  addDetectors(draft);
  const zone = (
    name: string,
    need: Entry<'zones'>['need'],
    outline: XY[],
    rest: Partial<Entry<'zones'>> = {},
  ): void => {
    add(draft, 'zones', { name, need, outline, ...rest });
  };
  zone('Corridor', 'walking', box(0, 4.9, 16.8, 6.5), { heading: 0 });
  for (const [index, x] of [0, 3.1].entries()) {
    zone(`WC ${index + 1}, cubicle 1`, 'seated', box(x + 0.15, 9.7, x + 0.85, 10.8));
    zone(`WC ${index + 1}, cubicle 2`, 'seated', box(x + 1.15, 9.7, x + 1.85, 10.8));
    zone(`WC ${index + 1}, cubicle 3`, 'seated', box(x + 2.15, 9.7, x + 2.85, 10.8));
  }
  zone('Meeting table', 'seated', box(12.6, 7.6, 16.6, 10.2));
  for (const [room, x0, y0, x1, y1, group] of [
    ['office-1', 1.2, 1, 3.2, 4.2, 'G2'],
    ['office-2', 5, 1, 7.2, 4.2, undefined],
    ['office-3', 9.2, 1, 12, 4.2, 'G3'],
    ['care', 13.8, 1, 16.2, 4.2, 'G4'],
    ['kitchen', 7, 7.5, 9.2, 10.2, 'G7'],
    ['meeting', 13, 7.5, 16.4, 10.2, 'G9'],
  ] as const) {
    addPanels(draft, room, { from: [x0, y0], to: [x1, y1], pitch: [1.8, 1.8] }, group === undefined ? {} : { group });
  }
  addPanels(draft, 'corridor', { from: [1.5, 5.8], to: [16.5, 6.1], pitch: [2.4, 1.2] }, { group: 'G1' });
  addPanels(
    draft,
    'corridor',
    { from: [0.3, 5.2], to: [0.6, 5.5], pitch: [0.6, 0.6] },
    { name: 'Emergency panel', emergency: true, watts: 4, group: 'G1' },
  );
  draft.types.push(...pickDetectorTypes(draft.detectors.map(({ type }) => type)));
  return finishDraft({ name: 'Small rooms', notes: 'Invented floor; no real building. Licence CC0-1.0.' }, draft);
}
