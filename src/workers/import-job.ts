/**
 * The jobs of an import: reading a source, and putting a storey together. They have a worker of their own, started for one
 * job and thrown away after it: the geometry engine keeps what memory it took.
 */
import type { FloorFile } from '../core/floor/index.ts';
import { type FloorUpdate, updateFromSource } from '../importers/again/update.ts';
import type { ImportAnswers } from '../importers/assembly/answers.ts';
import { type AssembledFloor, assembleFloor } from '../importers/assembly/assemble.ts';
import type { SourceWords } from '../importers/assembly/report.ts';
import type { NamedBytes } from '../importers/geojson/read.ts';
import { readSource, type SourceAnswers, type SourcePlatform, type SourceReading } from '../importers/source.ts';
import type { DrawnStorey, OnProgress } from '../importers/storey.ts';

/** What goes in and what comes out, by kind. Everything survives structured cloning. */
export interface ImportJobs {
  readonly read: {
    readonly input: { readonly files: readonly NamedBytes[]; readonly answers: SourceAnswers };
    readonly output: SourceReading;
  };
  readonly assemble: {
    readonly input: {
      readonly storey: DrawnStorey;
      readonly answers: ImportAnswers;
      readonly source: SourceWords;
      /** A floor made from an older version of the source, onto which the storey is brought. */
      readonly onto: FloorFile | null;
    };
    readonly output: AssembledFloor & { readonly update: FloorUpdate | null };
  };
}

export type ImportKind = keyof ImportJobs;

export type ImportRequest = {
  readonly [Kind in ImportKind]: { readonly type: Kind; readonly input: ImportJobs[Kind]['input'] };
}[ImportKind];

export type ImportReply =
  | { readonly type: 'progress'; readonly share: number; readonly stage: string }
  | { readonly type: 'done'; readonly output: ImportJobs[ImportKind]['output'] }
  | { readonly type: 'failed'; readonly message: string };

/** Does one job: the same in a worker, on the command line and in tests. */
export async function runImportJob(
  request: ImportRequest,
  platform: SourcePlatform,
  onProgress: OnProgress,
): Promise<ImportJobs[ImportKind]['output']> {
  switch (request.type) {
    case 'read':
      return readSource(request.input.files, request.input.answers, platform, onProgress);
    case 'assemble': {
      const { storey, answers, source, onto } = request.input;
      onProgress(0.1, 'Putting the floor together');
      const assembled = assembleFloor(storey, answers, source);
      return { ...assembled, update: onto === null ? null : updateFromSource(onto, assembled.floor) };
    }
  }
}
