/**
 * The log of a kept floor. Every step adds one entry under the next number, in one write with the floor's head. An entry
 * either writes the whole line anew or says what changed. Numbers are never used twice, so two tabs cannot interleave:
 * the second entry under a number is refused by the records themselves.
 */
import type { FloorFile } from '../../core/floor/index.ts';
import { applyLineChange, dropSteps, type KeptStep, type Line, type LineChange } from './line.ts';
import type { KeyRange, Records } from './platform.ts';

const FORMAT = 'lacuna-kept/1';

interface Written {
  /** The tab that wrote the entry. */
  readonly by: string;
  /** The tab takes the floor: entries after this one count only when they are its own, until another takes it. */
  readonly takes: boolean;
}

/** The line anew; entries before it count no more. */
export interface WholeEntry extends Written {
  readonly kind: 'whole';
  readonly format: typeof FORMAT;
  /** The oldest file, as it is written to a file. */
  readonly text: string;
  readonly steps: readonly KeptStep[];
  readonly cursor: number;
  readonly saved: number | null;
  /** Only this many of the oldest steps went; null: the line has nothing to do with the one before. */
  readonly dropped: number | null;
}

export interface ChangeEntry extends Written {
  readonly kind: 'change';
  readonly change: LineChange;
}

export type Entry = WholeEntry | ChangeEntry;

/** A log as far as it was read. */
export interface LogState {
  readonly line: Line;
  /** Number of the last entry there, counted or not. */
  readonly seq: number;
  /** The tab that has the floor. */
  readonly holder: string;
  /** Entries since the line was written anew. */
  readonly entries: number;
}

export function wholeEntry(line: Line, text: string, by: string, dropped: number | null): WholeEntry {
  const { steps, cursor, saved } = line;
  return { kind: 'whole', format: FORMAT, by, takes: true, text, steps, cursor, saved, dropped };
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
  let state = before;
  let seq = before?.seq ?? null;
  for (const { key, value } of found) {
    const number = Number(key[2]);
    const entry = value as Entry;
    // After a gap only a whole line helps: what lies between was written upon something that never came to be.
    const follows = seq === null || number === seq + 1;
    seq = follows || entry.kind === 'whole' ? number : seq;
    if (follows || entry.kind === 'whole') state = applyEntry(state, entry, number);
  }
  const last = found.at(-1);
  return state === null || last === undefined ? state : { ...state, seq: Number(last.key[2]) };
}

function applyEntry(state: LogState | null, entry: Entry, seq: number): LogState {
  if (entry.kind === 'whole') {
    const isKnown = entry.dropped !== null && state !== null && state.seq === seq - 1;
    const line = isKnown ? dropSteps(state.line, entry.dropped) : readWhole(entry);
    return { line, seq, holder: entry.by, entries: 0 };
  }
  if (state === null) throw new Error('The log begins in its middle.');
  const entries = state.entries + 1;
  if (!entry.takes && entry.by !== state.holder) return { ...state, seq, entries };
  const holder = entry.takes ? entry.by : state.holder;
  return { line: applyLineChange(state.line, entry.change), seq, holder, entries };
}

function readWhole(entry: WholeEntry): Line {
  if (entry.format !== FORMAT) throw new Error(`This Lacuna reads ${FORMAT}, the log says ${String(entry.format)}.`);
  const first = JSON.parse(entry.text) as FloorFile;
  const { steps, cursor, saved } = entry;
  return applyLineChange({ files: [first], steps: [], cursor: 0, saved: null }, { keep: 0, steps, cursor, saved });
}
