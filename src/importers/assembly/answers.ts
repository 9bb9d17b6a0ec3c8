/** What a person answers to an import, and what holds where nobody answers. Lengths in metres. */
import type { DrawnPiece } from '../storey.ts';

export type PieceKind = DrawnPiece['kind'];

/** How rooms are found: as drawn, from the walls, both, or whichever the storey gives reason for. */
export type RoomsFrom = 'auto' | 'drawn' | 'walls' | 'both';

export interface ImportAnswers {
  /** Height of ceilings that the source does not state; left out: the commonest stated one, else that of the walls, else 2.8. */
  readonly ceiling?: number;
  /** Gaps between walls up to this width are closed, 0 to 2; left out: 0.05. */
  readonly gap?: number;
  readonly rooms?: RoomsFrom;
  /** Tops of pieces whose height the source does not state, by kind. */
  readonly heights?: Readonly<Partial<Record<PieceKind, number>>>;
  /** Whether desks without a chair bring a workplace; left out: they do. */
  readonly seats?: boolean;
}

export const DEFAULT_CEILING = 2.8;
export const DEFAULT_GAP = 0.05;
export const WIDEST_GAP = 2;

/** Base and top of a piece nobody stated. `null`: the ceiling, or so far below it. */
interface AssumedHeights {
  readonly base: number;
  readonly top: number | null;
  /** In words, for the report. */
  readonly because: string;
}

/**
 * Heights assumed by kind. Desks: fixed desk 0.74 ± 0.02, within the 0.65 to 0.85 of EN 527-1 (second-hand). Screens:
 * 1.335 to 1.53 hides the seated (a furniture association's standard, second-hand). Cabinets of three and shelving of six
 * files' height: common practice, no source. Partitions and columns: to the ceiling, which never claims too much.
 */
export const ASSUMED: Readonly<Record<PieceKind, AssumedHeights>> = {
  desk: { base: 0.7, top: 0.74, because: 'a fixed desk is 0.74 m high' },
  screen: { base: 0, top: 1.4, because: 'a screen of 1.4 m hides the seated' },
  shelving: { base: 0, top: 2.2, because: 'shelving of 2.2 m is common' },
  cabinet: { base: 0, top: 1.1, because: 'a cabinet three files high has 1.1 m' },
  column: { base: 0, top: null, because: 'a column reaches the ceiling' },
  partition: { base: 0, top: null, because: 'a partition reaches the ceiling' },
  hanging: { base: -0.4, top: null, because: 'it is taken to hang 0.4 m down from the ceiling' },
  other: { base: 0, top: 0.9, because: '0.9 m is taken for what nobody named' },
};
