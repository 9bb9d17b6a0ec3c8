/**
 * The log of a kept floor. Every step adds one entry under the next number, in one write with the floor's head. An entry
 * either writes the whole line anew or says what changed since the entry it names. The records refuse a second entry under
 * one number, so two tabs that write on from the same entry find out at once; and an entry counts only when the one it
 * names is the last that counts, so what was on its way behind a failed or refused entry changes nothing.
 */
import type { FloorFile } from '../../core/floor/index.ts';
import { applyLineChange, dropSteps, type KeptStep, type Line, type LineChange } from './line.ts';
import type { KeyRange, Records } from './platform.ts';

const FORMAT = 'lacuna-kept/1';

/** Which entry: its number, and the tab that wrote it. */
export interface EntryName {
  readonly seq: number;
  readonly by: string;
}

/** The line anew; entries before it count no more. */
export interface WholeEntry {
  readonly kind: 'whole';
  readonly format: typeof FORMAT;
  readonly by: string;
  /** The oldest file, as it is written to a file. */
  readonly text: string;
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

/** A log as far as it was read. */
export interface LogState {
  readonly line: Line;
  /** Number of the last entry there, whether it counts or not. */
  readonly seq: number;
  /** The last entry that counts: its tab has the floor. */
  readonly last: EntryName;
  /** Entries since the line was written anew. */
  readonly entries: number;
}

export function wholeEntry(line: Line, text: string, by: string, dropped: number | null): WholeEntry {
  const { steps, cursor, saved } = line;
  return { kind: 'whole', format: FORMAT, by, text, steps, cursor, saved, dropped };
}

/** The entries from one number to another, both included. */
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
  const found = await records.read(logRange(floorId, before === null ? 0 : before.seq + 1));
  return found.reduce((state, { key, value }) => applyEntry(state, value as Entry, Number(key[2])), before);
}

function applyEntry(state: LogState | null, entry: Entry, seq: number): LogState {
  const last = { seq, by: entry.by };
  if (entry.kind === 'whole') {
    const isKnown = entry.dropped !== null && state !== null && state.seq === seq - 1;
    const line = isKnown ? dropSteps(state.line, entry.dropped) : readWhole(entry);
    return { line, seq, last, entries: 0 };
  }
  if (state === null) throw new Error('The log begins in its middle.');
  const { after, change } = entry;
  const entries = state.entries + 1;
  if (after.seq !== state.last.seq || after.by !== state.last.by) return { ...state, seq, entries };
  return { line: applyLineChange(state.line, change), seq, last, entries };
}

function readWhole(entry: WholeEntry): Line {
  if (entry.format !== FORMAT) throw new Error(`This Lacuna reads ${FORMAT}, the log says ${String(entry.format)}.`);
  const first = JSON.parse(entry.text) as FloorFile;
  const { steps, cursor, saved } = entry;
  return applyLineChange({ files: [first], steps: [], cursor: 0, saved: null }, { keep: 0, steps, cursor, saved });
}
