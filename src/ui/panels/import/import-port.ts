/** What the import dialog shows and asks, and what it can do; the app answers, with a worker. Lengths in metres. */
import type { Point } from '../../../core/floor/index.ts';

/** A small drawing as SVG path data; y points down. */
export interface PlanSketch {
  /** x, y, width, height; null: there is nothing to draw. */
  readonly box: readonly [number, number, number, number] | null;
  readonly rooms: string;
  readonly walls: string;
  readonly openings: string;
  readonly pieces: string;
}

export interface OfferedStorey {
  readonly name: string;
  /** `22 rooms, 29 walls`. */
  readonly detail: string;
  readonly plan: PlanSketch;
}

/** A layer or a block of a drawing, and what it is taken for. */
export interface OfferedLayer {
  readonly key: string;
  readonly title: string;
  readonly isBlock: boolean;
  /** `177 lines, 3 closed`. */
  readonly detail: string;
  readonly taken: string;
  /** Why: by its name, by what is drawn on it, as answered. */
  readonly because: string;
}

export interface DrawingQuestions {
  readonly layers: readonly OfferedLayer[];
  /** What a layer may hold. */
  readonly classes: readonly string[];
  readonly units: readonly { readonly value: string; readonly text: string }[];
  readonly unit: string;
  /** Why this unit: a sentence. */
  readonly unitBecause: string;
}

export interface ImportAnswerValues {
  /** Of ceilings that are not stated; null: as guessed. */
  readonly ceiling: number | null;
  readonly gap: number;
  readonly rooms: 'auto' | 'drawn' | 'walls' | 'both';
  readonly seats: boolean;
  /** Tops by kind of furniture, where they are answered. */
  readonly heights: Readonly<Record<string, number>>;
}

export interface ImportPreview {
  readonly plan: PlanSketch;
  /** `22 rooms, 22 doors and 26 pieces of furniture`. */
  readonly sentence: string;
  readonly guessed: number;
  readonly leftOut: number;
  /** Ceilings nobody stated: how many, and their height. */
  readonly ceilings: { readonly count: number; readonly height: number } | null;
  /** Kinds of furniture whose height nobody stated. */
  readonly heights: readonly {
    readonly kind: string;
    readonly word: string;
    readonly count: number;
    readonly top: number;
  }[];
}

export type ImportView =
  | { readonly step: 'reading'; readonly source: string; readonly stage: string; readonly share: number }
  | { readonly step: 'refused'; readonly source: string; readonly reason: string; readonly remedy: string }
  | {
      readonly step: 'asking';
      readonly source: string;
      readonly format: string;
      readonly storeys: readonly OfferedStorey[];
      readonly chosen: number;
      readonly drawing: DrawingQuestions | null;
      readonly answers: ImportAnswerValues;
      /** Null until the first one is there. */
      readonly preview: ImportPreview | null;
      /** The preview is of older answers; a newer one is on its way. */
      readonly isWorking: boolean;
      /** The open floor came from a source too: a newer version can be brought onto it. Its source's name. */
      readonly openSource: string | null;
      /** What kept the last attempt from being opened. */
      readonly faults: readonly string[];
    };

/** How the floor differs from the older version it was brought onto. */
export interface ImportChange {
  readonly fate: string;
  readonly id: string;
  readonly name: string;
  readonly at: Point;
  readonly what: string;
}

export interface Imports {
  /** Asks for a file and imports it. */
  pick(): void;
  chooseStorey(index: number): void;
  answer(part: Partial<ImportAnswerValues>): void;
  /** What layers and blocks hold, by key, and the unit; the drawing is read again. */
  answerDrawing(part: { readonly unit?: string; readonly classes?: Readonly<Record<string, string>> }): void;
  /** Opens what the preview shows as a floor of its own, or brings it onto the open one. */
  open(how: 'new' | 'onto'): void;
  cancel(): void;
  /** Saves the account of the open floor's import as text. */
  saveReport(): void;
}
