import { add, addCubicles, addIsland, addPiece, box, type FloorDraft, type XY } from '../floor-draft.ts';

/** Tops, metres, with the reasons named in `models/furniture/catalogue.json`. */
const SIDEBOARD = 0.75;
const CABINET = 1.1;
const TALL_CABINET = 1.95;
const SHELF = 2.2;
const TABLE = { base: 0.7, top: 0.74 };

function addColumns(draft: FloorDraft): void {
  const at: readonly XY[] = [
    [6.9, 6.9],
    [14.7, 6.9],
    [30.3, 6.9],
    [38.1, 6.9],
    [6.9, 14.7],
    [38.1, 14.7],
    [6.9, 22.5],
  ];
  for (const [x, y] of at)
    addPiece(draft, 'column', 'Column', box(x - 0.2, y - 0.2, x + 0.2, y + 0.2), 3, { from: 'measured' });
}

function addCabinets(
  draft: FloorDraft,
  name: string,
  top: number,
  x: number,
  y: number,
  count: number,
  along: 'x' | 'y',
  length = 1,
  depth = 0.45,
): void {
  for (let index = 0; index < count; index += 1) {
    const outline =
      along === 'x'
        ? box(x + index * length, y, x + (index + 1) * length, y + depth)
        : box(x, y + index * length, x + depth, y + (index + 1) * length);
    addPiece(draft, top >= 2.1 ? 'shelving' : 'cabinet', name, outline, top);
  }
}

function addWest(draft: FloorDraft): void {
  for (const [x, screenTop] of [
    [2.1, 1.2],
    [6.3, 1.2],
    [10.5, 1.3],
    [14.7, 1.3],
    [18.9, 1.2],
  ] as const) {
    addIsland(draft, { x, y: 3.5, turn: 90, perSide: 3, screenTop, name: 'South-west' });
  }
  for (const [y, screenTop] of [
    [10.6, 1.2],
    [14.4, 1.2],
    [18.6, 1.3],
    [22.4, 1.2],
  ] as const) {
    addIsland(draft, { x: 3.6, y, turn: 0, perSide: 3, screenTop, name: 'West wing' });
  }
  addIsland(draft, { x: 9.3, y: 10.6, turn: 0, perSide: 2, screenTop: 1.2, name: 'West wing, core side' });
  addIsland(draft, { x: 9.3, y: 14.4, turn: 0, perSide: 2, screenTop: 1.2, name: 'West wing, core side' });
  addIsland(draft, { x: 9.3, y: 18.6, turn: 0, perSide: 2, screenTop: 1.6, name: 'Focus' });
  addIsland(draft, { x: 9.3, y: 22.4, turn: 0, perSide: 2, screenTop: 1.6, name: 'Focus' });

  // Dividers at the ends of the islands, low enough to look over.
  for (const x of [6.3, 14.7, 18.9]) addCabinets(draft, 'Sideboard', CABINET, x - 0.8, 5.95, 2, 'x', 0.8);
  addCabinets(draft, 'Tall cabinet', TALL_CABINET, 21.95, 0.4, 5, 'y');
  addCabinets(draft, 'Tall cabinet', TALL_CABINET, 12.45, 9.3, 3, 'y');
  addCabinets(draft, 'Tall cabinet', TALL_CABINET, 12.45, 15.4, 5, 'y');
  addCabinets(draft, 'Window sideboard', SIDEBOARD, 1, 24.5, 5, 'x', 1.2);
  addPiece(draft, 'shelving', 'Shelf, west wing', box(7.7, 16.3, 10.9, 16.7), SHELF, { movable: true });
  addPiece(draft, 'other', 'Sofa', box(7.7, 7.5, 9.7, 8.3), 0.8);
  addPiece(draft, 'other', 'Plant trough', box(3, 7.4, 5.4, 7.8), 1.1);
  // A bench to touch down at, beside the passage to the other half.
  addPiece(draft, 'desk', 'Touchdown bench', box(20.2, 8.35, 22, 8.95), TABLE.top, { base: TABLE.base });
  add(draft, 'workplaces', { name: 'Touchdown', at: [21.5, 7.95], radius: 0.4, facing: 90 });
}

function addBooth(draft: FloorDraft, x: number, y: number): void {
  const top = 2.3;
  const wall = (outline: XY[], glass = false): void => {
    addPiece(draft, 'partition', glass ? 'Booth glass' : 'Booth wall', outline, top, glass ? { glass } : {});
  };
  wall(box(x, y, x + 0.06, y + 1.4));
  wall(box(x + 0.06, y, x + 1.4, y + 0.06));
  wall(box(x + 0.06, y + 1.34, x + 1.4, y + 1.4));
  wall(box(x + 1.36, y + 0.06, x + 1.4, y + 0.5), true);
  addPiece(draft, 'desk', 'Booth desk', box(x + 0.06, y + 0.06, x + 0.56, y + 1.34), TABLE.top, { base: TABLE.base });
  add(draft, 'workplaces', { name: 'Phone booth', at: [x + 0.86, y + 0.7], radius: 0.35, facing: 180 });
}

function addEast(draft: FloorDraft): void {
  for (const [x, screenTop, raised] of [
    [26.7, 1.2, 0],
    [30.9, 1.4, 0],
    [35.1, 1.2, 0.45],
    [39.3, 1.4, 0.45],
  ] as const) {
    addIsland(draft, {
      x,
      y: 3.5,
      turn: 90,
      perSide: 3,
      screenTop,
      name: 'South-east',
      screenAssumed: x === 39.3,
      ...(raised > 0 ? { raised } : {}),
    });
  }
  for (const y of [10.6, 14.4]) {
    addIsland(draft, { x: 41.1, y, turn: 0, perSide: 3, screenTop: 1.2, name: 'East wing' });
    addIsland(draft, { x: 35.4, y, turn: 0, perSide: 2, screenTop: 1.2, name: 'East wing, core side' });
  }
  addBooth(draft, 22.7, 0.5);
  addBooth(draft, 22.7, 2.1);
  // A desk that came late, in the corner by the splayed façade.
  addPiece(draft, 'desk', 'Desk', box(43.9, 5.4, 44.7, 7), TABLE.top, { base: TABLE.base });
  add(draft, 'workplaces', { name: 'East corner', at: [43.55, 6.2], facing: 0 });

  for (const x of [30.9, 39.3]) addCabinets(draft, 'Sideboard', CABINET, x - 0.8, 5.95, 2, 'x', 0.8);
  addPiece(draft, 'shelving', 'Shelf, south-east', box(32.9, 5.95, 35.6, 6.35), SHELF);
  addCabinets(draft, 'Tall cabinet', TALL_CABINET, 32.15, 9.3, 3, 'y');
  addCabinets(draft, 'Window sideboard', SIDEBOARD, 38.4, 16.45, 5, 'x', 1.2);
  addPiece(draft, 'other', 'Plant trough', box(38.1, 11.7, 38.4, 13.5), 1.1);
}

function addMeetingRooms(draft: FloorDraft): void {
  const table = (x0: number, y0: number, x1: number, y1: number): void => {
    addPiece(draft, 'desk', 'Meeting table', box(x0, y0, x1, y1), TABLE.top, { base: TABLE.base });
  };
  table(14, 10.4, 16.8, 11.6);
  table(18.75, 10.4, 20.15, 11.4);
  table(21.75, 10.4, 23.15, 11.4);
  table(25.2, 10.4, 30.8, 11.7);
  addCabinets(draft, 'Sideboard', SIDEBOARD, 13.05, 10, 2, 'y', 1);
  addCabinets(draft, 'Sideboard', SIDEBOARD, 31.5, 9.6, 2, 'y', 1);
  addPiece(draft, 'other', 'Screen on a stand', box(13.6, 12.5, 15.4, 12.7), 1.9, { base: 0.9 });
}

function addCore(draft: FloorDraft): void {
  addPiece(draft, 'other', 'Stair flight, lower', box(13, 16.6, 14.35, 20.8), 1.7);
  addPiece(draft, 'hanging', 'Stair flight, upper', box(14.45, 17.4, 15.8, 20.8), ROOM_SLAB, { base: 1.9 });
  for (const x of [21, 23.5]) {
    addPiece(draft, 'other', 'Wash basins', box(x, 15.4, x + 0.5, 16.8), 0.85, { base: 0.7 });
    addCubicles(draft, { along: 'y', start: 17.3, width: 1.165, count: 3, front: x + 0.98, back: x + 2.4 });
  }
  // Print and post.
  addCabinets(draft, 'Post shelf', SHELF, 21.05, 21.3, 3, 'y', 1.1, 0.4);
  addPiece(draft, 'other', 'Copier', box(22.6, 21.05, 23.9, 21.75), 1.2);
  addPiece(draft, 'desk', 'Sorting table', box(22.4, 23, 24.6, 23.9), 0.92, { base: 0.86 });
  // Quiet room.
  addPiece(draft, 'desk', 'Reading table', box(14.9, 22.5, 19.1, 23.7), TABLE.top, { base: TABLE.base });
  addPiece(draft, 'screen', 'Reading screen', box(14.9, 23.08, 19.1, 23.12), 1.1, { base: TABLE.base });
  for (const x of [15.6, 17, 18.4]) {
    add(draft, 'workplaces', { name: 'Quiet room', at: [x, 22.15], facing: 90 });
    add(draft, 'workplaces', { name: 'Quiet room', at: [x, 24.05], facing: 270 });
  }
  addCabinets(draft, 'Book shelf', SHELF, 14.4, 21.02, 6, 'x', 1, 0.35);
}

const ROOM_SLAB = 2.8;

function addTeaPoint(draft: FloorDraft): void {
  addPiece(draft, 'cabinet', 'Kitchen units', box(26.02, 17.6, 26.62, 21.2), 0.92);
  addPiece(draft, 'cabinet', 'Fridge', box(26.02, 21.2, 26.62, 21.9), 2);
  addPiece(draft, 'hanging', 'Wall cupboard', box(26.02, 18.2, 26.37, 21.2), 2.15, { base: 1.45 });
  addPiece(draft, 'desk', 'High table', box(28, 19, 28.8, 21.2), 1.06, { base: 1 });
  addPiece(draft, 'desk', 'Dining table', box(29.9, 18.4, 31.3, 19.3), TABLE.top, { base: TABLE.base });
  addPiece(draft, 'desk', 'Dining table', box(29.4, 23.4, 31, 24.2), TABLE.top, { base: TABLE.base });
  addPiece(draft, 'partition', 'Glass screen', box(29.6, 17.5, 32, 17.56), ROOM_SLAB, { glass: true });
  addPiece(draft, 'other', 'Bench', box(26.6, 24.4, 28.6, 24.9), 0.45);
  for (const y of [19.5, 20.7])
    add(draft, 'luminaires', {
      name: 'Pendant over the high table',
      at: [28.4, y],
      size: [0.5, 0.5],
      base: 1.9,
      top: 2.25,
      watts: 12,
    });
}

export function addFurniture(draft: FloorDraft): void {
  addColumns(draft);
  addWest(draft);
  addEast(draft);
  addMeetingRooms(draft);
  addCore(draft);
  addTeaPoint(draft);
}
