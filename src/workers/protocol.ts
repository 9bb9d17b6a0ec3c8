/**
 * What passes between a page and its workers. Everything in it survives structured cloning; the typed arrays of an
 * answer are handed over, not copied.
 */
import type { CheckResult, Coverage } from '../core/coverage/index.ts';
import type { Floor } from '../core/floor/index.ts';

/** Every kind of job: what goes in and what comes out. */
export interface Jobs {
  /** All verdicts and findings of a floor. */
  readonly check: { readonly input: Floor; readonly output: CheckResult };
  /** The fields of a floor. `output.floor` is a copy of the input: whoever needs the same object puts it back. */
  readonly cover: { readonly input: Floor; readonly output: Coverage };
}

export type JobKind = keyof Jobs;
export type JobInput<Kind extends JobKind> = Jobs[Kind]['input'];
export type JobOutput<Kind extends JobKind> = Jobs[Kind]['output'];

/** A job sent to a worker. A worker has one job at a time. */
export type Request = {
  readonly [Kind in JobKind]: { readonly type: Kind; readonly jobId: number; readonly input: JobInput<Kind> };
}[JobKind];

/** What a worker says of a job: how far it is, then once how it ended. */
export type Reply =
  | { readonly type: 'progress'; readonly jobId: number; readonly share: number }
  | { readonly type: 'done'; readonly jobId: number; readonly output: JobOutput<JobKind> }
  | { readonly type: 'failed'; readonly jobId: number; readonly message: string };
