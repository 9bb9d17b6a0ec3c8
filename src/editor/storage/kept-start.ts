/** A kept floor as it is read, to be shown. */
import { type FloorFile, validateFloor } from '../../core/floor/index.ts';
import type { EditorState, Refusal } from '../store.ts';
import type { LogState } from './floor-log.ts';
import type { KeptFloor } from './kept-floor.ts';
import { toHistory } from './line.ts';
import type { Claim } from './platform.ts';

/** A floor read from the records. */
export interface KeptStart {
  readonly head: KeptFloor;
  readonly log: LogState;
  readonly file: FloorFile;
  /** Null: another tab has it. */
  readonly claim: Claim | null;
}

/** The faults of a kept floor that this program does not accept. */
export class UnreadableFloor extends Error {
  readonly refusal: Refusal;
  constructor(refusal: Refusal) {
    super('A kept floor is faulty.');
    this.refusal = refusal;
  }
}

/** The file a log stands at. Throws `UnreadableFloor` when it is not one this program accepts. */
export function acceptFile(log: LogState, name: string): FloorFile {
  const { file } = toHistory(log.line);
  const judged = validateFloor(file);
  if (!judged.ok) throw new UnreadableFloor({ fileName: name, faults: judged.faults });
  return file;
}

/** What of a floor read is the editor's: a floor that is only looked at has no steps to take back. */
export function historyOf({ log, claim }: KeptStart): Partial<EditorState> {
  const history = toHistory(log.line);
  return claim === null ? { ...history, past: [], future: [], isLookOnly: true } : { ...history, isLookOnly: false };
}
