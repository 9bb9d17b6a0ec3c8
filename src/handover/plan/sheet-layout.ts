/** How a floor is laid on sheets of paper: at which scale, which way round, and on how many. */
import { type Floor, findRoomAt } from '../../core/floor/index.ts';
import type { Box } from '../../core/geometry/polygon.ts';
import type { Area, Orientation } from '../paper/sizes.ts';
import { boxOfRooms } from './floor-drawing.ts';
import { WALL_BAND } from './structure-layer.ts';

export interface SheetWindow {
  /** The part of the floor on it, metres. */
  readonly box: Box;
  /** `B2`: columns by letter from the left, rows by number from the top. Empty for a floor on one sheet. */
  readonly name: string;
}

export interface SheetLayout {
  readonly scale: number;
  readonly orientation: Orientation;
  readonly windows: readonly SheetWindow[];
}

/** Millimetres that neighbouring sheets both show. */
const OVERLAP_MM = 10;
/** Metres around the rooms that are drawn too. */
const RIM_M = WALL_BAND + 0.1;

/**
 * The largest scale (least denominator) at which the floor lies on one sheet; else sheets enough for it at `splitAt`, or
 * at a smaller scale where they would be more than `mostSheets`.
 * @param areaOf room for the drawing on a sheet, mm
 */
export function layOutSheets(
  floor: Floor,
  areaOf: (orientation: Orientation) => Area,
  scales: readonly number[],
  splitAt: readonly number[],
  mostSheets: number,
): SheetLayout {
  const box = boxOfRooms(floor);
  const whole = { minX: box.minX - RIM_M, minY: box.minY - RIM_M, maxX: box.maxX + RIM_M, maxY: box.maxY + RIM_M };
  const [width, height] = [whole.maxX - whole.minX, whole.maxY - whole.minY];
  const ways: readonly Orientation[] = width > height ? ['landscape', 'portrait'] : ['portrait', 'landscape'];
  for (const scale of scales) {
    for (const orientation of ways) {
      const area = areaOf(orientation);
      if ((width * 1000) / scale <= area.width && (height * 1000) / scale <= area.height)
        return { scale, orientation, windows: [{ box: whole, name: '' }] };
    }
  }
  let least: SheetLayout | undefined;
  for (const scale of splitAt) {
    for (const orientation of ways) {
      const windows = split(floor, whole, areaOf(orientation), scale);
      if (least === undefined || (windows.length < least.windows.length && scale === least.scale))
        least = { scale, orientation, windows };
    }
    if (least !== undefined && least.windows.length <= mostSheets) break;
    if (scale !== splitAt.at(-1)) least = undefined;
  }
  return least ?? { scale: splitAt.at(-1) ?? 200, orientation: 'landscape', windows: [{ box: whole, name: '' }] };
}

function split(floor: Floor, whole: Box, area: Area, scale: number): SheetWindow[] {
  const [wide, high] = [(area.width * scale) / 1000, (area.height * scale) / 1000];
  const overlap = (OVERLAP_MM * scale) / 1000;
  const count = (length: number, step: number) =>
    length <= step ? 1 : Math.max(1, Math.ceil((length - overlap) / Math.max(step - overlap, overlap)));
  const columns = count(whole.maxX - whole.minX, wide);
  const rows = count(whole.maxY - whole.minY, high);
  const windows: SheetWindow[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const minX = whole.minX + column * (wide - overlap);
      const maxY = whole.maxY - row * (high - overlap);
      const box = { minX, maxY, maxX: Math.min(minX + wide, whole.maxX), minY: Math.max(maxY - high, whole.minY) };
      if (columns * rows === 1 || holdsFloor(floor, box)) windows.push({ box, name: `${letterOf(column)}${row + 1}` });
    }
  }
  return windows.length === 1 && windows[0] !== undefined ? [{ ...windows[0], name: '' }] : windows;
}

/** A to Z, then AA and on. */
function letterOf(column: number): string {
  const last = String.fromCharCode(65 + (column % 26));
  return column < 26 ? last : `${letterOf(Math.floor(column / 26) - 1)}${last}`;
}

/** Looks at a lattice of places: a sheet without any room on it is not printed. */
function holdsFloor(floor: Floor, { minX, minY, maxX, maxY }: Box): boolean {
  const LOOKS = 24;
  for (let j = 0; j <= LOOKS; j++) {
    for (let i = 0; i <= LOOKS; i++) {
      const at = [minX + ((maxX - minX) * i) / LOOKS, minY + ((maxY - minY) * j) / LOOKS] as const;
      if (findRoomAt(floor.rooms, at) !== undefined) return true;
    }
  }
  return floor.detectors.some(({ at: [x, y] }) => x >= minX && x <= maxX && y >= minY && y <= maxY);
}
