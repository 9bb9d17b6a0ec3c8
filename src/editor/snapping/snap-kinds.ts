/** What can be snapped to, and the question and the answer of snapping. */
import type { Point } from '../../core/floor/index.ts';
import type { ThingKind } from '../things.ts';
import type { Guide } from '../tools/guide.ts';
import type { Placement } from '../underlay.ts';

/** What can be snapped to, the first counting most. */
export const SNAP_KINDS = [
  'first corner',
  'tile',
  'corner',
  'midpoint',
  'crossing',
  'edge',
  'right angle',
  'extension',
  'centre line',
  'alignment',
  'grid',
] as const;

export type SnapKind = (typeof SNAP_KINDS)[number];

export interface SnapSettings {
  /** Pixels from which something draws the hand to itself. */
  readonly tolerance: number;
  /** Pitch of the grid, metres. */
  readonly grid: number;
  /** What is snapped to at all. */
  readonly to: ReadonlySet<SnapKind>;
  /** Kinds of things that are not shown, and so draw nothing to themselves. */
  readonly hidden: ReadonlySet<ThingKind>;
  /** Left out: there is none. */
  readonly under?: SnapUnder | null;
}

/** Lines of the picture under the plan, and how it lies. */
export interface SnapUnder {
  readonly lines: Float64Array;
  readonly placement: Placement;
}

export const SNAP_DEFAULTS: SnapSettings = {
  tolerance: 10,
  grid: 0.05,
  to: new Set(SNAP_KINDS),
  hidden: new Set(),
};

export interface SnapRequest {
  /** Where the hand points, metres. */
  readonly at: Point;
  readonly metresPerPixel: number;
  /** Of the settings' kinds only these; left out: all. */
  readonly kinds?: ReadonlySet<SnapKind> | undefined;
  /** The place the line in hand begins at: right angles and lengths are taken from it. */
  readonly origin?: Point | undefined;
  /** The corner before the origin. */
  readonly before?: Point | undefined;
  /** The corner on which an outline closes. */
  readonly first?: Point | undefined;
  /** Corners already set: the hand aligns with them. */
  readonly own?: readonly Point[] | undefined;
  /** Kinds of things the hand aligns with; left out: all. */
  readonly alignWith?: ReadonlySet<ThingKind> | undefined;
  /** Ids of what is in hand itself. */
  readonly except?: ReadonlySet<string> | undefined;
  /** Hang from the ceiling grid of the room: how many tiles long and wide is what hangs. */
  readonly tiles?: readonly [number, number] | undefined;
  /** Counts the edges and marks looked at: a measure of the work. */
  readonly tally?: { looked: number } | undefined;
}

export interface Snap {
  /** Where the hand comes to rest. */
  readonly at: Point;
  /** Null: nothing was near, and there is no grid. */
  readonly kind: SnapKind | null;
  /** What it rests on, to be read out: "corner of Shelf 3". Empty on the grid and on nothing. */
  readonly words: string;
  /** The id of the thing it rests on. */
  readonly about: string | null;
  readonly guides: readonly Guide[];
}

/** Metres within which the supporting lines of edges, and marks to align with, are looked for. */
export const SNAP_REACH = { extension: 3, alignment: 4 } as const;

/** Lines that run through the open draw the hand from this part of the tolerance: there are many, and the grid counts too. */
export const FAINT = 0.5;

/** Whether a kind is wanted, by the settings and by the request. */
export type Wants = (kind: SnapKind) => boolean;
