/** What the dialog knows of documents: which parts there are, and a way to have them made. The app hands it in. */
import type { FloorFile } from '../../../core/floor/index.ts';

export interface PaperPart {
  readonly name: string;
  readonly title: string;
  readonly about: string;
}

export interface PaperRequest {
  readonly file: FloorFile;
  readonly parts: readonly string[];
  readonly paper: 'a4' | 'a3';
  /** Plans at 1:scale; null: as suits the paper. */
  readonly scale: number | null;
}

export interface PaperFile {
  readonly name: string;
  readonly mime: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

export interface PaperBundle {
  readonly files: readonly PaperFile[];
  /** What could not be made, and why: one sentence each. */
  readonly refusals: readonly string[];
  /** All files in one archive; null where there is none. */
  readonly archive: PaperFile | null;
}

export interface PaperRun {
  /** Rejects with what went wrong; with `null` when it was called off. */
  readonly bundle: Promise<PaperBundle>;
  cancel(): void;
}

export interface Papers {
  readonly parts: readonly PaperPart[];
  /** Off the main thread. @param hear told what is being made, and how far all of it is, 0 to 1 */
  make(request: PaperRequest, hear: (title: string, share: number) => void): PaperRun;
  /** Hands a file to the browser's downloads. */
  download(file: PaperFile): void;
}
