/**
 * Writes one floor's log. Every change goes to the records in the turn in which it was made; nothing waits for a quiet
 * moment but writing the line anew once its log has grown long. What fails is told, and made up for by a later write.
 */
import { type FloorFile, serialiseFloor } from '../../core/floor/index.ts';
import type { EditorState } from '../store.ts';
import { digestText } from './digest.ts';
import { type Entry, type EntryName, type LogState, logRange, wholeEntry } from './floor-log.ts';
import { computeArea, headRecord, type KeptFloor } from './kept-floor.ts';
import { applyLineChange, dropSteps, findLineChange, type History, KEPT_STEPS, type Line, toLine } from './line.ts';
import { weighPatch } from './patch.ts';
import type { Cancel, KeeperPlatform, WriteFailure, WriteOutcome } from './platform.ts';

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
  /** The line, its last entry and the last number, on the disk or on the way there. */
  let line = log?.line ?? null;
  let last: EntryName = log?.last ?? { seq: 0, by };
  let seq = log?.seq ?? 0;
  /** The same, of what has surely arrived; its number may be that of an entry that does not count. */
  let arrived = { line, last, seq };
  let pending = 0;
  /** The first failure among the writes under way; those after it count for nothing. */
  let failure: WriteFailure | null = null;
  /** Nothing can be built upon what is on the disk: the next write is a whole line. */
  let isBroken = line === null;
  /** A state came while nothing could be written. */
  let isWaiting = false;
  let isOver = false;
  let isStopped = false;
  let tries = 0;
  let lastFailure: WriteFailure | null = null;
  let cancelTry: Cancel | null = null;
  let cancelSlow: Cancel | null = null;
  let entries = log?.entries ?? 0;
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
    if (!(isBroken && tries > 0)) write(state);
  }

  function write(state: KeptState): void {
    if (failure !== null) {
      isWaiting = true;
      return;
    }
    const change = isBroken && pending === 0 ? null : line === null ? null : findLineChange(line, state);
    if (change !== null && line !== null) {
      issue({ kind: 'change', by, after: last, change }, applyLineChange(line, change, state));
      return;
    }
    if (pending === 0) writeWhole(toLine(state), null);
    else isWaiting = true;
  }

  /** Only while no write is under way: it takes away the entries before it. */
  function writeWhole(next: Line, dropped: number | null): void {
    issue(wholeEntry(next, serialiseFloor(next.files[0] as FloorFile), by, dropped), next);
  }

  function issue(entry: Entry, next: Line): void {
    const number = seq + 1;
    [line, last, seq] = [next, { seq: number, by }, number];
    pending += 1;
    cancelSlow ??= clock.after(SLOW, () => told('slow'));
    void records
      .write({
        add: [{ key: ['log', id, number], value: entry }],
        put: [headRecord(describe(latest as KeptState))],
        remove: entry.kind === 'whole' ? [logRange(id, 0, number - 1)] : [],
      })
      .then((outcome) => hear(outcome, entry, { line: next, last: { seq: number, by }, seq: number }));
  }

  function describe({ file, savedFile }: KeptState): KeptFloor {
    const isChanged = file !== savedFile;
    const usedAt = clock.now();
    return { id, name: file.name, areaM2: computeArea(file), origin, digest, isChanged, changedAt, usedAt };
  }

  function hear(outcome: WriteOutcome, entry: Entry, upTo: typeof arrived): void {
    pending -= 1;
    if (outcome !== 'done') failure ??= outcome;
    else if (failure !== null) arrived = { ...arrived, seq: upTo.seq };
    else {
      arrived = upTo;
      tries = 0;
      lastFailure = null;
      const isWhole = entry.kind === 'whole';
      if (isWhole) isBroken = false;
      entries = isWhole ? 0 : entries + 1;
      weight = isWhole ? 0 : weight + weighSteps(entry);
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
    ({ line, last, seq } = arrived);
    if (why === 'gone') isBroken = true;
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
    return entries >= LONG_LOG || weight >= HEAVY_LOG;
  }

  function shorten(): void {
    if (isOver || pending > 0 || line === null || !isLong()) return;
    const count = Math.max(0, line.cursor - KEPT_STEPS);
    writeWhole(dropSteps(line, count), count);
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
    hasArrived: () => arrived.last.seq > (log?.last.seq ?? 0),
    log: () => (arrived.line === null ? null : { ...arrived, line: arrived.line, entries }),
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

function weighSteps(entry: Entry): number {
  return entry.kind === 'whole' ? 0 : entry.change.steps.reduce((sum, step) => sum + weighPatch(step.patch), 1);
}
