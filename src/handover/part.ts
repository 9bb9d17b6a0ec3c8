/** What a part of a hand-over is, and what it takes from the platform. */
import type { HandoverJob } from './job.ts';
import type { FontFiles } from './paper/fonts.ts';
import type { Plan } from './plan/plan.ts';

/** Hears how far a part is, 0 to 1. */
export type OnProgress = (share: number) => void;

/** What the platform does for the documents. */
export interface PaperPlatform {
  readonly fonts: FontFiles;
  /** A plan as a PNG, of a sensible number of pixels. */
  rasterise(plan: Plan): Promise<Uint8Array>;
  /** The built page that carries one floor, still empty: `share-page.html` beside the app, `dist/share/share.html` here. */
  readSharePage(): Promise<string>;
}

/** A file of the folder. */
export interface HandoverFile {
  /** Its place in the folder, with forward slashes: `masks/M-D2.svg`. */
  readonly name: string;
  readonly mime: string;
  readonly content: string | Uint8Array;
}

export interface PartOutput {
  readonly files: readonly HandoverFile[];
  /** What could not be made, and what would be needed for it: one sentence each. */
  readonly refusals: readonly string[];
}

export interface Part {
  /** The word it is asked for by. */
  readonly name: string;
  readonly title: string;
  /** What is in it, in a few words. */
  readonly about: string;
  readonly produce: (job: HandoverJob, platform: PaperPlatform, onProgress: OnProgress) => Promise<PartOutput>;
}
