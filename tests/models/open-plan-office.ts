import type { FloorFile } from '../../src/core/floor/schema.ts';
import { pickDetectorTypes } from './detector-types.ts';
import { add, addPanels, box, createDraft, type FloorDraft, finishDraft, type XY } from './floor-draft.ts';
import { addDetectors, type OfficeGroups } from './office/detectors.ts';
import { addFurniture } from './office/furniture.ts';
import { addOpenings, addRooms } from './office/rooms.ts';

function addZones(draft: FloorDraft, groups: OfficeGroups): void {
  add(draft, 'zones', { name: 'Corridor', outline: box(13, 13, 32, 14.8), need: 'walking', heading: 0 });
  add(draft, 'zones', {
    name: 'Lift lobby, not for the offices',
    outline: box(16, 15, 20.8, 18.8),
    need: 'nobody',
    groups: [...groups.offices],
  });
  add(draft, 'zones', {
    name: 'Way along the meeting rooms',
    outline: box(10, 7.2, 22.4, 9),
    need: 'walking',
    heading: 0,
    share: 0.9,
  });
  const seats: readonly (readonly [string, number, number, number, number])[] = [
    ['Meeting 1, table', 13.5, 9.7, 17.4, 12.3],
    ['Meeting 2, table', 18.1, 9.7, 20.8, 12.1],
    ['Meeting 3, table', 21.1, 9.7, 23.8, 12.1],
    ['Meeting 4, table', 24.5, 9.7, 31.4, 12.4],
    ['Tea point, tables', 29.2, 17.7, 31.9, 20],
  ];
  for (const [name, x0, y0, x1, y1] of seats)
    add(draft, 'zones', { name, outline: box(x0, y0, x1, y1), need: 'seated' });
}

function addSources(draft: FloorDraft): void {
  const outlet = (x: number, y: number, ceiling: number): void => {
    add(draft, 'sources', {
      name: 'Air outlet',
      kind: 'air outlet',
      at: [x, y],
      radius: 0.3,
      base: ceiling - 0.02,
      top: ceiling,
    });
  };
  outlet(6.3, 3.3, 3);
  outlet(14.7, 3.3, 3);
  outlet(30.9, 3.3, 3);
  outlet(6, 14.7, 3);
  outlet(38.1, 12.9, 3);
  outlet(29.3, 21.5, 2.8);
  outlet(28.1, 9.4, 2.8);
  add(draft, 'sources', { name: 'Convector', kind: 'heater', at: [26.3, 24.75], radius: 0.25, base: 0.1, top: 0.6 });
  add(draft, 'sources', {
    name: 'Coffee machine',
    kind: 'machine',
    at: [26.35, 19.1],
    radius: 0.25,
    base: 0.92,
    top: 1.4,
  });
  add(draft, 'sources', { name: 'Oven', kind: 'heater', at: [26.35, 20.6], radius: 0.3, base: 0.1, top: 0.9 });
  add(draft, 'sources', { name: 'Copier', kind: 'machine', at: [23.25, 21.4], radius: 0.35, base: 0.6, top: 1.2 });
}

/** What was found when somebody sat down at two of the desks for the length of the delay. */
function addRecords(draft: FloorDraft): void {
  const idOf = (name: string): string => {
    const found = draft.workplaces.find((workplace) => workplace.name === name);
    if (found === undefined) throw new Error(`no workplace ${name}`);
    return found.id;
  };
  const record = (about: string, expected: string, found: string, pass: boolean, text: string): void => {
    draft.records.push({ date: '2031-04-02', by: 'Commissioning', kind: 'seat', about, expected, found, pass, text });
  };
  record(idOf('West wing'), 'seen', 'seen', true, 'Light held for 15 min with small movements.');
  record(idOf('Focus'), 'not seen', 'not seen', false, 'Light went out behind the shelf.');
}

function addLuminaires(draft: FloorDraft, groups: OfficeGroups): void {
  const [southWest, westWing, southEast, eastWing] = groups.offices;
  const inGroup = (group: string | undefined): { group?: string } => (group === undefined ? {} : { group });
  addPanels(draft, 'west', { from: [1.8, 1.5], to: [22, 8.8], pitch: [2.4, 2.4] }, inGroup(southWest));
  addPanels(draft, 'west', { from: [1.8, 11.1], to: [12.6, 24.6], pitch: [2.4, 2.4] }, inGroup(westWing));
  addPanels(draft, 'east', { from: [24, 1.5], to: [42, 8.8], pitch: [2.4, 2.4] }, inGroup(southEast));
  addPanels(draft, 'east', { from: [33.6, 11.1], to: [44.6, 16.6], pitch: [2.4, 2.4] }, inGroup(eastWing));
  const rooms: readonly (readonly [string, XY, XY, XY])[] = [
    ['corridor', [14.5, 13.9], [31.6, 14.2], [2.4, 1.2]],
    ['meet-1', [14.5, 10.2], [17.2, 12.6], [1.8, 1.8]],
    ['meet-2', [18.9, 10.2], [20.6, 12.6], [1.2, 1.8]],
    ['meet-3', [21.9, 10.2], [23.6, 12.6], [1.2, 1.8]],
    ['meet-4', [25.5, 10.2], [31.4, 12.6], [1.8, 1.8]],
    ['lobby', [17.5, 15.9], [20.4, 18.4], [1.8, 1.8]],
    ['stair', [14.5, 15.3], [14.9, 15.5], [1.8, 1.8]],
    ['wc-1', [21.3, 17.1], [21.5, 20.6], [1.2, 3]],
    ['wc-2', [23.8, 17.1], [24, 20.6], [1.2, 3]],
    ['tea', [27.5, 18.3], [31.8, 24.8], [2.4, 1.8]],
    ['print', [22.5, 22.5], [25.6, 24.8], [1.8, 1.8]],
    ['quiet', [14.5, 21.9], [20.6, 24.8], [1.8, 1.8]],
  ];
  for (const [room, from, to, pitch] of rooms) addPanels(draft, room, { from, to, pitch });
  const emergency = { name: 'Emergency panel', emergency: true, watts: 4 };
  addPanels(draft, 'corridor', { from: [22.9, 13.9], to: [23, 14.2], pitch: [0.6, 0.6] }, emergency);
  addPanels(
    draft,
    'west',
    { from: [12, 8.1], to: [12, 8.4], pitch: [0.6, 0.6] },
    { ...emergency, ...inGroup(groups.west) },
  );
}

/** An invented open-plan office of about 1,000 m² with a few honest mistakes in it. */
export function composeOpenPlanOffice(): FloorFile {
  const draft = createDraft();
  addRooms(draft);
  addOpenings(draft);
  addFurniture(draft);
  addSources(draft);
  const booths = ([0.5, 2.1] as const).map((y, index) =>
    add(draft, 'zones', { name: `Booth ${index + 1}`, outline: box(23.3, y + 0.15, 23.95, y + 1.25), need: 'seated' }),
  );
  const groups = addDetectors(draft, booths);
  addZones(draft, groups);
  addLuminaires(draft, groups);
  addRecords(draft);
  draft.revision.push(
    { no: 'A', date: '2031-03-04', by: 'Lighting design', text: 'First issue, detectors on the ceiling grid.' },
    {
      no: 'B',
      date: '2031-03-18',
      by: 'Lighting design',
      text: 'Shelf in the west wing raised to 2.2 m at the user’s wish; desk added in the east corner.',
    },
  );
  draft.types.push(...pickDetectorTypes(draft.detectors.map(({ type }) => type)));
  return finishDraft(
    { name: 'Open-plan office', notes: 'Invented floor; no real building. Licence CC0-1.0.', north: 78 },
    draft,
  );
}
