/**
 * Seeded benchmark floors. The plan is made of equal blocks of 20 × 12.5 m (250 m²): an open office with desk islands,
 * screens, shelving, cabinets and columns, and a strip of four small rooms that share their walls with it and with one another.
 */
import type { FloorFile } from '../../src/core/floor/schema.ts';
import {
  add,
  addIsland,
  addOpening,
  addPiece,
  box,
  createDraft,
  type FloorDraft,
  finishDraft,
  roundMm,
  turnedBox,
  type XY,
} from './floor-draft.ts';
import { createRandom, type Random } from './random.ts';

export { randomFloor } from './random-floor.ts';

export interface GenerateOptions {
  /** Rounded to whole blocks of 250 m², one at least. */
  readonly areaM2: number;
  /** The same seed gives the same floor. */
  readonly seed: number;
  /** Left out: three a block. */
  readonly detectors?: number;
  /** Diameter of every range in metres; left out: 24. */
  readonly diameter?: number;
}

const BLOCK = { width: 20, depth: 12.5, area: 250 };
/** Depth of the open part of a block; the small rooms lie beyond it. */
const OPEN_DEPTH = 8.9;
const SMALL_ROOMS = 4;
const CEILING = 2.8;
const ISLANDS = 5;

/** Columns and rows of blocks whose outline is nearest to a square. */
function arrangeBlocks(count: number): { columns: number; rows: number } {
  let columns = 1;
  for (let candidate = 1; candidate <= count; candidate += 1) {
    const flatness = (n: number): number => Math.abs(Math.log((n * BLOCK.width) / ((count / n) * BLOCK.depth)));
    if (count % candidate === 0 && flatness(candidate) < flatness(columns)) columns = candidate;
  }
  return { columns, rows: count / columns };
}

function addOpenPart(draft: FloorDraft, random: Random, x0: number, y0: number): void {
  const jitter = (size: number): number => random.between(-size, size);
  for (let index = 0; index < ISLANDS; index += 1) {
    addIsland(draft, {
      x: roundMm(x0 + 2.2 + index * 3.8 + jitter(0.12)),
      y: roundMm(y0 + 3.6 + jitter(0.25)),
      turn: 90,
      perSide: 3,
      screenTop: random.pick([1.2, 1.3, 1.4, 1.6]),
      name: 'Block',
    });
  }
  for (let index = 0; index < 8; index += 1) {
    const x = roundMm(x0 + 0.6 + index * 2.4 + jitter(0.1));
    addPiece(draft, 'shelving', 'Shelving 2.2 m', box(x, y0 + 8.35, x + 1.8, y0 + 8.75), 2.2);
  }
  for (let index = 0; index < 10; index += 1) {
    const at = roundMm(x0 + 1 + index * 1.9 + jitter(0.2));
    addPiece(
      draft,
      'cabinet',
      'Cabinet',
      turnedBox(at, roundMm(y0 + 6.85), 1, 0.45, jitter(8)),
      random.pick([0.75, 1.1, 1.95]),
    );
  }
  for (let index = 0; index < 6; index += 1) {
    const x = x0 + 1.7 + index * 3.3;
    addPiece(draft, 'column', 'Column', box(x - 0.2, y0 + 7.6, x + 0.2, y0 + 8), CEILING);
  }
}

function addSmallRoom(draft: FloorDraft, random: Random, x0: number, y0: number): void {
  const rect = (dx: number, dy: number, length: number, width: number): XY[] =>
    box(x0 + dx, y0 + dy, x0 + dx + length, y0 + dy + width);
  const shift = roundMm(random.between(-0.2, 0.2));
  addPiece(draft, 'desk', 'Table', rect(1.6 + shift, 1.3, 1.8, 1), 0.74, { base: 0.7 });
  addPiece(draft, 'desk', 'Desk', rect(0.2, 2.6, 1.4, 0.8), 0.74, { base: 0.7 });
  addPiece(draft, 'screen', 'Screen', rect(0.2, 2.54, 1.4, 0.04), random.pick([1.2, 1.4, 1.6]), { base: 0.7 });
  addPiece(draft, 'shelving', 'Shelving 2.2 m', rect(4.55, 1.1, 0.4, 1.6), 2.2);
  for (let index = 0; index < 4; index += 1)
    addPiece(draft, 'cabinet', 'Cabinet', rect(2 + index * 0.7, 3.1, 0.7, 0.45), random.pick([0.75, 1.1]));
  add(draft, 'workplaces', { name: 'Small room', at: [roundMm(x0 + 0.9), roundMm(y0 + 2.1)], radius: 0.4, facing: 90 });
}

function addBlock(draft: FloorDraft, random: Random, column: number, row: number, columns: number): void {
  const [x0, y0] = [column * BLOCK.width, row * BLOCK.depth];
  const wall = y0 + OPEN_DEPTH;
  const open = `open-${row}-${column}`;
  draft.rooms.push({
    id: open,
    name: `Open office ${row + 1}.${column + 1}`,
    outline: box(x0, y0, x0 + BLOCK.width, wall),
    ceiling: CEILING,
  });
  const width = BLOCK.width / SMALL_ROOMS;
  for (let index = 0; index < SMALL_ROOMS; index += 1) {
    const x = x0 + index * width;
    draft.rooms.push({
      id: `small-${row}-${column}-${index}`,
      name: `Room ${row + 1}.${column + 1}.${index + 1}`,
      outline: box(x, wall, x + width, y0 + BLOCK.depth),
      ceiling: CEILING,
    });
    const door = roundMm(x + random.between(0.3, 0.8));
    addOpening(draft, 'door', [door, wall], [roundMm(door + 0.95), wall], {
      depth: 0.2,
      state: random.chance(0.4) ? 'open' : 'closed',
    });
    addOpening(draft, 'window', [roundMm(x + 2.2), wall], [roundMm(x + 4.4), wall], {
      depth: 0.2,
      sill: 0.1,
      head: 2.6,
    });
    addSmallRoom(draft, random, x, wall);
  }
  if (column + 1 < columns) {
    const x = x0 + BLOCK.width;
    addOpening(draft, 'passage', [x, y0 + 5.9], [x, y0 + 7.9], { depth: 0.2 });
  }
  addOpenPart(draft, random, x0, y0);
}

/** Whether a lens may hang here: clear of every piece that reaches the ceiling. */
const isClear = (draft: FloorDraft, [x, y]: XY): boolean =>
  draft.furniture.every(
    ({ top, outline }) => top < CEILING || outline.every(([px, py]) => Math.hypot(px - x, py - y) > 0.6),
  );

function addDetectors(draft: FloorDraft, random: Random, count: number, columns: number, rows: number): void {
  const blocks = columns * rows;
  for (let block = 0; block < blocks; block += 1) {
    const share = Math.floor(((block + 1) * count) / blocks) - Math.floor((block * count) / blocks);
    const [x0, y0] = [(block % columns) * BLOCK.width, Math.floor(block / columns) * BLOCK.depth];
    const ids: string[] = [];
    for (let index = 0; index < share; index += 1) {
      let at: XY;
      do {
        const x = x0 + ((index + 0.5) * BLOCK.width) / share + random.between(-0.9, 0.9);
        at = [roundMm(Math.min(Math.max(x, x0 + 0.3), x0 + BLOCK.width - 0.3)), roundMm(y0 + random.between(1.5, 7.2))];
      } while (!isClear(draft, at));
      ids.push(
        add(draft, 'detectors', {
          name: `D${draft.detectors.length + 1}`,
          type: 'bench',
          at,
          turn: roundMm(random.between(0, 360)),
        }),
      );
    }
    const [main, ...extensions] = ids;
    if (main !== undefined) add(draft, 'groups', { name: `Block ${block + 1}`, main, extensions });
  }
}

/** A floor of about `areaM2` whose work grows with its area: at least 100 pieces a block, both planes having ranges. */
export function generateFloor({ areaM2, seed, detectors, diameter = 24 }: GenerateOptions): FloorFile {
  const random = createRandom(seed);
  const blocks = Math.max(1, Math.round(areaM2 / BLOCK.area));
  const { columns, rows } = arrangeBlocks(blocks);
  const draft = createDraft();
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) addBlock(draft, random, column, row, columns);
  }
  draft.types.push({
    id: 'bench',
    name: `Round ${diameter}`,
    origin: 'invented',
    notes: 'Invented for timing: one size for every motion.',
    ranges: [
      { motion: 'minor', mounting: CEILING, plane: 0.8, diameter },
      { motion: 'tangential', mounting: CEILING, plane: 1.2, diameter },
      { motion: 'radial', mounting: CEILING, plane: 1.2, diameter },
    ],
  });
  addDetectors(draft, random, detectors ?? blocks * 3, columns, rows);
  return finishDraft(
    {
      name: `Generated floor of ${blocks * BLOCK.area} m², seed ${seed}`,
      notes: 'Invented by a seeded generator. Licence CC0-1.0.',
    },
    draft,
  );
}
