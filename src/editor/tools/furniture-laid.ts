/** Furniture about to be set, or just set: one piece, a row, a block, singly or in pairs. */
import type { Point, Ring } from '../../core/floor/index.ts';
import { AISLE } from '../edits/furniture-blocks.ts';
import type { CatalogueEntry } from '../edits/furniture-pieces.ts';
import { along, finePoint, place } from '../edits/plane.ts';
import type { Pattern } from './furniture-entry.ts';
import { screenBetween } from './furniture-kinds.ts';
import type { Intent } from './intent.ts';

/** A piece or a pattern of them: the middle of the first piece, and the way the row runs, degrees. */
export interface Laid {
  readonly entry: CatalogueEntry;
  readonly at: Point;
  readonly turn: number;
  readonly pattern: Pattern;
}

/** With every pitch told: side by side, and an aisle between rows. */
export function lay(entry: CatalogueEntry, at: Point, turn: number, pattern: Pattern): Laid {
  const { pitch, rowPitch } = pattern;
  const told = { pitch: pitch ?? entry.length, rowPitch: rowPitch ?? depthOf(entry, pattern) + AISLE };
  return { entry, at, turn, pattern: { ...pattern, ...told } };
}

/** Across a row: one piece, or a pair with what is between. */
function depthOf({ width }: CatalogueEntry, pattern: Pattern): number {
  return pattern.mirrored ? 2 * width + gapOf(pattern) : width;
}

/** Metres between the backs of a pair. */
export function gapOf({ screen }: Pattern): number {
  return screen === null ? 0 : screenBetween(screen).width;
}

/** Whether a piece is long enough to be one. */
export function isSettable({ entry }: Laid): boolean {
  return entry.length >= 0.01;
}

/** What sets it down. */
export function intentOfLaid({ entry, at, turn, pattern }: Laid): Intent {
  const { count, pitch, rows, rowPitch, mirrored, screen } = pattern;
  if (count === 1 && rows === 1 && !mirrored) return { kind: 'piece', entry, at, turn };
  return {
    kind: 'block',
    entry,
    at,
    turn,
    options: {
      count,
      rows,
      mirrored,
      ...(pitch === null ? {} : { pitch }),
      ...(rowPitch === null ? {} : { rowPitch }),
      ...(screen === null ? {} : { screen: screenBetween(screen) }),
    },
  };
}

/** So many columns and rows of a pattern, from a column and a row of it on. */
export function planBlock(
  { entry, at, turn }: Laid,
  pattern: Pattern,
  column: number,
  row: number,
  count: number,
  rows: number,
): readonly Intent[] {
  if (count < 1 || rows < 1) return [];
  const first = place(at, along(turn), [column * (pattern.pitch ?? 0), row * (pattern.rowPitch ?? 0)]);
  return [intentOfLaid({ entry, at: finePoint(first), turn, pattern: { ...pattern, count, rows } })];
}

/** Round everything that would be set. */
export function outlineOfLaid({ entry, at, turn, pattern }: Laid): Ring {
  const { count, rows, pitch, rowPitch } = pattern;
  const axis = along(turn);
  const right = (count - 1) * (pitch ?? 0) + entry.length / 2;
  const back = (rows - 1) * (rowPitch ?? 0) + depthOf(entry, pattern) - entry.width / 2;
  const corners: readonly Point[] = [
    [-entry.length / 2, -entry.width / 2],
    [right, -entry.width / 2],
    [right, back],
    [-entry.length / 2, back],
  ];
  return corners.map((corner) => finePoint(place(at, axis, corner)));
}
