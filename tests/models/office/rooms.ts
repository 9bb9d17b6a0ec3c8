import { addOpening, addRoom, box, type FloorDraft, type XY } from '../floor-draft.ts';

/** Ceilings, metres: the open office is high, the rooms about the core carry a lower ceiling for ducts. */
const OPEN = 3;
const ROOM = 2.8;
const WET = 2.6;

/** Light partitions are 0.1 m thick, core walls 0.2 m; an opening cuts both faces. */
const PARTITION_DEPTH = 0.2;
const CORE_DEPTH = 0.3;

export function addRooms(draft: FloorDraft): void {
  addRoom(
    draft,
    'west',
    'Open office west',
    'open-plan office',
    [
      [0, 0],
      [22.4, 0],
      [22.4, 9],
      [12.9, 9],
      [12.9, 25],
      [0, 25],
    ],
    OPEN,
    { ceilingFrom: 'measured', tiles: { origin: [0.3, 0] } },
  );
  addRoom(
    draft,
    'east',
    'Open office east',
    'open-plan office',
    [
      [22.5, 0],
      [41.4, 0],
      [45, 3.6],
      [45, 17],
      [32.1, 17],
      [32.1, 9],
      [22.5, 9],
    ],
    OPEN,
    { ceilingFrom: 'measured' },
  );
  addRoom(draft, 'corridor', 'Corridor', 'corridor', box(13, 13, 32, 14.8), ROOM);
  addRoom(draft, 'meet-1', 'Meeting 1', 'meeting', box(13, 9.1, 17.9, 12.9), ROOM);
  addRoom(draft, 'meet-2', 'Meeting 2', 'meeting', box(18, 9.1, 20.9, 12.9), ROOM, { ceilingFrom: 'assumed' });
  addRoom(draft, 'meet-3', 'Meeting 3', 'meeting', box(21, 9.1, 23.9, 12.9), ROOM, { ceilingFrom: 'assumed' });
  addRoom(draft, 'meet-4', 'Meeting 4', 'meeting', box(24, 9.1, 32, 12.9), ROOM);
  addRoom(draft, 'stair', 'Stair', 'stair', box(13, 15, 15.8, 20.8), ROOM);
  addRoom(draft, 'lobby', 'Lift lobby', 'lift lobby', box(16, 15, 20.8, 18.8), ROOM);
  addRoom(draft, 'wc-1', 'WC 1', 'toilet', box(21, 15, 23.4, 20.8), WET);
  addRoom(draft, 'wc-2', 'WC 2', 'toilet', box(23.5, 15, 25.9, 20.8), WET);
  addRoom(draft, 'wc-3', 'WC 3, step-free', 'toilet', box(26, 15, 28.2, 17.3), WET);
  addRoom(
    draft,
    'tea',
    'Tea point',
    'pantry',
    [
      [28.3, 15],
      [32, 15],
      [32, 25],
      [26, 25],
      [26, 17.4],
      [28.3, 17.4],
    ],
    ROOM,
  );
  addRoom(draft, 'print', 'Print and post', 'copying', box(21, 21, 25.9, 25), ROOM);
  addRoom(draft, 'quiet', 'Quiet room', 'library reading', box(13, 21, 20.9, 25), ROOM);
}

function addWindows(draft: FloorDraft, from: XY, to: XY, starts: readonly number[], length: number, sill = 0.9): void {
  const whole = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const at = (distance: number): XY => [
    Math.round((from[0] + ((to[0] - from[0]) * distance) / whole) * 1000) / 1000,
    Math.round((from[1] + ((to[1] - from[1]) * distance) / whole) * 1000) / 1000,
  ];
  for (const start of starts) addOpening(draft, 'window', at(start), at(start + length), { sill, head: 2.6 });
}

export function addOpenings(draft: FloorDraft): void {
  const partition = { depth: PARTITION_DEPTH };
  const core = { depth: CORE_DEPTH };

  // Passages between the open offices and into the core.
  addOpening(draft, 'passage', [22.45, 6], [22.45, 8.6], partition);
  addOpening(draft, 'passage', [12.95, 13.1], [12.95, 14.7], partition);
  addOpening(draft, 'door', [32.05, 13.4], [32.05, 14.4], partition);
  addOpening(draft, 'passage', [17.2, 14.9], [19.6, 14.9], core);
  addOpening(draft, 'passage', [29, 14.9], [31.4, 14.9], core);

  // Doors of the meeting rooms, all to the corridor.
  addOpening(draft, 'door', [16.8, 12.95], [17.7, 12.95], partition);
  addOpening(draft, 'door', [18.2, 12.95], [19.1, 12.95], partition);
  addOpening(draft, 'door', [21.2, 12.95], [22.1, 12.95], partition);
  addOpening(draft, 'door', [24.3, 12.95], [25.3, 12.95], partition);
  addOpening(draft, 'door', [30.7, 12.95], [31.7, 12.95], partition);

  // Doors of the core.
  addOpening(draft, 'door', [14, 14.9], [15, 14.9], core);
  addOpening(draft, 'door', [22.3, 14.9], [23.2, 14.9], core);
  addOpening(draft, 'door', [23.7, 14.9], [24.6, 14.9], core);
  addOpening(draft, 'door', [26.9, 14.9], [27.9, 14.9], core);
  addOpening(draft, 'door', [25.95, 22], [25.95, 22.9], { ...partition, state: 'open' });
  addOpening(draft, 'door', [12.95, 21.5], [12.95, 22.4], partition);
  // Two lifts and the terrace door open to no room of this floor.
  addOpening(draft, 'door', [16.6, 18.8], [17.5, 18.8], partition);
  addOpening(draft, 'door', [19.2, 18.8], [20.1, 18.8], partition);
  addOpening(draft, 'door', [32, 22.6], [32, 23.6], partition);

  // Glass fronts of the meeting rooms.
  for (const [x0, x1] of [
    [13.2, 17.7],
    [18.2, 20.7],
    [21.2, 23.7],
    [24.2, 27.9],
    [28.1, 31.8],
  ] as const) {
    addOpening(draft, 'window', [x0, 9.05], [x1, 9.05], { ...partition, sill: 0.1, head: 2.6 });
  }

  // Façades.
  addWindows(draft, [0, 0], [22.4, 0], [0.6, 4.2, 7.8, 11.4, 15, 18.6], 3);
  addWindows(draft, [22.5, 0], [41.4, 0], [0.6, 4.2, 7.8, 11.4, 15], 3);
  addWindows(draft, [41.4, 0], [45, 3.6], [0.9], 3.3);
  addWindows(draft, [45, 3.6], [45, 17], [0.6, 3.9, 7.2, 10.2], 2.7);
  addWindows(draft, [0, 25], [0, 0], [0.6, 4.2, 7.8, 11.4, 15, 18.6, 22], 2.7);
  addWindows(draft, [12.9, 25], [0, 25], [0.9, 4.8, 8.7], 3.3);
  addWindows(draft, [20.9, 25], [13, 25], [0.6, 4.3], 3);
  addWindows(draft, [25.9, 25], [21, 25], [0.9], 3);
  addWindows(draft, [32, 25], [26, 25], [0.6, 3.4], 2.1);
  addWindows(draft, [32, 18.2], [32, 22.4], [0], 3.6, 0.4);
  addWindows(draft, [45, 17], [32.1, 17], [0.9, 4.8, 8.7], 3.3);
}
