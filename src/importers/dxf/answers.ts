/** What a person answers about a drawing. Plain JSON: kept for the next version of the same drawing. Lengths in metres. */
import type { DrawnPiece } from '../storey.ts';
import type { DxfClass } from './names.ts';
import type { DxfUnit } from './units.ts';

export interface DxfHeights {
  /** Above the floor, 0 to 50. */
  readonly base?: number;
  readonly top: number;
}

export interface DxfAnswers {
  /** What the layers hold, by name (upper and lower case are the same); a layer that is not named is guessed. */
  readonly layers: Readonly<Record<string, DxfClass>>;
  /** What the blocks hold, by name. */
  readonly blocks: Readonly<Record<string, DxfClass>>;
  /** Length of one drawing unit; left out: what header and drawing say. */
  readonly unit: DxfUnit;
  /** Ends of lines this near to each other are one corner, 0 to 2; left out: 0.05. */
  readonly gapM: number;
  /** Heights of pieces, by kind: a plan has none. */
  readonly heights: Readonly<Partial<Record<DrawnPiece['kind'], DxfHeights>>>;
  /** Height of all ceilings. */
  readonly ceiling: number;
}

export const DEFAULT_DXF_GAP = 0.05;
