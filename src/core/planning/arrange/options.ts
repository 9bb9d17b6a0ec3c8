/** What somebody asks of an arrangement. Lengths in metres, angles in degrees. */
import type { DetectorTypeId, Ring } from '../../floor/index.ts';

/** Where detectors may hang: at the centres of ceiling tiles, or at even steps along a room's axes. */
export type CandidateGrid = { readonly kind: 'tiles' } | { readonly kind: 'pitch'; readonly pitch: number };

/** Which of the floor's detectors stay as they are: existing and locked ones, or every one that is not to be removed. */
export type KeptDetectors = 'fixed' | 'all' | 'none';

/** How far lenses keep from things, metres; and outlines under which none may hang. */
export interface KeepOuts {
  /** From walls and from pieces that reach the height of the lens. */
  readonly wall: number;
  /** From air outlets. */
  readonly outlet: number;
  /** From luminaires and lamps that hang lower than the lens. */
  readonly lamp: number;
  readonly areas: readonly Ring[];
}

export interface ArrangeOptions {
  /** One type or several, to choose from. */
  readonly types: readonly DetectorTypeId[];
  readonly grid: CandidateGrid;
  /** Turns of rectangular ranges, counted from the room's own axis. */
  readonly turns: readonly number[];
  readonly kept: KeptDetectors;
  readonly keepOuts: KeepOuts;
  /** Price of each type; a type that is not named costs 1. Left out: the fewest detectors are looked for. */
  readonly prices: Readonly<Record<string, number>>;
  /** Ids of the workplaces and zones that count; null for all. */
  readonly needs: readonly string[] | null;
  /** Seconds that the search may take. */
  readonly seconds: number;
  /** Tries, at the end, to save one more by moving detectors off the grid. */
  readonly offGrid: boolean;
}

export const ARRANGE_DEFAULTS: Omit<ArrangeOptions, 'types'> = {
  grid: { kind: 'tiles' },
  turns: [0, 90],
  kept: 'fixed',
  keepOuts: { wall: 0.5, outlet: 1, lamp: 1, areas: [] },
  prices: {},
  needs: null,
  seconds: 60,
  offGrid: false,
};

/** Steps of the grid in rooms without ceiling tiles, where tiles were asked for. */
export const PITCH_WITHOUT_TILES = 1.2;
