/**
 * What a reader takes out of somebody's drawing or model before it becomes a floor: one storey, in metres, x east-ish and
 * y north-ish as the source has them, z = 0 at the storey's own floor. Readers (`ifc/`, `dxf/`, `geojson/`) produce it,
 * `assembly/` turns it into a valid floor file and an account of what was taken, guessed and left out.
 *
 * A reader states what it knows and `null` where it does not: defaults and their standing are chosen in one place, by
 * the assembly.
 */
import type { Point, Ring } from '../core/floor/index.ts';

/**
 * The source's own name of a thing, the same when the source is read again (a GlobalId, a handle, a layer and number).
 * Kept under `notes` of the thing it became, so that a newer version of the source finds it.
 */
export type SourceKey = string;

/** How a value came about. A guess is shown on the plan and can be put right. */
export type Standing = 'read' | 'guessed';

export interface DrawnRoom {
  readonly key: SourceKey;
  readonly name: string;
  readonly use?: string;
  /** The room's free floor up to the inner faces of its walls. */
  readonly outline: Ring;
  readonly holes: readonly Ring[];
  /** Metres from this storey's floor to the ceiling, null where the source does not say. */
  readonly ceiling: number | null;
  readonly standing: Standing;
}

/** A wall as its footprint or, in drawings made of loose lines, as one line of a face. */
export type DrawnWall =
  | {
      readonly kind: 'footprint';
      readonly key: SourceKey;
      readonly outline: Ring;
      readonly base: number;
      /** Null: to the ceiling. A wall that ends below it becomes a partition. */
      readonly top: number | null;
    }
  | { readonly kind: 'line'; readonly key: SourceKey; readonly from: Point; readonly to: Point };

export interface DrawnOpening {
  readonly key: SourceKey;
  readonly kind: 'door' | 'window' | 'passage';
  readonly name: string;
  /** The two jambs, on the middle line of the wall. */
  readonly from: Point;
  readonly to: Point;
  /** Thickness of the wall it stands in, null where the source does not say. */
  readonly depth: number | null;
  readonly sill: number | null;
  readonly head: number | null;
  readonly standing: Standing;
}

export interface DrawnPiece {
  readonly key: SourceKey;
  readonly kind: 'partition' | 'screen' | 'shelving' | 'cabinet' | 'desk' | 'column' | 'hanging' | 'other';
  readonly name: string;
  readonly outline: Ring;
  readonly base: number | null;
  readonly top: number | null;
  readonly glass: boolean;
  readonly standing: Standing;
}

export interface DrawnLuminaire {
  readonly key: SourceKey;
  readonly name: string;
  readonly at: Point;
  readonly size: readonly [number, number];
  readonly turn: number;
  readonly base: number | null;
  readonly top: number | null;
}

/** A chair or another sign that somebody sits or stands here. */
export interface DrawnWorkplace {
  readonly key: SourceKey;
  readonly name: string;
  readonly at: Point;
  readonly facing: number | null;
  readonly standing: Standing;
}

export interface DrawnSource {
  readonly key: SourceKey;
  readonly name: string;
  readonly kind: 'heater' | 'fan' | 'air outlet' | 'lamp' | 'machine' | 'other';
  readonly at: Point;
  readonly radius: number;
  readonly base: number | null;
  readonly top: number | null;
}

/** Words that stand on the floor: the name of the room they lie in, where that room was not drawn as an outline. */
export interface DrawnLabel {
  readonly key: SourceKey;
  readonly text: string;
  /** The middle of the words. */
  readonly at: Point;
}

/** One line of the account: things of one kind with one fate for one reason. */
export interface Remark {
  readonly fate: 'taken' | 'guessed' | 'left out';
  /** What they are, in the source's or the trade's words, plural: "doors", "stairs", "entities of type SPLINE". */
  readonly what: string;
  readonly count: number;
  /** Why, in plain words; with the cure where there is one. Empty for what was taken as it is. */
  readonly reason: string;
  /** Where they lie and what they are called, as far as known; not more than 200. */
  readonly places: readonly { readonly key: SourceKey; readonly name: string; readonly at: Point | null }[];
}

/** An area that is no room although walls enclose it: a shaft, a lift. */
export interface DrawnVoid {
  readonly key: SourceKey;
  readonly name: string;
  readonly outline: Ring;
}

export interface DrawnStorey {
  readonly name: string;
  /** Metres above the source's zero, null where it does not say. */
  readonly elevation: number | null;
  /** Degrees counter-clockwise from +x to north, null where the source does not say. */
  readonly north: number | null;
  readonly rooms: readonly DrawnRoom[];
  readonly walls: readonly DrawnWall[];
  readonly openings: readonly DrawnOpening[];
  readonly pieces: readonly DrawnPiece[];
  readonly luminaires: readonly DrawnLuminaire[];
  readonly workplaces: readonly DrawnWorkplace[];
  readonly sources: readonly DrawnSource[];
  /** Names for rooms found from the walls. Rooms drawn as outlines have theirs already. */
  readonly labels?: readonly DrawnLabel[];
  /** Left out: none. */
  readonly voids?: readonly DrawnVoid[];
  readonly remarks: readonly Remark[];
}

/** A source that could not be used at all: what, where in it, and what would be right. */
export interface Refusal {
  readonly ok: false;
  readonly reason: string;
  readonly remedy: string;
}

/** A source read to its end. `origin` was taken off every coordinate (metres, in double precision) and is stated. */
export interface ReadSource {
  readonly ok: true;
  readonly format: string;
  readonly name: string;
  readonly origin: Point;
  readonly storeys: readonly DrawnStorey[];
  /** What concerns the whole source: units as found and as taken, encoding, what was ignored. */
  readonly remarks: readonly Remark[];
}

/** Told now and then while reading; `share` from 0 to 1. */
export type OnProgress = (share: number, stage: string) => void;
