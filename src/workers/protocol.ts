/**
 * What passes between a page and its workers. Everything in it survives structured cloning; the typed arrays of an
 * answer are handed over, not copied.
 */
import type { CheckResult, SentCoverage } from '../core/coverage/index.ts';
import type { Floor, FloorFile } from '../core/floor/index.ts';
import type { Arranged, ArrangeNews, ArrangeOptions } from '../core/planning/arrange/index.ts';
import type { MaskPlan, MaskSubject } from '../core/planning/masks/plan-masks.ts';
import type { BodyField, Posture } from '../core/planning/question/bodies.ts';
import type { CompareResult } from '../core/planning/question/compare.ts';
import type { Difference } from '../core/planning/question/difference.ts';
import type { MoveRoomResult } from '../core/planning/question/move-room.ts';
import type { StressResult } from '../core/planning/question/stress.ts';
import type { SweepResult } from '../core/planning/question/sweep.ts';

/** Every kind of job: what goes in and what comes out. */
export interface Jobs {
  /** All verdicts and findings of a floor. */
  readonly check: { readonly input: Floor; readonly output: CheckResult };
  /** The fields of a floor; `adoptCoverage` makes the coverage of it. */
  readonly cover: { readonly input: Floor; readonly output: SentCoverage };
  /** Verdicts when something is otherwise than drawn. */
  readonly stress: { readonly input: Floor; readonly output: StressResult };
  /** Where each detector may hang with every need still met. */
  readonly moveRoom: { readonly input: Floor; readonly output: MoveRoomResult };
  /** What if some pieces were lower or taller. */
  readonly sweep: {
    readonly input: { readonly floor: Floor; readonly pieces: readonly string[] };
    readonly output: SweepResult;
  };
  /** What changed between two states of a floor, and where on both planes. */
  readonly compare: {
    readonly input: { readonly old: Floor; readonly now: Floor };
    readonly output: { readonly compared: CompareResult; readonly differences: readonly Difference[] };
  };
  /** Masks for one thing that should not be seen. */
  readonly masks: {
    readonly input: { readonly floor: Floor; readonly subject: MaskSubject };
    readonly output: readonly MaskPlan[];
  };
  /** How much of a body is seen. */
  readonly bodies: {
    readonly input: { readonly floor: Floor; readonly posture: Posture };
    readonly output: BodyField;
  };
  /** The fewest detectors that meet every need; done by a worker of its own. */
  readonly arrange: {
    readonly input: { readonly file: FloorFile; readonly options: ArrangeOptions };
    readonly output: Arranged;
  };
}

export type JobKind = keyof Jobs;
export type JobInput<Kind extends JobKind> = Jobs[Kind]['input'];
export type JobOutput<Kind extends JobKind> = Jobs[Kind]['output'];

/** A job sent to a worker. A worker has one job at a time. */
export type Request = {
  readonly [Kind in JobKind]: { readonly type: Kind; readonly jobId: number; readonly input: JobInput<Kind> };
}[JobKind];

export type ArrangeRequest = Extract<Request, { readonly type: 'arrange' }>;

/** What a worker says of a job: how far it is, then once how it ended. */
export type Reply =
  | { readonly type: 'progress'; readonly jobId: number; readonly share: number; readonly news?: ArrangeNews }
  | { readonly type: 'done'; readonly jobId: number; readonly output: JobOutput<JobKind> }
  | { readonly type: 'failed'; readonly jobId: number; readonly message: string };
