/**
 * An import as it is worked on: a source is read once and kept where it was read; storeys are put together from it as often
 * as the answers change. A page has the session in a worker of its own, which is ended with it.
 */
import type { FloorFile } from '../core/floor/index.ts';
import { type FloorUpdate, updateFromSource } from '../importers/again/update.ts';
import type { ImportAnswers } from '../importers/assembly/answers.ts';
import { type AssembledFloor, assembleFloor } from '../importers/assembly/assemble.ts';
import type { DxfSurvey } from '../importers/dxf/survey.ts';
import type { NamedBytes } from '../importers/geojson/read.ts';
import { type PlanSketch, sketchFloor, sketchStorey } from '../importers/sketch.ts';
import {
  findMainStorey,
  nameOfStorey,
  readSource,
  type SourceAnswers,
  type SourcePlatform,
} from '../importers/source.ts';
import type { OnProgress, ReadSource, Refusal } from '../importers/storey.ts';

export interface StoreySummary {
  readonly name: string;
  /** Metres, null where the source does not say. */
  readonly elevation: number | null;
  readonly rooms: number;
  readonly walls: number;
  readonly openings: number;
  readonly pieces: number;
  readonly plan: PlanSketch;
}

/** A source that was read, without what it takes to build from it. */
export interface SourceSummary {
  readonly ok: true;
  readonly name: string;
  readonly format: string;
  readonly storeys: readonly StoreySummary[];
  /** The storey with most rooms, by position. */
  readonly main: number;
  /** What can be asked about a drawing; null for models and maps. */
  readonly survey: DxfSurvey | null;
}

export interface BuiltFloor extends AssembledFloor {
  readonly plan: PlanSketch;
  /** Onto the floor that was handed over; null without one. */
  readonly update: FloorUpdate | null;
}

/** What is asked of a session. Everything survives structured cloning. */
export type ImportRequest =
  | {
      readonly type: 'read';
      readonly id: number;
      readonly files: readonly NamedBytes[];
      readonly answers: SourceAnswers;
    }
  /** Reads the same files with other answers. */
  | { readonly type: 'reread'; readonly id: number; readonly answers: SourceAnswers }
  | {
      readonly type: 'build';
      readonly id: number;
      /** By position in the summary. */
      readonly storey: number;
      readonly answers: ImportAnswers;
      readonly onto: FloorFile | null;
    };

export type ImportReply =
  | { readonly type: 'progress'; readonly id: number; readonly share: number; readonly stage: string }
  | { readonly type: 'read'; readonly id: number; readonly summary: SourceSummary | Refusal }
  | { readonly type: 'built'; readonly id: number; readonly built: BuiltFloor }
  | { readonly type: 'failed'; readonly id: number; readonly message: string };

export interface ImportSession {
  /** Answers one request; never rejects. */
  answer(request: ImportRequest, post: (reply: ImportReply) => void): Promise<void>;
}

export function createImportSession(platform: SourcePlatform): ImportSession {
  let files: readonly NamedBytes[] = [];
  let source: ReadSource | null = null;

  async function read(answers: SourceAnswers, onProgress: OnProgress): Promise<SourceSummary | Refusal> {
    source = null;
    // A reader may hand its bytes to an engine that takes them over: the session keeps its own.
    const copies = files.map(({ name, bytes }) => ({ name, bytes: bytes.slice() }));
    const reading = await readSource(copies, answers, platform, onProgress);
    if (!reading.source.ok) return reading.source;
    source = reading.source;
    return summarise(source, reading.survey);
  }

  return {
    async answer(request, post) {
      const { id } = request;
      const onProgress: OnProgress = (share, stage) => post({ type: 'progress', id, share, stage });
      try {
        if (request.type === 'build') {
          const storey = source?.storeys[request.storey];
          if (source === null || storey === undefined)
            throw new Error('There is no such storey: the source has to be read first.');
          onProgress(0, 'Putting the floor together');
          const assembled = assembleFloor(storey, request.answers, source);
          const update = request.onto === null ? null : updateFromSource(request.onto, assembled.floor);
          post({ type: 'built', id, built: { ...assembled, plan: sketchFloor(assembled.floor), update } });
          return;
        }
        if (request.type === 'read') files = request.files;
        post({ type: 'read', id, summary: await read(request.answers, onProgress) });
      } catch (error) {
        post({ type: 'failed', id, message: error instanceof Error ? error.message : String(error) });
      }
    },
  };
}

function summarise(source: ReadSource, survey: DxfSurvey | null): SourceSummary {
  const main = findMainStorey(source);
  return {
    ok: true,
    name: source.name,
    format: source.format,
    main: main === undefined ? 0 : source.storeys.indexOf(main),
    survey,
    storeys: source.storeys.map((storey) => ({
      name: nameOfStorey(source, storey),
      elevation: storey.elevation,
      rooms: storey.rooms.length,
      walls: storey.walls.length,
      openings: storey.openings.length,
      pieces: storey.pieces.length,
      plan: sketchStorey(storey),
    })),
  };
}
