/** What the notes ask of the computation; the app answers, off the thread that draws. */
import type { Floor, FloorFile } from '../../../core/floor/index.ts';
import type { Arranged, ArrangeNews, ArrangeOptions } from '../../../core/planning/arrange/index.ts';
import type { MaskPlan, MaskSubject } from '../../../core/planning/masks/plan-masks.ts';
import type { BodyField, Posture } from '../../../core/planning/question/bodies.ts';
import type { CompareResult } from '../../../core/planning/question/compare.ts';
import type { Difference } from '../../../core/planning/question/difference.ts';
import type { MoveRoomResult } from '../../../core/planning/question/move-room.ts';
import type { StressResult } from '../../../core/planning/question/stress.ts';
import type { SweepResult } from '../../../core/planning/question/sweep.ts';

export interface AskOptions {
  /** Calls the work off. */
  readonly signal: AbortSignal;
  /** Hears how far the work is, 0 to 1. */
  readonly onProgress: (share: number) => void;
}

export interface Compared {
  readonly compared: CompareResult;
  readonly differences: readonly Difference[];
}

export interface Questions {
  stress(floor: Floor, options: AskOptions): Promise<StressResult>;
  findMoveRoom(floor: Floor, options: AskOptions): Promise<MoveRoomResult>;
  sweep(floor: Floor, pieces: readonly string[], options: AskOptions): Promise<SweepResult>;
  compare(old: Floor, now: Floor, options: AskOptions): Promise<Compared>;
  computeBodies(floor: Floor, posture: Posture, options: AskOptions): Promise<BodyField>;
  /** The fewest detectors that meet every need; hears what is known as it gets better. */
  arrange(
    file: FloorFile,
    chosen: ArrangeOptions,
    options: { readonly signal: AbortSignal; readonly onNews: (news: ArrangeNews) => void },
  ): Promise<Arranged>;
  /** Masks that would hide one thing, and what they cost. */
  planMasks(floor: Floor, subject: MaskSubject, options: AskOptions): Promise<readonly MaskPlan[]>;
  /** Asks for a floor file to look at beside the open one; null: none was chosen, or it is faulty and that was said. */
  readOther(): Promise<{ readonly file: FloorFile; readonly name: string } | null>;
}
