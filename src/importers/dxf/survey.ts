/** What a person is asked about a drawing before it is read, with the guesses already made. Plain JSON. */
import type { DrawnPiece, OnProgress, Refusal, Remark } from '../storey.ts';
import { DEFAULT_DXF_GAP, type DxfAnswers } from './answers.ts';
import type { Guess } from './guess.ts';
import { type DxfClass, withoutReference } from './names.ts';
import { formatWords, studyDxf } from './read.ts';
import type { UnitGuess } from './units.ts';

export interface DxfSurvey {
  readonly ok: true;
  /** "DXF 2004". */
  readonly format: string;
  readonly encoding: string;
  readonly unit: UnitGuess;
  /** Layers with something on them, the fullest first. */
  readonly layers: readonly SurveyedLayer[];
  /** Blocks that are used, the most used first; those that only group other things come last. */
  readonly blocks: readonly SurveyedBlock[];
  /** Entities by their names in the file. */
  readonly counts: Readonly<Record<string, number>>;
  readonly gapM: number;
  readonly ceiling: number | null;
  /** Heights in metres that stand for pieces nobody measured; null: to the ceiling. */
  readonly heights: Readonly<
    Record<DrawnPiece['kind'], { readonly base: number; readonly top: number | null; readonly standing: string }>
  >;
  readonly remarks: readonly Remark[];
}

export interface SurveyedLayer {
  readonly name: string;
  /** Without the name of a bound file in front. */
  readonly title: string;
  readonly hidden: boolean;
  readonly lines: number;
  readonly closed: number;
  readonly swings: number;
  readonly words: number;
  /** Metres, in the unit taken: width and height of what lies on it, null for words alone. */
  readonly extent: readonly [number, number] | null;
  readonly guess: DxfClass;
  readonly because: Guess['because'];
}

export interface SurveyedBlock {
  readonly name: string;
  readonly title: string;
  readonly uses: number;
  /** Metres, its longer side first. */
  readonly size: readonly [number, number];
  readonly guess: DxfClass;
  readonly because: Guess['because'];
}

/**
 * Heights above the floor by kind. Desk: fixed desks 0.74 ± 0.02, from memory. Screen: 1.335 to 1.53 hides the seated
 * (a furniture association's standard, second-hand). Shelving, cabinets of three files: as sold commonly, from memory. Columns and
 * partitions: to the ceiling, own choice, never too low.
 */
const HEIGHTS: DxfSurvey['heights'] = {
  desk: { base: 0.7, top: 0.74, standing: 'fixed desk, from memory' },
  screen: { base: 0, top: 1.4, standing: 'hides the seated, second-hand' },
  shelving: { base: 0, top: 2.2, standing: 'common, no source' },
  cabinet: { base: 0, top: 1.1, standing: 'three files high, common, no source' },
  column: { base: 0, top: null, standing: 'own choice' },
  partition: { base: 0, top: null, standing: 'own choice' },
  hanging: { base: 2.4, top: null, standing: 'own choice' },
  other: { base: 0, top: 0.9, standing: 'own choice' },
};

/** Reads a drawing far enough to ask about it. Answers given already (from an earlier version) are its guesses. */
export function surveyDxf(
  bytes: Uint8Array,
  answers: Partial<DxfAnswers>,
  onProgress: OnProgress,
): DxfSurvey | Refusal {
  const studied = studyDxf(bytes, answers, onProgress);
  if ('ok' in studied) return studied;
  const { drawing, unit, metres, layers, layerGuesses, blocks, blockGuesses, remarks } = studied;
  const surveyedLayers = [...layers].map(([key, figures]): SurveyedLayer => {
    const guess = layerGuesses.get(key) ?? { class: 'ignore', because: 'nothing' };
    const extent = [figures.maxX - figures.minX, figures.maxY - figures.minY].map((side) => round(side * metres));
    return {
      name: figures.name,
      title: withoutReference(figures.name),
      hidden: figures.hidden,
      lines: figures.paths + figures.hatches,
      closed: figures.closed,
      swings: figures.swings,
      words: figures.words,
      extent: figures.paths > 0 ? [extent[0] ?? 0, extent[1] ?? 0] : null,
      guess: guess.class,
      because: guess.because,
    };
  });
  const surveyedBlocks = [...blocks].map(([key, figures]): SurveyedBlock => {
    const guess = blockGuesses.get(key) ?? { class: 'contents', because: 'nothing' };
    return {
      name: figures.block.name,
      title: withoutReference(figures.block.title),
      uses: figures.uses,
      size: [round(figures.long), round(Math.min(figures.short, figures.long))],
      guess: guess.class,
      because: guess.because,
    };
  });
  const isGroup = (block: SurveyedBlock): number => (block.guess === 'contents' ? 1 : 0);
  return {
    ok: true,
    format: formatWords(drawing),
    encoding: drawing.encoding,
    unit,
    layers: surveyedLayers.sort((a, b) => b.lines + b.words - (a.lines + a.words) || (a.name < b.name ? -1 : 1)),
    blocks: surveyedBlocks.sort((a, b) => isGroup(a) - isGroup(b) || b.uses - a.uses || (a.name < b.name ? -1 : 1)),
    counts: Object.fromEntries(drawing.counts),
    gapM: answers.gapM ?? DEFAULT_DXF_GAP,
    ceiling: answers.ceiling ?? null,
    heights: HEIGHTS,
    remarks: [...drawing.remarks, ...remarks.list()],
  };
}

function round(metres: number): number {
  return Number.isFinite(metres) ? Math.round(metres * 100) / 100 : 0;
}
