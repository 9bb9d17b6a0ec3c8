/**
 * The log of a kept floor. Every step adds one entry under the next number, in one write with the floor's head. An entry
 * either writes the whole line anew or says what changed since the entry it names. The records refuse a second entry under
 * one number, so two tabs that write on from the same entry find out at once; and an entry counts only when the one it
 * names is the last that counts, so what was on its way behind a failed or refused entry changes nothing.
 */
import type { FloorFile } from '../../core/floor/index.ts';
import { applyLineChange, dropSteps, type KeptStep, type Line, type LineChange } from './line.ts';
import { applyPatch, type Patch } from './patch.ts';
import type { KeptRecord, KeyRange, Records } from './platform.ts';

const FORMAT = 'lacuna-kept/1';

/** Which entry: its number, and the tab that wrote it. */
export interface EntryName {
  readonly seq: number;
  readonly by: string;
}

/** A file of the floor, as it is written to a file: under number 0. It is written when the log begins, and seldom again. */
export interface BaseEntry {
  readonly kind: 'base';
  readonly format: typeof FORMAT;
  readonly text: string;
}

/** The line anew; entries before it count no more, but for the base. */
export interface WholeEntry {
  readonly kind: 'whole';
  readonly by: string;
  /** What makes the line's first file of the base; null: it is the base. */
  readonly since: Patch | null;
  readonly steps: readonly KeptStep[];
  readonly cursor: number;
  readonly saved: number | null;
  /** Only this many of the oldest steps went; null: the line has nothing to do with the one before. */
  readonly dropped: number | null;
}

export interface ChangeEntry {
  readonly kind: 'change';
  readonly by: string;
  readonly after: EntryName;
  readonly change: LineChange;
}

export type Entry = WholeEntry | ChangeEntry;
export type Stored = BaseEntry | Entry;

/** A log as far as it was read. */
export interface LogState {
  readonly line: Line;
  readonly base: FloorFile;
  /** Number of the last entry there, whether it counts or not. */
  readonly seq: number;
  /** The last entry that counts: its tab has the floor. */
  readonly last: EntryName;
  /** Entries since the line was written anew. */
  readonly entries: number;
}

export function baseEntry(text: string): BaseEntry {
  return { kind: 'base', format: FORMAT, text };
}

/** The entries from one number to another, both included; 0 is the base. */
export function logRange(floorId: string, from = 0, to = Number.POSITIVE_INFINITY): KeyRange {
  return { from: ['log', floorId, from], to: ['log', floorId, to] };
}

/**
 * Reads what has come to a log since `before`, or all of it; null when there is none. Rejects when the records cannot be
 * read, or hold something that is no log.
 */
export async function readLog(
  records: Records,
  floorId: string,
  before: LogState | null = null,
): Promise<LogState | null> {
  if (before === null) return readAll(await records.read(logRange(floorId)));
  let state = before;
  for (const { key, value } of await records.read(logRange(floorId, before.seq + 1))) {
    const entry = value as Entry;
    const seq = Number(key[2]);
    if (entry.kind === 'change') state = applyChange(state, entry, seq);
    else if (entry.dropped !== null && state.seq === seq - 1) {
      state = { ...state, line: dropSteps(state.line, entry.dropped), seq, last: { seq, by: entry.by }, entries: 0 };
    } else return readLog(records, floorId);
  }
  return state;
}

function readAll(found: readonly KeptRecord[]): LogState | null {
  const [first, ...rest] = found;
  if (first === undefined) return null;
  const stored = first.value as Stored;
  if (stored.kind !== 'base' || stored.format !== FORMAT) throw new Error(`This Lacuna reads ${FORMAT}.`);
  const base = JSON.parse(stored.text) as FloorFile;
  let state: LogState | null = null;
  for (const { key, value } of rest) {
    const entry = value as Entry;
    const seq = Number(key[2]);
    if (entry.kind === 'whole') {
      state = { line: readWhole(base, entry), base, seq, last: { seq, by: entry.by }, entries: 0 };
    } else if (state !== null) state = applyChange(state, entry, seq);
    else throw new Error('The log begins in its middle.');
  }
  return state;
}

function applyChange(state: LogState, { by, after, change }: ChangeEntry, seq: number): LogState {
  const entries = state.entries + 1;
  if (after.seq !== state.last.seq || after.by !== state.last.by) return { ...state, seq, entries };
  return { ...state, line: applyLineChange(state.line, change), seq, last: { seq, by }, entries };
}

function readWhole(base: FloorFile, { since, steps, cursor, saved }: WholeEntry): Line {
  const first = since === null ? base : (applyPatch(base, since) as FloorFile);
  return applyLineChange({ files: [first], steps: [], cursor: 0, saved: null }, { keep: 0, steps, cursor, saved });
}
