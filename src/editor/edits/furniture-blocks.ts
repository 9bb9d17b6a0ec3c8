/** Rows and blocks of furniture: so many at a pitch, singly or in pairs back to back. */
import { type FloorFile, LIMITS } from '../../core/floor/index.ts';
import { createChange } from './change.ts';
import { type Edit, type Refused, refuse } from './edit.ts';
import { countThings } from './fault-words.ts';
import { type CatalogueEntry, putPiece, refuseEntry, type Spot } from './furniture-pieces.ts';
import { createIdMaker } from './ids.ts';
import { listOf } from './lists.ts';
import { along, place } from './plane.ts';

export interface BlockOptions {
  /** Pieces, or pairs, in a row. */
  readonly count: number;
  /** Metres from middle to middle along the row; left out: the length, so that they stand side by side. */
  readonly pitch?: number;
  /** Rows; left out: 1. */
  readonly rows?: number;
  /** Metres from row to row, to the left of the row's direction; left out: the depth of a row and `AISLE`. */
  readonly rowPitch?: number;
  /** Whether each piece has another at its back, the other way round. */
  readonly mirrored?: boolean;
  /** What stands between the backs of a pair, as long as the pieces. */
  readonly screen?: CatalogueEntry;
  /** Metres between the backs of a pair; left out: the width of the screen, or 0. */
  readonly gap?: number;
  /** Whether every piece brings a workplace; left out: desks do. */
  readonly seated?: boolean;
}

/** Metres between rows when nothing else is said: two chairs back to back and a way between them. */
export const AISLE = 2;
/** More in one go is a slip of the finger. */
const MOST = 1_000;

/** Sets down a block of pieces; `spot` is the middle of the first, its turn the direction of the row. */
export function addFurnitureBlock(file: FloorFile, entry: CatalogueEntry, spot: Spot, options: BlockOptions): Edit {
  const { count, pitch = entry.length, rows = 1, mirrored = false, screen, seated = entry.kind === 'desk' } = options;
  const gap = options.gap ?? screen?.width ?? 0;
  const depth = mirrored ? 2 * entry.width + gap : entry.width;
  const rowPitch = options.rowPitch ?? depth + AISLE;
  const perSpot = (mirrored ? 2 : 1) + (mirrored && screen !== undefined ? 1 : 0);
  const refused =
    refuseEntry(entry) ??
    (screen === undefined ? null : refuseEntry({ ...screen, length: entry.length })) ??
    refuseCount(count, rows, perSpot, listOf(file, 'furniture').length) ??
    refusePitch(count > 1 ? pitch : 1, rows > 1 ? rowPitch : 1, gap);
  if (refused !== null) return refused;

  const change = createChange(file);
  const maker = createIdMaker(file);
  const axis = along(spot.turn);
  const ids: string[] = [];
  const put = (each: CatalogueEntry, u: number, v: number, turn: number, withSeat: boolean): void => {
    const at = place(spot.at, axis, [u, v]);
    ids.push(...putPiece(change, maker, each, { at, turn: spot.turn + turn }, withSeat).ids);
  };
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < count; column++) {
      const [u, v] = [column * pitch, row * rowPitch];
      put(entry, u, v, 0, seated);
      if (!mirrored) continue;
      put(entry, u, v + entry.width + gap, 180, seated);
      if (screen !== undefined) put({ ...screen, length: entry.length }, u, v + (entry.width + gap) / 2, 0, false);
    }
  }
  const pieces = countThings('furniture', count * rows * perSpot);
  const seats = count * rows * (mirrored ? 2 : 1);
  return change.plan(`Added ${pieces}${seated ? ` and ${countThings('workplaces', seats)}` : ''}`, ids);
}

function refuseCount(count: number, rows: number, perSpot: number, there: number): Refused | null {
  for (const number of [count, rows])
    if (!Number.isInteger(number) || number < 1 || number > MOST)
      return refuse(`A block of ${number} cannot be set`, `Write a whole number from 1 to ${MOST}.`);
  const pieces = count * rows * perSpot;
  if (pieces > MOST) return refuse(`${pieces} pieces at once are too many`, `Set at most ${MOST}, then repeat them.`);
  return there + pieces <= LIMITS.pieces
    ? null
    : refuse(`The floor would have ${there + pieces} pieces`, `A floor has at most ${LIMITS.pieces}.`);
}

function refusePitch(pitch: number, rowPitch: number, gap: number): Refused | null {
  for (const step of [pitch, rowPitch])
    if (!(Math.abs(step) >= 0.01 && Math.abs(step) <= 1_000))
      return refuse(`A pitch of ${step} m leaves no room`, 'Write a pitch from 0.01 to 1000 m.');
  return gap >= 0 && gap <= 100 ? null : refuse(`A gap of ${gap} m cannot be`, 'Write a gap from 0 to 100 m.');
}
