/**
 * Writes one floor's log. Every change goes to the records in the turn in which it was made; nothing waits for a quiet
 * moment but writing the line anew once its log has grown long. What fails is told, and made up for by a later write.
 */
import { type FloorFile, serialiseFloor } from '../../core/floor/index.ts';
import type { EditorState } from '../store.ts';
import { digestText } from './digest.ts';
import { baseEntry, type ChangeEntry, type Entry, type LogState, logRange } from './floor-log.ts';
import { computeArea, headRecord, type KeptFloor } from './kept-floor.ts';
import { applyLineChange, dropSteps, findLineChange, type History, KEPT_STEPS, type Line, toLine } from './line.ts';
import { findPatch, weighPatch } from './patch.ts';
import type { Cancel, KeeperPlatform, KeptRecord, WriteFailure, WriteOutcome } from './platform.ts';

/** A log is written anew after this many entries, or values in them. */
const LONG_LOG = 256;
const HEAVY_LOG = 200_000;
/** Milliseconds until a failed write is tried again, twice as many after each try, and the most. */
const FIRST_TRY = 5000;
const LAST_TRY = 80_000;
/** Milliseconds after which a write that has not ended is told. */
const SLOW = 5000;

/** What of the editor is kept. */
export type KeptState = History & Pick<EditorState, 'fileName'>;

/** What became of the writes: all have arrived, the last takes long, or one has failed. */
export type Tidings = 'done' | 'slow' | Exclude<WriteFailure, 'taken'>;

export type WriterHead = Pick<KeptFloor, 'id' | 'origin' | 'digest' | 'changedAt'>;

export interface WriterOptions {
  readonly platform: KeeperPlatform;
  /** This tab. */
  readonly by: string;
  /** The floor as it was kept before; of a new one only what does not follow from its state. */
  readonly head: WriterHead;
  /** Its log as it was read; null: there is none yet. */
  readonly log: LogState | null;
  readonly told: (tidings: Tidings) => void;
  /** Another tab has written in between. Nothing is written after this. */
  readonly taken: () => void;
}

export interface FloorWriter {
  readonly id: string;
  /** Keeps the state as it is now. Whatever can be written now is under way when this returns. */
  record(state: KeptState): void;
  /** Whether any of its writes has arrived. */
  hasArrived(): boolean;
  /** The log as it has surely arrived; null: nothing has. */
  log(): LogState | null;
  /** Tries what failed again, at once. */
  retry(): void;
  /** When nothing is under way any more. */
  settle(): Promise<void>;
  /** Takes no more states; what came before is still written. Resolves when that is done. */
  finish(): Promise<void>;
  /** Begins no more writes: the floor is another tab's. */
  stop(): void;
}

export function createWriter({ platform, by, head, log, told, taken }: WriterOptions): FloorWriter {
  const { records, clock } = platform;
  const { id } = head;
  let { origin, digest, changedAt } = head;
  let latest: KeptState | null = null;
  /** The log as it is on the disk or on its way there; null: there is nothing to write on from. */
  let at = log;
  let seq = log?.seq ?? 0;
  /** The same, of what has surely arrived: an entry that does not count has a number too. */
  let arrived = log;
  let arrivedSeq = seq;
  let pending = 0;
  /** The first failure among the writes under way; those after it count for nothing. */
  let failure: WriteFailure | null = null;
  /** A state came while nothing could be written. */
  let isWaiting = false;
  let isOver = false;
  let isStopped = false;
  let tries = 0;
  let lastFailure: WriteFailure | null = null;
  let cancelTry: Cancel | null = null;
  let cancelSlow: Cancel | null = null;
  let weight = 0;
  let whenSettled: (() => void)[] = [];

  function record(state: KeptState): void {
    if (isOver) return;
    if (latest !== null && state.file !== latest.file) changedAt = clock.now();
    const isSaved = state.savedFile !== latest?.savedFile || state.fileName !== latest.fileName;
    if (latest !== null && isSaved && state.savedFile !== null) {
      origin = state.fileName === null ? null : { how: 'saved', fileName: state.fileName };
      digest = digestText(serialiseFloor(state.savedFile));
    }
    latest = state;
    // A whole line that failed is tried by the clock: it costs too much for every step.
    if (at !== null || tries === 0) write(state);
  }

  function write(state: KeptState): void {
    if (failure !== null) {
      isWaiting = true;
      return;
    }
    const change = at === null ? null : findLineChange(at.line, state);
    if (at !== null && change !== null) {
      const line = applyLineChange(at.line, change, state);
      issue({ kind: 'change', by, after: at.last, change }, { line, base: at.base, entries: at.entries + 1 });
    } else if (pending === 0) writeWhole(toLine(state), null);
    else isWaiting = true;
  }

  /** Only while no write is under way: it takes away the entries before it. The base stays as long as it serves. */
  function writeWhole(line: Line, dropped: number | null): void {
    const first = line.files[0] as FloorFile;
    const { steps, cursor, saved } = line;
    const since = at === null ? null : findPatch(at.base, first);
    const serves = at !== null && (since === null || weighPatch(since) < HEAVY_LOG);
    const base = serves && at !== null ? at.base : first;
    issue(
      { kind: 'whole', by, since: serves ? since : null, steps, cursor, saved, dropped },
      { line, base, entries: 0 },
      serves ? [] : [{ key: ['log', id, 0], value: baseEntry(serialiseFloor(first)) }],
    );
  }

  function issue(
    entry: Entry,
    next: Pick<LogState, 'line' | 'base' | 'entries'>,
    bases: readonly KeptRecord[] = [],
  ): void {
    seq += 1;
    const upTo: LogState = { ...next, seq, last: { seq, by } };
    at = upTo;
    pending += 1;
    cancelSlow ??= clock.after(SLOW, () => told('slow'));
    void records
      .write({
        add: [{ key: ['log', id, upTo.seq], value: entry }],
        put: [...bases, headRecord(describe(latest as KeptState))],
        remove: entry.kind === 'whole' && upTo.seq > 1 ? [logRange(id, 1, upTo.seq - 1)] : [],
      })
      .then((outcome) => hear(outcome, entry, upTo));
  }

  function describe({ file, savedFile }: KeptState): KeptFloor {
    const isChanged = file !== savedFile;
    const usedAt = clock.now();
    return { id, name: file.name, areaM2: computeArea(file), origin, digest, isChanged, changedAt, usedAt };
  }

  function hear(outcome: WriteOutcome, entry: Entry, upTo: LogState): void {
    pending -= 1;
    if (outcome !== 'done') failure ??= outcome;
    else if (failure !== null) arrivedSeq = upTo.seq;
    else {
      arrived = upTo;
      arrivedSeq = upTo.seq;
      tries = 0;
      lastFailure = null;
      weight = entry.kind === 'whole' ? 0 : weight + weighSteps(entry);
    }
    if (pending > 0) return;
    cancelSlow?.();
    cancelSlow = null;
    if (failure === null) goOn();
    else makeUp(failure);
    if (pending > 0) return;
    for (const each of whenSettled) each();
    whenSettled = [];
  }

  /** All writes have arrived. */
  function goOn(): void {
    told('done');
    if (isStopped || latest === null) return;
    if (isWaiting) {
      isWaiting = false;
      write(latest);
    } else if (isLong() && !isOver) platform.whenIdle(shorten);
  }

  /** No write is under way, and one has failed. */
  function makeUp(why: WriteFailure): void {
    failure = null;
    if (why === 'gone') arrived = null;
    else seq = arrivedSeq;
    at = arrived;
    isWaiting = false;
    if (why === 'taken') {
      stop();
      taken();
      return;
    }
    told(why);
    if (isOver) return;
    tries += 1;
    cancelTry?.();
    const wasGone = lastFailure === 'gone';
    lastFailure = why;
    // What was closed can be opened again at once; once.
    if (why === 'gone' && !wasGone) retry();
    else cancelTry = clock.after(Math.min(FIRST_TRY * 2 ** (tries - 1), LAST_TRY), retry);
  }

  function retry(): void {
    cancelTry?.();
    cancelTry = null;
    if (latest !== null && !isOver && tries > 0 && pending === 0) write(latest);
  }

  function isLong(): boolean {
    return at !== null && (at.entries >= LONG_LOG || weight >= HEAVY_LOG);
  }

  function shorten(): void {
    if (isOver || pending > 0 || at === null || !isLong()) return;
    const count = Math.max(0, at.line.cursor - KEPT_STEPS);
    writeWhole(dropSteps(at.line, count), count);
  }

  function settle(): Promise<void> {
    return pending === 0 ? Promise.resolve() : new Promise((resolve) => whenSettled.push(() => resolve()));
  }

  function stop(): void {
    isOver = true;
    isStopped = true;
    cancelTry?.();
  }

  return {
    id,
    record,
    hasArrived: () => arrived !== null && arrived !== log,
    log: () => (arrived === null ? null : { ...arrived, seq: arrivedSeq }),
    retry,
    settle,
    finish() {
      isOver = true;
      cancelTry?.();
      return settle();
    },
    stop,
  };
}

function weighSteps({ change }: ChangeEntry): number {
  return change.steps.reduce((sum, step) => sum + weighPatch(step.patch), 1);
}
