import type { FloorFile } from '../../src/core/floor/schema.ts';
import { pickDetectorTypes } from './detector-types.ts';
import {
  add,
  addIsland,
  addOpening,
  addPanels,
  addPiece,
  addRoom,
  box,
  createDraft,
  type FloorDraft,
  finishDraft,
  roundMm,
} from './floor-draft.ts';

const AISLES = 11;
const AISLE_WIDTH = 1.2;
const SHELF_DEPTH = 0.8;
const PITCH = AISLE_WIDTH + SHELF_DEPTH;
/** Single shelves stand along both end walls. */
const FIRST_AISLE = 0.4;
const WIDTH = 2 * FIRST_AISLE + AISLES * AISLE_WIDTH + (AISLES - 1) * SHELF_DEPTH;
/** The two blocks of shelving, south and north of the middle cross-aisle. */
const BLOCKS = [2, 8.9] as const;
const UNIT = 1.1;
const UNITS = 5;
/** From this row on the shelves hold periodicals and are lower. */
const FIRST_LOW_ROW = 8;
/** Index of the aisle that loses its lens. */
const LENSLESS = 5;

const aisleCentre = (aisle: number): number => roundMm(FIRST_AISLE + aisle * PITCH + AISLE_WIDTH / 2);

function addShelving(draft: FloorDraft): void {
  for (let row = 0; row <= AISLES; row += 1) {
    const [x0, x1] =
      row === 0
        ? [0.02, FIRST_AISLE]
        : row === AISLES
          ? [WIDTH - FIRST_AISLE, WIDTH - 0.02]
          : [FIRST_AISLE + row * PITCH - SHELF_DEPTH, FIRST_AISLE + row * PITCH];
    const top = row >= FIRST_LOW_ROW && row < AISLES ? 1.6 : 2.2;
    for (const y of BLOCKS) {
      for (let unit = 0; unit < UNITS; unit += 1) {
        addPiece(draft, 'shelving', `Row ${row + 1}, unit`, box(x0, y + unit * UNIT, x1, y + (unit + 1) * UNIT), top);
      }
    }
  }
}

function addDetectors(draft: FloorDraft): void {
  const hang = (
    type: string,
    x: number,
    y: number,
    rest: { turn?: number; status?: 'remove' | 'existing' } = {},
  ): string => add(draft, 'detectors', { name: `D${draft.detectors.length + 1}`, type, at: [x, y], ...rest });
  // One lens an aisle where it crosses the middle, all on one group: more extensions than its main can take.
  const aisles = Array.from({ length: AISLES }, (_, aisle) => {
    if (aisle === LENSLESS) return hang('round-6', aisleCentre(aisle), 8.2, { status: 'remove' });
    return hang('aisle-20', aisleCentre(aisle), 8.2, { turn: 90 });
  });
  const south = [4, 11, 18].map((x) => hang('wide-9', x, 1));
  const north = [5, 12, 19].map((x) => hang('wide-9', x, 15.2));
  const settings = { switchOn: 'automatic', level: 200, delay: 5, background: 0 } as const;
  const [southMain = '', ...southRest] = south;
  const [northMain = '', ...northRest] = north;
  add(draft, 'groups', {
    name: 'Archive, aisles and south cross-aisle',
    main: southMain,
    extensions: [...aisles.filter((_, aisle) => aisle !== LENSLESS), ...southRest],
    settings,
  });
  add(draft, 'groups', {
    name: 'Archive, north cross-aisle',
    main: northMain,
    extensions: northRest,
    settings,
  });

  // One lens of the high reading room hangs on a rod; the other was left at the ceiling.
  const reading = [hang('rod-8', 26, 6.3), hang('wide-9-extension', 26, 2.7)];
  add(draft, 'groups', {
    name: 'Reading room',
    main: reading[0] ?? '',
    extensions: reading.slice(1),
    settings: { switchOn: 'automatic', level: 500, delay: 15 },
  });
  const intake = hang('wide-9', 26, 11.8);
  add(draft, 'groups', { name: 'Intake', main: intake, settings: { switchOn: 'manual', level: 500, delay: 10 } });
}

/** An archive of 500 m²: eleven aisles between shelves of 2.2 and 1.6 m, a reading room, an intake room. */
export function composeArchive(): FloorFile {
  const draft = createDraft();
  // Bare slab, no tiles.
  draft.rooms.push({
    id: 'archive',
    name: 'Archive',
    use: 'archive',
    outline: box(0, 0, WIDTH, 16),
    ceiling: 3.2,
    ceilingFrom: 'measured',
  });
  addRoom(draft, 'reading', 'Reading room', 'library reading', box(WIDTH + 0.1, 0, 30, 9), 4);
  addRoom(draft, 'intake', 'Intake', 'packing', box(WIDTH + 0.1, 9.1, 30, 16), 2.8, { ceilingFrom: 'assumed' });

  const partition = { depth: 0.2 };
  const wall = WIDTH + 0.05;
  addOpening(draft, 'door', [wall, 0.5], [wall, 1.5], partition);
  addOpening(draft, 'door', [wall, 14.7], [wall, 15.7], { ...partition, state: 'open' });
  addOpening(draft, 'door', [27, 9.05], [28, 9.05], partition);
  addOpening(draft, 'door', [30, 0.6], [30, 1.6], partition);
  addOpening(draft, 'door', [0, 14.7], [0, 15.7], partition);
  addOpening(draft, 'window', [wall, 2.2], [wall, 7.2], { ...partition, sill: 1, head: 2.4 });
  for (const y of [2.4, 5.4, 10, 13]) addOpening(draft, 'window', [30, y], [30, y + 2.4], { sill: 0.9, head: 2.5 });

  addShelving(draft);
  addPiece(draft, 'desk', 'Book trolley', box(9.2, 0.3, 10.2, 0.8), 1, { movable: true });
  addIsland(draft, { x: 26.1, y: 2.7, turn: 0, perSide: 2, screenTop: 1.2, name: 'Reading room' });
  addIsland(draft, { x: 26.1, y: 6.4, turn: 0, perSide: 2, screenTop: 1.2, name: 'Reading room' });
  addPiece(draft, 'shelving', 'Reference shelf', box(22.15, 3, 22.5, 6.5), 1.6);
  addPiece(draft, 'desk', 'Sorting table', box(23.6, 11, 28.4, 12.2), 0.92, { base: 0.86 });
  addPiece(draft, 'shelving', 'Intake shelf', box(23.4, 13.8, 28.6, 14.2), 2.2);
  addPiece(draft, 'desk', 'Intake desk', box(24, 15.1, 25.6, 15.9), 0.74, { base: 0.7 });
  add(draft, 'workplaces', { name: 'Sorting, south', at: [26, 10.6], facing: 90, posture: 'standing' });
  add(draft, 'workplaces', { name: 'Sorting, north', at: [26, 12.65], facing: 270, posture: 'standing' });
  add(draft, 'workplaces', { name: 'Intake desk', at: [24.8, 14.75], facing: 90 });

  add(draft, 'sources', { name: 'Dehumidifier', kind: 'fan', at: [20.9, 15.6], radius: 0.3, base: 0, top: 1.2 });
  add(draft, 'sources', { name: 'Convector', kind: 'heater', at: [29.8, 6.6], radius: 0.2, base: 0.1, top: 0.6 });
  add(draft, 'sources', { name: 'Air outlet', kind: 'air outlet', at: [26, 4.5], radius: 0.3, base: 3.98, top: 4 });

  addDetectors(draft);
  for (let aisle = 0; aisle < AISLES; aisle += 1) {
    const x = aisleCentre(aisle);
    add(draft, 'zones', {
      name: `Aisle ${aisle + 1}`,
      outline: box(x - AISLE_WIDTH / 2, BLOCKS[0], x + AISLE_WIDTH / 2, BLOCKS[1] + UNITS * UNIT),
      need: 'walking',
      heading: 90,
    });
  }
  add(draft, 'zones', { name: 'South cross-aisle', outline: box(0, 0, WIDTH, BLOCKS[0]), need: 'walking', heading: 0 });
  add(draft, 'zones', {
    name: 'North cross-aisle',
    outline: box(0, BLOCKS[1] + UNITS * UNIT, WIDTH, 16),
    need: 'walking',
    heading: 0,
  });

  // Long luminaires over the aisles hang clear of the lenses.
  for (let aisle = 0; aisle < AISLES; aisle += 1) {
    for (const y of [3.4, 6.2, 10.3, 13.1]) {
      add(draft, 'luminaires', {
        name: 'Aisle luminaire',
        at: [aisleCentre(aisle), y],
        size: [1.5, 0.08],
        turn: 90,
        base: 3.16,
        top: 3.2,
        group: 'G1',
        watts: 35,
      });
    }
  }
  addPanels(draft, 'reading', { from: [23.6, 0.9], to: [29.8, 8.8], pitch: [1.8, 1.8] }, { group: 'G3' });
  addPanels(draft, 'intake', { from: [23.6, 10], to: [29.8, 15.8], pitch: [1.8, 1.8] }, { group: 'G4' });
  draft.types.push(...pickDetectorTypes(draft.detectors.map(({ type }) => type)));
  return finishDraft(
    { name: 'Archive', notes: 'Invented floor; no real building. Licence CC0-1.0.', north: 90 },
    draft,
  );
}
